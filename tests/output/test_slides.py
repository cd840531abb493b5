"""The page of slides as text: self-contained, escaped, the same every time."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from functools import cache

import pytest

from foldscript.drawing.draw import draw, finished_figure
from foldscript.drawing.style.contrast import contrast
from foldscript.drawing.style.styles import Style, load_style, style_names
from foldscript.folding.steps import Model
from foldscript.output.drawn import Drawn
from foldscript.output.slides import slides_html
from foldscript.output.web import digest
from foldscript.pages.booklet.texts import BookletTexts
from tests.scripts import folds, script

FRAME = (150.0, 150.0)
NASTY = "</script><script>alert(\"x\")</script> & \u0007 'cup' {brace}"


def drawn(model: Model, style: Style) -> Drawn:
    """A model with its figures; slides need no pages."""
    figures = draw(model, style, FRAME)
    finished = finished_figure(model, style, FRAME)
    return Drawn(model, figures, finished, style, lambda: pytest.fail("pages are not needed"))


@cache
def show(name: str = "card", title: str = "Card", style: str = "colour") -> Drawn:
    model = replace(
        folds(script("valley A to C", "crease B to D; turn over", "valley B to D")),
        name=name,
        title=title,
    )
    return drawn(model, load_style(style))


def page(*shows: Drawn, style: str = "colour", setting: BookletTexts | None = None) -> str:
    return slides_html(shows or (show(),), load_style(style), setting=setting).decode()


def between(text: str, tag: str) -> str:
    found = re.search(rf"<{tag}>(.*?)</{tag}>", text, re.DOTALL)
    assert found
    return found[1]


def test_the_page_may_load_and_run_nothing_but_its_own() -> None:
    """Content Security Policy level 3: a digest allows an inline style sheet or script."""
    text = page()
    policy = re.search(r'http-equiv="Content-Security-Policy" content="(.*?)"', text)
    assert policy
    assert policy[1].split("; ") == [
        "default-src 'none'",
        f"style-src 'sha256-{digest(between(text, 'style'))}'",
        f"script-src 'sha256-{digest(between(text, 'script'))}'",
        "font-src data:",
        "base-uri 'none'",
        "form-action 'none'",
    ]
    assert not re.search(
        r"\bstyle=|\bon[a-z]+=|javascript:|url\((?!data:font/woff;base64,)|@import"
        r"|https?://(?!www\.w3\.org/)",
        text,
    )


def test_nothing_is_stored() -> None:
    code = between(page(), "script")
    for word in (
        "localStorage",
        "sessionStorage",
        "indexedDB",
        "cookie",
        "fetch",
        "pushState",
        "caches",
    ):
        assert word not in code


def test_what_a_person_wrote_is_escaped() -> None:
    nasty = show(title=NASTY)
    nasty = replace(
        nasty,
        model=replace(nasty.model, credit=NASTY, licence=NASTY),
        figures=tuple(replace(f, caption=NASTY) for f in nasty.figures),
    )
    text = page(nasty)
    assert text.count("<script>") == 1
    assert "\u0007" not in text
    body = ET.fromstring(text[text.index("<main>") : text.index("<nav")])
    captions = [e.text for e in body.iter("p") if e.get("class") == "caption"]
    assert captions[0] == NASTY.replace("\u0007", "")


def test_every_figure_stands_in_the_page_once() -> None:
    body = ET.fromstring(page()[page().index("<main>") : page().index("<nav")])
    names = [e.get("id") for e in body.iter() if e.get("id")]
    assert len(names) == len(set(names))
    uses = [e.get("href") for e in body.iter() if e.tag.endswith("use")]
    assert {u[1:] for u in uses if u} <= set(names)
    slides = body.findall("section")
    assert len(slides) == 1 + len(show().figures) + 1


@pytest.mark.parametrize(
    ("last", "heading", "words", "coming"),
    [
        ("shape", "Flat", "The model before it is opened out.", "Next: the flat model"),
        ("curl B", "Finished", "The model before it is curled.", "Next: finished"),
    ],
)
def test_what_is_shaped_in_the_end_is_told_to_be_drawn_before_that(
    last: str, heading: str, words: str, coming: str
) -> None:
    model = folds(script("valley A to C", last))
    shaped = drawn(model, load_style("colour"))
    whole = page(shaped)
    body = ET.fromstring(whole[whole.index("<main>") : whole.index("<nav")])
    cover, *_, before, end = body.findall("section")
    assert [svg.get("aria-label") for svg in cover if svg.tag == "svg"] == [words]
    assert before.findtext("div/div[@class='peek']/p") == coming
    assert end.get("data-says") == f"{heading}. {words}"
    assert end.findtext("header/h2/span") == heading
    assert [p.text for p in end.iter("p") if p.get("class") == "caption"] == [words]
    assert shaped.finished.title.startswith(f"{model.name}, before it is ")


def test_slides_are_named_for_those_who_listen() -> None:
    body = ET.fromstring(page()[page().index("<main>") : page().index("<nav")])
    spoken = [s.get("data-says") for s in body.findall("section")]
    assert spoken[0] == "Card"
    assert spoken[1] == f"Step 1 of 3. {show().figures[0].caption}"
    assert spoken[-1] == "Finished"
    ends = body.findall("section")[-1]
    assert ends.findtext("p[@class='caption']") in (None, "")
    for svg in body.iter():
        if svg.tag.endswith("svg"):
            assert svg.get("aria-label") or svg.get("aria-hidden") == "true"


def test_paper_keeps_its_scale_from_slide_to_slide() -> None:
    cover, *windows = re.findall(r'viewBox="\S+ \S+ (\S+) (\S+)"', page())
    assert len(windows) > 4
    assert len(set(windows)) == 1
    assert [float(v) for v in cover] < [
        float(v) for v in windows[0]
    ]  # as large as its place allows


def test_several_models_get_a_list_first() -> None:
    text = page(show("one", "One"), show("two", "Two & a half"), setting=BookletTexts("Evening"))
    assert "<title>Evening</title>" in text
    assert re.search(
        r'<a href="#m2"><svg [^>]*><use href="#f2-4"/></svg><span>2. Two &amp; a half</span></a>',
        text,
    )
    body = ET.fromstring(text[text.index("<main>") : text.index("<nav class")])
    ids = [e.get("id") for e in body.iter() if e.get("id")]
    assert len(ids) == len(set(ids))
    assert [h.tag for h in body.iter() if h.tag in ("h1",)] == ["h1"]


def test_what_a_booklet_says_stands_round_its_models() -> None:
    """Levels in the contents; credits at the end; each in its own language, and escaped."""
    one, two = show("one", "One"), show("two", "Two")
    hard = replace(two, model=replace(two.model, level="low intermediate"))
    easy = replace(one, model=replace(one.model, level="simple"))
    setting = BookletTexts(
        "Tarde",
        NASTY,
        "Biblioteca",
        credits=f"Gracias.\n\n{NASTY}",
        licence="Libre.",
        language="es",
        levels=True,
    )
    text = page(easy, hard, setting=setting)
    body = ET.fromstring(text[text.index("<main>") : text.index("<nav class")])
    start, *_, end = body.findall("section")
    assert [p.text for p in start.iter("p")] == [NASTY.replace("\u0007", ""), "Biblioteca"]
    assert [h.text for h in start.iter("h2")] == ["Simple", "Low intermediate"]
    assert [ol.get("start") for ol in start.iter("ol")] == ["1", "2"]
    assert [p.text for p in end.iter("p")] == ["Gracias.", NASTY.replace("\u0007", ""), "Libre."]
    assert [e.get("lang") for e in (*start.iter("header"), *end.iter("div"))] == ["es", "es"]
    assert text.count('<a href="#contents">Contents</a>') == 1
    assert 'id="credits"' not in page(easy, hard, setting=BookletTexts("Evening"))
    assert "#contents" not in page()


def test_the_same_model_gives_the_same_bytes() -> None:
    assert page() == page()


@pytest.mark.parametrize("name", style_names())
def test_buttons_and_words_stand_out_in_every_style(name: str) -> None:
    """WCAG 2.2, success criteria 1.4.3 and 1.4.11: 4.5:1 for text, 3:1 for what surrounds it."""
    text = page(show(style=name), style=name)
    sheet = between(text, "style")
    colours = dict(re.findall(r"--(\w+): (#[0-9a-f]{6});", sheet.split("}")[1]))
    colours |= dict(re.findall(r"--(\w+): (#[0-9a-f]{6});", sheet.split("}")[0]))
    for front, back in (("ink", "ground"), ("sign", "ground"), ("bar", "table"), ("idle", "table")):
        assert contrast(colours[front], colours[back]) >= 4.5, (name, front, back)
    assert contrast(colours["edge"], colours["ground"]) >= 3, name


def test_colour_words_are_no_classes_of_the_page() -> None:
    plain = page()
    model = replace(show().model, front_colour="slide", back_colour="peek now")
    coloured = page(drawn(model, load_style("colour")))
    assert coloured.count('class="slide') == plain.count('class="slide')
    classes = {name for names in re.findall(r'class="([^"]*)"', coloured) for name in names.split()}
    assert {"colour-slide", "colour-peek-now"} <= classes
    assert "now" not in classes
