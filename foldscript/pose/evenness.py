"""Whether a pose is alike wherever the paper and what hands do with it are alike.

In: the paper as it lies flat, the goals stage by stage, points on the sheet and in space. Out: how far a pose
is from its own image, at worst over all motions of the sheet that take its folds, the order of its layers and
the goals to themselves. Hands that raise four corners alike do not get one that lies flat and three that
stand; paper could well stand so, and no other check finds it.

Nothing here is shared with what solves: the motions are sought anew, on folds and layers alone.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from ..geometry import polygons
from ..geometry.isometries import IDENTITY, Isometry, compose, inverse, map_segment
from ..geometry.lines import Point, Segment, distance, midpoint, point_on_segment
from ..paper.state import State
from .goals import (
    Blow,
    Bring,
    Curl,
    Goal,
    Hold,
    Open,
    Part,
    Pull,
    Raise,
    Round,
    Spread,
    Stages,
    Stand,
    Turned,
)

Array = NDArray[np.float64]

#: Places nearer than this (sheet units) are one.
_NEAR = 1e-5
#: Off its image by less than this (mm) a pose is its own image.
_CLOSE = 0.05


def unevenness(state: State, stages: Stages, points: Array, space: Array) -> float:
    """Largest distance of a point from where the image of the pose has it, in mm.

    Of two sides that are alike one may be the one that stays on the table, as of a card that is raised along
    its middle: then its image lies on the other. Of more than two none may.

    Parameters
    ----------
    points : n × 2 on the sheet, sheet units
    space : n × 3, mm
    """
    in_place, turned = [0.0], [0.0]
    for motion in _outline_motions(state.sheet.outline):
        kept = _kept(state, motion)
        if kept is None or not _asked_alike(state, stages, motion, kept[0]):
            continue
        to = _partners(points, motion)
        here = [v for v, other in enumerate(to) if other >= 0]
        plane, upward = kept
        as_flat = np.diag([0.0, 0.0, 1.0 if upward else -1.0])
        as_flat[:2, :2] = [plane[0:2], plane[3:5]]
        one, other = space[here], space[[to[v] for v in here]]
        in_place.append(_apart(one, other, as_flat))
        turned.append(_apart(one, other, _best(one, other, float(np.linalg.det(as_flat)))))
    close = [off for off in in_place if off < _CLOSE]
    if 2 * len(close) == len(in_place):
        return max(*close, *turned)
    return max(in_place)


def _outline_motions(outline: Sequence[Point]) -> list[Isometry]:
    """Motions of the sheet's outline to itself, but the one that moves nothing."""
    n = len(outline)
    found: list[Isometry] = []
    for flip in (1, -1):
        for k in range(n):
            images = [outline[(k + flip * i) % n] for i in range(n)]
            motion = _motion(outline[0], outline[1], images[0], images[1], flip < 0)
            if (k or flip < 0) and all(
                distance(motion(p), q) < _NEAR for p, q in zip(outline, images, strict=True)
            ):
                found.append(motion)
    return found


def _motion(p: Point, q: Point, p2: Point, q2: Point, flips: bool) -> Isometry:
    """The motion that takes p to p2, and the way to q to the way to q2."""
    was, now = (math.atan2(b[1] - a[1], b[0] - a[0]) for a, b in ((p, q), (p2, q2)))
    turn = now + was if flips else now - was
    c, s, up = math.cos(turn), math.sin(turn), -1.0 if flips else 1.0
    x, y = c * p[0] - up * s * p[1], s * p[0] + up * c * p[1]
    return Isometry(c, -up * s, p2[0] - x, s, up * c, p2[1] - y)


def _kept(state: State, motion: Isometry) -> tuple[Isometry, bool] | None:
    """What the motion of the sheet does to the folded plane, and whether upper layers stay the upper ones;
    None where it does not take the folded paper to itself.
    """
    facet: list[int] = []
    plane: Isometry | None = None
    for f in state.facets:
        middle = motion(polygons.centroid(f.outline))
        deep = [polygons.depth(g.outline, middle) for g in state.facets]
        other = max(range(len(deep)), key=lambda k: deep[k])
        here = compose(state.facets[other].place, compose(motion, inverse(f.place)))
        if deep[other] < _NEAR or (plane is not None and not _same(plane, here)):
            return None
        plane = here
        facet.append(other)
    same = {above == state.above(facet[i], facet[j]) for (i, j), above in state.order.items()}
    return None if plane is None or len(same) > 1 else (plane, False not in same)


