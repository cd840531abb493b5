"""What must not run together on the page: heads, rings and edges; numbers and lines; discs and arrows."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path as FilePath

import pytest
import shapely
from shapely.geometry.base import BaseGeometry

from foldscript.building.script import Script
from foldscript.drawing.draw import draw
from foldscript.drawing.plan import planned
from foldscript.drawing.scene.groups import Sketch
from foldscript.drawing.scene.outlines import text_box
from foldscript.drawing.scene.scene import Path, Text
from foldscript.drawing.scene.strokes import along, polylines
from foldscript.drawing.style.styles import Style, load_style
from foldscript.folding.steps import Model
from foldscript.pages.grid import figure_frame
from foldscript.pages.sizes import page_size
from foldscript.paper.signs import Arrow

from .composed import composed

ROOT = FilePath(__file__).resolve().parents[2] / "samples"
SAMPLES = sorted(ROOT.rglob("*.foldscript"))
STYLE = load_style("colour")
FRAME = figure_frame(page_size("A4"), STYLE.enlarged)
#: A disc of 3 mm in points, and how much of it may be ink: a solid head on an edge fills three quarters.
RADIUS, MOST = 1.5 * 72 / 25.4, 0.79


def model_of(name: str) -> Model:
    return Script(ROOT / f"{name}.foldscript").standing_model


def dark(sketch: Sketch, style: Style) -> list[BaseGeometry]:
    """All that is dark on the page: lines as wide as they are drawn, and solid areas, piece by piece."""
    shapes: list[BaseGeometry] = []
    for group in sketch.groups:
        for item in group.items:
            if not isinstance(item, Path) or item.role.startswith("paper"):
                continue
            look = style.ink(item.role)
            lines = [line for line in polylines([item]) if len(line) > 1]
            if look.stroke and not look.dash:
                width = look.width / 2
                shapes += [
                    shapely.LineString(part).buffer(width)
                    for line in lines
                    for part in pairwise(line)
                ]
            if item.role in ("arrow.head", "sign.solid"):
                shapes += [shapely.Polygon(line).buffer(0) for line in lines if len(line) > 3]
    return shapes


def spots(sketch: Sketch) -> list[tuple[float, float]]:
    """Middles of rings, and of solid heads."""
    found: list[tuple[float, float]] = []
    for group in sketch.groups:
        for item in group.items:
            if isinstance(item, Path) and item.role in ("mark.ring", "arrow.head"):
                points = along([item])
                n = len(points)
                found.append((sum(x for x, _ in points) / n, sum(y for _, y in points) / n))
    return found


@pytest.mark.parametrize("path", SAMPLES, ids=lambda p: p.stem)
def test_no_ring_or_head_makes_a_black_spot(path: FilePath) -> None:
    """Within 3 mm of each, so much paper is left that lines can be told apart in print."""
    for label, _, sketch in composed(Script(path).model, STYLE, FRAME):
        pieces = dark(sketch, STYLE)
        tree = shapely.STRtree(pieces)
        for spot in spots(sketch):
            disc = shapely.Point(spot).buffer(RADIUS)
            here = shapely.union_all([pieces[k] for k in tree.query(disc)])
            assert here.intersection(disc).area < MOST * disc.area, (label, spot)


def heads(sketch: Sketch) -> list[Path]:
    return [
        item
        for group in sketch.groups
        if group.kind == "arrow"
        for item in group.items
        if isinstance(item, Path) and item.role == "arrow.head"
    ]


def test_two_heads_that_come_from_one_side_stand_beside_each_other() -> None:
    """Both upper corners of a sheet to its centre line: the heads meet there, and do not cover each other."""
    (_, _, sketch), *_ = composed(model_of("dart"), STYLE, FRAME)[1:]
    one, other = (shapely.Polygon(next(iter(polylines([h])))).buffer(0) for h in heads(sketch))
    assert not one.intersects(other)
    assert one.distance(other) < 12.0


@pytest.mark.parametrize("name", ["tulip", "lily"])
def test_a_number_of_times_stands_clear_of_every_line(name: str) -> None:
    found = [(p, s) for _, p, s in composed(model_of(name), STYLE, FRAME)]
    count = 0
    for _, sketch in found:
        lines = [
            line
            for group in sketch.groups
            if group.kind in ("edge", "fold", "crease")
            for line in polylines(i for i in group.items if isinstance(i, Path))
            if len(line) > 1
        ]
        for group in sketch.groups:
            for text in (i for i in group.items if isinstance(i, Text) and i.text.endswith("×")):
                x0, y0, x1, y1 = text_box(text)
                box = shapely.box(x0 + 0.8, y0 + 1.2, x1 - 0.8, y1 - 1.8)
                assert not box.intersects(shapely.MultiLineString(lines))
                count += 1
    assert count


def test_where_a_tip_is_curled_no_other_arrow_leaves_it() -> None:
    label, _, sketch = composed(model_of("tulip"), STYLE, FRAME)[-2]
    assert label == "8"
    assert "point.curl" in sketch.signs
    assert not [g for g in sketch.groups if g.kind == "arrow"]


def test_no_arrow_runs_through_the_number_of_a_unit() -> None:
    """Of the throwing star: in every figure where units are put together."""
    seen = 0
    for label, _, sketch in composed(model_of("throwing-star"), STYLE, FRAME):
        discs = [g.box for g in sketch.groups if g.kind == "unit"]
        ways = [
            line
            for group in sketch.groups
            if group.kind == "arrow"
            for line in polylines(i for i in group.items if isinstance(i, Path))
            if len(line) > 1
        ]
        for box in discs:
            assert box is not None
            middle = shapely.Point((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
            if ways:
                assert shapely.MultiLineString(ways).distance(middle) > 0.45 * (box[2] - box[0]), (
                    label
                )
                seen += 1
    assert seen >= 4


def test_feet_that_are_bent_away_have_an_arrow_that_goes_behind() -> None:
    """The jumping frog lies on its front: its feet go away from the reader, and nothing is lifted."""
    one = planned(model_of("jumping-frog"))[-1]
    acts = {s.act for s in one.panel.signs if isinstance(s, Arrow)}
    assert acts == {"lower"}
    sketch = composed(model_of("jumping-frog"), STYLE, FRAME)[-2][2]
    roles = [i.role for g in sketch.groups if g.kind == "arrow" for i in g.items]
    assert "arrow.hidden" in roles
    assert "arrow.open" not in roles


@pytest.mark.parametrize(("name", "turned"), [("helmet", {"10–11", "13"}), ("frog", {"18–20"})])
def test_a_sign_of_turning_belongs_to_the_figure_whose_words_tell_it(
    name: str, turned: set[str]
) -> None:
    """So that neither a new row nor a new page parts them: one before its figure where it turns first."""
    for figure in draw(model_of(name), STYLE, FRAME, gutter=20.0):
        words = figure.caption.startswith("Turn over")
        assert words == bool(figure.turns_before), figure.label
        if figure.label in turned:
            assert figure.turns_before or figure.turns_after
            assert "Turn over" in figure.caption
