"""The sign of layers at a fold line: which of them move, as the move found it, and how it is drawn."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise, product
from pathlib import Path as FilePath

import pytest
import shapely

from foldscript.drawing.draw import draw
from foldscript.drawing.row import Row
from foldscript.drawing.scene.groups import Item
from foldscript.drawing.scene.outlines import item_box
from foldscript.drawing.scene.scene import Curve, Move, Path, Text
from foldscript.drawing.scene.strokes import covered, polylines
from foldscript.drawing.signs.layers import APART, layers_sign
from foldscript.drawing.style.styles import load_style, style_names
from foldscript.geometry.lines import between
from foldscript.paper.signs import FoldLine, Sense

from ..sample_scripts import SCRIPTS, sample
from ..scripts import folded
from .composed import composed

STYLE = load_style("colour")
FRAME = (160.0, 160.0)
#: Kinds of ink: the sign, and what it is not to be crowded by.
_NEAR = ("layers", "label", "repeat")
HALVED = "valley the top edge onto the bottom edge"


def told(*steps: str) -> tuple[bool, ...]:
    """The layers at the last fold line of a script, topmost first: whether each moves."""
    signs = folded(*steps).steps[-1].panels[-1].signs
    (line,) = (s for s in signs if isinstance(s, FoldLine))
    return line.layers


@pytest.mark.parametrize(
    ("statement", "layers"),
    [
        ("valley the left edge onto the right edge", (True, True)),
        ("valley the bottom edge onto the top edge, 1 layer", (True, False)),
        ("mountain the left edge onto the right edge", (True, True)),
        ("mountain the bottom edge onto the top edge, 1 layer", (False, True)),
    ],
)
def test_of_a_sheet_folded_in_half_it_is_told_which_layers_move(
    statement: str, layers: tuple[bool, ...]
) -> None:
    """A sheet folded in half lies in two layers: worked out by hand."""
    assert told(HALVED, statement) == layers


def test_of_a_single_layer_there_is_no_sign() -> None:
    model = folded(HALVED, "valley the left edge onto the right edge")
    first, second = draw(model, STYLE, FRAME)
    assert "layers" not in first.scene.signs
    assert "layers" in second.scene.signs


def test_it_stands_at_an_end_of_its_line_clear_of_the_paper() -> None:
    model = folded(HALVED, "valley the left edge onto the right edge")
    _, (_, _, ink), _ = composed(model, STYLE, FRAME)
    (sign,) = (g for g in ink.groups if g.kind == "layers")
    (line,) = (g for g in ink.groups if g.kind == "fold")
    paper = next(g for g in ink.groups if g.kind == "paper")
    assert sign.box is not None
    assert line.box is not None
    assert paper.box is not None
    assert sign.box[3] < paper.box[1] or sign.box[1] > paper.box[3]  # above or below
    gap = min(abs(sign.box[3] - line.box[1]), abs(sign.box[1] - line.box[3]))
    assert gap < 10.0
    middle = (sign.box[0] + sign.box[2]) / 2
    assert middle == pytest.approx(line.box[0], abs=15.0)


def strokes(layers: tuple[bool, ...], sense: Sense) -> tuple[list[float], list[float]]:
    """How high the ends of the strokes that bend and of those that do not stand on the page."""
    paths = [i for i in layers_sign(layers, sense, STYLE) if isinstance(i, Path)]
    bent = [s.to[1] for p in paths for s in p.segments if isinstance(s, Curve)]
    level = [p for p in paths if not any(isinstance(s, Curve) for s in p.segments)]
    boxes = [box for p in level if (box := item_box(p)) is not None]
    return bent, [box[1] for box in boxes]


def test_what_moves_bends_up_in_front_and_down_behind() -> None:
    (up,), (level,) = strokes((True, False), Sense.VALLEY)
    assert up < level
    (down,), (level,) = strokes((False, True), Sense.MOUNTAIN)
    assert down > level


def test_all_bend_where_all_move() -> None:
    assert [len(some) for some in strokes((True, True), Sense.VALLEY)] == [2, 0]


@pytest.mark.parametrize("sense", list(Sense))
@pytest.mark.parametrize("moving", [1, 2, 3, 4, 9])
@pytest.mark.parametrize("staying", [0, 1, 3, 4, 7])
def test_as_many_strokes_as_layers_or_a_band_that_is_no_stroke(
    moving: int, staying: int, sense: Sense
) -> None:
    """A number beside strokes of another count would leave a reader to guess which of them is meant."""
    layers = (*[True] * moving, *[False] * staying)
    if sense is Sense.MOUNTAIN:
        layers = layers[::-1]
    items = layers_sign(layers, sense, STYLE)
    paths = [i for i in items if isinstance(i, Path)]
    bent = [p for p in paths if p.role == "sign.moving"]
    assert len(bent) == (moving if moving <= 3 else 0)
    level = [p for p in paths if p.role == "sign.staying"]
    assert len([p for p in level if len(p.segments) == 2]) == (staying if staying <= 3 else 0)
    assert len([p for p in level if len(p.segments) > 2]) == (2 if staying > 3 else 0)
    bands = [i for i in items if isinstance(i, Path) and i.role == "sign.solid"]
    assert len(bands) == (moving > 3)
    number = "".join(i.text for i in items if isinstance(i, Text))
    assert number == (str(moving) if moving > 3 else "")


def test_its_strokes_are_told_apart_by_eye() -> None:
    """1.2 mm from one to the next: a reader counted strokes 0.75 mm apart wrongly."""
    items = layers_sign((True, True, True, False, False, False), Sense.VALLEY, STYLE)
    starts = [i.segments[0] for i in items if isinstance(i, Path)]
    heights = sorted(start.to[1] for start in starts if isinstance(start, Move))
    gaps = [below - above for above, below in pairwise(heights)]
    assert len(gaps) == 5
    assert min(gaps) * 25.4 / 72 >= 1.2


@pytest.mark.parametrize("name", style_names())
def test_what_moves_is_unlike_what_stays(name: str) -> None:
    """Twice as heavy, and still with as much ground as ink between strokes, even where they are closest."""
    style = load_style(name)
    moving, staying = style.ink("sign.moving").width, style.ink("sign.staying").width
    assert moving >= 2 * staying
    assert moving <= APART[0] / 2
    assert min(APART) - moving >= staying


def test_layers_amid_others_have_no_sign() -> None:
    """A layer between two that stay cannot bend out of the stack."""
    assert not layers_sign((False, True, False), Sense.VALLEY, STYLE)
    assert not layers_sign((True, False), Sense.MOUNTAIN, STYLE)


def test_it_is_small() -> None:
    """No larger than the letters beside it are wide and high twice."""
    boxes = [
        item_box(i) for i in layers_sign((True, True, True, False, False), Sense.VALLEY, STYLE)
    ]
    found = [box for box in boxes if box is not None]
    wide = max(b[2] for b in found) - min(b[0] for b in found)
    assert math.isclose(wide, min(wide, 2.5 * STYLE.label))


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda p: p.stem)
def test_it_stands_wherever_several_layers_lie_and_where_they_lie(path: FilePath) -> None:
    """On every figure of the samples: at the place of the line next to it lie as many layers as it tells.

    They are counted there on either side of the line, apart from what the move has found.
    """
    model = sample(path.stem).model
    row = Row(model)
    framings = row.framings(STYLE, FRAME)
    for framing, (label, panel, ink) in zip(framings, composed(model, STYLE, FRAME), strict=True):
        if framing.close_up is not None:
            continue  # has another scale
        told: dict[tuple[tuple[bool, ...], Sense], list[FoldLine]] = {}
        for sign in panel.signs:
            if not isinstance(sign, FoldLine) or len(sign.layers) < 2 or sign.opens:
                continue
            if layers_sign(sign.layers, sign.sense, STYLE):
                told.setdefault((sign.layers, sign.sense), []).append(sign)
        groups = [group for group in ink.groups if group.kind == "layers"]
        if any(group.kind == "inset" for group in ink.groups):
            continue  # the line is drawn in the circle
        assert len(groups) == len(told), label
        for group, ((_, sense), lines) in zip(groups, told.items(), strict=True):
            assert group.box is not None
            left, top, right, bottom = group.box
            spot = ((left + right) / 2 - ink.moved[0], (top + bottom) / 2 - ink.moved[1])
            line, (x, y) = min(
                (
                    (line, between(*_ends(line), (k + 0.37) / 400))
                    for line, k in product(lines, range(8, 392))
                ),
                key=lambda one: math.dist(framing.view(one[1]), spot),
            )
            start, end = _ends(line)
            n = math.dist(start, end)
            nx, ny = (end[1] - start[1]) / n * 2e-4, (start[0] - end[0]) / n * 2e-4
            counts = {len(panel.state.facets_at((x + s * nx, y + s * ny))) for s in (1, -1)}
            told_there = [some for some, _ in line.layered if len(some) in counts]
            assert any(
                _shape(layers_sign(some, sense, STYLE)) == _shape(group.items)
                for some in told_there
            ), (label, counts)


def _shape(items: Sequence[Item]) -> list[int | str]:
    """How many strokes of what kind, and numbers."""
    return [i.text if isinstance(i, Text) else len(i.segments) for i in items]


def _ends(line: FoldLine) -> tuple[tuple[float, float], tuple[float, float]]:
    """The two ends of a fold line, in folded coordinates."""
    points = [p for _, ends in line.parts for p in ends]
    first = max(points, key=lambda p: math.dist(p, points[0]))
    return first, max(points, key=lambda p: math.dist(p, first))


def test_it_stands_where_paper_moves_not_beyond_the_end_of_a_line_amid_the_paper() -> None:
    """A house whose middle is folded up from its front: beside the line lies paper that stays."""
    steps = (
        "valley top edge onto bottom edge",
        "crease left edge onto right edge, all layers as middle; mark T at midpoint of the top edge",
        "valley left edge onto middle, all layers; valley right edge onto middle, all layers",
        "mark K at the top left corner; mark L at the top right corner",
        "squash line K T onto left edge; squash line L T onto right edge",
        "mark G at upper end of the left edge; mark H at upper end of the right edge",
        "valley D along line G H",
    )
    *_, (_, _, ink), _ = composed(folded(*steps), STYLE, FRAME)
    (sign,) = (g for g in ink.groups if g.kind == "layers")
    fold = next(g for g in ink.groups if g.kind == "fold")
    assert sign.box is not None
    assert fold.box is not None
    assert fold.box[0] <= (sign.box[0] + sign.box[2]) / 2 <= fold.box[2]


def test_of_stacks_that_differ_along_a_line_it_tells_one_off_the_paper() -> None:
    """Edges of the bird base's front, folded to its middle: four layers move near there, farther out two.

    Told between the two arrows it would be taken for theirs.
    """
    found = composed(sample("crane").model, STYLE, (236.0, 252.0))
    ((panel, ink),) = [(panel, ink) for label, panel, ink in found if label == "10–11"]
    lines = [sign for sign in panel.signs if isinstance(sign, FoldLine)]
    assert {len({some for some, _ in line.layered}) for line in lines} == {2}
    (sign,) = (group for group in ink.groups if group.kind == "layers")
    areas = [i for g in ink.groups if g.kind == "paper" for i in g.items if isinstance(i, Path)]
    paper = covered(polylines(areas))
    assert sign.box is not None
    assert not paper.intersects(shapely.box(*sign.box))


def test_it_is_not_put_between_a_letter_and_a_box_where_there_is_room_beside_them() -> None:
    """At Q of the crane's petal fold, beside the box of what is repeated behind."""
    found = composed(sample("crane").model, STYLE, (236.0, 252.0))
    ((_, _, ink),) = [one for one in found if one[0] == "8–9"]
    boxes = {kind: [g.box for g in ink.groups if g.kind == kind and g.box] for kind in _NEAR}
    ((sign,), *others) = boxes.values()
    gaps = [shapely.distance(shapely.box(*sign), shapely.box(*b)) for some in others for b in some]
    assert min(gaps) > 3.5
