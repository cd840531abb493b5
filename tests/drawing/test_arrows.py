"""Arrows: from the moving part to where it lands, clear of what matters, mirrored pairs mirrored."""

from __future__ import annotations

import math

import pytest
import shapely

from foldscript.drawing.placement.obstacles import Obstacles
from foldscript.drawing.placement.routes import apart, route
from foldscript.drawing.scene.outlines import Cubic, box_of, samples
from foldscript.drawing.scene.scene import Close, Curve, Move, Path, Point
from foldscript.drawing.signs.glyph import ArrowGlyph
from foldscript.drawing.signs.registry import glyph_for, glyphs_of
from foldscript.paper.signs import Arrow

BOX = (-80.0, -80.0, 80.0, 80.0)
PAPER = shapely.box(-55, -55, 55, 55)


def around(paper: shapely.Polygon = PAPER) -> Obstacles:
    return Obstacles(paper, BOX)


def arrow(act: str, tail: Point, head: Point, under: bool, around: Obstacles) -> list[Path]:
    """An arrow as its file draws it."""
    return glyph_for(Arrow(act, tail, head), ArrowGlyph).draw(tail, head, under, around)


def points(paths: list[Path]) -> list[Point]:
    out: list[Point] = []
    for path in paths:
        for s in path.segments:
            if not isinstance(s, Close):
                out.append(s.to)
    return out


@pytest.mark.parametrize("act", [g.key.partition(".")[2] for g in glyphs_of(ArrowGlyph)])
@pytest.mark.parametrize("far", [90.0, 30.0, 12.0, 3.0, 0.0])
def test_every_act_reads_at_every_length(act: str, far: float) -> None:
    """Also a very short arrow is a few points long, and every number is finite."""
    paths = arrow(act, (-far / 2, 10.0), (far / 2, 10.0), False, around())
    found = points(paths)
    assert all(math.isfinite(x) for p in found for x in p)
    box = box_of([s for path in paths for s in path.segments])
    assert box is not None
    assert max(box[2] - box[0], box[3] - box[1]) > 9
    assert any(p.role.startswith(("arrow.head", "arrow.open")) for p in paths)


@pytest.mark.parametrize("act", ["valley", "unfold", "swing", "tuck", "mountain"])
def test_tail_and_head_are_where_the_paper_goes(act: str) -> None:
    tail, head = (-40.0, 20.0), (35.0, -10.0)
    paths = arrow(act, tail, head, False, around())
    found = points(paths)
    assert min(math.dist(p, tail) for p in found) < 4
    assert min(math.dist(p, head) for p in found) < 2.5


def test_heads_are_filled_shapes() -> None:
    """No markers: the head is a closed path, and a mountain's differs from a valley's by shape."""
    shapes = {}
    for act in ("valley", "mountain"):
        (head,) = (
            p for p in arrow(act, (-40, 0), (40, 0), False, around()) if p.role == "arrow.head"
        )
        assert isinstance(head.segments[-1], Close)
        shapes[act] = len(head.segments)
    assert shapes["valley"] != shapes["mountain"]


def test_a_mountain_arrow_ends_behind_the_paper() -> None:
    paths = arrow("mountain", (-50.0, 0.0), (40.0, 0.0), False, around())
    assert [p.role for p in paths if p.role != "arrow.head"] == ["arrow.shaft", "arrow.hidden"]


def test_it_keeps_clear_of_landmarks_and_other_arrows() -> None:
    free = route((-45.0, 0.0), (45.0, 0.0), around())
    top = samples(free, 24)[12]
    busy = around()
    busy.marks.append(top)
    other = route((-45.0, 0.0), (45.0, 0.0), busy)
    assert min(math.dist(top, p) for p in samples(other, 24)) > 4
    second = around()
    second.arrows.extend(samples(free, 24))
    assert math.dist(samples(route((-45, 0), (45, 0), second), 24)[12], top) > 5


