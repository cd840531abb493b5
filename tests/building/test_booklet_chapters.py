"""A booklet draws anew only the models whose texts have changed."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.building import booklet_pages
from foldscript.building.binding import bind, booklet_options
from foldscript.building.kept_chapters import CHAPTERS
from foldscript.building.script import Script

from ..command import CARD, script
from .test_booklet_jobs import BENCH, shelf


@pytest.fixture
def drawn(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Names of the models that are drawn, as they are."""
    names: list[str] = []
    usual = booklet_pages._chapter  # pyright: ignore[reportPrivateUsage]

    def chapter(style: object, page: object, one: Script, language: str) -> object:
        names.append(one.path.stem)
        return usual(style, page, one, language)  # pyright: ignore[reportArgumentType]

    monkeypatch.setattr(booklet_pages, "_chapter", chapter)
    return names


def bound(path: Path, out: str = "out", fresh: bool = False, style: str = "") -> bytes:
    options = booklet_options("", style, False, fresh, jobs=1)
    bind(path, path.with_name(out), options)
    return (path.with_name(out) / "two/two.pdf").read_bytes()


def test_one_caption_draws_one_model(tmp_path: Path, drawn: list[str]) -> None:
    path = shelf(tmp_path)
    bound(path)
    assert drawn == ["card", "bench"]
    script(tmp_path, "bench", BENCH.replace("a bench", "a low bench"))
    drawn.clear()
    again = bound(path)
    assert drawn == ["bench"]
    assert bound(path, "other") == again  # what is kept is what would be drawn


def test_what_a_booklet_says_itself_draws_no_model(tmp_path: Path, drawn: list[str]) -> None:
    path = shelf(tmp_path)
    bound(path)
    path.write_text(path.read_text("utf-8").replace('"Two"', '"Two models"'), "utf-8")
    drawn.clear()
    bound(path)
    assert drawn == []


def test_another_look_or_page_draws_all(tmp_path: Path, drawn: list[str]) -> None:
    path = shelf(tmp_path)
    bound(path)
    drawn.clear()
    bound(path, style="grey")
    assert drawn == ["card", "bench"]
    path.write_text(path.read_text("utf-8").replace('"A5"', '"A6"'), "utf-8")
    drawn.clear()
    bound(path, style="grey")
    assert drawn == ["card", "bench"]


def test_a_caption_beside_the_script_counts(tmp_path: Path, drawn: list[str]) -> None:
    path = shelf(tmp_path)
    bound(path)
    (tmp_path / "card.fr.toml").write_text('title = "Carte"\n', "utf-8")
    drawn.clear()
    bound(path)
    assert drawn == ["card"]


def test_fresh_draws_all_and_a_spoilt_file_is_no_fault(tmp_path: Path, drawn: list[str]) -> None:
    path = shelf(tmp_path)
    first = bound(path)
    drawn.clear()
    assert bound(path, fresh=True) == first
    assert drawn == ["card", "bench"]
    place = tmp_path / "out/two" / CHAPTERS.name
    whole = place.read_bytes()
    for spoilt in (b"", whole[:-9], whole[:40] + b"\0" + whole[41:]):
        place.write_bytes(spoilt)
        assert CHAPTERS.read(place.parent) == {}
    script(tmp_path, "card", CARD.replace("Fold in half", "Fold it in half"))
    drawn.clear()
    bound(path)
    assert drawn == ["card", "bench"]
