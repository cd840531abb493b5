"""SVG of a figure: well formed, escaped, deterministic, within what renderers draw alike."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from pathlib import Path as File

import pytest
from syrupy.assertion import SnapshotAssertion

from foldscript.building.script import Script
from foldscript.drawing.draw import draw
from foldscript.drawing.scene.scene import Close, Curve, Draw, Move, Path, Scene, Text
from foldscript.drawing.style.styles import load_style
from foldscript.folding.steps import Panel
from foldscript.output.svg import fitted_dash, number, plain, scene_svg
from foldscript.pages.grid import figure_frame
from foldscript.pages.sizes import page_size
from foldscript.paper.signs import Arrow
from tests.drawing import folded as f

STYLE = load_style("colour")
FRAME = (142.0, 145.0)
SVG = "{http://www.w3.org/2000/svg}"


def valley() -> Scene:
    panel = Panel(
        f.square(),
        (f.crease_of(f.square(), f.B, f.D), Arrow("valley", f.A, f.C)),
        labels=(("A", f.A),),
    )
    return draw(f.model(panel, finished=f.triangle()), STYLE, FRAME)[0].scene


def test_a_valley_fold_as_text(snapshot: SnapshotAssertion) -> None:
    """A square, a dashed diagonal, an arrow with a filled head, one letter."""
    assert scene_svg(valley(), STYLE).decode() == snapshot


def test_the_same_scene_gives_the_same_bytes() -> None:
    assert scene_svg(valley(), STYLE) == scene_svg(valley(), STYLE)


def test_it_is_named_for_those_who_cannot_see_it() -> None:
    """role img with a title and a description, as WAI-ARIA's graphics practice has it."""
    root = ET.fromstring(scene_svg(valley(), STYLE))
    assert root.get("role") == "img"
    assert root.get("lang") == "en"
    assert root.get("version") is None  # `lang` and `aria-*` came with SVG 2, which has no versions
    ids = (root.get("aria-labelledby") or "").split()
    by_id = {e.get("id"): e.text for e in root}
    assert [by_id[i] for i in ids] == ["Step 1", "Step 1. Caption 1."]
    assert root[0].tag == f"{SVG}title"
    assert root[1].tag == f"{SVG}desc"


@pytest.mark.parametrize(
    "words",
    ['<b>&amp; "it\'s" ]]> --><script>', "Ünïcödé – 折り紙 🙂", "two\nlines\tand tab", "}{"],
)
def test_what_people_write_comes_through_as_text(words: str) -> None:
    text = Text("text.label", (10.0, 20.0), words, 8.0)
    scene = Scene(50.0, 50.0, (text,), words, words, "de")
    root = ET.fromstring(scene_svg(scene, STYLE))
    assert root.get("lang") == "de"
    assert (root.findtext(f"{SVG}title"), root.findtext(f"{SVG}desc")) == (words, words)
    assert [e.text for e in root.iter(f"{SVG}text")] == [words]


def test_characters_that_xml_forbids_are_left_out() -> None:
    """XML 1.0, section 2.2."""
    assert plain("a\x00b\x1bc\ud800d\ufffee\tf\n") == "abcde\tf\n"
    scene = Scene(9.0, 9.0, (), "bell \x07", "")
    assert ET.fromstring(scene_svg(scene, STYLE)).findtext(f"{SVG}title") == "bell "


def test_an_unnamed_scene_is_still_an_image() -> None:
    root = ET.fromstring(scene_svg(Scene(9.0, 9.0, ()), STYLE))
    assert root.get("role") == "img"
    assert root.get("aria-labelledby") is None


def test_numbers() -> None:
    given = (0.0, -0.0, -0.001, 1e-9, 1.0, 2.345678, -3.10, 100.0)
    assert [number(v) for v in given] == ["0", "0", "0", "0", "1", "2.35", "-3.1", "100"]
    for bad in (float("nan"), float("inf")):
        with pytest.raises(ValueError, match="finite"):
            number(bad)


