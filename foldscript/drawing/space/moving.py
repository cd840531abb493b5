"""A standing model on which hands go on: which way its parts move, from how it stands to how it will stand.

In: the pose before a step and the one after it, and the one before as drawn. Out: arrows, one for each part
that moves far enough to be seen. None where nothing of the model stays as it is: then it is not known how
one of the two is turned against the other.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from ...geometry import polygons
from ...geometry.isometries import inverse
from ...paper.signs import Arrow
from ...paper.state import State
from ...pose.pose import Piece, Pose
from ..scene.heads import solid_head
from ..scene.outlines import Cubic, curve_segments, length, parameter_at, part
from ..scene.scene import Path, Point
from ..scene.shafts import heading, shortened
from .camera import Array, Camera
from .ink import PoseInk

#: At most so many arrows, each so long (points), their tails so far apart.
_ARROWS, _SHORT, _APART = 4, 11.0, 16.0
#: How near a sign an arrow would tell the same (points).
_TOLD = 8.0
#: Parts that move less than this share of the farthest way go along with others.
_OTHERS = 0.8
#: A point that moves less than this (mm) stays.
_STAYS = 0.5
#: The middle of an edge is taken for its part where it moves so much of the way that its corner moves.
_MIDDLE = 0.93
#: How far arrows bulge from the middle of the model, as a share of their way.
_BULGE = 0.22
#: Least way over the page of what is raised from flat paper (sheet units).
_LEAST = 0.03
#: Tips of flaps nearer than this are of one flap (sheet units).
_SAME_FLAP = 0.1
#: Ways that differ by less are alike (mm).
_ALIKE = 3.0
#: How far from the origin motions are told apart (mm).
_PROBE = 50.0
_OFF = (2.0, 1.0)


def moves(
    before: Pose,
    after: Pose,
    drawn: PoseInk,
    camera: Camera,
    scale: float,
    told: Sequence[Point] = (),
) -> list[Path]:
    """Arrows of the parts that move; `drawn` and `camera` are those of the pose before, `scale` in points
    a millimetre. None begins at a place where a sign tells the same: `told`, on the page.
    """
    here = np.array(before.space, dtype=float)
    there = _carried(before, after)
    if not (np.sqrt(((there - here) ** 2).sum(axis=1)) < _STAYS).any():
        return []
    middle = (here.min(axis=0) + here.max(axis=0)) / 2

    def way_of(step: _Step) -> Cubic:
        return _way(step.start, step.end, middle, drawn, here, camera, scale)

    def shows(step: _Step) -> bool:
        way, area = way_of(step), drawn.areas.get(step.facet)
        seen = area is not None and float(shapely.distance(area, shapely.Point(way[0]))) < 0.5
        return seen and math.dist(way[0], way[3]) > _SHORT

    out: list[Path] = []
    kept: list[Cubic] = []
    for way in map(way_of, _steps(before, here, there, shows)):
        if any(math.dist(way[0], p) < _TOLD for p in told):
            continue
        if all(math.dist(way[0], other[0]) > _APART for other in kept):
            kept.append(way)
            n = length(way)
            cut = part(way, parameter_at(way, _OFF[0]), parameter_at(way, n - _OFF[1]))
            out.append(Path("arrow.shaft", curve_segments(shortened(cut, 6.0))))
            out.append(solid_head(cut[3], heading(cut)))
    return out


def lifts(state: State, pose: Pose, tips: Sequence[Point] = ()) -> tuple[Arrow, ...]:
    """Arrows on flat paper, for the uppermost parts of it that are raised into a pose, or bent away: from
    where they lie to over, or under, where they will stand.

    Each of the flaps whose `tips` (folded plane) are named has one from there, however short its way is.
    """
    unit = state.sheet.unit_mm
    flat = np.array(
        [[unit * v for v in state.where((x / unit, y / unit))] + [0.0] for x, y in pose.sheet]
    )
    there = on_sheet(pose)

    def on_page(at: Array) -> Point:
        return float(at[0]) / unit, float(at[1]) / unit

    def shows(step: _Step) -> bool:
        tail = on_page(step.start)
        top = state.facets_at(_inward(state, step.facet, tail))[:1]
        return top == (step.facet,) and math.dist(tail, on_page(step.end)) > _LEAST

    space = np.array(pose.space, dtype=float)
    steps = _steps(pose, flat, space, shows)
    found = [
        (on_page(step.start), on_page(step.end), float(step.end[2] - step.start[2]))
        for step in steps
    ]
    rings = [tuple(pose.sheet[k] for k in piece.corners) for piece in pose.pieces]

    def motion(facet: int, at: Point) -> Array:
        """How the piece of the pose moves that a place on a facet is on."""
        x, y = inverse(state.facets[facet].place)(_inward(state, facet, at))
        deep = [polygons.depth(ring, (x * unit, y * unit)) for ring in rings]
        return _motion(pose.pieces[max(range(len(deep)), key=lambda k: deep[k])], flat, space)

    told = [step.motion for step in steps]
    for tip in tips:
        facet = state.facets_at(tip)[0]
        near = any(math.dist(tip, tail) < _SAME_FLAP for tail, *_ in found)
        goes = motion(facet, tip)
        if near:
            continue
        x, y = inverse(state.facets[facet].place)(tip)
        end = there((x * unit, y * unit))
        if math.dist(tip, on_page(end)) <= _LEAST:
            continue
        way = (tip, on_page(end), float(end[2]))
        again = next((k for k, other in enumerate(told) if _alike(goes, other)), None)
        if again is None:
            told.append(goes)
            found.append(way)
        elif again < len(steps):  # the place that the move itself names tells it better
            found[again] = way
    return tuple(
        Arrow("lower" if rise < -_STAYS else "raise", tail, head) for tail, head, rise in found
    )


@dataclass(frozen=True, eq=False)
class _Step:
    """A place on a facet that moves: from where to where (mm), and how all of its piece does (`_motion`)."""

    facet: int
    start: Array
    end: Array
    motion: Array

    @property
    def reach(self) -> float:
        return float(np.sqrt(((self.end - self.start) ** 2).sum()))


def _steps(pose: Pose, start: Array, end: Array, shows: Callable[[_Step], bool]) -> list[_Step]:
    """One place of each part that moves far, the farthest first; of places that move alike the middle one.

    Paper that goes together is one part, of however many layers and surfaces.
    """
    far = np.sqrt(((end - start) ** 2).sum(axis=1))
    alike: dict[tuple[float, ...], list[_Step]] = defaultdict(list)
    for piece, ks in (spot for spots in _spots(pose, far).values() for spot in spots):
        motion = _motion(piece, start, end)
        step = _Step(piece.facet, _mean(start, ks), _mean(end, ks), motion)
        if shows(step):
            alike[tuple(np.round((step.end - step.start) / _ALIKE).tolist())].append(step)
    found: list[_Step] = []
    for some in alike.values():
        middle = np.mean([step.start for step in some], axis=0)
        found.append(
            min(
                some, key=lambda s: (round(float(((s.start - middle) ** 2).sum()), 1), *_rounded(s))
            )
        )
    found.sort(key=lambda s: (-round(s.reach, 1), *_rounded(s)))
    least = _OTHERS * max((step.reach for step in found), default=0.0)
    kept: list[_Step] = []
    for step in found:
        if step.reach >= least and not any(_alike(step.motion, one.motion) for one in kept):
            kept.append(step)
    return kept[:_ARROWS]


def _rounded(step: _Step) -> list[float]:
    return [float(v) for v in np.round(step.start, 3)]


def _motion(piece: Piece, start: Array, end: Array) -> Array:
    """Where the stiff motion that carries a piece from start to end takes the origin and a place along each
    axis (mm).
    """
    ring = list(piece.corners)
    here, there = start[ring], end[ring]
    a, b = here.mean(axis=0), there.mean(axis=0)
    u, _, vt = np.linalg.svd((here - a).T @ (there - b))
    turn = u @ np.diag((1.0, 1.0, np.sign(np.linalg.det(u @ vt)))) @ vt
    probes = np.vstack((np.zeros(3), _PROBE * np.eye(3)))
    return (probes - a) @ turn + b


def _alike(one: Array, other: Array) -> bool:
    return bool(np.sqrt(((one - other) ** 2).sum(axis=1)).max() < _ALIKE)


def _inward(state: State, facet: int, at: Point) -> Point:
    """A place a little way from a point to the middle of a facet."""
    x, y = polygons.centroid(state.placed[facet])
    return at[0] + 0.05 * (x - at[0]), at[1] + 0.05 * (y - at[1])


def _carried(before: Pose, after: Pose) -> Array:
    """Where the points of one pose lie in another pose of the same sheet."""
    there = on_sheet(after)
    space = np.array(after.space, dtype=float)
    known = {p: k for k, p in enumerate(after.sheet)}
    return np.array([space[known[p]] if p in known else there(p) for p in before.sheet])


def on_sheet(pose: Pose) -> Callable[[Point], Array]:
    """Where a place of the sheet (mm) lies in space (mm)."""
    rings = [tuple(pose.sheet[k] for k in piece.corners) for piece in pose.pieces]
    boxes = [polygons.bounds(ring) for ring in rings]
    space = np.array(pose.space, dtype=float)

    def there(p: Point) -> Array:
        x, y = p
        near = [k for k, (x0, y0, x1, y1) in enumerate(boxes) if x0 <= x <= x1 and y0 <= y <= y1]
        depths = {k: polygons.depth(rings[k], p) for k in near}
        if max(depths.values(), default=-1.0) < 0.0:  # beside all paper by rounding
            depths = {k: polygons.depth(ring, p) for k, ring in enumerate(rings)}
        k = max(depths, key=lambda n: depths[n])
        corners = list(pose.pieces[k].corners)
        flat = np.c_[np.array(rings[k]), np.ones(len(corners))]
        affine, *_ = np.linalg.lstsq(flat, space[corners], rcond=None)
        return np.array([*p, 1.0]) @ affine

    return there


def _spots(pose: Pose, far: Array) -> dict[int, list[tuple[Piece, tuple[int, ...]]]]:
    """For every surface that moves its places that move most: (piece, corner) or (piece, ends of an edge)."""
    most: dict[int, float] = defaultdict(float)
    for piece in pose.pieces:
        most[piece.panel] = max(most[piece.panel], float(far[list(piece.corners)].max()))
    out: dict[int, list[tuple[Piece, tuple[int, ...]]]] = defaultdict(list)
    for piece in pose.pieces:
        least = _MIDDLE * most[piece.panel]
        if most[piece.panel] < _STAYS:
            continue
        ring = piece.corners
        sides = list(zip(ring, (*ring[1:], ring[0]), strict=True))
        even = [s for s in sides if far[s[0]] > least and far[s[1]] > least]
        out[piece.panel] += [(piece, s) for s in even]
        if not even:
            out[piece.panel] += [(piece, (k,)) for k in ring if far[k] > least]
    return out


def _mean(space: Array, points: tuple[int, ...]) -> Array:
    return space[list(points)].mean(axis=0)


def _way(
    start: Array,
    end: Array,
    middle: Array,
    drawn: PoseInk,
    here: Array,
    camera: Camera,
    scale: float,
) -> Cubic:
    """On the page, from start to end, bent away from the middle of the model."""
    halfway = (start + end) / 2
    out = halfway - middle
    n = float(np.sqrt(out @ out))
    reach = float(np.sqrt(((end - start) ** 2).sum()))
    bent = halfway + (out / n if n > 1e-6 else 0.0) * _BULGE * reach * 2
    control = [start, start + (bent - start) * 2 / 3, end + (bent - end) * 2 / 3, end]
    at = camera.page(np.array(control))[:, :2] * scale
    first = camera.page(here[:1])[0, :2] * scale
    dx, dy = drawn.places[0][0] - first[0], drawn.places[0][1] - first[1]
    a, b, c, d = ((float(x + dx), float(y + dy)) for x, y in at)
    return (a, b, c, d)
