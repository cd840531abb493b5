"""Whether a pose is one that this sheet of paper can have: measured on the finished points alone.

In: points on the sheet and in space, the pieces, what the flat state knows of layers, goals. Out: a
`Proof`. Nothing here is shared with what found the pose: no angle, length or closeness is taken from there.
Each check finds what the others cannot: a stretched sheet crosses nothing and meets every goal; right
lengths do not stop paper from passing through paper; whole layers can change places without an edge that
crosses; a model that springs back flat passes all of these but the goals.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from graphlib import CycleError, TopologicalSorter
from itertools import combinations

import numpy as np
import shapely
from numpy.typing import NDArray

from .crossing import deepest
from .pose import Amiss, Edge, Fault, Line, Piece, Proof, Reached, Touching
from .saying import millimetres, plain, stretched

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Limits:
    """What is let pass.

    Attributes
    ----------
    stretch : share of a length
    apart : mm that a corner may lie off the plane of its piece, or off its place in another
    crossing : mm that paper may be inside paper
    swapped : mm that a layer may lie on the wrong side of its neighbour
    uneven : mm that a pose may be off its image where paper and goals are alike
    bend : degrees that paper may be bent by where it has no crease; more crumples it
    """

    stretch: float
    apart: float
    crossing: float
    swapped: float
    uneven: float
    bend: float = 180.0


#: Finished models of plane pieces.
RIGID = Limits(1e-12, 1e-8, 0.05, 0.1, 0.05)
#: Finished models with rolled paper: its strips are so narrow that the last digit of a place is more of them.
ROLLED = Limits(1e-10, 1e-8, 0.05, 0.1, 0.05)
#: Finished models whose paper bends.
BENT = Limits(1e-4, 0.01, 0.05, 0.1, 0.05, 60.0)
#: Figures of a step half way.
HALFWAY = Limits(5e-3, 0.5, 0.3, 0.3, 0.3)

#: Radians that a fold may be past closing, or past flat, by rounding.
_PAST = 0.02
#: Layers farther apart (mm) are no neighbours any more.
_NEAR = 2.0
#: Heights (mm) that count as none, and how far from the rim of what layers share they are looked at.
_LEVEL, _RIM = 1e-3, 0.1
#: Square millimetres that pieces have in common where they lie at one place.
_COMMON = 0.01
#: Places (mm) nearer than this are one where outlines are laid over each other.
_GRID = 1e-6


def prove(
    sheet: Array,
    space: Array,
    pieces: Sequence[Piece],
    edges: Sequence[Edge],
    over: Sequence[tuple[int, int, bool, bool]],
    senses: Sequence[int],
    reached: Sequence[Reached],
    uneven: float,
    limits: Limits,
    meant: Collection[int] = (),
) -> Proof:
    """Measures a pose.

    Parameters
    ----------
    sheet, space : n × 2 and n × 3, mm
    over : (one, other, on front, alike): layers that overlap in the flat state, the other on the one's front
        or back, and whether both show the same side there
    senses : for every edge 1 (front inside), -1 or 0 as it is folded in the flat state
    uneven : mm that the pose is off its own image (`evenness.py`)
    meant : numbers of edges that paper is meant to break along, though they are no creases
    """
    stretch, longer, over_length = 0.0, 0.0, 1.0
    bent = 0.0
    for piece in pieces:
        ring = list(piece.corners)
        a, b = sheet[ring], space[ring]
        for i, j in combinations(range(len(ring)), 2):
            was, now = math.dist(a[i], a[j]), math.dist(b[i], b[j])
            if abs(now - was) > stretch * was:
                longer, over_length = abs(now - was), was
                stretch = longer / was
        bent = max(bent, _off_plane(b))
    gap = _misfit(sheet, space, pieces)
    crossing = deepest(space, [p.corners for p in pieces], sheet)
    swapped = _swapped(space, pieces, over)
    bend = max(
        (
            math.degrees(abs(edge.angle))
            for k, edge in enumerate(edges)
            if edge.kind is Line.BEND and k not in meant
        ),
        default=0.0,
    )
    turned = tuple(
        k
        for k, (edge, sense) in enumerate(zip(edges, senses, strict=True))
        if sense
        and edge.kind is not Line.RIM
        and edge.angle * sense < -_PAST
        and math.pi - abs(edge.angle) > _PAST
    )
    checked = (
        (stretch > limits.stretch, Amiss.STRETCHED, stretched(longer, over_length)),
        (gap > limits.apart, Amiss.GAPES, f"pieces gape by {millimetres(gap)}"),
        (bent > limits.apart, Amiss.BENT, f"a piece is bent by {millimetres(bent)}"),
        (
            crossing > limits.crossing,
            Amiss.THROUGH,
            f"paper passes {millimetres(crossing)} through paper",
        ),
        (
            swapped > limits.swapped,
            Amiss.SWAPPED,
            f"layers change places by {millimetres(swapped)}",
        ),
        (bend > limits.bend, Amiss.CRUMPLED, f"paper is bent by {bend:.0f} degrees, and crumples"),
        (
            uneven > limits.uneven,
            Amiss.UNEVEN,
            f"it stands unevenly by {millimetres(uneven)}, though paper and words are alike on all sides",
        ),
        (bool(turned), Amiss.TURNED, _turned(len(turned))),
    )
    faults = [Fault(kind, text) for wrong, kind, text in checked if wrong]
    faults += [missed(r) for r in reached if not r.enough]
    return Proof(
        stretch,
        bent,
        gap,
        crossing,
        swapped,
        bend,
        uneven,
        False,
        len(turned),
        tuple(reached),
        tuple(faults),
        turned=turned,
    )


def _turned(count: int) -> str:
    return (
        "1 fold turns to its other side"
        if count == 1
        else f"{count} folds turn to their other side"
    )


def lying(
    proof: Proof, space: Array, pieces: Sequence[Piece], touching: Sequence[Touching], unsure: int
) -> Proof:
    """The proof, with what it finds of pieces that lie flat together; of so many pairs nothing tells which
    is on which side.
    """
    if unsure:
        said = "it cannot be told which of the layers that come together is on top"
        return replace(proof, faults=(*proof.faults, Fault(Amiss.UNSURE, said)))
    if not _tangled(space, pieces, touching):
        return proof
    said = "layers lie round about over each other"
    return replace(proof, tangled=True, faults=(*proof.faults, Fault(Amiss.TANGLED, said)))


def missed(reached: Reached) -> Fault:
    """What is said of a goal that was not reached."""
    got, asked = plain(reached.got, 4), plain(reached.asked, 4)
    said = f"{reached.goal}: {got} {reached.unit} instead of {asked} {reached.unit}"
    return Fault(Amiss.MISSED, said)


def fold_angle(
    space: Array, left: Sequence[int], right: Sequence[int], edge: tuple[int, int]
) -> float:
    """Radians by which two pieces are folded about their common edge: positive where the fronts face each
    other.

    Measured from the planes of the pieces and the way across the left one; from -π to π.
    """
    return turned_by(normal(space[list(left)]), normal(space[list(right)]), *space[list(edge)])


def turned_by(n1: Array, n2: Array, start: Array, end: Array) -> float:
    """Radians by which planes with these normals are folded about the line from start to end, where the first
    lies to the left of it."""
    ax, ay, az = (float(v) for v in n1)
    bx, by, bz = (float(v) for v in n2)
    x, y, z = (float(v) for v in end - start)
    size = max(math.sqrt(x * x + y * y + z * z), 1e-300)
    across = x * (by * az - bz * ay) + y * (bz * ax - bx * az) + z * (bx * ay - by * ax)
    return math.atan2(across / size, ax * bx + ay * by + az * bz)


def normal(ring: Array) -> Array:
    """Unit normal of a polygon in space, on the side from which it runs counter-clockwise (M. Newell's
    sum).
    """
    x = y = z = 0.0
    rows = ring.tolist()
    for (px, py, pz), (qx, qy, qz) in zip(rows, [*rows[1:], rows[0]], strict=True):
        x += py * qz - pz * qy
        y += pz * qx - px * qz
        z += px * qy - py * qx
    return np.array([x, y, z]) / max(math.sqrt(x * x + y * y + z * z), 1e-300)


def _misfit(sheet: Array, space: Array, pieces: Sequence[Piece]) -> float:
    """How far corners lie from where the best rigid motion of their piece takes them.

    Source: W. Kabsch, A solution for the best rotation to relate two sets of vectors (1976).
    """
    by_size: dict[int, list[tuple[int, ...]]] = {}
    for piece in pieces:
        by_size.setdefault(len(piece.corners), []).append(piece.corners)
    worst = 0.0
    for some in by_size.values():
        rings = np.array(some)
        flat, solid = sheet[rings], space[rings]
        a = np.zeros((*rings.shape, 3))
        a[..., :2] = flat - flat.mean(axis=1, keepdims=True)
        b = solid - solid.mean(axis=1, keepdims=True)
        u, _, vt = np.linalg.svd(a.transpose(0, 2, 1) @ b)
        u[:, :, 2] *= np.sign(np.linalg.det(u @ vt))[:, None]
        off = a @ (u @ vt) - b
        worst = max(worst, float(np.sqrt((off * off).sum(axis=2)).max()))
    return worst


def _off_plane(ring: Array) -> float:
    if len(ring) == 3:
        return 0.0
    middle = ring - ring.mean(axis=0)
    return float(np.abs(middle @ np.linalg.svd(middle)[2][2]).max())


def _swapped(
    space: Array, pieces: Sequence[Piece], over: Sequence[tuple[int, int, bool, bool]]
) -> float:
    """Deepest that a layer lies on the wrong side of one that it is still close to, anywhere over it.

    One that has been turned over beside the other since, as a page under a board, shows it its other side.
    """
    if not over:
        return 0.0
    worst = 0.0
    rings = [space[list(p.corners)] for p in pieces]
    normals = np.array([normal(r) for r in rings])
    middles = np.array([r.mean(axis=0) for r in rings])
    one, other = (np.array([pair[k] for pair in over]) for k in (0, 1))
    up = normals[one] * np.where([pair[2] for pair in over], 1.0, -1.0)[:, None]
    alike = (normals[one] * normals[other]).sum(axis=1) * np.where([p[3] for p in over], 1.0, -1.0)
    far = np.array(
        [
            float(np.sqrt(((r - m) ** 2).sum(axis=1).max()))
            for r, m in zip(rings, middles, strict=True)
        ]
    )
    high = ((middles[other] - middles[one]) * up).sum(axis=1)
    below: list[tuple[int, int, Array]] = []
    for k in np.flatnonzero((alike >= 0.9) & (high < far[other])):
        i, j, n = int(one[k]), int(other[k]), up[k]
        if float(((rings[j] - middles[i]) @ n).min()) < -_LEVEL:
            below.append((i, j, n))
    if not below:
        return 0.0
    grounds = [_ground(rings[i], rings[j], n) for i, j, n in below]
    common = shapely.intersection(
        [shapely.Polygon(a) for a, _, _ in grounds],
        [shapely.Polygon(b) for _, b, _ in grounds],
        grid_size=_GRID,
    )
    spots, row = shapely.get_coordinates(shapely.buffer(common, -_RIM), return_index=True)
    for spot, k in zip(spots, row, strict=True):
        i, j, n = below[k]
        axes, m = grounds[k][2], normals[j]
        foot = middles[i] + spot @ axes
        height = float((middles[j] - foot) @ m) / float(n @ m)
        if -_NEAR < height < -worst:
            worst = -height
    return worst


def _ground(one: Array, other: Array, n: Array) -> tuple[Array, Array, Array]:
    """Two rings seen along a normal, from the middle of the first: both m × 2, and the two axes."""
    u = one[1] - one[0]
    u = u - n * float(u @ n)
    u = u / np.sqrt(u @ u)
    axes: Array = np.array([u, np.cross(n, u)], dtype=np.float64)
    middle = one.mean(axis=0)
    return (one - middle) @ axes.T, (other - middle) @ axes.T, axes


def _tangled(space: Array, pieces: Sequence[Piece], touching: Sequence[Touching]) -> bool:
    """Whether pieces that lie together cannot lie in any order at one place: each on the next, and the last
    on the first. Round about such a place they may: so paper is woven.
    """
    below: dict[int, set[int]] = {}
    for pair in touching:
        n = normal(space[list(pieces[pair.one].corners)])
        upward = (n[int(np.argmax(np.abs(n)))] > 0) == pair.on_front
        low, high = (pair.one, pair.other) if upward else (pair.other, pair.one)
        below.setdefault(high, set()).add(low)
    try:
        TopologicalSorter(below).prepare()
    except CycleError:
        pass
    else:
        return False
    # Pieces at one place lie on each other pair by pair: where that goes round, three of them do.
    rings = ((a, b, c) for a, lows in below.items() for b in lows for c in below.get(b, set()))
    return any(
        a == c or (a in below.get(c, set()) and _together(space, [pieces[k] for k in (a, b, c)]))
        for a, b, c in rings
    )


def _together(space: Array, some: Sequence[Piece]) -> bool:
    """Whether pieces in one plane have a place in common."""
    n = normal(space[list(some[0].corners)])
    flat = [k for k in range(3) if k != int(np.argmax(np.abs(n)))]
    shapes = [shapely.Polygon(space[list(piece.corners)][:, flat]) for piece in some]
    return bool(shapely.area(shapely.intersection_all(shapes)) > _COMMON)