def test_it_leaves_the_paper_where_it_can() -> None:
    """Along a strip the arc swings out over the nearer side, and stays in the frame."""
    strip = around(shapely.box(-55, -12, 55, 12))
    curve = route((-50.0, 0.0), (50.0, 0.0), strip)
    assert sum(strip.covers(samples(curve, 24))) < 12
    assert all(abs(y) < 80 for _, y in samples(curve, 24))


@pytest.mark.parametrize("side", [1.0, -1.0])
def test_it_bulges_away_from_a_row_of_lengths(side: float) -> None:
    """Along a centre line, the row on one side of it, the arrow on the other."""
    centred = around()
    centred.rows.append(((5.0 * side, -50.0), (5.0 * side, 50.0)))
    curve = route((0.0, -50.0), (0.0, 25.0), centred)
    assert all(x * side <= 0.01 for x, _ in samples(curve, 24))


def mirrored(curve: Cubic) -> Cubic:
    a, b, c, d = ((-x, y) for x, y in curve)
    return (a, b, c, d)


def test_a_mirrored_pair_is_drawn_mirrored() -> None:
    pair = around()
    left = route((-50.0, 12.0), (-2.0, -5.0), pair)
    pair.arrows.extend(samples(left, 20))
    right = route((50.0, 12.0), (2.0, -5.0), pair)
    for p, q in zip(mirrored(left), right, strict=True):
        assert math.dist(p, q) < 1e-6


def test_crossing_creases_are_no_pair() -> None:
    both = around(shapely.Polygon([(-55, 0), (0, -55), (55, 0), (0, 55)]))
    first = route((0.0, 55.0), (0.0, -55.0), both)
    both.arrows.extend(samples(first, 20))
    second = route((55.0, 0.0), (-55.0, 0.0), both)
    meet = shapely.LineString(samples(first, 60)).intersection(
        shapely.LineString(samples(second, 60))
    )
    assert shapely.get_num_geometries(meet) <= 2


def test_fold_and_unfold_goes_and_comes_back() -> None:
    paths = arrow("fold-unfold", (-40.0, 0.0), (40.0, 0.0), False, around())
    out, back = (p for p in paths if p.role == "arrow.shaft")
    assert isinstance(out.segments[0], Move)
    assert isinstance(out.segments[1], Curve)
    assert isinstance(back.segments[0], Move)
    assert isinstance(back.segments[1], Curve)
    assert out.segments[0].to[0] < 0 < out.segments[1].to[0]
    assert back.segments[1].to[0] < 0 < back.segments[0].to[0]
    assert {p.role for p in paths} == {"arrow.shaft", "arrow.head", "arrow.open"}


def test_two_that_run_side_by_side_bulge_away_from_each_other() -> None:
    where = around()
    pair = [((x, -45.0), (x, 30.0)) for x in (-22.0, -40.0)]
    where.starts.extend(tail for tail, _ in pair)
    where.landings.extend(head for _, head in pair)
    right, left = (shapely.LineString(samples(route(*ends, where))) for ends in pair)
    assert left.distance(right) > 10.0


def test_one_keeps_clear_of_where_another_starts() -> None:
    """Three corners of a collapse go to the fourth: the third does not run through the first."""
    paper = shapely.Polygon([(0, -70), (70, 0), (0, 70), (-70, 0)])
    where = Obstacles(paper, (-90.0, -90.0, 90.0, 90.0))
    ways = [((-62.0, 0.0), (-3.0, 70.0)), ((62.0, 0.0), (3.0, 70.0)), ((0.0, -62.0), (0.0, 70.0))]
    where.starts.extend(tail for tail, _ in ways)
    where.landings.extend(head for _, head in ways)
    found = [shapely.LineString(samples(route(*ends, where))) for ends in ways]
    for side in (-1, 1):
        assert found[2].distance(shapely.Point(62.0 * side, 0.0)) > 8.0


