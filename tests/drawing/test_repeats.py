"""Arrows of repeats: they end where it is done again."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
import shapely

from foldscript.building.script import Script
from foldscript.drawing.draw import draw
from foldscript.drawing.scene.outlines import item_box, text_box
from foldscript.drawing.scene.scene import Point, Text
from foldscript.drawing.style.styles import load_style
from foldscript.folding.steps import Panel
from foldscript.paper.signs import RepeatSign

from ..sample_scripts import sample
from . import folded as f
from .composed import composed
from .seen import items_of


def tip(times: int, at: Point) -> tuple[Point, float]:
    """Middle of the sign's head about the upper right corner of a square's figure, in its sides; its side."""
    panel = Panel(f.square(), (RepeatSign(1, 1, times, at),))
    (figure,) = draw(f.model(panel), load_style(), (200.0, 120.0))
    paper = item_box(items_of(figure.scene, "paper")[0])
    (head,) = items_of(figure.scene, "sign.solid") or items_of(figure.scene, "arrow.head")
    box = item_box(head)
    assert paper is not None
    assert box is not None
    side = paper[2] - paper[0]
    x, y = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
    return ((x - paper[2]) / side, (y - paper[1]) / side), side


def test_what_is_done_at_several_corners_is_shown_at_one() -> None:
    (x, y), _ = tip(3, (0.75, 0.75))
    assert math.hypot(x, y) < 0.14


@pytest.mark.parametrize(("times", "at"), [(1, (0.75, 0.75)), (3, (0.75, 0.6))])
def test_other_places_stay_as_they_are(times: int, at: Point) -> None:
    (_, y), _ = tip(times, at)
    assert y > 0.14


def test_two_boxes_at_one_place_stand_level_side_by_side() -> None:
    """One above the other they would look like two notes."""
    found = composed(sample("lantern").model, load_style(), (190.0, 190.0))
    ((_, _, ink),) = [one for one in found if one[0] == "3–5"]
    repeats = [group for group in ink.groups if group.kind == "repeat"]
    boxes = [item_box(i) for group in repeats for i in group.items if i.role == "sign.open"]
    left, right = sorted(box for box in boxes if box is not None)
    assert left[1] == pytest.approx(right[1])
    assert left[2] < right[0] < left[2] + 10.0


def test_a_box_leaves_room_for_the_letters_of_points() -> None:
    """The crane's petal fold: its line ends at Q, near what is repeated."""
    found = composed(sample("crane").model, load_style(), (236.0, 252.0))
    ((_, _, ink),) = [one for one in found if one[0] == "8–9"]
    texts = [i for g in ink.groups for i in g.items if isinstance(i, Text) and i.text == "Q"]
    boxes = [item_box(i) for g in ink.groups if g.kind == "repeat" for i in g.items]
    (letter,) = {text_box(text) for text in texts}
    gaps = [shapely.distance(shapely.box(*letter), shapely.box(*box)) for box in boxes if box]
    assert min(gaps) > 5.0


def test_only_what_is_done_on_the_back_is_drawn_behind(tmp_path: Path) -> None:
    """Whatever points are called: the sign says it, not the words of the step."""
    script = tmp_path / "b.foldscript"
    script.write_text(
        'model "B"\nsheet square 15 cm, coloured side down\nstep\n  mark behindX at C\n'
        "step\n  valley A to centre\nstep\n  repeat step 2 on behindX\n",
        "utf-8",
    )
    figures = draw(Script(script).model, load_style(), (200.0, 120.0))
    assert "repeat" in figures[-1].scene.signs
    assert "repeat.behind" not in figures[-1].scene.signs
