"""Motions that take the folded paper to itself, layers, order and all.

In: `Layers`. Out: pairs of a renumbering of the points and the motion of space that goes with it. A pose is
made alike on all sides by taking the mean over them; a goal that is on one side only has to drop those that
move it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from ..geometry import polygons
from ..geometry.isometries import Isometry, compose, inverse
from ..geometry.lines import Point, distance
from .layers import Layers
from .net import Net
from .orbits import Orbits
from .pieces import Pieces
from .springs import Array, Indices

_NEAR = 1e-5
#: So many points are looked for at once.
_AT_ONCE = 64


@dataclass(frozen=True)
class Motion:
    """`to[v]` is where point v goes; `turn` (3 × 3) and `shift` move space accordingly."""

    to: Indices
    turn: Array
    shift: Array


def symmetries(layers: Layers) -> list[Motion]:
    """Every motion of the flat paper to itself, the one that moves nothing first."""
    some = (_in_space(layers, motion, to) for motion, to in _of_points(layers.pieces))
    return [one for one in some if one is not None]


def of_folds(pieces: Pieces, angles: Array) -> list[Motion]:
    """Every motion of the open sheet, as it lies with its front up, that takes points to points and folds to
    folds: each to one of the same angle, or all to those of the other sense.
    """
    number = {frozenset((s.start, s.end)): k for k, s in enumerate(pieces.seams)}
    found: list[Motion] = []
    for motion, to in _of_points(pieces):
        image = [number.get(frozenset((to[s.start], to[s.end]))) for s in pieces.seams]
        kept = [
            (angles[k], 0.0 if n is None else angles[n])
            for k, n in enumerate(image)
            if abs(angles[k]) > _NEAR
        ]
        for up in (1.0, -1.0):
            if all(abs(was - up * other) < _NEAR for was, other in kept):
                turn = np.array([[motion.a, motion.b, 0.0], [motion.c, motion.d, 0.0], [0, 0, up]])
                shift = np.array([motion.tx, motion.ty, 0.0])
                found.append(Motion(np.array(to, dtype=np.int64), turn, shift))
                break
    return found


def _of_points(pieces: Pieces) -> Iterator[tuple[Isometry, list[int]]]:
    """Motions of the sheet to itself that take points to points, and which each goes to."""
    for motion in _of_outline(pieces.state.sheet.outline):
        to = _images(motion, pieces.points)
        if to is not None and len(set(to)) == len(to):
            yield motion, to


def of_net(motion: Motion, net: Net) -> Motion:
    """The same motion of a net's points."""
    to = np.zeros(len(net.start), dtype=np.int64)
    to[net.of] = net.of[motion.to]
    return Motion(to, motion.turn, motion.shift)


def orbits(motions: Sequence[Motion], count: int) -> Orbits:
    """Which points a group of motions makes one. With no motions every point carries itself."""
    of = np.full(count, -1, dtype=np.int64)
    turn = np.tile(np.eye(3), (count, 1, 1))
    size: list[float] = []
    for v in range(count):
        if of[v] >= 0:
            continue
        fixed = [m.turn for m in motions if m.to[v] == v]
        own = np.mean(fixed, axis=0) if fixed else np.eye(3)  # it moves only as they let it
        images = {v: np.eye(3)} | {int(m.to[v]): m.turn for m in motions if m.to[v] != v}
        for w, motion in images.items():
            of[w], turn[w] = len(size), motion @ own
        size.append(float(len(images)))
    return Orbits(of, turn, np.array(size))


def _of_outline(outline: tuple[Point, ...]) -> list[Isometry]:
    n = len(outline)
    found: list[Isometry] = []
    for flip in (1, -1):
        for k in range(n):
            images = [outline[(k + flip * i) % n] for i in range(n)]
            motion = _taking(outline, images)
            if all(distance(motion(p), q) < _NEAR for p, q in zip(outline, images, strict=True)):
                found.append(motion)
    return found


def _taking(points: tuple[Point, ...], images: list[Point]) -> Isometry:
    """The motion that takes the first three points to their images, if any does."""
    a = np.array([[*p, 1.0] for p in points[:3]])
    x = np.linalg.solve(a, np.array(images[:3]))
    return Isometry(
        float(x[0, 0]),
        float(x[1, 0]),
        float(x[2, 0]),
        float(x[0, 1]),
        float(x[1, 1]),
        float(x[2, 1]),
    )


def _images(motion: Isometry, points: Array) -> list[int] | None:
    """Which point each point goes to; None where one goes to none."""
    moved = np.array([motion((float(x), float(y))) for x, y in points])
    found: list[int] = []
    for some in np.split(moved, range(_AT_ONCE, len(moved), _AT_ONCE)):
        off = np.abs(points[None] - some[:, None]).max(axis=2)
        nearest = off.argmin(axis=1)
        if (off[np.arange(len(some)), nearest] >= _NEAR).any():
            return None
        found += nearest.tolist()
    return found


def _in_space(layers: Layers, motion: Isometry, to: list[int]) -> Motion | None:
    state = layers.pieces.state
    facet: dict[int, int] = {}
    space: Isometry | None = None
    for k, f in enumerate(state.facets):
        middle = motion(polygons.centroid(f.outline))
        deep = [polygons.depth(g.outline, middle) for g in state.facets]
        other = int(np.argmax(deep))
        carried = compose(state.facets[other].place, compose(motion, inverse(f.place)))
        if deep[other] < _NEAR or (space is not None and not _same(space, carried)):
            return None
        space, facet[k] = carried, other
    kept = {above == state.above(facet[i], facet[j]) for (i, j), above in state.order.items()}
    if space is None or len(kept) > 1:
        return None
    up = 1.0 if not kept or True in kept else -1.0
    turn = np.array([[space.a, space.b, 0.0], [space.c, space.d, 0.0], [0.0, 0.0, up]])
    return Motion(np.array(to, dtype=np.int64), turn, np.array([space.tx, space.ty, 0.0]))


def _same(one: Isometry, other: Isometry) -> bool:
    return all(abs(a - b) < _NEAR for a, b in zip(one, other, strict=True))
