"""Tuck in: through a slit across the shaft, which is dotted while it is hidden; a solid head."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from ...geometry.lines import between
from ..placement.obstacles import Obstacles
from ..placement.routes import arc_between, as_twin
from ..placement.ways import going_behind, stroke, unit, way
from ..scene.outlines import Cubic, length, mapped, part, placed_at, samples
from ..scene.scene import Close, Curve, Move, Path, Point
from ..scene.shafts import shortened
from .glyph import ArrowGlyph

#: Half the length of the slit (points).
_SLIT = 4.4
#: An arrow from amid the paper rises no more than this, as a part of its length: it is to cross the fold
#: line, where the mouth of the pocket is. From the outline an arrow goes round the edge.
_LOW = 0.2
#: How far within the outline of the paper what is tucked in comes to lie, at least.
_DEEP = 4.5
#: How far an arrow may rise to go through the mouth of its pocket, as a part of its length; and how far it
#: keeps off the ends of the mouth, as a part of that.
_RISES = tuple(
    side * rise for rise in (0.0, 0.08, 0.14, 0.2, 0.28, 0.38, 0.5) for side in (1.0, -1.0)
)
_OFF_ENDS = 0.1
#: A shaft before the mouth, and after it.
_ROLES = ("arrow.shaft", "arrow.hidden")


def tucked(tail: Point, head: Point, around: Obstacles) -> list[Path]:
    """The arrow into a pocket."""
    head = _inward(tail, head, around)
    through = _through(tail, head, around)
    highest = _LOW if around.within(tail, _DEEP) else math.inf
    go = way(tail, head, around, highest=highest, given=through)
    shaft = shortened(go.curve, 5.6 * go.size)
    half = _SLIT * min(1.0, max(0.6, length(go.curve) / 36))
    edges = _edges(around) if through else []
    passed = _passed(shaft, edges)
    if passed:
        hidden = around.mouth is None
        ends = [0.0, *passed, 1.0]
        run = [
            stroke(part(shaft, start, end), _ROLES[(k + hidden) % 2])
            for k, (start, end) in enumerate(pairwise(ends))
        ]
        return [*run, *_mouth(run[1:2], half, edges[0]), go.solid_head]
    amid = around.within(go.curve[0], _DEEP)
    entry = _entry(shaft, around.strokes, 1 / 8) if amid else None
    if entry is None:
        run = going_behind(shaft, around, 0.55, 0.35)
        return [
            *run,
            *_mouth([p for p in run if p.role == "arrow.hidden"][:1], half),
            go.solid_head,
        ]
    run = [stroke(part(shaft, 0.0, entry)), stroke(part(shaft, entry, 1.0), "arrow.hidden")]
    return [*run, *_mouth(run[1:], half), go.solid_head]


def _edges(around: Obstacles) -> list[tuple[Point, Point]]:
    """The edges that the arrow goes under and comes out at, as far as they are known, in this order."""
    return [side for side in (around.mouth, around.leaves) if side is not None]


def _passed(shaft: Cubic, edges: Sequence[tuple[Point, Point]]) -> list[float]:
    """Where a shaft passes these edges one after the other; [] where it does not pass the first."""
    found: list[float] = []
    for side in edges:
        start = found[-1] + 0.02 if found else 0.0
        at = _entry(part(shaft, start, 1.0), [side]) if start < 1.0 else None
        if at is None:
            break
        found.append(start + at * (1.0 - start))
    return found


def _through(tail: Point, head: Point, around: Obstacles) -> list[float]:
    """How far an arrow may rise that goes through the mouth of its pocket, not beside its ends."""
    inner = [(between(p, q, _OFF_ENDS), between(p, q, 1 - _OFF_ENDS)) for p, q in _edges(around)]
    passed = {r: len(_passed(arc_between(tail, head, r), inner)) for r in _RISES} if inner else {}
    most = max(passed.values(), default=0)
    return as_twin(tail, head, around, [r for r, n in passed.items() if n == most > 0])


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


def _entry(curve: Cubic, lines: Sequence[tuple[Point, Point]], ends: float = 0.0) -> float | None:
    """Parameter at which a curve crosses one of these lines, not as near its own ends; None if nowhere."""
    import shapely

    count = 60
    dots = samples(curve, count)
    for i in range(round(count * ends), round(count * (1 - ends))):
        step = shapely.LineString(dots[i : i + 2])
        if any(step.intersects(shapely.LineString(line)) for line in lines):
            return (i + 0.5) / count
    return None


def _mouth(
    run: Sequence[Path], half: float, along: tuple[Point, Point] | None = None
) -> list[Path]:
    """The slit where parts of a shaft begin, `half` as long to either side: along an edge, or across."""
    for path in run:
        start, curve = path.segments[0], path.segments[1]
        if isinstance(start, Move) and isinstance(curve, Curve):
            towards, _ = unit(start.to, curve.first)
            if along is not None:
                (x, y), _ = unit(*along)
                towards = (-y, x)
            slit = (
                Move((0.0, -half)),
                Curve((0.39 * half, -0.4 * half), (0.39 * half, 0.4 * half), (0.0, half)),
                Curve((-0.39 * half, 0.4 * half), (-0.39 * half, -0.4 * half), (0.0, -half)),
                Close(),
            )
            return [Path("arrow.open", mapped(slit, placed_at(start.to, towards)))]
    return []


GLYPH = ArrowGlyph(
    key="arrow.tuck",
    name="Tuck in or under",
    meaning="Slide the paper in through the slit; dots run where it is hidden.",
    order=260,
    draw=lambda tail, head, under, around: tucked(tail, head, around),
    paper=((2.0, -12.0), (20.0, -12.0), (20.0, 12.0), (2.0, 12.0)),  # the upper layer of a pocket
    below=((-13.0, -12.0), (20.0, -12.0), (20.0, 12.0), (-13.0, 12.0)),
)
