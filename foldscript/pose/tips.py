"""Tips that other paper has bent: they come to lie on it.

In: pieces, where they are, the angles of all seams. Out: angles with which such tips lie in the plane that
was in their way. A flap that is folded over a wall is turned up by the floor where it is creased. Nothing
holds its tip above the floor: the crease opens again until it lies there.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence

import numpy as np

from ..paper.union_find import UnionFind
from .pieces import Array, Pieces
from .pose import Line
from .proof import normal

#: Radians that paper has bent a tip by, at least; how far it may have to go back, at most.
_BENT, _BACK = math.radians(10), math.radians(45)
#: Radians that are none; sheet units that a crease may be off a plane.
_NONE, _ON_PLANE = 1e-6, 1e-6


def come_down(
    pieces: Pieces, places: Array, angles: Sequence[float], still: int, asked: Collection[int]
) -> list[float]:
    """The angles with every bent tip turned back until it lies in a plane of other paper that its crease lies
    in; those of seams that are `asked`, and of tips beyond which one is, stay.

    Parameters
    ----------
    places : n × 3, sheet units
    """
    laid = list(angles)
    for line in _creases(pieces, asked):
        bent = [k for k in line if _BENT < abs(angles[k]) < math.pi - _NONE]
        if not bent:
            continue
        part = _parts(pieces, line)
        home = part[still]
        for tip in sorted({part[s] for k in bent for s in pieces.seams[k].sides} - {home}):
            hinge = [k for k in line if tip in [part[s] for s in pieces.seams[k].sides]]
            own = [n for n, number in enumerate(part) if number == tip]
            if not set(hinge) <= set(bent) or _beyond(pieces, own, hinge, angles, asked):
                continue
            back = _back(pieces, places, own, hinge, angles)
            if back:
                for k in hinge:
                    laid[k] = math.copysign(abs(angles[k]) - back, angles[k])
    return laid


def _creases(pieces: Pieces, asked: Collection[int]) -> list[list[int]]:
    """Creases that nobody named, those on one line of the folded plane together."""
    return pieces.by_line(
        k
        for k, seam in enumerate(pieces.seams)
        if seam.kind is Line.CREASE and seam.right >= 0 and k not in asked
    )


def _parts(pieces: Pieces, line: Collection[int]) -> list[int]:
    """For each piece a number of the part that it is in when these seams are taken away."""
    joined = UnionFind(len(pieces.rings))
    for k, seam in enumerate(pieces.seams):
        if seam.right >= 0 and k not in line:
            joined.unite(seam.left, seam.right)
    return [joined.find(k) for k in range(len(pieces.rings))]


def _beyond(
    pieces: Pieces,
    own: Collection[int],
    hinge: Collection[int],
    angles: Sequence[float],
    asked: Collection[int],
) -> bool:
    """Whether a tip is more than a plane one: paper in it is bent or raised."""
    inner = (
        k
        for k, seam in enumerate(pieces.seams)
        if seam.right >= 0 and k not in hinge and {seam.left, seam.right} & set(own)
    )
    return any(k in asked or abs(angles[k]) > _NONE for k in inner)


def _back(
    pieces: Pieces,
    places: Array,
    own: Collection[int],
    hinge: Sequence[int],
    angles: Sequence[float],
) -> float:
    """Radians by which a tip turns back to lie in the first plane; 0 where there is none near."""
    first = pieces.seams[hinge[0]]
    ends = sorted({v for k in hinge for v in (pieces.seams[k].start, pieces.seams[k].end)})
    tip = first.left if first.left in own else first.right
    sense = math.copysign(1.0, angles[hinge[0]]) * (1.0 if tip == first.left else -1.0)
    axis = places[first.end] - places[first.start]
    away = normal(places[list(pieces.rings[tip])])
    found: list[float] = []
    for n, ring in enumerate(pieces.rings):
        if n in own:
            continue
        plane = normal(places[list(ring)])
        off = (places[ends] - places[ring[0]]) @ plane
        if float(np.abs(off).max()) > _ON_PLANE:
            continue
        along = axis / np.sqrt(axis @ axis)
        cos, sin = float(away @ plane), float(np.cross(away, plane) @ along)
        turn = (-sense * math.atan2(sin, cos)) % math.pi
        if _NONE < turn < min(_BACK, abs(angles[hinge[0]])):
            found.append(turn)
    return min(found, default=0.0)
