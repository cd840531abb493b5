"""Marks of what is equal: only where they fit, outside the paper where they can."""

from __future__ import annotations

import math
from collections.abc import Sequence
from pathlib import Path as FilePath

import pytest
import shapely

from foldscript.building.script import Script
from foldscript.drawing.placement.obstacles import Obstacles
from foldscript.drawing.scene.groups import Item
from foldscript.drawing.scene.outlines import box_of, item_box, text_box, union_box
from foldscript.drawing.scene.scene import Curve, Path, Text
from foldscript.drawing.scene.strokes import polylines
from foldscript.drawing.scene.view import View
from foldscript.drawing.signs.glyph import FixedGlyph, LastGlyph, MarkGlyph, Setting
from foldscript.drawing.signs.registry import glyph_for, glyphs
from foldscript.drawing.style.styles import load_style
from foldscript.paper.signs import (
    EqualAngles,
    EqualLengths,
    Measure,
    PointSign,
    RaisedAngle,
    Sign,
)

from . import folded as f
from .composed import composed

PAPER = shapely.box(-50, -50, 50, 50)
VIEW = View(100.0, (0.5, 0.5))


def around() -> Obstacles:
    return Obstacles(PAPER, (-70, -70, 70, 70), PAPER.boundary)


def setting(view: View, around: Obstacles, *signs: Sign) -> Setting:
    return Setting(view, f.square(), load_style("colour"), around, signs)


def marks(key: str, sign: Sign, view: View, around: Obstacles) -> Sequence[Sequence[Item]]:
    """What a mark's file draws for one sign."""
    glyph = glyphs()[key]
    assert isinstance(glyph, MarkGlyph)
    return glyph.draw(setting(view, around, sign))


def equal_lengths(sign: EqualLengths, view: View, around: Obstacles) -> list[Path]:
    rows = marks("mark.equal-lengths", sign, view, around)
    return [item for row in rows for item in row if isinstance(item, Path)]


def thirds(y: float, parts: int = 3) -> EqualLengths:
    return EqualLengths(tuple(((k / parts, y), ((k + 1) / parts, y)) for k in range(parts)))


def reach(paths: list[Path]) -> tuple[float, float, float, float]:
    box = box_of([s for path in paths for s in path.segments])
    assert box is not None
    return box


def test_equal_lengths_lie_beside_the_edge_outside_the_paper() -> None:
    low, high = (equal_lengths(thirds(y), VIEW, around()) for y in (0.0, 1.0))
    assert reach(low)[1] > 50
    assert reach(high)[3] < -50
    # three arcs, and four bars between and beside them
    assert len(low) == 3 + 4
    assert sum(isinstance(s, Curve) for path in low for s in path.segments) == 3


@pytest.mark.parametrize("y", [0.0, 0.5])
@pytest.mark.parametrize("parts", [3, 1])
def test_arrows_learn_where_rows_run_on_the_paper(y: float, parts: int) -> None:
    """Not of those outside an edge, as that at y = 0."""
    lies = around()
    one = thirds(y) if parts == 3 else Measure((0.0, y), (1.0, y), "6", "cm")
    marks("mark.equal-lengths" if parts == 3 else "mark.measure", one, VIEW, lies)
    assert len(lies.rows) == (1 if y else 0)
    for start, end in lies.rows:
        assert sorted((start[0], end[0])) == pytest.approx([-50.0, 50.0])
        assert start[1] == pytest.approx(end[1])
        assert 2.0 < abs(start[1]) < 10.0


def test_how_far_is_raised_stands_beside_a_figure_that_it_would_make_higher() -> None:
    """Off the lower end of a strip: the sign keeps to the strip's height."""
    strip = shapely.box(-10, -50, 10, 50)
    lies = Obstacles(strip, (-90, -90, 90, 90), strip.boundary)
    sign = RaisedAngle((0.5, 0.0), (0.5, 0.3), 90.0, True, False)
    glyph = glyphs()["mark.raised"]
    assert isinstance(glyph, LastGlyph)
    (items,) = glyph.draw(setting(VIEW, lies, sign))
    box = union_box(map(item_box, items))
    assert box is not None
    assert box[3] <= 50.0


