"""Movement arrows, one form for each act of folding.

In: an arrow sign, its ends on the page, and what lies around. Out: `Path`s. Shafts start on the
paper that moves and end where it lands; a shaft that runs behind the paper is dotted there.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from ...paper.signs import Act
from ..placement.obstacles import Obstacles
from ..placement.routes import arc_between, route
from ..scene.heads import LENGTH, fat_arrow, half_head, open_head, solid_head
from ..scene.outlines import (
    Cubic,
    at,
    curve_segments,
    length,
    mapped,
    parameter_at,
    part,
    placed_at,
    polyline,
    samples,
)
from ..scene.scene import Close, Curve, Draw, Move, Path, Point
from ..scene.shafts import backward, beside, growing, heading, shortened

#: Clearance between an arrow and the points it speaks of.
_TAIL_GAP, _HEAD_GAP, _RING_GAP = 1.6, 1.6, 4.0
#: How far apart the two strokes of a fold-and-unfold arrow run.
_BACK_GAP = 3.6
#: How far off a point that is drawn to two sides the broad arrows begin, so that it is seen.
_PARTED = 7.0
#: Half the length of the slit that an arrow goes into (points).
_SLIT = 4.4
#: Such an arrow from amid the paper rises no more than this, as a part of its length: it is to cross the
#: fold line, where the mouth of the pocket is. From the outline an arrow goes round the edge.
_LOW = 0.2
#: How far within the outline of the paper what is tucked in comes to lie, at least.
_DEEP = 4.5


@dataclass(frozen=True)
class _Way:
    """A routed arrow: trimmed curve, its side of bulge, and what lies around."""

    curve: Cubic
    left: bool  # bulges to the left of its direction, as seen on the page
    around: Obstacles


def arrow(act: Act, tail: Point, head: Point, under: bool, around: Obstacles) -> list[Path]:
    """An arrow's paths; `around.arrows` learns where it runs."""
    if act in _STRAIGHT:
        if act is Act.PULL_OUT and sum(math.dist(p, tail) < 1.0 for p in around.starts) > 1:
            (ux, uy), n = _unit(tail, head)
            tail = (tail[0] + min(_PARTED, 0.4 * n) * ux, tail[1] + min(_PARTED, 0.4 * n) * uy)
        paths = _STRAIGHT[act](tail, head)
        around.arrows.extend(_between(tail, head))
        return paths
    if under and act is Act.VALLEY:
        act = Act.TUCK
    if act is Act.TUCK:
        head = _inward(tail, head, around)
    highest = _LOW if act is Act.TUCK and around.within(tail, _DEEP) else math.inf
    whole = route(tail, head, around, behind=act is Act.MOUNTAIN, highest=highest)
    ring = any(math.dist(m, head) < 2 for m in around.marks)
    ringed_tail = any(math.dist(m, tail) < 2 for m in around.marks)
    curve = _trimmed(
        whole,
        _RING_GAP if ringed_tail else _TAIL_GAP,
        (_RING_GAP if ring else _HEAD_GAP) + _meeting(head, around),
    )
    way = _Way(curve, _bulges_left(curve), around)
    around.arrows.extend(_along(curve))
    if under and act is Act.MOUNTAIN:
        return _mountain(way, start_at=0.0)
    return _CURVED[act](way)


def _inward(tail: Point, head: Point, around: Obstacles) -> Point:
    """A head that would end on the outline of the paper, a little within it; others as they are."""
    if around.within(head, _DEEP):
        return head
    turns = [2 * math.pi * k / 16 for k in range(16)]
    for deep in (_DEEP + 0.5, 1.4 * _DEEP):
        places = [(head[0] + deep * math.cos(a), head[1] + deep * math.sin(a)) for a in turns]
        for least in (0.96 * deep, _DEEP):  # straight in from an edge, else just deep enough
            inside = [p for p in places if around.within(p, least)]
            if inside:
                return min(inside, key=lambda p: (round(math.dist(p, tail), 3), p))
    return head


