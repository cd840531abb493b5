"""The site is built as CI builds it, strictly and without a network, and looked through.

Only two samples are in its gallery here; the other pages are whole. Pictures are kept in `out/`, so that
whoever builds the site next, as CI does, does not draw them again.
"""

from __future__ import annotations

import os
import posixpath
import re
import subprocess
import sys
from functools import cache
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest

import foldscript
from foldscript.cli import EXIT_CODES
from foldscript.drawing.signs.key import sign_keys
from foldscript.moves.registry import moves

from ..command import CARD
from ..output.browser import Watched, browser
from .reading import ROOT

pytest.importorskip("mkdocs", reason="the site needs MkDocs: sh .ci/setup test")

SAMPLES = ("cup", "helmet")
#: Laid before everything that Python imports: whoever asks for a network is refused.
NO_NETWORK = """
import socket
def refuse(*args, **kwargs):
    raise OSError("the site was to be built without a network")
socket.getaddrinfo = socket.socket.connect = refuse
"""
#: Attributes that a browser follows by itself.
FETCHED = {
    ("img", "src"),
    ("script", "src"),
    ("link", "href"),
    ("source", "src"),
    ("iframe", "src"),
}


class Looking(HTMLParser):
    """Addresses and ids of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.fetched: list[str] = []
        self.links: list[str] = []
        self.ids: set[str] = set()
        self.lacking_words = 0
        self.pictures: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = dict(attrs)
        if here := said.get("id"):
            self.ids.add(here)
        for name, value in said.items():
            if (tag, name) in FETCHED and said.get("rel") not in ("canonical", "prev", "next"):
                self.fetched.append(value or "")
        if tag == "a" and said.get("href"):
            self.links.append(said["href"] or "")
        if tag == "img":
            self.pictures.append(said.get("src") or "")
            self.lacking_words += said.get("alt") is None


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("site")
    (folder / "no-network").mkdir()
    (folder / "no-network/sitecustomize.py").write_text(NO_NETWORK, "utf-8")
    paths = (str(folder / "no-network"), str(ROOT), os.environ.get("PYTHONPATH", ""))
    built = subprocess.run(
        [sys.executable, "-m", "mkdocs", "build", "--strict", "--site-dir", str(folder / "site")],
        cwd=ROOT,
        env={
            **os.environ,
            "PYTHONPATH": os.pathsep.join(paths),
            "FOLDSCRIPT_SITE_SAMPLES": ",".join(SAMPLES),
            "NO_MKDOCS_2_WARNING": "1",
        },
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        check=False,
    )
    assert built.returncode == 0, built.stdout + built.stderr
    return folder / "site"


@cache
def looked(page: Path) -> Looking:
    seen = Looking()
    seen.feed(page.read_text("utf-8"))
    return seen


def html(site: Path) -> list[Path]:
    return sorted(page for page in site.rglob("*.html") if page.name != "404.html")


def there(page: Path, site: Path, address: str) -> Path:
    path = unquote(urlsplit(address).path)
    return site / posixpath.normpath(posixpath.join(page.relative_to(site).parent.as_posix(), path))


def test_nothing_is_fetched_from_elsewhere(site: Path) -> None:
    for page in html(site):
        for address in looked(page).fetched:
            assert not urlsplit(address).netloc, f"{page.name} fetches {address}"
            assert there(page, site, address).is_file(), f"{page.name} lacks {address}"
    for sheet in site.rglob("*.css"):
        for address in re.findall(r"url\(['\"]?([^)'\"]+)", sheet.read_text("utf-8")):
            assert address.startswith("data:") or not urlsplit(address).netloc, sheet


def test_every_link_leads_to_its_place(site: Path) -> None:
    for page in html(site):
        for address in looked(page).links:
            parts = urlsplit(address)
            if parts.scheme or parts.netloc:
                continue
            target = there(page, site, address) if parts.path else page
            if target.is_dir():
                target /= "index.html"
            assert target.is_file(), f"{page.name} links to {address}"
            if parts.fragment and target.suffix == ".html" and not parts.fragment.startswith("__"):
                assert unquote(parts.fragment) in looked(target).ids, f"{page.name}: {address}"


def test_every_picture_has_words(site: Path) -> None:
    for page in html(site):
        assert looked(page).lacking_words == 0, page


def test_each_move_is_shown_before_and_after(site: Path) -> None:
    """Under its own heading, with what it does: two pictures at least where paper moves for certain."""
    text = (site / "moves.html").read_text("utf-8")
    for verb, move in moves().items():
        part = re.search(
            rf'<h3 id="{verb.replace(" ", "-")}">.*?(?=<h[23] |</article>)', text, re.S
        )
        assert part, verb
        pictures = part[0].count("<img ")
        assert pictures >= (2 if move.flat and move.folds else 1), verb
        assert move.summary[1:] in part[0].replace("&#39;", "'"), verb


def test_every_script_of_the_language_has_its_figures(site: Path) -> None:
    text = (site / "language.html").read_text("utf-8")
    reference = (ROOT / "grammar/README.md").read_text("utf-8")
    examples = len(re.findall(r"^```foldscript$", reference, re.M))
    assert text.count('class="figures"') == examples
    assert text.count('<span class="k">') > examples  # and the colours of its words


def test_every_sign_is_there(site: Path) -> None:
    assert len(looked(site / "signs.html").pictures) == len(sign_keys())


def test_the_gallery_leads_to_scripts_and_handouts(site: Path) -> None:
    seen = looked(site / "gallery.html")
    for name in SAMPLES:
        assert f"samples/{name}.foldscript" in seen.links
        assert f"models/{name}/{name}.pdf" in seen.links
        assert f"models/{name}/{name}-finished.svg" in seen.pictures
        assert (site / f"models/{name}/{name}.pdf").read_bytes().startswith(b"%PDF")


def test_the_public_names_and_the_exit_codes_are_told(site: Path) -> None:
    ids = looked(site / "python.html").ids
    assert {name.lower() for name in foldscript.__all__ if not name.startswith("_")} <= ids
    commands = (site / "commands.html").read_text("utf-8")
    for code, when in EXIT_CODES:
        assert f"<td>{code}</td>\n<td>{when}</td>" in commands


def test_the_example_of_the_public_face_runs(tmp_path: Path) -> None:
    (tmp_path / "cone.foldscript").write_text(CARD, "utf-8")
    example = re.search(r"\n\n((?:    .*\n)+)", foldscript.__doc__ or "")
    assert example
    code = "import foldscript\n" + re.sub(r"^    ", "", example[1], flags=re.M)
    subprocess.run([sys.executable, "-c", code], cwd=tmp_path, check=True)
    assert (tmp_path / "out/cone/cone-finished.svg").exists()


def test_search_finds_in_pages_opened_from_a_folder(site: Path) -> None:
    with browser() as chromium, chromium.new_context() as context:
        page = Watched(context, (site / "index.html").as_uri())
        page.page.locator(".md-search__input").fill("petal")
        found = page.page.locator(".md-search-result__item")
        found.first.wait_for(state="attached", timeout=30_000)
        assert "petal" in found.first.inner_text().casefold()
        assert [one for one in page.asked if urlsplit(one).netloc] == []
