"""What pulls at paper in space: lengths, fold angles, layers, places that are asked for, a breath.

In: the net's points in space. Out: for each kind of pull its misfits, each with the points that it depends
on and how it changes with them. The sum of their squares, halved, is what the solver makes small; paper
that is put under pressure gains by its volume besides.

Sources: bars for lengths and springs on fold angles are the usual way to compute folded sheets (bar and
hinge models); the derivative of the angle between two triangles as for discrete shells. Both were derived
anew and are held against differences in the tests.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from .orbits import Array, Indices, Orbits
from .vectors import cross, dot

#: Points of layers farther apart than this (sheet units) do not meet.
_NEAR = 0.12


@dataclass(frozen=True)
class Pull:
    """Misfits r (m), the points each depends on (m × k), and their gradients (m × k × 3).

    `lasting` tells that the points are the same array in every step.
    """

    points: Indices
    misfit: Array
    slope: Array
    lasting: bool = False


def lengths(x: Array, ends: Indices, rest: Array, weight: float) -> Pull:
    """Bars that want their length on the sheet."""
    d = x[ends[:, 0]] - x[ends[:, 1]]
    now = np.sqrt(dot(d, d))
    u = weight * d / np.maximum(now, 1e-12)[:, None]
    return Pull(ends, weight * (now - rest), np.stack([u, -u], axis=1), lasting=True)


def fold_angles(x: Array, hinges: Indices, before: Array) -> tuple[Array, Array]:
    """Angles of hinges (a, b, c, d): c left of a → b, d to its right, valleys seen from the front positive;
    and their gradients (m × 4 × 3). Folds may go past π: the angle is the one nearest to what it was
    before.
    """
    a, b, c, d = (x[hinges[:, k]] for k in range(4))
    e = b - a
    length = np.sqrt(dot(e, e))
    u = e / length[:, None]
    n1, n2 = cross(e, c - a), cross(d - a, e)
    s1, s2 = np.sqrt(dot(n1, n1)), np.sqrt(dot(n2, n2))
    n1, n2 = n1 / s1[:, None], n2 / s2[:, None]
    angle = np.arctan2(dot(cross(n2, n1), u), dot(n1, n2))
    angle = angle + 2 * np.pi * np.round((before - angle) / (2 * np.pi))
    at_c, at_d = n1 * (length / s1)[:, None], n2 * (length / s2)[:, None]
    t1 = (dot(c - a, u) / length)[:, None]
    t2 = (dot(d - a, u) / length)[:, None]
    at_a, at_b = -(1 - t1) * at_c - (1 - t2) * at_d, -t1 * at_c - t2 * at_d
    return angle, np.stack([at_a, at_b, at_c, at_d], axis=1)


@dataclass
class Contacts:
    """Points of an upper layer that have to stay on their side of a triangle of the layer below.

    Attributes
    ----------
    lower : m × 3 corners of the lower triangle
    upper : m × 3 corners of the upper one, in the order in which they lie over those
    share : m × 3 how much of each: the point watched is the mean of the upper ones with these weights
    up : m, 1 where the lower one's front is its upper side, else -1
    watched : which are near enough to matter now
    """

    lower: Indices
    upper: Indices
    share: Array
    up: Array
    watched: NDArray[np.bool_] = field(init=False)

    def __post_init__(self) -> None:
        self.watched = np.zeros(len(self.up), dtype=bool)

    def watch(self, x: Array) -> None:
        """Looks anew which pairs are near each other."""
        height, _, foot, apart = self._measured(x, slice(None))
        self.watched = (
            (dot(apart, apart) < _NEAR * _NEAR) & (foot.min(axis=1) > -0.35) & (height > -0.03)
        )

    def pull(self, x: Array, weight: float) -> Pull:
        near = np.flatnonzero(self.watched)
        height, n, foot, _ = self._measured(x, near)
        inside = height < 0
        on = near[inside]
        w = weight * n[inside]
        slope = np.concatenate(
            [
                w[:, None, :] * self.share[on][:, :, None],
                -w[:, None, :] * foot[inside][:, :, None],
            ],
            axis=1,
        )
        points = np.concatenate([self.upper[on], self.lower[on]], axis=1)
        return Pull(points, weight * height[inside], slope)

    def misfit(self, x: Array, weight: float) -> Array:
        """The misfits of `pull` alone."""
        near = np.flatnonzero(self.watched)
        q, m, size, _, _ = self._over(x, near)
        height = dot(q, m / np.sqrt(size)[:, None] * self.up[near][:, None])
        return weight * height[height < 0]

    def _over(self, x: Array, some: Indices | slice) -> tuple[Array, Array, Array, Array, Array]:
        """Of some pairs the way from the lower triangle's first corner to the point watched, the triangle's
        doubled area as a vector, and its square; that point, and the triangle's corners.
        """
        y, share = x[self.lower[some]], self.share[some]
        p = _mean(x[self.upper[some]], share)
        m = cross(y[:, 1] - y[:, 0], y[:, 2] - y[:, 0])
        return p - y[:, 0], m, dot(m, m), p, y

    def _measured(self, x: Array, some: Indices | slice) -> tuple[Array, Array, Array, Array]:
        """Of some pairs heights, normals, barycentric feet (m × 3), and the way from the column's own point
        below.
        """
        q, m, size, p, y = self._over(x, some)
        e1, e2 = y[:, 1] - y[:, 0], y[:, 2] - y[:, 0]
        l2 = dot(cross(q, e2), m) / size
        l3 = dot(cross(e1, q), m) / size
        foot = np.stack([1 - l2 - l3, l2, l3], axis=1)
        n = m / np.sqrt(size)[:, None] * self.up[some][:, None]
        return dot(q, n), n, foot, p - _mean(y, self.share[some])


def _mean(corners: Array, share: Array) -> Array:
    """Points (m × 3) from three corners each (m × 3 × 3) and how much of each of them."""
    a, b, c = (corners[:, k] * share[:, k, None] for k in range(3))
    return a + b + c


@dataclass(frozen=True)
class Wanted:
    """Linear wishes: the sum of share · coordinate along an axis over some points is to be a value.

    Attributes
    ----------
    points : m × k, `share` m × k, `axis` m × 3
    value, weight : m
    """

    points: Indices
    share: Array
    axis: Array
    value: Array
    weight: Array

    def pull(self, x: Array) -> Pull:
        misfit = self.misfit(x)
        slope = (self.weight[:, None] * self.share)[:, :, None] * self.axis[:, None, :]
        return Pull(self.points, misfit, slope)

    def misfit(self, x: Array) -> Array:
        """How far the sums are off, by weight."""
        return self.weight * (self.now(x) - self.value)

    def and_also(self, more: Wanted) -> Wanted:
        """These wishes and more, each of as many points."""
        return Wanted(
            np.concatenate([self.points, more.points]),
            np.concatenate([self.share, more.share]),
            np.concatenate([self.axis, more.axis]),
            np.concatenate([self.value, more.value]),
            np.concatenate([self.weight, more.weight]),
        )

    def now(self, x: Array) -> Array:
        """What the sums are."""
        along = (x[self.points] * self.axis[:, None, :]).sum(axis=2)
        return (along * self.share).sum(axis=1)


def breath(x: Array, skin: Indices, outward: Array) -> tuple[float, Array]:
    """Volume that a skin of triangles (its fronts turned by `outward`, ±1) holds about its middle, and the
    push on every point (n × 3) of a pressure of 1."""
    t = x[skin]
    middle = x[np.unique(skin)].mean(axis=0)
    a, b, c = (t[:, k] - middle for k in range(3))
    volume = float((dot(cross(b, c), a) * outward).sum() / 6)
    push = np.zeros_like(x)
    area = cross(t[:, 1] - t[:, 0], t[:, 2] - t[:, 0]) * (outward / 6)[:, None]
    for k in range(3):
        np.add.at(push, skin[:, k], area)
    return volume, push


@dataclass(frozen=True, eq=False)
class _Pattern:
    """Where pulls on the same points go: the rows of the slope (m × 3k), and the places of the curvature."""

    points: Indices
    rows: Indices
    places: Indices


#: Patterns of pulls whose points last, by the number of the array.
Patterns = dict[int, _Pattern]


def _pattern(pull: Pull, orbits: Orbits, known: Patterns) -> _Pattern:
    found = known.get(id(pull.points))
    if found is None:
        size = 3 * len(orbits.size)
        rows = (3 * orbits.of[pull.points][:, :, None] + np.arange(3)).reshape(len(pull.misfit), -1)
        places = (rows[:, :, None] * size + rows[:, None, :]).ravel()
        found = _Pattern(pull.points, rows, places)
        if pull.lasting:
            known[id(pull.points)] = found
    return found


def gathered(pulls: Sequence[Pull], orbits: Orbits, known: Patterns) -> tuple[Array, Array, float]:
    """Slope (3n), curvature (3n × 3n, of the squares' linear parts) and energy of pulls on points that n of
    them carry. Patterns that last are added to those known.
    """
    size = 3 * len(orbits.size)
    slope = np.zeros(size)
    where: list[Indices] = []
    values: list[Array] = []
    energy = 0.0
    for pull in pulls:
        m = len(pull.misfit)
        if not m:
            continue
        pattern = _pattern(pull, orbits, known)
        g = np.einsum("mki,mkij->mkj", pull.slope, orbits.turn[pull.points]).reshape(m, -1)
        slope += np.bincount(pattern.rows.ravel(), (g * pull.misfit[:, None]).ravel(), size)
        where.append(pattern.places)
        values.append((g[:, :, None] * g[:, None, :]).ravel())
        energy += 0.5 * float(pull.misfit @ pull.misfit)
    flat = np.bincount(np.concatenate(where), np.concatenate(values), size * size)
    return slope, flat.astype(np.float64, copy=False).reshape(size, size), energy