def _along(curve: Cubic) -> list[Point]:
    """Points along a curve, close to each other."""
    return samples(curve, max(8, math.ceil(length(curve) / 3.2)))


def _between(p: Point, q: Point) -> list[Point]:
    return [(p[0] + (q[0] - p[0]) * k / 8, p[1] + (q[1] - p[1]) * k / 8) for k in range(9)]


def _trimmed(curve: Cubic, start: float, end: float) -> Cubic:
    n = length(curve)
    keep = max(1.0, n - start - end) if n > start + end else n
    k = (n - keep) / (start + end)
    return part(curve, parameter_at(curve, start * k), parameter_at(curve, n - end * k))


def _meeting(head: Point, around: Obstacles) -> float:
    """How much farther a head stays off its landing place because others come there too."""
    return 2.6 if sum(math.dist(p, head) < 3.0 for p in around.landings) > 1 else 0.0


def _bulges_left(curve: Cubic) -> bool:
    (ax, ay), (bx, by) = curve[0], curve[3]
    mx, my = at(curve, 0.5)
    return (bx - ax) * (my - ay) - (by - ay) * (mx - ax) < 0


def _size(curve: Cubic) -> float:
    """Heads of short arrows are a little smaller."""
    return min(1.0, max(0.68, length(curve) / 24))


def _stroke(curve: Cubic, role: str = "arrow.shaft") -> Path:
    return Path(role, curve_segments(curve))


def _valley(way: _Way) -> list[Path]:
    k = _size(way.curve)
    tip = way.curve[3]
    return [
        _stroke(shortened(way.curve, 5.6 * k)),
        solid_head(tip, heading(way.curve, LENGTH * k), k),
    ]


def _mountain(way: _Way, start_at: float = 0.5) -> list[Path]:
    """Goes behind at `start_at` of its way: at 0 it lies behind from the start, like a page there."""
    k = _size(way.curve)
    return [
        *_going_behind(shortened(way.curve, 4.0 * k), way.around, start_at),
        half_head(way.curve[3], heading(way.curve, LENGTH * k), way.left, k),
    ]


def _going_behind(
    curve: Cubic, around: Obstacles, start_at: float = 0.5, least: float = 0.0
) -> list[Path]:
    """A shaft that is dotted where the paper lies in front of it.

    It goes behind at the parameter `start_at`, or round an edge of the paper before that; its last
    part, `least` of it, is dotted in any case.
    """
    count = 40
    inside = around.covers(samples(curve, count))
    inside = [x or i >= count * (1 - least) for i, x in enumerate(inside)] if least else inside
    turn = round(start_at * count)
    for i in range(3, turn):  # round an edge of the paper
        if not any(inside[i - 3 : i + 1]):
            turn = i
            break
    out: list[Path] = []
    start = 0
    for i in range(1, count + 1):
        hidden = inside[i - 1] and inside[i] and i > turn
        ahead = inside[i] and i < count and inside[i + 1] and i + 1 > turn
        if i == count or hidden != ahead:
            if i > start:
                role = "arrow.hidden" if hidden else "arrow.shaft"
                out.append(_stroke(part(curve, start / count, i / count), role))
            start = i
    return out


def _fold_unfold(way: _Way) -> list[Path]:
    """Goes to the landing place, and comes back on the outer side with a hollow head."""
    k = _size(way.curve)
    curve = way.curve
    n = length(curve)
    kept = part(curve, parameter_at(curve, 0.10 * n), parameter_at(curve, n - max(5.0, 0.14 * n)))
    back = beside(backward(kept), _BACK_GAP if not way.left else -_BACK_GAP)
    way.around.arrows.extend(_along(back))
    return [
        _stroke(shortened(curve, 5.6 * k)),
        _stroke(shortened(back, 6.4 * k)),
        solid_head(curve[3], heading(curve, LENGTH * k), k),
        open_head(back[3], heading(back, LENGTH * k), 0.86 * k),
    ]


