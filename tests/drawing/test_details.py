"""A step that is small against its model is drawn larger in a circle beside it."""

from __future__ import annotations

import math

from foldscript.drawing.details.detail_part import SHORT
from foldscript.drawing.draw import draw
from foldscript.drawing.scene.outlines import item_box, union_box
from foldscript.drawing.scene.scene import Path, Scene, Text
from foldscript.drawing.style.styles import load_style
from foldscript.folding.steps import Panel
from foldscript.geometry.isometries import rotation
from foldscript.paper.signs import Arrow, PointSign, Sense

from . import folded as f
from .seen import items_of

STYLE = load_style("colour")
#: Too narrow for a close-up.
FRAME = (110.0, 112.0)


def tip(size: float) -> Panel:
    """A square standing on a corner, whose lowest tip is folded up by this much."""
    turn = rotation(math.pi / 4)
    state = f.square().moved(turn)
    start, end = turn((size, 0.0)), turn((0.0, size))
    low, high = turn(f.A), turn((size, size))
    line = f.crease_of(state, start, end, Sense.VALLEY)
    signs = (line, Arrow("valley", low, high), PointSign("landmark", low))
    return Panel(state, signs, labels=(("A", low),))


def drawn(size: float) -> Scene:
    (figure,) = draw(f.model(tip(size), finished=f.triangle()), STYLE, FRAME)
    return figure.scene


def test_a_small_step_gets_a_circle() -> None:
    scene = drawn(0.06)
    assert "inset" in scene.signs
    signs = [box for i in items_of(scene, "sign") if (box := item_box(i)) is not None]
    wide = max(box[2] - box[0] for box in signs)
    # a ring about the part, as fine as the line that leads to it: it hides no fold line
    rings = [box for i in items_of(scene, "leader") if (box := item_box(i)) is not None]
    (ring,) = (r for r in rings if math.isclose(r[2] - r[0], r[3] - r[1], abs_tol=0.1))
    assert len(rings) == 2
    assert wide > 2 * (ring[2] - ring[0])
    box = union_box(item_box(i) for i in scene.items)
    assert box is not None
    assert box[0] >= 0
    assert box[3] <= scene.height


def test_the_circle_lies_beside_the_paper_and_holds_the_step() -> None:
    scene = drawn(0.06)
    outer = max(
        (box for i in items_of(scene, "sign") if (box := item_box(i)) is not None),
        key=lambda box: box[2] - box[0],
    )
    for role in ("arrow.head", "fold.valley", "text.label", "mark.ring"):
        for item in items_of(scene, role):
            box = item_box(item)
            assert box is not None
            middle = ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
            assert (
                math.dist(middle, ((outer[0] + outer[2]) / 2, (outer[1] + outer[3]) / 2))
                < (outer[2] - outer[0]) / 2
            ), role
    areas = [i for i in items_of(scene, "paper") if isinstance(i, Path)]
    assert len(areas) == 2  # the sheet, and the part of it in the circle


def test_a_step_that_is_large_enough_has_none() -> None:
    for size in (0.3, 0.6):
        scene = drawn(size)
        assert "inset" not in scene.signs
        assert items_of(scene, "fold.valley")


def test_it_is_drawn_larger_by_the_same_weights() -> None:
    """Lines in the circle have the roles of the figure, and so its weights."""
    inner, plain = drawn(0.06), drawn(0.3)
    roles = {i.role for i in plain.items}
    assert roles <= {i.role for i in inner.items}


def reversed_tip(size: float = 0.06) -> Panel:
    """A kite's long tip, bent along a short line far from where the tip lands."""
    state = f.square().moved(rotation(math.pi / 4))
    turn = rotation(math.pi / 4)
    start, end = turn((size, 0.0)), turn((0.0, size))
    line = f.crease_of(state, start, end, Sense.MOUNTAIN)
    tail, head = turn(f.A), (turn(f.A)[0] - 0.7, turn(f.A)[1] + 0.3)
    signs = (
        line,
        Arrow("inside-reverse", tail, head),
        PointSign("landmark", start),
        PointSign("landmark", turn(f.C)),
    )
    return Panel(state, signs, labels=(("P", start), ("C", turn(f.C))))


def test_short_lines_are_drawn_larger_where_the_arrow_is_long() -> None:
    (figure,) = draw(f.model(reversed_tip(), finished=f.triangle()), STYLE, FRAME)
    scene = figure.scene
    assert "inset" in scene.signs
    outer = max(
        (box for i in items_of(scene, "sign") if (box := item_box(i)) is not None),
        key=lambda box: box[2] - box[0],
    )
    middle, radius = ((outer[0] + outer[2]) / 2, (outer[1] + outer[3]) / 2), outer[2] - outer[0]

    def held(item: Path | Text) -> bool:
        box = item_box(item)
        assert box is not None
        at = ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
        return math.dist(at, middle) < radius / 2

    assert [held(line) for line in items_of(scene, "fold.mountain")] == [True]
    assert [held(ring) for ring in items_of(scene, "mark.ring")].count(True) == 1
    letters = {i.text: held(i) for i in items_of(scene, "text.label") if isinstance(i, Text)}
    assert letters == {"P": True, "C": False}
    assert not any(held(head) for head in items_of(scene, "arrow.head"))


def reversed_scene(size: float) -> Scene:
    (figure,) = draw(f.model(reversed_tip(size), finished=f.triangle()), STYLE, FRAME)
    return figure.scene


def lengths(scene: Scene) -> list[float]:
    """Of the fold lines, in millimetres, shortest first."""
    boxes = [box for i in items_of(scene, "fold.mountain") if (box := item_box(i)) is not None]
    return sorted(math.hypot(b[2] - b[0], b[3] - b[1]) * 25.4 / 72 for b in boxes)


def test_the_limit_is_a_length_on_the_page() -> None:
    """Just below it the line is drawn larger too, and is then longer than the limit; above it, never."""
    for size in (0.06, 0.09, 0.12, 0.15, 0.2, 0.25):
        scene = reversed_scene(size)
        found = lengths(scene)
        if "inset" in scene.signs:
            assert found[-1] > SHORT, size
            assert all(length < SHORT for length in found[:-1]), size
        else:
            assert found[0] >= SHORT, size
    assert "inset" in reversed_scene(0.06).signs
    assert "inset" not in reversed_scene(0.25).signs


def test_the_line_stays_in_the_figure_where_its_kind_can_be_told() -> None:
    assert len(lengths(reversed_scene(0.06))) == 1
    assert len(lengths(reversed_scene(0.1))) == 2
