"""The symbol poster: every sign once, with name and meaning, in every style; its look is pinned."""

from __future__ import annotations

from pathlib import Path

import pikepdf
import pytest
from syrupy.assertion import SnapshotAssertion

from foldscript.building.poster import PosterOptions, make_posters, poster_files
from foldscript.drawing.scene.outlines import item_box
from foldscript.drawing.scene.scene import Scene, Text
from foldscript.drawing.signs.glyph import HEADINGS
from foldscript.drawing.signs.key import meaning, sections, sign_keys
from foldscript.drawing.signs.registry import glyphs
from foldscript.drawing.style.styles import load_style, style_names
from foldscript.languages.language import languages, load_language
from foldscript.output.fonts import Fonts, measure
from foldscript.output.page_svg import page_svg
from foldscript.pages.sheets.poster import TITLE, poster
from foldscript.pages.sizes import page_size

from ..picture_report import Pictures


def test_every_sign_stands_under_one_heading() -> None:
    keys = [key for _, found in sections() for key in found]
    assert sorted(keys) == sorted(sign_keys())
    assert all(found for _, found in sections())


def test_every_meaning_is_a_sentence() -> None:
    assert all(text.endswith(".") and text[0].isupper() for text in map(meaning, sign_keys()))


@pytest.mark.parametrize("name", style_names())
@pytest.mark.parametrize("size", ["A4", "A3", "A5"])
def test_it_shows_each_sign_once_with_name_and_meaning(name: str, size: str) -> None:
    document = poster(load_style(name), page_size(size), measure)
    scenes = [s.content for page in document.pages for s in page.scenes]
    shown = [key for s in scenes if isinstance(s, Scene) for key in s.signs]
    assert sorted(shown) == sorted(sign_keys())
    words = " ".join(document.texts())
    for key in sign_keys():
        assert glyphs()[key].name.split(":")[0].split()[0] in words
        assert meaning(key).split()[0] in words


@pytest.mark.parametrize("tag", list(languages()))
def test_no_two_signs_have_one_name(tag: str) -> None:
    document = poster(load_style("grey"), page_size("A3"), measure, load_language(tag))
    names = [
        item.content.text
        for page in document.pages
        for item in page.items
        if isinstance(item.content, Text) and item.content.role == "text.key"
    ]
    assert len(names) == len(set(names)) >= len(sign_keys())


@pytest.mark.parametrize("name", style_names())
def test_nothing_leaves_its_page(name: str) -> None:
    for page in poster(load_style(name), page_size("A4"), measure).pages:
        wide, high = page.size.width / page.scale, page.size.height / page.scale
        for placed in page.items:
            content = placed.content
            if isinstance(content, Scene):
                box = (0.0, 0.0, content.width * placed.scale, content.height * placed.scale)
            elif isinstance(content, Text):
                box = (0.0, -content.size, measure(content.text, content.size), 0.0)
                if content.anchor == "end":
                    box = (-box[2], box[1], 0.0, 0.0)
            else:
                found = item_box(content)
                assert found is not None
                box = found
            assert placed.at[0] + box[0] >= 0
            assert placed.at[1] + box[1] >= 0
            assert placed.at[0] + box[2] <= wide
            assert placed.at[1] + box[3] <= high


@pytest.mark.parametrize("tag", [tag for tag in languages() if tag != "en"])
@pytest.mark.parametrize("name", style_names())
def test_it_is_whole_in_every_language(tag: str, name: str) -> None:
    """Every heading, name and meaning in that language, and no word of it off the page."""
    speech = load_language(tag)
    document = poster(load_style(name), page_size("A4"), measure, speech)
    assert document.language == tag
    assert not Fonts().warnings(document.texts())
    words = " ".join(document.texts())
    english = " ".join(poster(load_style(name), page_size("A4"), measure).texts())
    for text in (TITLE, *HEADINGS, *map(meaning, sign_keys())):
        assert speech(text) != text
        assert speech(text).split()[0] in words
        assert text in english or text.split()[0] in english
    for key in sign_keys():
        assert speech(glyphs()[key].name).split(":")[0].split()[0] in words
    for page in document.pages:
        for placed in page.items:
            if isinstance(placed.content, Text) and placed.content.anchor != "end":
                right = placed.at[0] + measure(placed.content.text, placed.content.size)
                assert right <= page.size.width / page.scale


def test_files_in_several_languages(tmp_path: Path) -> None:
    styles, page = (load_style("grey"),), page_size("A3")
    made = make_posters(PosterOptions(styles, page, ("es", "nl")), tmp_path)
    assert {path.relative_to(tmp_path).parent.as_posix() for path in made} == {
        "signs/es",
        "signs/nl",
    }
    with pikepdf.open(tmp_path / "signs/es/signs-grey.pdf") as pdf:
        assert str(pdf.Root.Lang) == "es"
    picture = (tmp_path / "signs/es/signs-grey-page-1.svg").read_text("utf-8")
    assert "plegado" in picture
    assert ' lang="es"' in picture


def test_how_it_looks_in_black_and_white(pictures: Pictures) -> None:
    document = poster(load_style("grey"), page_size("A4"), measure)
    for page in document.pages:
        pictures.check(f"signs-{page.label}", page_svg(page, load_style("grey")))


@pytest.mark.parametrize("name", style_names())
def test_the_inks_of_each_style(name: str, snapshot: SnapshotAssertion) -> None:
    """What the same poster is painted with: a change of a style shows here, line by line."""
    style = load_style(name)
    document = poster(style, page_size("A4"), measure)
    roles = {
        item.role
        for page in document.pages
        for placed in page.items
        for item in (
            placed.content.items if isinstance(placed.content, Scene) else (placed.content,)
        )
    }
    assert [f"{role}: {style.ink(role)}" for role in sorted(roles)] == snapshot


def test_files_of_a_style() -> None:
    files = poster_files(load_style("colour"), page_size("A4"))
    assert files["signs-colour.pdf"].startswith(b"%PDF")
    pages = [name for name in files if name.endswith(".svg")]
    assert pages
    assert all(b"<title>Signs of paper folding, colour</title>" in files[name] for name in pages)
    assert any(b"<title>Valley: fold in front</title>" in files[name] for name in pages)


@pytest.mark.parametrize("tag", ["en", "es", "fr", "nl"])
def test_two_sheets_of_a4_take_it(tag: str) -> None:
    """German words need a third sheet."""
    document = poster(load_style("grey"), page_size("A4"), measure, load_language(tag))
    assert len(document.pages) == 2
