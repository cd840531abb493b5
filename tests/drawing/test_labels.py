"""Letters at points: outside the paper, near their point, clear of each other."""

from __future__ import annotations

import math

import shapely

from foldscript.drawing.placement.labels import place_labels, place_value
from foldscript.drawing.placement.obstacles import Obstacles
from foldscript.drawing.scene.outlines import item_box, text_box
from foldscript.drawing.scene.scene import Path, Point, Text
from foldscript.drawing.scene.strokes import polylines
from foldscript.drawing.scene.view import View
from foldscript.drawing.signs.glyph import MarkGlyph, Setting
from foldscript.drawing.signs.registry import glyphs
from foldscript.drawing.style.styles import Style, load_style
from foldscript.paper.signs import EqualLengths

from . import folded as f

STYLE = load_style("colour")
PAPER = shapely.box(-50, -50, 50, 50)


def around() -> Obstacles:
    return Obstacles(PAPER, (-70, -70, 70, 70), PAPER.boundary)


def placed(names: list[tuple[str, Point]], around: Obstacles, style: Style) -> list[Text]:
    """Letters and their halos, without the lines that lead to points."""
    found = [i for items in place_labels(names, around, style) for i in items]
    return [i for i in found if isinstance(i, Text)]


def middle(text: Text) -> Point:
    x0, y0, x1, y1 = text_box(text)
    return ((x0 + x1) / 2, (y0 + y1) / 2)


def test_corners_are_lettered_outside() -> None:
    corners = [("A", (-50.0, 50.0)), ("B", (50.0, 50.0)), ("C", (50.0, -50.0)), ("D", (-50, -50))]
    for text, (name, at) in zip(placed(corners, around(), STYLE), corners, strict=True):
        assert text.text == name
        assert not PAPER.contains(shapely.Point(middle(text)))
        assert math.dist(middle(text), at) < 16


def test_close_points_do_not_collide() -> None:
    names = [(c, (50.0, -6.0 + 3.0 * k)) for k, c in enumerate("PQRST")]
    found = [t for t in placed(names, around(), STYLE) if t.role == "text.label"]
    boxes = [shapely.box(*text_box(t)) for t in found]
    assert len(boxes) == 5
    for k, box in enumerate(boxes):
        assert all(box.intersection(other).area < 5.0 for other in boxes[k + 1 :])


def test_names_of_one_point_are_written_together() -> None:
    found = placed([("A", (50.0, 50.0)), ("C", (50.1, 50.0))], around(), STYLE)
    assert [t.text for t in found] == ["A, C"]


def test_a_letter_on_the_paper_has_a_halo() -> None:
    found = placed([("M", (0.0, 0.0))], around(), STYLE)
    assert [t.role for t in found] == ["text.halo", "text.label"]
    assert found[0].at == found[1].at


def test_letters_keep_off_arrows() -> None:
    busy = around()
    busy.arrows.extend((50.0 + k, -50.0 - k) for k in range(20))
    free = placed([("C", (50.0, -50.0))], around(), STYLE)[0]
    moved = placed([("C", (50.0, -50.0))], busy, STYLE)[0]
    assert math.dist(middle(free), middle(moved)) > 3


def test_letters_keep_within_a_circle() -> None:
    """However near its rim their points lie, and though outwards there would be more room."""
    inside = Obstacles(shapely.box(-50, -50, 50, 0), (-26, -26, 26, 26), radius=32.0)
    names = [("P", (29.0, 0.0)), ("Q", (-29.0, 0.0)), ("R", (0.0, 0.0))]
    found = place_labels(names, inside, load_style("large"))
    for items in found:
        x0, y0, x1, y1 = text_box(next(i for i in items if isinstance(i, Text)))
        assert math.hypot(*((x0 + x1) / 2, (y0 + y1) / 2)) < 32.0 - 0.3 * 11.0


def test_letters_keep_off_marks_of_equal_lengths() -> None:
    ruled = around()
    parts = tuple(((k / 4, 0.0), ((k + 1) / 4, 0.0)) for k in range(4))
    glyph = glyphs()["mark.equal-lengths"]
    assert isinstance(glyph, MarkGlyph)
    (paths,) = glyph.draw(
        Setting(View(100.0, (0.5, 0.5)), f.square(), STYLE, ruled, (EqualLengths(parts),))
    )
    (letter,) = placed([("P", (25.0, 50.0))], ruled, STYLE)[-1:]
    box = shapely.box(*text_box(letter))
    ink = [path for path in paths if isinstance(path, Path)]
    assert ink
    assert not box.intersects(shapely.MultiLineString(polylines(ink)))


def test_letters_keep_off_the_ring_of_their_point() -> None:
    ringed = around()
    ringed.marks.append((50.0, 0.0))
    for where in (ringed, around()):
        (text,) = placed([("P", (50.0, 0.0))], where, STYLE)
        x0, y0, x1, y1 = text_box(text)
        far = shapely.box(x0, y0, x1, y1).distance(shapely.Point(50.0, 0.0))
        assert (far > 3.8) is (where is ringed)


def test_a_number_is_not_squeezed_in_between_its_mark_and_an_arrow() -> None:
    """It stands on the other side, where it has air; without the arrow, at the first place."""
    places = (((0.0, -60.0), (0.0, -1.0)), ((0.0, -50.0), (0.0, 1.0)))
    free, beside = around(), around()
    (text, *_) = place_value(places, "50 mm", free, STYLE)
    upper = item_box(text)
    assert isinstance(text, Text)
    assert upper is not None
    assert upper[3] < -60.0
    beside.arrows.extend((float(x), upper[1] - 1.5) for x in range(-40, 41))
    *_, moved = place_value(places, "50 mm", beside, STYLE)
    lower = item_box(moved)
    assert lower is not None
    assert lower[1] > -50.0