def _unfold(way: _Way) -> list[Path]:
    k = _size(way.curve)
    return [
        _stroke(shortened(way.curve, 6.6 * k)),
        open_head(way.curve[3], heading(way.curve, LENGTH * k), k),
    ]


def _swing(way: _Way) -> list[Path]:
    """Like a page: a short bar where the flap is hinged, then a solid head."""
    ux, uy = heading(backward(way.curve))
    x, y = way.curve[0]
    bar = polyline(((x - 3 * uy, y + 3 * ux), (x + 3 * uy, y - 3 * ux)))
    return [Path("arrow.shaft", bar), *_valley(way)]


def _lift(way: _Way) -> list[Path]:
    """Stands up: hollow, and wider the nearer it comes to the eye."""
    return [growing(way.curve, _size(way.curve))]


def _tuck(way: _Way) -> list[Path]:
    """Through the mouth of a pocket: a slit across the shaft, from there on dotted; a solid head."""
    k = _size(way.curve)
    shaft = shortened(way.curve, 5.6 * k)
    amid = way.around.within(way.curve[0], _DEEP)
    entry = _crossing(shaft, way.around.strokes) if amid else None
    if entry is None:
        run = _going_behind(shaft, way.around, 0.55, 0.35)
    else:
        run = [
            _stroke(part(shaft, 0.0, entry)),
            _stroke(part(shaft, entry, 1.0), "arrow.hidden"),
        ]
    return [
        *run,
        *_mouth(run, _SLIT * min(1.0, max(0.6, length(way.curve) / 36))),
        solid_head(way.curve[3], heading(way.curve, LENGTH * k), k),
    ]