def test_many_parts_are_counted() -> None:
    """A fold is found by them alone, so they are never left out; their number stands beside them."""
    (few,) = marks("mark.equal-lengths", thirds(0.5), VIEW, around())
    assert not [item for item in few if isinstance(item, Text)]
    many = [i for row in marks("mark.equal-lengths", thirds(0.5, 6), VIEW, around()) for i in row]
    told = [i.text for i in many if isinstance(i, Text) and i.role == "text.sign"]
    assert told == ["6"]
    assert sum(isinstance(item, Path) for item in many) == 6 + 7


def test_parts_too_short_for_arcs_are_parted_by_bars() -> None:
    short = equal_lengths(thirds(0.0), View(15.0, (0.5, 0.5)), around())
    assert len(short) == 4 + 1
    assert not any(isinstance(s, Curve) for path in short for s in path.segments)


@pytest.mark.parametrize(("degrees", "shown"), [(45.0, True), (22.5, True), (4.0, False)])
def test_angles_too_narrow_for_their_ticks_are_left_out(degrees: float, shown: bool) -> None:
    ends = [
        (math.cos(math.radians(k * degrees)), math.sin(math.radians(k * degrees))) for k in range(3)
    ]
    sign = EqualAngles((0.0, 0.0), *ends)
    found = marks("mark.equal-angles", sign, VIEW, around())
    assert bool(found) is shown
    if shown:
        (paths,) = found
        arcs = [reach([p]) for p in paths[::2] if isinstance(p, Path)]
        assert len(arcs) == 2


@pytest.mark.parametrize("side", [1.0, -1.0])
def test_on_the_paper_they_keep_to_the_side_where_no_fold_begins(side: float) -> None:
    """The fold goes by one of the points: it ends on the line that is divided, and not beyond."""
    busy = around()
    busy.strokes.append(((0.0, 0.0), (10.0, side * 40.0)))
    _, low, _, high = reach(equal_lengths(thirds(0.5, 4), VIEW, busy))
    assert (high < 0.0) if side > 0 else (low > 0.0)


def test_a_pull_leaves_its_point_and_a_push_comes_to_it() -> None:
    for kind, toward in (("pull", (2.0, 0.5)), ("push", (0.0, 0.5))):
        sign = PointSign(kind, (1.0, 0.5), toward)
        groups = glyph_for(sign, FixedGlyph).draw(sign, setting(VIEW, around()))
        box = union_box(group.box for group in groups)
        assert box is not None
        left, _, right, _ = box
        grip = 3.0 if kind == "pull" else 0.0  # fingers take the paper from either side
        assert 50.0 - grip < left < right < 70.0  # outside the paper, either way


def test_numbers_of_rows_that_lie_beside_one_another_cover_none_of_them() -> None:
    """Three rows along one edge, as in the snowflake: each number beside its own row, on no other ink."""
    path = FilePath(__file__).resolve().parents[2] / "samples" / "snowflake.foldscript"
    figures = composed(Script(path).model, load_style("colour"), (140.0, 140.0))
    for label, _, ink in figures:
        rows = [g for g in ink.groups if g.kind == "mark"]
        lines = [p for g in rows for p in polylines([i for i in g.items if isinstance(i, Path)])]
        for text in (i for g in rows for i in g.items if isinstance(i, Text)):
            x0, y0, x1, y1 = text_box(text)
            inner = shapely.box(x0 + 0.6, y0 + 1.2, x1 - 0.6, y1 - 1.8)
            assert not any(shapely.LineString(p).intersects(inner) for p in lines), (label, text)


def test_of_two_rows_along_one_edge_the_shorter_lies_at_the_paper() -> None:
    """As in a chain of measures; in whatever order they come."""
    long = thirds(0.0)
    short = EqualLengths(tuple(((k / 9, 0.0), ((k + 1) / 9, 0.0)) for k in range(3)))
    glyph = glyphs()["mark.equal-lengths"]
    assert isinstance(glyph, MarkGlyph)
    for signs in ((long, short), (short, long)):
        drawn = glyph.draw(setting(VIEW, around(), *signs))
        rows = [reach([item for item in row if isinstance(item, Path)]) for row in drawn]
        narrow, wide = sorted(rows, key=lambda box: box[2] - box[0])
        assert narrow[3] < wide[1]