def _asked_alike(state: State, stages: Stages, motion: Isometry, plane: Isometry) -> bool:
    """Whether what is asked at each stage is asked again after the motion."""
    for some in stages:
        asked = [row for goal in some for row in _rows(state, goal, IDENTITY, IDENTITY)]
        images = (row for goal in some for row in _rows(state, goal, motion, plane))
        for kind, amount, spots in images:
            like = [s for k, a, s in asked if k == kind and abs(a - amount) < _NEAR]
            if not any(_within(spots, s) for s in like):
                return False
    return True


def _rows(
    state: State, goal: Goal, motion: Isometry, plane: Isometry
) -> Iterable[tuple[str, float, tuple[Point, ...]]]:
    """A goal after a motion, in rows to be compared: what is asked, how much, at which places."""
    match goal:
        case Raise():
            known = goal.senses or (0,) * len(goal.creases)
            for crease, sense in zip(goal.creases, known, strict=True):
                a, b = map_segment(motion, crease)
                yield f"raise {_side(state, crease, sense)}", goal.angle, (a, b)
        case Open():
            yield "open", goal.width, map_segment(plane, goal.edge)
        case Blow():
            yield "blow", 0.0, () if goal.edge is None else map_segment(plane, goal.edge)
        case Spread():
            yield "spread", goal.width, (plane(goal.at),)
        case Bring():
            yield "bring", 0.0, (motion(goal.point), plane(goal.to))
        case Curl():
            kind = "curl to the front" if goal.front_inside else "curl to the back"
            yield kind, goal.radius, (motion(goal.point), motion(goal.begins))
        case Round():
            for line in (*goal.one, *goal.other):
                yield "round", goal.width, map_segment(motion, line)
            if goal.parts is not None:
                yield "round, under", float(goal.parts.front), (motion(goal.parts.at),)
        case Hold():
            yield "hold", 0.0, (plane(goal.at),)
        case Pull():
            yield "pull", goal.by, (motion(goal.point),)
            yield "pull from", goal.by, (motion(goal.held),)
        case Part():  # every pocket that lies like the one named is parted
            return
        case Stand() | Turned():  # moves nothing
            return


def _side(state: State, crease: Segment, sense: int) -> int:
    """The side of the sheet that is inside where paper is raised along a crease that lies flat: 1 the front,
    -1 the back; 0 for a fold that is closed, which only opens.
    """
    fronts = {state.facets[f].shows_front for f in state.facets_on_sheet(midpoint(*crease))}
    if len(fronts) != 1:
        return 0
    return sense or (1 if True in fronts else -1)


def _within(spots: Sequence[Point], others: Sequence[Point]) -> bool:
    """Whether places are the others, or lie along the line between them."""
    if len(spots) == len(others) == 2 and distance(*others) > _NEAR:
        return all(point_on_segment((others[0], others[1]), p, _NEAR) for p in spots)
    return all(distance(p, q) < _NEAR for p, q in zip(spots, others, strict=True))


def _partners(points: Array, motion: Isometry) -> list[int]:
    """For each point the one that the motion takes it to; -1 where there is none."""
    images = np.array([motion((float(x), float(y))) for x, y in points])
    far = np.abs(points[None, :, :] - images[:, None, :]).max(axis=2)
    to = far.argmin(axis=1)
    return [int(v) if far[k, v] < _NEAR else -1 for k, v in enumerate(to)]


def _apart(one: Array, other: Array, turn: Array) -> float:
    """Largest distance of places that are turned from their partners, whatever the shift."""
    moved = one @ turn.T - other
    off = moved - moved.mean(axis=0)
    return float(np.sqrt((off * off).sum(axis=1)).max())


def _best(one: Array, other: Array, sense: float) -> Array:
    """The turn (3 × 3) that takes places nearest to their partners; with a mirror where `sense` is below 0.

    Source: W. Kabsch, A solution for the best rotation to relate two sets of vectors (1976).
    """
    u, _, vt = np.linalg.svd((one - one.mean(axis=0)).T @ (other - other.mean(axis=0)))
    return (u @ np.diag([1.0, 1.0, np.sign(sense * np.linalg.det(u @ vt))]) @ vt).T


def _same(one: Isometry, other: Isometry) -> bool:
    return all(abs(a - b) < _NEAR for a, b in zip(one, other, strict=True))