def test_two_creases_across_each_other_cross_once_and_leave_the_ends_of_the_lines_free() -> None:
    """Edge to edge, twice: each arrow is moved along its edges, away from the other's fold line."""
    where = Obstacles(PAPER, BOX, PAPER.boundary)
    ways = apart([((-55.0, 0.0), (55.0, 0.0)), ((0.0, 55.0), (0.0, -55.0))], where)
    for (tail, head), (x, y) in zip(ways, ((0, 1), (1, 0)), strict=True):
        assert tail[0] * y == pytest.approx(-head[0] * y)
        assert tail[1] * x == pytest.approx(-head[1] * x)
        assert max(abs(c) for c in tail) == pytest.approx(55.0)
        assert min(abs(c) for c in tail) > 10.0
    where.starts.extend(tail for tail, _ in ways)
    where.landings.extend(head for _, head in ways)
    one, two = (shapely.LineString(samples(route(*ends, where), 60)) for ends in ways)
    assert shapely.get_num_geometries(one.intersection(two)) == 1
    assert all(PAPER.buffer(0.1).contains(way) for way in (one, two))


def test_a_tuck_goes_through_a_slit_and_a_mountain_does_not() -> None:
    tuck, mountain = (
        arrow(act, (-50.0, 0.0), (40.0, 0.0), False, around()) for act in ("tuck", "mountain")
    )
    (slit,) = (p for p in tuck if p.role == "arrow.open")
    assert not [p for p in mountain if p.role == "arrow.open"]
    hidden = next(p for p in tuck if p.role == "arrow.hidden")
    assert isinstance(hidden.segments[0], Move)
    box = box_of(slit.segments)
    assert box is not None
    x, y = hidden.segments[0].to
    assert (x, y) == (pytest.approx((box[0] + box[2]) / 2), pytest.approx((box[1] + box[3]) / 2))


def test_a_lift_grows_towards_its_head() -> None:
    """One hollow shape, unlike the line with a head that unfolds."""
    (shape,) = arrow("lift", (-40.0, 0.0), (40.0, 0.0), False, around())
    assert shape.role == "arrow.open"
    assert isinstance(shape.segments[-1], Close)
    start, first, *_, back, _ = shape.segments
    assert isinstance(start, Move)
    assert isinstance(first, Curve)
    assert isinstance(back, Curve)
    wide_at_tail = math.dist(start.to, back.to)
    wide_at_neck = math.dist(first.to, points([shape])[-2])
    assert wide_at_tail < 1.0 < 3.0 < wide_at_neck


def test_what_is_tucked_in_ends_within_the_paper() -> None:
    """A landing place on the outline is moved inwards, so that the head's tip lies in its pocket."""
    (head,) = [
        p
        for p in arrow("tuck", (-60.0, 40.0), (0.0, 55.0), True, around())
        if p.role == "arrow.head"
    ]
    tip = head.segments[0]
    assert isinstance(tip, Move)
    assert tip.to[1] < 53.0


def test_a_tuck_from_amid_the_paper_goes_in_where_it_crosses_the_fold_line() -> None:
    """There the mouth of the pocket is; an arrow that starts on the outline goes round the edge."""
    fold = ((0.0, -40.0), (0.0, 40.0))
    folded = around()
    folded.strokes.append(fold)
    for tail, crosses in (((-30.0, 10.0), True), ((-55.0, 10.0), False)):
        paths = arrow("tuck", tail, (20.0, 10.0), True, folded)
        hidden = next(p for p in paths if p.role == "arrow.hidden")
        start = hidden.segments[0]
        assert isinstance(start, Move)
        assert (abs(start.to[0]) < 2.0) is crosses


def test_a_page_that_swings_behind_is_dotted_from_where_paper_lies_in_front_of_it() -> None:
    """A mountain fold is seen until it goes over the edge; a page behind is nowhere in front."""
    goes_behind_at = {}
    for under in (False, True):
        paths = arrow("mountain", (-60.0, 0.0), (60.0, 0.0), under, around())
        hidden = [p for p in paths if p.role == "arrow.hidden"]
        goes_behind_at[under] = min(x for x, _ in points(hidden))
    assert goes_behind_at[True] < -45.0
    assert goes_behind_at[False] > -10.0


