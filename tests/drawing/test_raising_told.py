"""Arrows of raising are large enough to be read, and the angle that is said stands beside them."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import combinations
from pathlib import Path as FilePath

import pytest
import shapely

from foldscript.building.script import Script
from foldscript.drawing.draw import draw
from foldscript.drawing.placement.obstacles import Obstacles
from foldscript.drawing.plan import panels_of
from foldscript.drawing.scene.outlines import item_box
from foldscript.drawing.scene.scene import Path, Text
from foldscript.drawing.scene.strokes import polylines
from foldscript.drawing.signs.arrow_raise import GLYPH as RAISE
from foldscript.drawing.signs.mark_raised import raised_sign
from foldscript.drawing.style.styles import load_style
from foldscript.geometry.lines import subtract
from foldscript.paper.signs import Arrow, RaisedAngle

from ..scripts import folded

STYLE = load_style("colour")
SAMPLES = FilePath(__file__).resolve().parents[2] / "samples"
FRAME = (160.0, 160.0)
FLAP = "valley along line 30 mm from the left edge, moving A, as k"


def strokes(degrees: float, side: float, lies: bool, away: bool) -> list[tuple[float, float]]:
    """Where the stroke of the paper and that of the flap lead from their common line."""
    items = raised_sign(degrees, side, lies, away, STYLE)
    paper, flap = (
        line
        for item in items
        if isinstance(item, Path) and item.role == "sign"
        for line in polylines([item])
    )
    hinge = next(p for p in paper if any(math.dist(p, q) < 1e-6 for q in flap))
    ends = [max(line, key=lambda p: math.dist(p, hinge)) for line in (paper, flap)]
    return [(x - hinge[0], y - hinge[1]) for x, y in ends]


@pytest.mark.parametrize("degrees", [20.0, 60.0, 110.0, 150.0])
@pytest.mark.parametrize("side", [1.0, -1.0])
@pytest.mark.parametrize("lies", [True, False])
@pytest.mark.parametrize("away", [True, False])
def test_the_flap_stands_off_the_paper_by_the_angle_that_is_said(
    degrees: float, side: float, lies: bool, away: bool
) -> None:
    """Page coordinates grow downwards: a flap that comes towards the reader stands up."""
    paper, flap = strokes(degrees, side, lies, away)
    assert paper[1] == pytest.approx(0.0)
    assert paper[0] * side * (1 if lies else -1) > 0  # folded over, it lies on the paper that stays
    cosine = (paper[0] * flap[0] + paper[1] * flap[1]) / math.hypot(*paper) / math.hypot(*flap)
    assert math.degrees(math.acos(cosine)) == pytest.approx(degrees)
    assert (flap[1] > 0) == away


def test_flaps_raised_alike_to_either_side_share_a_sign() -> None:
    """One stroke for the paper, one for the flap in front, one for that behind; the degrees once."""
    items = raised_sign(110.0, 1.0, True, False, STYLE, both=True)
    lines = [
        line
        for item in items
        if isinstance(item, Path) and item.role == "sign"
        for line in polylines([item])
    ]
    (hinge,) = set.intersection(*({(round(x, 6), round(y, 6)) for x, y in some} for some in lines))
    _, front, back = (max(line, key=lambda p: math.dist(p, hinge)) for line in lines)
    assert front[0] == pytest.approx(back[0])
    assert front[1] - hinge[1] == pytest.approx(hinge[1] - back[1])
    assert sum(isinstance(item, Text) for item in items) == 1
    folds = (
        "valley the top edge onto the bottom edge",
        "valley D along line 30 mm from the top edge, 1 layer, as front",
        "mountain A along line 30 mm from the top edge, 1 layer, as back",
    )
    figure = draw(folded(*folds, "raise along front and back"), STYLE, FRAME)[-1]
    assert [i.text for i in figure.scene.items if isinstance(i, Text) and "°" in i.text] == ["90°"]


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("raise along k", ["90°"]),
        ("raise along k to 60 degrees", ["60°"]),
    ],
)
def test_how_far_a_flap_is_raised_stands_in_the_figure(line: str, said: list[str]) -> None:
    """Right angles, too, which a script does not say: a reader of the figure cannot know that."""
    figure = draw(folded(FLAP, line), STYLE, FRAME)[-1]
    assert ("mark.raised" in figure.scene.signs) == bool(said)
    texts = [i for i in figure.scene.items if isinstance(i, Text) and "°" in i.text]
    assert [text.text for text in texts] == said
    for text in texts:
        x0, y0, x1, y1 = item_box(text) or (0.0, 0.0, 0.0, 0.0)
        assert x0 >= 0
        assert y0 >= -1
        assert x1 <= FRAME[0] + 1
        assert y1 <= FRAME[1] + 1


@pytest.mark.parametrize("way", [18.0, 22.0, 25.0, 29.0])
def test_an_arrow_of_raising_is_12_mm_long_where_the_line_is_near(way: float) -> None:
    """34 points are 12 mm: beside a shaft so long a head is read."""
    import shapely

    around = Obstacles(shapely.Polygon(), (-100.0, -100.0, 100.0, 100.0))
    arrow = RAISE.draw((0.0, 0.0), (0.0, -way), False, around)[0]
    (outline,) = polylines([arrow])
    (hollow,) = (shapely.Polygon(outline),)
    assert hollow.length / 2 > 34.0


def raisings(text: str, folder: FilePath) -> list[tuple[str, float, float]]:
    """The arrows of raising in the last figure of a script: act, and the way over the page (sheet units)."""
    path = folder / "model.foldscript"
    path.write_text(text, encoding="utf-8")
    model = Script(path).standing_model
    signs = [s for s in panels_of(model, model.steps[-1])[-1].signs if isinstance(s, Arrow)]
    return [(s.act, *subtract(s.head, s.tail)) for s in signs]


#: Roofs over the sides of a house: each side is of several layers, and of several surfaces.
HOUSE = """sheet square 15 cm
step
  valley top edge onto bottom edge
  crease left edge onto right edge, all layers as middle
  mark T at midpoint of the top edge
  valley left edge onto middle, all layers
  valley right edge onto middle, all layers
  mark K at the top left corner
  mark L at the top right corner
  squash line K T onto left edge
  squash line L T onto right edge
  crease left edge onto middle, all layers, as left-side
  crease right edge onto middle, all layers, as right-side