@pytest.mark.parametrize("length", [6.0, 9.7, 20.0, 101.3, 160.0])
@pytest.mark.parametrize("role", ["fold.valley", "fold.mountain"])
def test_dashed_lines_begin_and_end_on_ink(role: str, length: float) -> None:
    """Walk the pattern along the line: the last point lies at the end of a first dash."""
    pattern = STYLE.ink(role).dash
    dash = fitted_dash(pattern, length)
    if not dash:
        assert length < sum(pattern)
        return
    periods = (length - dash[0]) / sum(dash)
    assert periods == pytest.approx(round(periods), abs=1e-9)
    assert periods > 1 - 1e-9
    assert dash[0] / pattern[0] == pytest.approx(dash[1] / pattern[1])
    assert length < 12 or 0.7 < dash[0] / pattern[0] < 1.4


def test_dots_keep_their_size() -> None:
    dash = fitted_dash((0.01, 2.0), 31.0)
    assert dash[0] == 0.01
    assert dash[1] == pytest.approx(2.0, rel=0.1)


def test_only_what_every_renderer_draws() -> None:
    """No markers, style sheets, clips or variables; and nothing fetched from elsewhere."""
    text = scene_svg(valley(), STYLE).decode()
    assert not re.search(r"marker|<style|clip|var\(|url\(|filter|paint-order|href|textLength", text)
    assert "nan" not in text
    assert "-0 " not in text


def test_every_kind_of_segment() -> None:
    path = Path("edge.raw", (Move((0, 0)), Draw((1, 0)), Curve((1, 1), (2, 2), (3, 3)), Close()))
    root = ET.fromstring(scene_svg(Scene(9.0, 9.0, (path,)), STYLE))
    (element,) = root.iter(f"{SVG}path")
    assert element.get("d") == "M0 0L1 0C1 1 2 2 3 3Z"


def test_a_role_without_a_look_is_an_error() -> None:
    scene = Scene(9.0, 9.0, (Path("nonsense", (Move((0, 0)), Draw((1, 1)))),))
    with pytest.raises(KeyError, match="nonsense"):
        scene_svg(scene, STYLE)


def test_a_tall_stack_stays_small() -> None:
    """32 layers in at most 40 kB."""
    scene = draw(f.model(Panel(f.stack(5), ())), STYLE, FRAME)[0].scene
    assert len(scene_svg(scene, STYLE)) < 40_000


def test_styles_change_looks_only() -> None:
    """Grey and colour differ in attributes of paint, never in where anything lies."""
    grey = scene_svg(valley(), replace(load_style("grey"), family=STYLE.family)).decode()
    colour = scene_svg(valley(), STYLE).decode()
    paint = r' (fill|stroke|stroke-width|stroke-dasharray)="[^"]*"'
    assert re.sub(paint, "", grey) == re.sub(paint, "", colour)
    assert grey != colour


def test_a_step_of_many_plates_is_small() -> None:
    """At most 40 kB for a state of 30 plates or more (the crane has up to 44)."""
    model = Script(File(__file__).parents[2] / "samples" / "crane.foldscript").model
    figures = draw(model, STYLE, figure_frame(page_size("A4")))
    many = [f for f in figures if len(model.steps[f.step - 1].before.plates) >= 30]
    assert many
    assert max(len(scene_svg(f.scene, STYLE)) for f in many) <= 40_000


def test_text_read_from_the_right_says_so() -> None:
    """SVG 2, 11.8: with direction rtl, 'start' is the right end."""
    items = (Text("text.caption", (0.0, 9.0), "\u05e7\u05e4\u05dc A", 9.0),)
    svg = scene_svg(Scene(30.0, 10.0, items), load_style()).decode()
    assert 'direction="rtl"' in svg
    assert 'text-anchor="end"' in svg
    assert 'font-family="PT Sans, Heebo"' in svg