@pytest.mark.parametrize(("lines", "beside"), [(2, False), (15, True)])
def test_a_pleat_of_many_folds_has_its_arrow_beside_the_paper(lines: int, beside: bool) -> None:
    """Over so many lines it would not be seen; a pleat of two folds has it at these."""
    strip = shapely.box(-70, -20, 70, 20)
    here = around(strip)
    here.strokes = [((x, -20.0), (x, 20.0)) for x in range(-60, -60 + 8 * lines, 8)]
    found = points(arrow("pleat", (70.0, 0.0), (-70.0, 0.0), False, here))
    assert strip.intersects(shapely.MultiPoint(found)) is not beside
    assert all(BOX[0] <= x <= BOX[2] and BOX[1] <= y <= BOX[3] for x, y in found)
    assert found[0][0] == pytest.approx(70.0)  # it begins at the edge that moves


def test_without_room_beside_the_paper_it_stays_on_it() -> None:
    high = shapely.box(-70, -76, 70, 76)
    here = around(high)
    here.strokes = [((x, -76.0), (x, 76.0)) for x in range(-60, 60, 8)]
    assert high.covers(
        shapely.MultiPoint(points(arrow("pleat", (70.0, 0.0), (-70.0, 0.0), False, here)))
    )


@pytest.mark.parametrize("side", [1.0, -1.0])
def test_an_arrow_swings_out_over_the_flap_that_it_moves(side: float) -> None:
    """Two flaps meet in a slit, along which the arrow leads: its fold line is that of one of them alone."""
    halves = [shapely.box(-55.0, -55.0, -0.05, 55.0), shapely.box(0.05, -55.0, 55.0, 55.0)]
    lie = Obstacles(shapely.union_all(halves), BOX)
    lie.strokes.append(((0.0, 0.0), (side * 40.0, 0.0)))
    curve = route((0.0, -40.0), (0.0, 40.0), lie)
    assert side * sum(x for x, _ in samples(curve)) > 0.0


def test_a_broad_arrow_does_not_cover_the_edge_that_it_runs_along() -> None:
    """It lies beside the paper; what of it is still under other paper is dotted on that."""
    tail, head = (-55.0, -55.0), (-55.0, 55.0)
    (broad,) = arrow("pull-out", tail, head, False, around())
    assert max(x for x, _ in points([broad])) < -55.0
    dots, broad = arrow("pull-out", tail, head, True, around())
    assert dots.role == "arrow.hidden"
    assert min(x for x, _ in points([dots])) > -55.0
    assert max(x for x, _ in points([broad])) < -55.0


@pytest.mark.parametrize("far", [15.0, 45.0])
def test_what_is_turned_inside_out_is_dotted_up_to_the_slit(far: float) -> None:
    """From its tip to the slit it lies under the paper; back over the paper it is 12 mm long at least."""
    lie = around()
    lie.mouth = (0.0, -20.0), (0.0, 20.0)
    dots, turn, shaft, head = arrow("pull-out", (-far, 0.0), (0.0, 0.0), True, lie)
    assert dots.role == "arrow.hidden"
    assert {path.role for path in (turn, shaft)} == {"arrow.shaft"}
    assert min(x for x, _ in points([dots])) == pytest.approx(-far)
    assert min(x for x, _ in points([head])) == pytest.approx(-max(far, 34.0))
    assert all(y < 0 for _, y in points([dots])) != all(y < 0 for _, y in points([shaft]))
    begins, curve = turn.segments[0], turn.segments[1]
    assert isinstance(begins, Move)
    assert isinstance(curve, Curve)
    way = samples((begins.to, curve.first, curve.second, curve.to))
    assert max(x for x, _ in way) == pytest.approx(0.0, abs=1.0)