def _crossing(curve: Cubic, strokes: Sequence[tuple[Point, Point]]) -> float | None:
    """Parameter at which a curve crosses one of these lines, not near its own ends; None if nowhere."""
    import shapely

    count = 40
    dots = samples(curve, count)
    for i in range(count // 8, count - count // 8):
        step = shapely.LineString(dots[i : i + 2])
        if any(step.intersects(shapely.LineString(stroke)) for stroke in strokes):
            return (i + 0.5) / count
    return None


def _mouth(run: Sequence[Path], half: float) -> list[Path]:
    """The slit where a shaft begins to be dotted, `half` as long to either side."""
    for path in run:
        start, curve = path.segments[0], path.segments[1]
        if path.role == "arrow.hidden" and isinstance(start, Move) and isinstance(curve, Curve):
            along, _ = _unit(start.to, curve.first)
            slit = (
                Move((0.0, -half)),
                Curve((0.39 * half, -0.4 * half), (0.39 * half, 0.4 * half), (0.0, half)),
                Curve((-0.39 * half, 0.4 * half), (-0.39 * half, -0.4 * half), (0.0, -half)),
                Close(),
            )
            return [Path("arrow.open", mapped(slit, placed_at(start.to, along)))]
    return []


def _inside_reverse(way: _Way) -> list[Path]:
    """Pushed in between its layers: two strokes run into one, dotted where it enters."""
    ux, uy = heading(backward(way.curve))
    x, y = way.curve[0]
    prongs = [
        Path(
            "arrow.shaft",
            (
                Move((x + 4 * ux + side * 3.4 * uy, y + 4 * uy - side * 3.4 * ux)),
                Curve(
                    (x + 1 * ux + side * 3.2 * uy, y + 1 * uy - side * 3.2 * ux),
                    (x - 1 * ux, y - 1 * uy),
                    (x - 4 * ux, y - 4 * uy),
                ),
            ),
        )
        for side in (1.0, -1.0)
    ]
    k = _size(way.curve)
    shaft = shortened(way.curve, 5.6 * k)
    n = length(shaft)
    first = min(0.4, 4.0 / n)
    return [
        *prongs,
        *_going_behind(part(shaft, first, 1.0), way.around, 0.0),
        solid_head(way.curve[3], heading(way.curve, LENGTH * k), k),
    ]


def _outside_reverse(way: _Way) -> list[Path]:
    """Wrapped round the outside: a solid head in front, a half head beside it behind."""
    k = _size(way.curve)
    side = 1.0 if way.left else -1.0
    hx, hy = heading(way.curve, LENGTH * k)
    tip = (way.curve[3][0] + 6.5 * side * hy, way.curve[3][1] - 6.5 * side * hx)
    twin = arc_between(way.curve[0], tip, side * 0.42)
    return [
        *_valley(way),
        _stroke(shortened(_trimmed(twin, 3.0, 0.0), 4.0 * k), "arrow.hidden"),
        half_head(tip, heading(twin, LENGTH * k), way.left, k),
    ]


def _unit(p: Point, q: Point) -> tuple[Point, float]:
    d = math.dist(p, q)
    return ((1.0, 0.0), 0.0) if d < 1e-9 else (((q[0] - p[0]) / d, (q[1] - p[1]) / d), d)


def _zigzag(tail: Point, head: Point) -> list[Path]:
    """There, back and there again."""
    (ux, uy), n = _unit(tail, head)
    span = max(n, 26.0)
    middle = ((tail[0] + head[0]) / 2, (tail[1] + head[1]) / 2)
    to = placed_at(middle, (ux, uy))
    a, b = -span / 2, span / 2
    k = 0.8
    shaft = (
        Move((a, 3.4)),
        Draw((span * 0.16, 3.4)),
        Draw((-span * 0.16, -1.0)),
        Draw((b - 5.0 * k, -1.0)),
    )
    tip = mapped((Move((b, -1.0)),), to)[0]
    assert isinstance(tip, Move)
    return [Path("arrow.shaft", mapped(shaft, to)), solid_head(tip.to, (ux, uy), k)]


def _crimp(tail: Point, head: Point) -> list[Path]:
    """A zigzag, and beside its tail how the edge looks end on."""
    (ux, uy), n = _unit(tail, head)
    middle = ((tail[0] + head[0]) / 2, (tail[1] + head[1]) / 2)
    span = max(n, 26.0)
    to = placed_at(middle, (ux, uy))
    a = -span / 2 - 4.0
    end_on = (
        Move((a, -4.5)),
        Draw((a - 8.0, -1.6)),
        Draw((a - 3.0, 0.0)),
        Draw((a - 8.0, 1.6)),
        Draw((a, 4.5)),
    )
    return [*_zigzag(tail, head), Path("arrow.shaft", mapped(end_on, to))]


def _pull_out(tail: Point, head: Point) -> list[Path]:
    """Broad hollow arrow that leaves a pocket."""
    (ux, uy), n = _unit(tail, head)
    return [fat_arrow(head, (ux, uy), max(n, 16.0))]


def _squash(tail: Point, head: Point) -> list[Path]:
    """Broad hollow arrow that presses on a bar."""
    (ux, uy), n = _unit(tail, head)
    tip = (head[0] - 2.0 * ux, head[1] - 2.0 * uy)
    bar = polyline(((-0.4, -5.0), (-0.4, 5.0)))
    return [
        fat_arrow(tip, (ux, uy), min(max(n - 2.0, 14.0), 24.0)),
        Path("arrow.shaft", mapped(bar, placed_at(head, (ux, uy)))),
    ]


_CURVED: dict[Act, Callable[[_Way], list[Path]]] = {
    Act.VALLEY: _valley,
    Act.MOUNTAIN: _mountain,
    Act.FOLD_UNFOLD: _fold_unfold,
    Act.UNFOLD: _unfold,
    Act.SWING: _swing,
    Act.LIFT: _lift,
    Act.TUCK: _tuck,
    Act.INSIDE_REVERSE: _inside_reverse,
    Act.OUTSIDE_REVERSE: _outside_reverse,
}
_STRAIGHT: dict[Act, Callable[[Point, Point], list[Path]]] = {
    Act.PLEAT: _zigzag,
    Act.CRIMP: _crimp,
    Act.PULL_OUT: _pull_out,
    Act.SQUASH: _squash,
}
