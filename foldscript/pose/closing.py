"""Fold angles made exact, where all facets stay plane: what closes round every corner of the paper.

In: pieces, places that are nearly right, and the lines that the paper is folded by. Out: an angle for each
seam with which pieces turned about them (`turning.py`) agree about the places of all corners, to the last
digits; None where the paper bends besides, or where no such angles are near.

Round an inner corner of the sheet the turns about all creases that meet there, one after the other, come
back to where they began (the closure of a spherical linkage). The angles are corrected by Newton's method,
each time by the least change.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Collection, Mapping, Sequence

import numpy as np

from ..paper.union_find import UnionFind
from .pieces import Array, Pieces
from .pose import Line
from .proof import normal, turned_by
from .turning import rotation, turned

#: Radians that pieces of a plane facet may be bent against each other before they are made plane.
PLANE = 0.1
#: Radians within which a fold is shut.
_SHUT = 2e-3
#: What points may gape by (sheet units) when a flap has been folded back.
_CLOSED = 1e-9
#: Radians by which creases may have given way that could as well lie flat, tried one after the other.
_SLACK = (math.radians(60), math.radians(30), math.radians(15))
#: How far (radians) an angle may be corrected, what is no gap, and how often is tried.
_FAR, _NOTHING, _ROUNDS = 0.1, 2e-15, 30


def closed(
    pieces: Pieces,
    places: Array,
    folded: Sequence[int],
    asked: Mapping[int, float],
    ways: Mapping[int, float],
) -> list[float] | None:
    """Angles of all seams.

    Parameters
    ----------
    places : n × 3, sheet units
    folded : seams that paper is folded along; along others it is plane
    asked : seam -> angle that it is to have, if that is possible
    ways : seam -> by its sign which side is inside where it is shut
    """
    normals = [normal(places[list(ring)]) for ring in pieces.rings]
    now = [
        turned_by(normals[s.left], normals[s.right], places[s.start], places[s.end])
        if s.right >= 0
        else 0.0
        for s in pieces.seams
    ]
    among = set(folded)
    bent = (abs(a) for k, a in enumerate(now) if k not in among)
    if max(bent, default=0.0) > PLANE:
        return None
    angles = np.zeros(len(now))
    for k in folded:
        flat = pieces.seams[k].angle
        shut = math.pi - abs(now[k]) < _SHUT
        angles[k] = math.copysign(math.pi, flat or ways.get(k) or now[k]) if shut else now[k]
    free = [k for k in folded if abs(angles[k]) < math.pi]
    for wanted in (asked, {}):
        found = _solved(pieces, angles, free, {k: a for k, a in wanted.items() if k in set(free)})
        if found is not None:
            return found
    return None


def closed_near(
    pieces: Pieces, angles: Array, free: Sequence[int], far: float
) -> list[float] | None:
    """Angles of all seams with which all closes: those of `free` seams corrected by at most `far` (radians),
    the others as they are; None where there are none."""
    return _solved(pieces, angles, free, {}, far)


def folded_back(
    pieces: Pieces, angles: Sequence[float], still: int, asked: Collection[int]
) -> list[float]:
    """The angles with flaps that nobody was asked to move folded as they are in the flat state.

    A flap hangs on what stays by folds of one line; while other paper moved, it may have swung.
    """
    best = list(angles)
    for line in _lines(pieces):
        swung = [k for k in line if abs(best[k] - pieces.seams[k].angle) > _SHUT]
        if not swung:
            continue
        gone = set(line)
        joined = UnionFind(len(pieces.rings))
        for k, seam in enumerate(pieces.seams):
            if seam.right >= 0 and k not in gone:
                joined.unite(seam.left, seam.right)
        base = joined.find(still)
        flaps = {joined.find(p) for k in swung for p in pieces.seams[k].sides} - {base}
        for flap in sorted(flaps):
            hinge = [k for k in line if flap in map(joined.find, pieces.seams[k].sides)]
            if not any(k in asked for k in hinge):
                there = best.copy()
                for k in hinge:
                    there[k] = pieces.seams[k].angle
                if turned(pieces, there, still)[1] < _CLOSED:
                    best = there
    return best


def laid_flat(
    pieces: Pieces, angles: Sequence[float], folded: Sequence[int], asked: Mapping[int, float]
) -> list[float]:
    """The angles with creases that lay flat and have hardly given way flat again, where all closes so."""
    flat = [k for k in folded if not pieces.seams[k].angle and k not in asked and angles[k]]
    for most in _SLACK:
        slack = {k for k in flat if abs(angles[k]) < most}
        if not slack:
            break
        there = np.array(angles)
        there[sorted(slack)] = 0.0
        free = [k for k in folded if k not in slack and abs(angles[k]) < math.pi]
        held = {k: a for k, a in asked.items() if k in set(free)}
        found = _solved(pieces, there, free, held, most)
        if found is not None:
            return found
    return list(angles)


def _lines(pieces: Pieces) -> list[list[int]]:
    """The folds of the flat state, those on one line of the folded plane together."""
    return pieces.by_line(k for k, seam in enumerate(pieces.seams) if seam.kind is Line.FOLD)


def _solved(
    pieces: Pieces,
    start: Array,
    free: Sequence[int],
    asked: Mapping[int, float],
    far: float = _FAR,
) -> list[float] | None:
    corners = _corners(pieces, {*free, *(int(k) for k in np.flatnonzero(start))})
    number = {k: n for n, k in enumerate(free)}
    angles = start.copy()
    best, least = None, np.inf
    for _ in range(_ROUNDS):
        misfit: list[Array] = []
        slope = np.zeros((9 * len(corners) + len(asked), len(free)))
        for n, (seams, ways) in enumerate(corners):
            turn, by = _turn(ways, angles[seams])
            misfit.append((turn - np.eye(3)).ravel())
            for k, change in zip(seams, by, strict=True):
                if k in number:
                    slope[9 * n : 9 * n + 9, number[k]] += change.ravel()
        for n, (k, angle) in enumerate(sorted(asked.items())):
            misfit.append(np.array([angles[k] - angle]))
            slope[9 * len(corners) + n, number[k]] = 1.0
        off = np.concatenate(misfit) if misfit else np.zeros(0)
        worst = float(np.abs(off).max(initial=0.0))
        if worst < least:
            best, least = angles.copy(), worst
        if worst < _NOTHING or worst > 1.0 or not len(free):
            break
        angles[list(free)] -= np.linalg.lstsq(slope, off, rcond=1e-9)[0]
    if best is None or least > 1e-12 or np.abs(best - start).max(initial=0.0) > far:
        return None
    return [float(a) for a in best]


def _corners(pieces: Pieces, folded: set[int]) -> list[tuple[list[int], Array]]:
    """For each inner corner where folds meet: their seams counter-clockwise, and their ways out from it."""
    rim = pieces.rim
    around: dict[int, list[tuple[float, int, Array]]] = defaultdict(list)
    for k in sorted(folded):
        seam = pieces.seams[k]
        for here, there in ((seam.start, seam.end), (seam.end, seam.start)):
            if here not in rim:
                x, y = pieces.points[there] - pieces.points[here]
                around[here].append((math.atan2(y, x), k, np.array([x, y, 0.0])))
    found: list[tuple[list[int], Array]] = []
    for _, rays in sorted(around.items()):
        rays.sort(key=lambda ray: ray[0])
        found.append(([k for _, k, _ in rays], np.array([way for _, _, way in rays])))
    return found


def _turn(ways: Array, angles: Array) -> tuple[Array, list[Array]]:
    """All turns one after the other, and how that changes with each angle."""
    turns = [rotation(way, float(a)) for way, a in zip(ways, angles, strict=True)]
    before = [np.eye(3)]
    for turn in turns:
        before.append(before[-1] @ turn)
    after = [np.eye(3)]
    for turn in reversed(turns):
        after.append(turn @ after[-1])
    after.reverse()
    by: list[Array] = []
    for k, way in enumerate(ways):
        x, y, z = way / np.sqrt((way * way).sum())
        across = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
        by.append(before[k] @ across @ after[k])
    return before[-1], by