step
  raise along left-side and right-side
"""


def test_paper_that_rises_together_has_one_arrow_and_so_has_its_mirror_image(
    tmp_path: FilePath,
) -> None:
    """Both sides turn about a line at a quarter of the width: nothing else moves."""
    one, other = sorted(raisings(HOUSE, tmp_path), key=lambda way: way[1])
    assert one[0] == other[0] == "raise"
    assert one[1] == pytest.approx(-other[1], abs=1e-6)
    assert one[2] == pytest.approx(other[2], abs=1e-6)


def test_of_two_wings_that_lie_on_each_other_each_has_an_arrow() -> None:
    """The one in front comes up, the one behind goes down: both from the tips that lie together."""
    folds = (
        "valley the top edge onto the bottom edge",
        "valley D along line 30 mm from the top edge, 1 layer, as front",
        "mountain A along line 30 mm from the top edge, 1 layer, as back",
    )
    signs = folded(*folds, "raise along front and back").steps[-1].panels[-1].signs
    front, back = (s for s in signs if isinstance(s, Arrow))
    assert (front.act, back.act) == ("raise", "lower")
    assert math.dist(front.tail, back.tail) == pytest.approx(0.0, abs=1e-6)
    assert math.dist(front.head, back.head) == pytest.approx(0.0, abs=1e-6)
    assert sorted(s.away for s in signs if isinstance(s, RaisedAngle)) == [False, True]


def test_walls_of_several_layers_have_one_arrow_each() -> None:
    """The long walls of the masu: the paper under them is parted by their folds, and does not go down."""
    step = Script(SAMPLES / "masu.foldscript").model.steps[5]
    arrows = [sign for sign in step.records[-1].signs if isinstance(sign, Arrow)]
    assert [arrow.act for arrow in arrows] == ["raise", "raise"]


def test_flaps_whose_tips_meet_have_arrows_that_begin_apart() -> None:
    """Four tips at one place: the arrows lead away from there, 3 mm (8.5 points) from each other and more."""
    ends = [(40.0 * math.cos(k * math.pi / 2), 40.0 * math.sin(k * math.pi / 2)) for k in range(4)]
    around = Obstacles(shapely.box(-80, -80, 80, 80), (-80.0, -80.0, 80.0, 80.0))
    around.starts = [(0.0, 0.0)] * 4
    around.landings = ends
    tails: list[tuple[float, float]] = []
    for end in ends:
        first, *_ = RAISE.draw((0.0, 0.0), end, False, around)
        ((*line, _), *_) = polylines([first])
        tails.append(min(line, key=lambda p: math.hypot(*p)))
    assert all(math.dist(p, q) > 8.5 for p, q in combinations(tails, 2))


SHELF = """sheet rectangle 16 cm by 8 cm
step
  crease along line 5 cm from the left edge as k
step
  crease along line 10 cm from the left edge as m
step
  raise along k to 130 degrees, along m until level with A, holding A
"""


def test_what_is_level_has_the_angle_that_it_comes_to(tmp_path: FilePath) -> None:
    """Level with the paper before a wall that leans back to 130 degrees, its top stands at 50 to the wall."""
    path = tmp_path / "shelf.foldscript"
    path.write_text(SHELF, encoding="utf-8")
    model = Script(path).standing_model
    signs = panels_of(model, model.steps[-1])[-1].signs
    assert {s.degrees for s in signs if isinstance(s, RaisedAngle)} == {50.0, 130.0}
    lying = panels_of(replace(model, poses={}), model.steps[-1])[-1].signs
    assert [s.degrees for s in lying if isinstance(s, RaisedAngle)] == [130.0]
