"""From where a model in space shows most of itself.

In: a pose, and which way is up. Out: a `Camera`. Some standpoints are tried, all seen at one scale, each
judged on a small picture: how much of the model is seen, of both sides of the paper, of surfaces that face
different ways, of its outline, and of its points (beak, tail, wings, by which it is known) free against the
ground; against surfaces that are seen along their edge, and lines that meet at an angle but run on straight
in the picture, as the front edge of a box into a line of its top. Into a model that was opened one looks,
be it a little; onto a flower from higher up, so that the least of its petals is seen too. A standpoint like
that in which diagrams are usually drawn wins where little is between them. What is seen in a mirror is judged
alike, so that a mirrored model is seen from the mirrored standpoint.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from ...pose.crossing import triangles
from ...pose.goals import Open, Part, Pull, Spread
from ...pose.pose import Line, Pose, Vector
from ...pose.upright import upright
from ...pose.vectors import cross
from .camera import Array, Camera, looking
from .petals import petals

AZIMUTHS = (-60.0, -40.0, -25.0, -12.0, 12.0, 25.0, 40.0, 60.0)
ELEVATIONS = (15.0, 25.0, 38.0)
#: The same for a flower.
_FROM_ABOVE = (25.0, 38.0, 50.0)
#: Where one stands before a model that is so many times as deep as wide, as a hull whose bow is to the
#: reader: from near its end such a one looks aslant.
_ASIDE = (-75.0, -60.0, 60.0, 75.0)
_LONG = 2.1
#: Where one stands best, and how high, a flower before oneself too.
_BEST, _BEST_ASIDE = 30.0, 75.0
_HIGH, _HIGH_ABOVE = 25.0, 40.0
#: Side of the small picture in pixels.
_WIDE = 120
#: Standpoints whose worth differs by less are equally good.
_EQUAL = 0.03
#: Pieces of this share of themselves on the page count as seen along the edge.
_THIN = 0.12
#: Lines that turn by more than this in space (cosine) run on in the picture where they turn by less than this
#: (sine) there; what that counts.
_TURNS, _STRAIGHT, _RUN_ON = 0.95, 0.35, 0.8
#: A point of the model is narrower than this to either side of its middle (cosine), its paper longer than
#: this (share of the model's size); paper that is nearer together than that is one place.
_NARROW, _REACH, _ONE_PLACE = math.cos(math.radians(40)), 0.02, 0.01
#: What it counts that all points are free, and where that is looked for: pixels outward, and inward for
#: whether they are seen; so much of a point's middle has to lie in the picture.
_FREE, _BEYOND, _WITHIN, _ALONG = 1.0, (2.5, 4.0, 6.0), (-1.5, -2.5, -4.0), 0.2
#: Triangles smaller than this (square pixels, doubled) are left out; so many pixels are looked at at once.
_SLIVER, _AT_ONCE = 0.05, 200_000
#: Goals by which a model is opened.
_OPENING = Open | Spread | Pull | Part
#: What it counts that one looks into a model that was opened, on sides of its paper that face other paper,
#: and how much of the picture is enough for that; how near and how far the other paper is (shares of the
#: size of the model).
_INTO, _ENOUGH, _OPEN = 2.5, 0.16, (0.01, 0.6)
#: What it counts that each petal of a flower is seen, and how much of its paper is enough for that.
_PETAL, _PETAL_SEEN = 1.0, 0.4
#: Bends from this angle on (radians) are lines in the picture.
_BROKEN = math.radians(40)

Pixels = np.ndarray


@lru_cache(maxsize=64)
def chosen(pose: Pose) -> Camera:
    """The camera that shows the model best."""
    up, front = upright(pose)
    return best(pose, up, front)


def best(pose: Pose, up: Vector, front: Vector) -> Camera:
    """The best standpoint for a model that stands so."""
    model = _Model(pose)
    wide, deep = (
        float(np.ptp(model.space @ way)) for way in (np.cross(up, front), np.array(front))
    )
    long = deep > _LONG * wide
    ideal = _BEST_ASIDE if long else _BEST
    elevations, high = (_FROM_ABOVE, _HIGH_ABOVE) if model.petals else (ELEVATIONS, _HIGH)
    places = [(a, e) for e in elevations for a in (_ASIDE if long else AZIMUTHS)]
    looks = [model.look(looking(up, front, *place)) for place in places]
    known = np.any([look.free for look in looks], axis=0)
    found: list[tuple[float, float, float, Camera]] = []
    for (azimuth, elevation), look in zip(places, looks, strict=True):
        worth = (
            look.worth
            + _FREE * float(look.free[known].mean() if known.any() else 0.0)
            - 0.012 * abs(abs(azimuth) - ideal)
            - 0.008 * abs(elevation - high)
        )
        found.append((worth, azimuth, elevation, look.camera))
    most = max(worth for worth, *_ in found)
    good = [one for one in found if one[0] > most - 1e-9]
    _, azimuth, elevation, camera = good[0]
    mirrored = next(one for one in found if one[1] == -azimuth and one[2] == elevation)
    if azimuth < 0 and most - mirrored[0] < _EQUAL:
        return mirrored[3]
    return camera


@dataclass(frozen=True, eq=False)
class _Look:
    """What is seen from a standpoint: how well the model shows itself, and which of its points are free."""

    camera: Camera
    worth: float
    free: NDArray[np.bool_]


class _Model:
    """A pose as triangles, for small pictures of it."""

    def __init__(self, pose: Pose) -> None:
        sheet = np.array(pose.sheet, dtype=float)
        self.pose = pose
        space = np.array(pose.space, dtype=float)
        self.space = space - (space.min(axis=0) + space.max(axis=0)) / 2
        corners: list[tuple[int, int, int]] = []
        owners: list[int] = []
        for k, piece in enumerate(pose.pieces):
            some = triangles(piece.corners, sheet)
            corners += some
            owners += [k] * len(some)
        self.corners, self.owner = np.array(corners), np.array(owners)
        a, b, c = (self.space[self.corners[:, k]] for k in range(3))
        n = np.cross(b - a, c - a)
        size = np.sqrt((n * n).sum(axis=1))
        self.size = size
        self.normals = n / np.maximum(size, 1e-12)[:, None]
        self.across = 2 * float(np.sqrt((self.space**2).sum(axis=1)).max())
        self.bends = _bends(pose, self.space)
        self.points = _points(pose, self.space, self.across)
        self.inner = (
            _inner(self.space, self.corners, self.normals, self.across)
            if any(isinstance(goal, _OPENING) for goal in pose.goals)
            else np.zeros((len(corners), 2), dtype=bool)
        )
        self.petals = [np.isin(self.owner, sorted(petal)) for petal in petals(pose)]
        self.layers = np.array([(t.one, t.other, t.on_front) for t in pose.touching]).reshape(-1, 3)

    def look(self, camera: Camera) -> _Look:
        """How well the model shows itself; higher is better."""
        at = camera.page(self.space)
        facing = camera.turn(self.normals)[:, 2]
        picture = self._picture(at, facing)
        on = picture >= 0
        count = max(1, int(on.sum()))
        shown = picture[on]
        front = facing[shown] > 0
        coloured = float((front == self.pose.front_coloured).sum()) / count
        nearer = self.normals * np.where(facing >= 0, 1.0, -1.0)[:, None]
        normals = np.zeros((*picture.shape, 3))
        normals[on] = nearer[shown]
        owner = np.where(on, self.owner[picture], -1)
        outline = _steps(owner, normals) / _WIDE
        ways = np.bincount((np.round(nearer[shown] * 2.5).astype(int) + 3) @ (49, 7, 1))
        shares = ways[ways > 0] / count
        variety = -float((shares * np.log(shares)).sum())
        seen = np.zeros(len(facing), dtype=bool)
        seen[np.unique(shown)] = True
        thin = float(self.size[(np.abs(facing) < _THIN) & seen].sum() / self.size.sum())
        worth = (
            0.3 * coloured
            + 2.0 * count / _WIDE**2
            + 0.25 * outline
            + 0.5 * variety
            + min(coloured, 1 - coloured)
            + _INTO * min(_ENOUGH, float(self.inner[shown, np.where(front, 0, 1)].sum()) / count)
            - 2.0 * thin
            - _RUN_ON * self._running_on(at[:, :2], shown)
            + _PETAL * self._least_petal(shown)
        )
        return _Look(camera, worth, self._free(camera, at, picture))

    def _least_petal(self, shown: Pixels) -> float:
        """How much is seen of the petal of which least is, as a share of what is enough."""
        pixel = (self.across / (_WIDE - 4)) ** 2
        seen = [
            float(petal[shown].sum()) * pixel / (float(self.size[petal].sum()) / 2)
            for petal in self.petals
        ]
        return min(1.0, *(share / _PETAL_SEEN for share in seen)) if seen else 0.0

    def _free(self, camera: Camera, at: Array, picture: Pixels) -> NDArray[np.bool_]:
        """Which points of the model are seen with nothing behind them."""
        scale = (_WIDE - 4) / self.across
        free = np.zeros(len(self.points), dtype=bool)
        for n, (point, way, owners) in enumerate(self.points):
            out = camera.turn(-way[None])[0, :2] * (1.0, -1.0)
            long = math.hypot(*out)
            if long < _ALONG:
                continue
            places = at[point, :2] * scale + _WIDE / 2 + np.outer(_BEYOND + _WITHIN, out / long)
            x, y = np.clip(np.floor(places).astype(int), 0, _WIDE - 1).T
            here = picture[y, x]
            on = {int(self.owner[t]) for t in here[len(_BEYOND) :] if t >= 0}
            free[n] = bool((here[: len(_BEYOND)] < 0).all()) and bool(on & owners)
        return free

    def _running_on(self, at: Array, shown: Pixels) -> float:
        """How much of seen lines runs on straight in the picture, though they meet at an angle."""
        if not len(self.bends):
            return 0.0
        seen = np.zeros(len(self.pose.pieces), dtype=bool)
        seen[np.unique(self.owner[shown])] = True
        one, middle, other, *faces = self.bends.T
        a, b = at[one] - at[middle], at[other] - at[middle]
        long, short = np.sqrt((a * a).sum(axis=1)), np.sqrt((b * b).sum(axis=1))
        both = np.maximum(long * short, 1e-12)
        sine = np.abs(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]) / both
        straight = np.where((a * b).sum(axis=1) < 0, np.maximum(0.0, 1 - sine / _STRAIGHT), 0.0)
        straight *= (seen[faces[0]] | seen[faces[1]]) & (seen[faces[2]] | seen[faces[3]])
        return float((np.sqrt(both) * straight).sum()) / self.across

    def _picture(self, at: Array, facing: Array) -> Pixels:
        """For every pixel the triangle that is seen there, -1 for none."""
        rank = self._ranks(facing) * 1e-4 * self.across
        scale = (_WIDE - 4) / self.across
        q = at[:, :2] * scale + _WIDE / 2
        a, b, c = (q[self.corners[:, k]] for k in range(3))
        area = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
        low, high = np.minimum(np.minimum(a, b), c), np.maximum(np.maximum(a, b), c)
        first = np.maximum(0, np.floor(low).astype(int))
        size = np.minimum(np.ceil(high).astype(int) + 1, _WIDE) - first
        count = np.where(np.abs(area) < _SLIVER, 0, size.clip(0).prod(axis=1))
        deep, picture = np.full(_WIDE * _WIDE, -math.inf), np.full(_WIDE * _WIDE, -1)
        starts = np.cumsum(count) // _AT_ONCE
        for some in np.split(np.arange(len(count)), np.flatnonzero(np.diff(starts)) + 1):
            t = np.repeat(some, count[some])
            k = np.arange(len(t)) - np.repeat(np.cumsum(count[some]) - count[some], count[some])
            x, y = first[t, 0] + k % size[t, 0], first[t, 1] + k // size[t, 0]
            p = np.stack([x, y], axis=1) + 0.5 - a[t]
            u, v = b[t] - a[t], c[t] - a[t]
            one = (p[:, 0] * v[:, 1] - p[:, 1] * v[:, 0]) / area[t]
            two = (u[:, 0] * p[:, 1] - u[:, 1] * p[:, 0]) / area[t]
            here = (one >= 0) & (two >= 0) & (one + two <= 1)
            t, one, two, place = t[here], one[here], two[here], (y * _WIDE + x)[here]
            za, zb, zc = at[self.corners[t], 2].T
            z = za + one * (zb - za) + two * (zc - za) + rank[self.owner[t]]
            order = np.lexsort(
                (-t, z, place)
            )  # of each place the nearest last, the first of equal ones
            last = order[np.append(place[order][1:] != place[order][:-1], True)[: len(order)]]
            nearer = last[z[last] > deep[place[last]]]
            deep[place[nearer]], picture[place[nearer]] = z[nearer], t[nearer]
        return picture.reshape(_WIDE, _WIDE)

    def _ranks(self, facing: Array) -> Array:
        """How many layers lie behind each piece, of those that it lies flat together with."""
        rank = np.zeros(len(self.pose.pieces))
        if not len(self.layers):
            return rank
        shows = np.zeros(len(self.pose.pieces))
        shows[self.owner] = np.where(facing >= 0, 1, -1)
        one, other, on_front = self.layers.T
        nearer = (on_front == 1) == (shows[one] > 0)
        behind, before = np.where(nearer, one, other), np.where(nearer, other, one)
        for _ in range(40):
            new = rank.copy()
            np.maximum.at(new, before, rank[behind] + 1)
            if (new == rank).all():
                break
            rank = new
        return rank


def _inner(space: Array, corners: Pixels, normals: Array, across: float) -> NDArray[np.bool_]:
    """Triangles × 2: whether the front of each, and whether its back, faces other paper over open space.

    Source of how a line meets a triangle: T. Möller and B. Trumbore (1997).
    """
    a = space[corners[:, 0]]
    one, two = space[corners[:, 1]] - a, space[corners[:, 2]] - a
    start = space[corners].mean(axis=1)
    least, most = (share * across for share in _OPEN)
    faces = np.zeros((len(corners), 2), dtype=bool)
    for k, way in enumerate(normals):
        across_two = cross(way, two)
        volume = (one * across_two).sum(axis=1)
        meets = np.abs(volume) > 1e-9
        scale = 1 / np.where(meets, volume, 1.0)
        off = start[k] - a
        u = (off * across_two).sum(axis=1) * scale
        turned = cross(off, one)
        v = turned @ way * scale
        far = (two * turned).sum(axis=1) * scale
        meets &= (u >= 0) & (v >= 0) & (u + v <= 1)
        faces[k, 0] = bool((meets & (far > least) & (far < most)).any())
        faces[k, 1] = bool((meets & (far < -least) & (far > -most)).any())
    return faces


def _points(pose: Pose, space: Array, size: float) -> list[tuple[int, Array, frozenset[int]]]:
    """Where paper runs out to a narrow point: one of its points, the way back from it along its middle (unit
    vector), and the pieces that end there.
    """
    at = np.full(len(space), -1)
    for k in range(len(space)):
        if at[k] < 0:
            near = np.sqrt(((space - space[k]) ** 2).sum(axis=1)) < _ONE_PLACE * size
            at[near & (at < 0)] = k
    ways: dict[int, list[int]] = {}
    owners: dict[int, set[int]] = {}
    for n, piece in enumerate(pose.pieces):
        ring = piece.corners
        for k, v in enumerate(ring):
            here = int(at[v])
            owners.setdefault(here, set()).add(n)
            beside = (ring[k - 1], ring[(k + 1) % len(ring)])
            ways.setdefault(here, []).extend(w for w in beside if at[w] != here)
    found: list[tuple[int, Array, frozenset[int]]] = []
    for here, ends in sorted(ways.items()):
        if not ends:
            continue
        out = space[ends] - space[here]
        out /= np.sqrt((out * out).sum(axis=1))[:, None]
        middle = out.sum(axis=0)
        long = float(np.sqrt(middle @ middle))
        ring = [v for n in owners[here] for v in pose.pieces[n].corners]
        reach = float(np.sqrt(((space[ring] - space[here]) ** 2).sum(axis=1)).max())
        narrow = long > 0 and float((out @ middle).min()) > _NARROW * long
        if narrow and reach > _REACH * size:
            found.append((here, middle / long, frozenset(owners[here])))
    return found


def _bends(pose: Pose, space: Array) -> np.ndarray:
    """(end, middle, other end, and the pieces at both lines) where two lines meet at an angle in space."""
    at: dict[int, list[tuple[int, int, int]]] = {}
    for edge in pose.edges:
        if edge.kind is not Line.BEND or abs(edge.angle) > _BROKEN:
            right = edge.left if edge.right is None else edge.right
            at.setdefault(edge.start, []).append((edge.end, edge.left, right))
            at.setdefault(edge.end, []).append((edge.start, edge.left, right))
    found: list[tuple[int, ...]] = []
    for middle, ends in sorted(at.items()):
        for k, (one, *sides) in enumerate(ends):
            for other, *others in ends[k + 1 :]:
                a, b = space[one] - space[middle], space[other] - space[middle]
                size = math.sqrt(float(a @ a) * float(b @ b))
                if size > 0 and float(a @ b) > -_TURNS * size:
                    found.append((one, middle, other, *sides, *others))
    return np.array(found, dtype=np.int64).reshape(-1, 7)


def _steps(owner: Pixels, normals: Array) -> float:
    """Pixels beside others of another surface, or beside none."""
    total = 0
    for a, b, n, m in (
        (owner[1:], owner[:-1], normals[1:], normals[:-1]),
        (owner[:, 1:], owner[:, :-1], normals[:, 1:], normals[:, :-1]),
    ):
        turned = (n * m).sum(axis=-1) < 0.97
        total += int(((a != b) & ((a < 0) | (b < 0) | turned)).sum())
    return float(total)
