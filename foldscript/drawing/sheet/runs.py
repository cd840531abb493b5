"""Where the lines of a fold or a cut run: in sight, or behind layers.

In: the parts of a sign, each on a facet, and what is visible. Out: a `CarrierLine` for every straight
line that carries them, with the intervals along it that can be seen and those that only lie behind other
layers.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from ...geometry import polygons
from ...geometry.lines import Point, Segment, cross, distance, dot, subtract, unit
from .visible import Visible

Parts = Sequence[tuple[int, Segment]]


@dataclass(frozen=True, slots=True)
class Run:
    """An interval of a carrier line, with the facet at either end."""

    lo: float
    hi: float
    first: int
    last: int


@dataclass(frozen=True, slots=True)
class CarrierLine:
    """A straight line of a sign: where it can be seen, and where it only runs behind layers."""

    origin: Point
    direction: Point
    seen: list[Run]
    hidden: list[Run]


def found(visible: Visible, parts: Parts) -> list[CarrierLine]:
    """The straight lines that carry the parts of a sign."""
    return [CarrierLine(o, d, *_runs(visible, o, d, some)) for o, d, some in _carriers(parts)]


def unseen(line: CarrierLine, others: Sequence[CarrierLine], shortest: float) -> list[Run]:
    """Where a line runs behind layers, and no other fold along the same line is drawn there.

    Of folds that run behind layers along one line the first is drawn.
    """
    left = line.hidden
    before = True
    for other in others:
        before = before and other is not line
        off = subtract(other.origin, line.origin)
        along, across = dot(off, line.direction), cross(off, line.direction)
        if other is line or abs(across) > 1e-7:
            continue
        if abs(cross(other.direction, line.direction)) > 1e-7:
            continue
        drawn = [*other.seen, *other.hidden] if before else other.seen
        runs = [Run(r.lo + along, r.hi + along, r.first, r.last) for r in drawn]
        runs.sort(key=lambda r: r.lo)
        left = [rest for run in left for rest in _less(run, runs)]
    return [r for r in left if r.hi - r.lo > shortest]


def _carriers(parts: Parts) -> list[tuple[Point, Point, list[tuple[int, Segment]]]]:
    """Parts grouped by the straight line that carries them: (origin, direction, parts)."""
    groups: list[tuple[Point, Point, list[tuple[int, Segment]]]] = []
    for facet, seg in parts:
        if distance(*seg) < 1e-9:
            continue
        for origin, direction, members in groups:
            if all(abs(cross(subtract(p, origin), direction)) < 1e-7 for p in seg):
                members.append((facet, seg))
                break
        else:
            groups.append((seg[0], _settled(unit(subtract(seg[1], seg[0]))), [(facet, seg)]))
    return groups


def _settled(u: Point) -> Point:
    """One of the two directions of a line, the same for every part of it."""
    return u if u[0] > 1e-9 or (u[0] > -1e-9 and u[1] > 0) else (-u[0], -u[1])


def _runs(
    visible: Visible, origin: Point, direction: Point, parts: Parts
) -> tuple[list[Run], list[Run]]:
    """Visible intervals, and those that only lie behind other layers."""
    seen: list[Run] = []
    hidden: list[Run] = []
    for facet, seg in parts:
        ts = sorted(dot(subtract(p, origin), direction) for p in seg)
        for lo, hi, covered in _covered(visible, facet, origin, direction, ts[0], ts[1]):
            (hidden if covered else seen).append(Run(lo, hi, facet, facet))
    seen = _joined(seen)
    left: list[Run] = []
    for run in _joined(hidden):
        left.extend(_less(run, seen))
    shortest = 1.0 / visible.view.scale
    return (
        [r for r in seen if r.hi - r.lo > shortest],
        [r for r in left if r.hi - r.lo > 2 * shortest],
    )


def _covered(
    visible: Visible, facet: int, origin: Point, direction: Point, start: float, end: float
) -> list[tuple[float, float, bool]]:
    """Intervals of a part, each with whether layers hide it."""
    state = visible.state
    over = [j for j in state.neighbours[facet] if state.above(j, facet)]

    def spot(t: float) -> Point:
        return (origin[0] + t * direction[0], origin[1] + t * direction[1])

    cuts = {start, end}
    for j in over:
        inside = polygons.clip_segment(state.placed[j], (spot(start), spot(end)))
        if inside is not None:
            cuts.update(dot(subtract(p, origin), direction) for p in inside)
    marks = sorted(cuts)
    marks = [t for k, t in enumerate(marks) if k == 0 or t - marks[k - 1] > 1e-7]
    out: list[tuple[float, float, bool]] = []
    for lo, hi in pairwise(marks):
        left, right = sides(visible, facet, spot((lo + hi) / 2), direction)
        out.append((lo, hi, bool(left & right)))
    return out


def sides(
    visible: Visible, facet: int, spot: Point, direction: Point
) -> tuple[frozenset[int], frozenset[int]]:
    """Plates over a facet just left and just right of a spot on a line.

    A plate on both sides hides the line; where different plates meet along it, it lies in the slit
    between them.
    """
    state = visible.state
    found: list[frozenset[int]] = []
    for off in (1e-6, -1e-6):
        p = (spot[0] - off * direction[1], spot[1] + off * direction[0])
        found.append(
            frozenset(
                state.plate_of[j]
                for j in state.neighbours[facet]
                if state.above(j, facet) and polygons.inside(state.placed[j], p, 0.0)
            )
        )
    return found[0], found[1]


def _joined(runs: list[Run]) -> list[Run]:
    """Overlapping or touching intervals in one; the facet at each end is kept."""
    out: list[Run] = []
    for run in sorted(runs, key=lambda r: (r.lo, r.hi)):
        if out and run.lo <= out[-1].hi + 1e-6:
            if run.hi > out[-1].hi:
                out[-1] = Run(out[-1].lo, run.hi, out[-1].first, run.last)
        else:
            out.append(run)
    return out


def _less(run: Run, taken: list[Run]) -> list[Run]:
    """What is left of an interval beside others."""
    out: list[Run] = []
    at = run.lo
    for other in taken:
        if other.hi <= at + 1e-6 or other.lo >= run.hi - 1e-6:
            continue
        if other.lo > at + 1e-6:
            out.append(Run(at, other.lo, run.first, run.last))
        at = max(at, other.hi)
    if run.hi > at + 1e-6:
        out.append(Run(at, run.hi, run.first, run.last))
    return out
