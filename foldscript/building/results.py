"""What lies in a folder of results, beside the scripts that it was made from.

In: scripts, and the folder that `build` wrote into, on one machine or in shares on several. Out: an `Entry`
for every script, in the order of titles, and a page over all of them. Nothing is folded or drawn for it.
"""

from __future__ import annotations

import glob
import re
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from ..output.index_page import Entry, index_html
from ..output.writing import rewrite
from ..source.diagnostics import Diagnostic, FoldscriptError, Hint
from .cache.file import digest, read_cache
from .script import Script

#: What the page is called.
INDEX = "index.html"
#: Pictures of single steps: 'cup-03a.svg', 'cup-page-1.png'.
_SINGLE = re.compile(r"-(page-)?[0-9]+\w*(-half|-finished)?\.\w+")
#: The finished model, best first.
_PICTURES = ("-finished.svg", "-finished.png")


def entries(scripts: Iterable[Path], out: Path) -> tuple[list[Entry], list[Diagnostic]]:
    """Every script with what was made of it in `out`, and what is wrong: results that are missing or older.

    A result counts as older where the build cache beside it says that its text was another.
    """
    found: list[tuple[str, Entry]] = []
    faults: list[Diagnostic] = []
    for path in scripts:
        entry, wrong = _entry(path, out)
        found.append((unicodedata.normalize("NFKD", entry.title).casefold(), entry))
        faults += wrong
    found.sort(key=lambda pair: (pair[0], pair[1].name))
    return [entry for _, entry in found], faults


def write_index(title: str, some: Sequence[Entry], out: Path) -> Path:
    """Writes the page into `out`. Raises FoldscriptError where that cannot be."""
    page = out / INDEX
    rewrite(page, index_html(title, some).decode())
    return page


def _entry(path: Path, out: Path) -> tuple[Entry, Sequence[Diagnostic]]:
    script = Script(path)
    try:
        head = script.program.head
    except FoldscriptError as error:
        return Entry(path.stem, path.stem, fault="the script cannot be read"), error.diagnostics
    folder = out / path.stem
    files = tuple(_files(folder, path.stem))
    fault = ""
    if not any(folder.rglob(f"{glob.escape(path.stem)}*.*")):
        fault = "nothing was made"
    elif _older(script, folder):
        fault = "made from another text"
    title = head.title or path.stem
    entry = Entry(
        path.stem, title, head.level, _picture(folder, path.stem), _from(out, files), fault
    )
    if not fault:
        return entry, ()
    hint = Hint(f"build {path} again, and see what it says")
    wrong = Diagnostic("no-results", f"{path}: {fault} in {folder}", hints=(hint,))
    return entry, (wrong,)


def _files(folder: Path, stem: str) -> Iterator[tuple[str, Path]]:
    """What is made of a model but single pictures, each with what it is called: 'pdf', 'es words.txt'."""
    if not folder.is_dir():
        return
    for place in (folder, *_below(folder)):
        language = "" if place == folder else f"{place.name} "
        for file in sorted(place.iterdir()):
            rest = file.name.removeprefix(stem)
            if file.is_file() and file.name.startswith(stem) and not _SINGLE.fullmatch(rest):
                yield f"{language}{rest.lstrip('.-')}", file


def _picture(folder: Path, stem: str) -> str:
    """The picture of the finished model, as seen from the folder of all results."""
    for ending in _PICTURES:
        for place in (folder, *_below(folder)):
            if (place / f"{stem}{ending}").is_file():
                return (place / f"{stem}{ending}").relative_to(folder.parent).as_posix()
    return ""


def _below(folder: Path) -> list[Path]:
    """Folders of languages, by name."""
    return sorted(b for b in folder.glob("*") if b.is_dir() and not b.name.startswith("."))


def _from(out: Path, files: Iterable[tuple[str, Path]]) -> tuple[tuple[str, str], ...]:
    return tuple((kind, file.relative_to(out).as_posix()) for kind, file in files)


def _older(script: Script, folder: Path) -> bool:
    """Whether the folder's build cache, if it was brought along, tells of another text."""
    now = f"{script.path.name} {digest(script.source.text.encode())}"
    results = read_cache(folder, script.path.parent).values()
    texts = [result.ingredients.get("scripts") for result in results]
    return any(isinstance(text, list) and now not in text for text in texts)
