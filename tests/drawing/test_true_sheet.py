"""The open sheet at true size: places in points, lines of steps, senses of creases laid flat."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.building.script import Script
from foldscript.drawing.sheet.true_sheet import (
    POINTS_PER_MM,
    TrueSheet,
    finished_pattern,
    lines_of_steps,
    pattern_scene,
)
from foldscript.drawing.style.lighter import lighter
from foldscript.drawing.style.styles import load_style
from foldscript.folding.alone import part_models
from foldscript.folding.steps import Model
from foldscript.geometry.lines import distance
from foldscript.geometry.polygons import edges
from foldscript.pages import sizes
from foldscript.paper.creases import Kind

from ..sample_scripts import SCRIPTS, sample

#: A square of 100 mm; the first step leaves its crease lying flat, the third folds from behind.
STEPS = """\
sheet square 10 cm, corner A at the bottom
step
  crease bottom corner to top corner as k
step
  crease mountain left corner to right corner as m
step
  turn over
step
  valley bottom corner to top corner
"""


def model(tmp_path: Path, text: str = STEPS) -> Model:
    path = tmp_path / "made.foldscript"
    path.write_text(text, "utf-8")
    return Script(path).model


def kinds(sheet: TrueSheet) -> list[tuple[int, Kind]]:
    return [(line.step, line.kind) for line in sheet.lines]


def test_a_point_is_the_same_everywhere() -> None:
    """1 inch = 25.4 mm = 72 points (PostScript point; pages have their own constant)."""
    assert pytest.approx(72 / 25.4) == POINTS_PER_MM
    assert pytest.approx(sizes.POINTS_PER_MM) == POINTS_PER_MM


def test_ten_centimetres_are_ten_centimetres(tmp_path: Path) -> None:
    sheet = finished_pattern(model(tmp_path))
    assert sheet.width == pytest.approx(100 / 25.4 * 72)
    assert sheet.height == pytest.approx(100 / 25.4 * 72)
    diagonal = max(distance(*line.segment) for line in sheet.lines)
    assert diagonal == pytest.approx(2**0.5 * 100 / 25.4 * 72)


def test_y_runs_down_and_the_front_is_seen(tmp_path: Path) -> None:
    """Corners A, B, C, D run counter-clockwise from the bottom left of the front."""
    sheet = finished_pattern(model(tmp_path))
    at = dict(sheet.corners)
    assert at["D"] == pytest.approx((0, 0))
    assert at["A"] == pytest.approx((0, sheet.height))
    assert at["C"] == pytest.approx((sheet.width, 0))
    assert len(sheet.corners) == 4
    assert sheet.lowest == ("A",)


def test_creases_laid_flat_keep_the_sense_in_which_they_were_made(tmp_path: Path) -> None:
    """Valley on the front; mountain on the front; a valley seen from behind is a mountain, but it
    runs along the crease of step 1 and is no new line."""
    made = model(tmp_path)
    assert kinds(lines_of_steps(made, 1, 4)) == [(1, Kind.VALLEY), (2, Kind.MOUNTAIN)]
    finished = finished_pattern(made)
    assert [line.kind for line in finished.lines] == [Kind.MOUNTAIN, Kind.CREASE]


def test_only_the_chosen_steps(tmp_path: Path) -> None:
    assert kinds(lines_of_steps(model(tmp_path), 2, 2)) == [(2, Kind.MOUNTAIN)]
    assert kinds(lines_of_steps(model(tmp_path), 3, 3)) == []


def test_what_it_starts_from_comes_with_the_first_step(tmp_path: Path) -> None:
    text = "start from waterbomb base\nstep\n  turn over\n"
    begun = model(tmp_path, text)
    assert {step for step, _ in kinds(lines_of_steps(begun, 1, 1))} == {0}
    assert len(lines_of_steps(begun, 1, 1).lines) == len(finished_pattern(begun).lines)


def test_a_hexagon_does_not_fill_its_box(tmp_path: Path) -> None:
    text = "sheet regular hexagon, side 8 cm\nstep\n  turn over\n"
    sheet = finished_pattern(model(tmp_path, text))
    assert len(sheet.corners) == 6
    box = {(x, y) for x in (0.0, sheet.width) for y in (0.0, sheet.height)}
    assert min(distance(p, q) for p in sheet.outline for q in box) > 1.0


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda p: p.stem)
def test_all_steps_together_make_every_line(path: Path) -> None:
    """The lines of all steps cover the finished pattern: as much length, nothing lost.

    Each sheet of a model of several apart. Where a piece has been cut off, its creases are told too, and
    the cuts that are edges in the end.
    """
    for made in part_models(sample(path.stem).model):
        steps = lines_of_steps(made, 1, made.steps[-1].number)
        whole = finished_pattern(made)
        told = sum(distance(*line.segment) for line in steps.lines)
        found = sum(distance(*line.segment) for line in whole.lines)
        if made.finished.sheet == made.sheet:
            assert told == pytest.approx(found, rel=1e-6)
            continue
        cuts = sum(distance(*line.segment) for line in steps.lines if line.kind is Kind.CUT)
        rim = sum(distance(*side) for ring in whole.rings for side in edges(ring))
        was = sum(distance(*side) for side in edges(steps.outline))
        assert rim - was < cuts <= rim + 1e-6
        assert told >= found + cuts - 1e-6


def test_the_scene_is_the_sheet_with_a_margin(tmp_path: Path) -> None:
    scene = pattern_scene(model(tmp_path))
    assert scene.width == pytest.approx(100 / 25.4 * 72 + 16)
    assert {item.role for item in scene.items} == {"edge.raw", "fold.mountain", "crease"}
    assert "Crease pattern" in scene.title


def _contrast(colour: str) -> float:
    """With white; WCAG 2.2, relative luminance."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    luminance = 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
    return 1.05 / (luminance + 0.05)


def test_light_lines_are_lighter_and_still_seen() -> None:
    """At least 3:1 on white, letters 4.5:1 (WCAG 2.2); mountain and valley keep their patterns."""
    style = load_style("grey")
    light = lighter(style)
    for role in ("fold.valley", "fold.mountain"):
        before, after = style.ink(role).stroke, light.ink(role).stroke
        assert before is not None
        assert after is not None
        assert 3.0 <= _contrast(after) < _contrast(before)
        assert light.ink(role).dash == style.ink(role).dash
    letters = light.ink("text.soft").fill
    assert letters is not None
    assert _contrast(letters) >= 4.5
    assert light.ink("fold.valley").dash != light.ink("fold.mountain").dash


def test_a_cut_has_scissors(tmp_path: Path) -> None:
    """Solid like an edge, so that only its sign tells it apart."""
    text = (
        "sheet square 10 cm\nstep\n  mark P at midpoint of A B\n  mark O at the centre\n"
        "  cut from P to O, 1 layer\n"
    )
    scene = pattern_scene(model(tmp_path, text))
    assert {"line.cut", "sign", "sign.open"} <= {item.role for item in scene.items}
    assert "line.cut" in scene.signs
