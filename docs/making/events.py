"""What MkDocs asks for: the files of the site, and its pages in Markdown.

In: MkDocs' own values. Out: the pages that are made or lie elsewhere in the repository, the samples, and
under every script in a page its figures.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page as SitePage

from . import gallery, pages, python_face
from .pictures import Picture, drawn, handout
from .repository import ELSEWHERE, ROOT, on_site
from .showing import picture_uri, row

#: Pages that are made.
MADE: dict[str, Callable[[str], pages.Page]] = {
    "moves.md": pages.moves_page,
    "signs.md": pages.signs_page,
    "commands.md": pages.commands_page,
    "python.md": python_face.python_page,
    "gallery.md": gallery.gallery_page,
}
#: A script of a page, and where the handout of one above is to be shown.
_SCRIPT = re.compile(r"^```foldscript(?: title=\"([^\"]*)\")?\n(.*?)^```$\n?", re.M | re.S)
_HANDOUT = re.compile(r"^<!-- handout of (\S+) -->$", re.M)


def on_files(files: Files, config: MkDocsConfig) -> Files:
    """Adds what does not lie in `docs/`."""
    with gallery.built() as built:
        for place, uri in ELSEWHERE.items():
            text = (ROOT / place).read_text("utf-8")
            files.append(File.generated(config, uri, content=text))
        for uri, make in MADE.items():
            if make is gallery.gallery_page:
                built.wait()
            text, pictures = make(uri)
            files.append(File.generated(config, uri, content=text))
            _add(files, config, pictures)
        for uri, path in gallery.files():
            files.append(File.generated(config, uri, abs_src_path=str(path)))
    return files


def on_page_markdown(markdown: str, page: SitePage, config: MkDocsConfig, files: Files) -> str:
    """Leads links through the site, and puts figures under scripts."""
    uri = page.file.src_uri
    shown: list[Picture] = []

    scripts: dict[str, str] = {}

    def with_figures(found: re.Match[str]) -> str:
        scripts[found[1] or ""] = found[2]
        pictures = drawn(found[2])
        shown.extend(pictures)
        return f"{found[0]}\n{row(pictures, uri, captions=False)}\n\n"

    def with_handout(found: re.Match[str]) -> str:
        shown.append(handout(scripts[found[1]]))
        return row(shown[-1:], uri)

    text = on_site(markdown, uri) if uri not in MADE else markdown
    text = _HANDOUT.sub(with_handout, _SCRIPT.sub(with_figures, text))
    _add(files, config, shown)
    return text


def _add(files: Files, config: MkDocsConfig, pictures: Iterable[Picture]) -> None:
    known = {picture_uri(one): one.path for one in pictures}
    for uri, path in known.items():
        if files.get_file_from_path(uri) is None:
            files.append(File.generated(config, uri, abs_src_path=str(path)))
