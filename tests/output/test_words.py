"""Narration as text and as a page: wrapped, escaped, in order for those who listen."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import replace
from html.parser import HTMLParser

import pytest

from foldscript.folding.steps import Model
from foldscript.languages.wording import Language
from foldscript.narration.narrate import narrate
from foldscript.output.web import digest
from foldscript.output.words import WIDTH, words_html, words_language, words_text
from tests.scripts import folds, script

NASTY = 'A <script>alert("x")</script> & \u0007 "cup" {brace}'


def model(**changes: object) -> Model:
    return replace(folds(script("valley A to C", "turn over")), **changes)


class Outline(HTMLParser):
    """Headings and language of a page, and every element opened."""

    def __init__(self, page: bytes) -> None:
        super().__init__()
        self.headings: list[tuple[str, str]] = []
        self.opened: list[tuple[str, dict[str, str | None]]] = []
        self._open: list[str] = []
        self.text = ""
        self.feed(page.decode())

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.opened.append((tag, dict(attrs)))
        if tag in ("h1", "h2"):
            self.headings.append((tag, ""))
            self._open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if tag in ("h1", "h2"):
            self._open.pop()

    def handle_data(self, data: str) -> None:
        self.text += data
        if self._open:
            tag, text = self.headings[-1]
            self.headings[-1] = (tag, text + data)


def test_lines_are_short_enough_to_be_read_on_a_braille_terminal() -> None:
    """Common practice: text terminals of 80 characters, so no line runs over."""
    lines = words_text(narrate(model())).decode().splitlines()
    assert max(len(line) for line in lines) <= WIDTH < 80
    assert not any(line != line.rstrip() for line in lines)


def test_headings_stand_over_a_line() -> None:
    lines = words_text(narrate(model(title="Sail"))).decode().splitlines()
    assert lines[:2] == ["Sail", "===="]
    for heading in ("What you need", "Step 1 of 2", "Step 2 of 2"):
        assert lines[lines.index(heading) + 1] == "-" * len(heading)


def test_the_page_has_one_title_and_a_heading_for_every_part() -> None:
    page = Outline(words_html(narrate(model(title="Sail"))))
    assert page.headings == [
        ("h1", "Sail"),
        ("h2", "What you need"),
        ("h2", "How the words are meant"),
        ("h2", "The finished model"),
        ("h2", "Before the first step"),
        ("h2", "Step 1 of 2"),
        ("h2", "Step 2 of 2"),
        ("h2", "The end"),
    ]
    names = {attrs["id"] for _, attrs in page.opened if "id" in attrs}
    assert {
        attrs["aria-labelledby"] for _, attrs in page.opened if "aria-labelledby" in attrs
    } == names


def test_the_page_is_well_formed_and_in_a_language() -> None:
    page = words_html(narrate(model(language="es", title="Barco"))).decode()
    assert '<html lang="en">' in page
    assert '<h1 lang="es">Barco</h1>' in page
    body = page[page.index("<main>") : page.index("</body>")]
    ET.fromstring(body)


@pytest.mark.parametrize("field", ["title", "credit", "licence", "level"])
def test_what_a_person_wrote_is_escaped(field: str) -> None:
    page = words_html(narrate(model(**{field: NASTY})))
    outline = Outline(page)
    assert "script" not in [tag for tag, _ in outline.opened]
    assert NASTY.replace("\u0007", "") in outline.text
    assert "\u0007" not in words_text(narrate(model(**{field: NASTY}))).decode()


def test_notes_of_the_script_are_told() -> None:
    assert (
        "Fold &lt;slowly&gt;." in words_html(narrate(model(own_notes=("Fold <slowly>.",)))).decode()
    )


def test_the_page_may_load_nothing() -> None:
    page = words_html(narrate(model())).decode()
    style = page[page.index("<style>") + 7 : page.index("</style>")]
    assert f"default-src 'none'; style-src 'sha256-{digest(style)}'" in page
    assert "<script" not in page
    assert "http" not in page.replace("http-equiv", "")
    assert " style=" not in page


def test_the_same_model_gives_the_same_bytes() -> None:
    assert words_text(narrate(model())) == words_text(narrate(model()))
    assert words_html(narrate(model())) == words_html(narrate(model()))


def test_phrases_are_translated_when_they_are_written() -> None:
    def spanish(template: str) -> str:
        return {"The end": "Fin", "Step {n} of {total}": "Paso {n} de {total}"}.get(
            template, template
        )

    text = words_text(narrate(model()), spanish).decode()
    assert "Fin\n---" in text
    assert "Paso 2 de 2\n-----------" in text
    page = words_html(narrate(model()), spanish, "es").decode()
    assert '<html lang="es">' in page
    assert '<h2 id="step-2">Paso 2 de 2</h2>' in page


def test_a_page_is_in_one_language() -> None:
    """A language whose catalogue lacks these words gets them in English, and says so."""

    class Mute(Language):
        tag = "qaa"

    class Fluent(Language):
        tag = "qab"

        def say(self, template: str, case: str = "") -> str:
            return template.upper()

    assert words_language(Mute()).tag == "en"
    assert words_language(Fluent()).tag == "qab"
