"""What a move changes: two flat states of one sheet laid over each other.

In: the paper before a move and after it. Out: a `Change`: the sheet cut into pieces, each in one facet of
both states, with the places and the way of every piece and the angles of the lines between them. None where
nothing can be told so: sheets that are put together, paper that is cut.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from ..geometry import polygons
from ..geometry.isometries import IDENTITY, Isometry, compose, inverse, nearly_same
from ..geometry.lines import Segment
from ..paper.state import State
from ..source.diagnostics import Refusal
from .crossing import triangles
from .pieces import Array, Pieces, cut_up

#: Less of the sheet than this is little.
_LEAST_PART = 0.05


@dataclass(frozen=True)
class Change:
    """What a move changes.

    Attributes
    ----------
    pieces : pieces of the sheet, each in one facet of both states; its state is the one after the move
    before : the state before it; `earlier` the facet there of every piece
    start, end : places of all points, n × 2 (sheet units)
    was, will : angle of every seam before and after
    carried : how the whole model is carried over the table meanwhile; not at all, where some of it stays
    motions : how each piece is carried besides; `still` whether it is not
    """

    pieces: Pieces
    before: State
    earlier: tuple[int, ...]
    start: Array
    end: Array
    was: Array
    will: Array
    carried: Isometry
    motions: tuple[Isometry, ...]
    still: tuple[bool, ...]

    @property
    def whole(self) -> bool:
        """Whether all of the model moves, and nothing of it stays where it lay."""
        return not nearly_same(self.carried, IDENTITY)

    @cached_property
    def landing(self) -> Array:
        """Where all points lie afterwards, n × 2 (sheet units), seen from what is still."""
        back = inverse(self.carried)
        return np.array([back((float(x), float(y))) for x, y in self.end])

    @cached_property
    def turning(self) -> NDArray[np.bool_]:
        """Which seams change."""
        return np.abs(self.was - self.will) > 0.1

    @cached_property
    def flipped(self) -> NDArray[np.bool_]:
        """Which folds turn to their other side."""
        return np.abs(self.was - self.will) > 5

    @cached_property
    def moving_points(self) -> list[int]:
        """Points of pieces that move."""
        rings = zip(self.pieces.rings, self.still, strict=True)
        return sorted({v for ring, still in rings if not still for v in ring})

    @property
    def deserves(self) -> bool:
        """Whether paper has to leave the plane in more than one turn: a crease between two pieces that move
        in different ways changes, or a fold turns to its other side. Folds that are all parallel, a pleat's,
        are made one after the other and need no figure."""
        if all(self.still) or not any(self.still) or not self.turning.any() or self._parallel:
            return False
        if bool(self.flipped.any()):
            return True
        return any(
            turns
            and not self.still[seam.left]
            and not self.still[seam.right]
            and not nearly_same(self.motions[seam.left], self.motions[seam.right])
            for seam, turns in zip(self.pieces.seams, self.turning, strict=True)
            if seam.right >= 0
        )

    @property
    def small(self) -> bool:
        """Whether so little of the paper moves that a figure would not show it."""
        areas = self.pieces.areas()
        moving = sum(a for a, still in zip(areas, self.still, strict=True) if not still)
        return moving < _LEAST_PART * sum(areas)

    @property
    def _parallel(self) -> bool:
        seams = [s for s, turns in zip(self.pieces.seams, self.turning, strict=True) if turns]
        ways = np.array([self.start[s.end] - self.start[s.start] for s in seams])
        ways /= np.sqrt((ways * ways).sum(axis=1))[:, None]
        return bool((np.abs(ways[:, 0] * ways[0, 1] - ways[:, 1] * ways[0, 0]) < 1e-3).all())

    def faces(self, side: float) -> bool:
        """Whether most of what moves ends above (1) or below (-1) what is still."""
        state, facets = self.pieces.state, self.pieces.facets
        still = {f for f, s in zip(facets, self.still, strict=True) if s}
        total = 0
        for facet in {f for f, s in zip(facets, self.still, strict=True) if not s}:
            for other in still:
                above = state.above(facet, other)
                total += 0 if above is None else (1 if above else -1)
        return total * side >= 0


def changed(before: State, after: State, bends: Sequence[Segment] = ()) -> Change | None:
    """What a move changes; None where the two states cannot be laid over each other.

    Parameters
    ----------
    bends : further lines on the sheet along which paper may turn
    """
    if before.sheet != after.sheet or before.cuts != after.cuts or before.sheet.others:
        return None
    lines: list[Segment] = [s for f in before.facets for s in polygons.edges(f.outline)]
    pieces = cut_up(after, [*lines, *before.creases, *bends])
    earlier = [_facet(before, pieces, k) for k in range(len(pieces.rings))]
    places = [before.facets[f].place for f in earlier]
    motions = [
        compose(after.facets[facet].place, inverse(place))
        for facet, place in zip(pieces.facets, places, strict=True)
    ]
    carried = _carried(pieces, motions)
    motions = [compose(inverse(carried), motion) for motion in motions]
    was = [
        0.0 if s.right < 0 else _angle(before, earlier[s.left], earlier[s.right])
        for s in pieces.seams
    ]
    return Change(
        pieces,
        before,
        tuple(earlier),
        _flat(pieces, places),
        _flat(pieces, [after.facets[f].place for f in pieces.facets]),
        np.array(was),
        np.array([s.angle for s in pieces.seams]),
        carried,
        tuple(motions),
        tuple(nearly_same(m, IDENTITY) for m in motions),
    )


def worth_showing(before: State, after: State) -> Change:
    """What a move changes, where it can be shown half way.

    Raises Refusal, 'stays-flat' where no paper has to leave the plane but in a plain turn.
    """
    change = changed(before, after)
    if change is None:
        why = "paper that is cut, or lies in several sheets, is not shown half way"
        raise Refusal("stays-flat", why)
    if not change.deserves:
        raise Refusal("stays-flat", "no paper leaves the plane here but in a plain turn")
    return change


def in_triangles(change: Change) -> Change | None:
    """The same with every piece cut into triangles; None where that does not go."""
    pieces = change.pieces
    diagonals: list[Segment] = []
    for ring in pieces.rings:
        for t in triangles(ring, pieces.points) if len(ring) > 3 else ():
            for a, b in zip(t, (*t[1:], t[0]), strict=True):
                (ax, ay), (bx, by) = pieces.points[a], pieces.points[b]
                diagonals.append(((float(ax), float(ay)), (float(bx), float(by))))
    fine = changed(change.before, pieces.state, diagonals)
    return fine if fine and all(len(r) == 3 for r in fine.pieces.rings) else None


def _carried(pieces: Pieces, motions: Sequence[Isometry]) -> Isometry:
    """How the model is carried as a whole: as that part of it, not turned over, which most others turn
    about; where some of it stays, not at all.
    """
    if any(nearly_same(motion, IDENTITY) for motion in motions):
        return IDENTITY
    areas = pieces.areas()
    parts: list[tuple[Isometry, float, int]] = []
    for motion in motions:
        if motion.flips or any(nearly_same(motion, known) for known, _, _ in parts):
            continue
        some = {k for k, other in enumerate(motions) if nearly_same(motion, other)}
        met = sum(1 for s in pieces.seams if s.right >= 0 and (s.left in some) != (s.right in some))
        parts.append((motion, sum(areas[k] for k in some), met))
    most = max(parts, key=lambda part: (part[2], round(part[1], 6)), default=None)
    return IDENTITY if most is None else most[0]


def _facet(state: State, pieces: Pieces, k: int) -> int:
    return state.deepest(polygons.centroid(pieces.polygon(k)))


def _angle(state: State, left: int, right: int) -> float:
    if state.facets[left].shows_front == state.facets[right].shows_front:
        return 0.0
    back, front = (right, left) if state.facets[left].shows_front else (left, right)
    return math.pi if state.above(back, front) else -math.pi


def _flat(pieces: Pieces, places: Sequence[Isometry]) -> Array:
    flat = np.zeros((len(pieces.points), 2))
    for ring, place in zip(pieces.rings, places, strict=True):
        for v in ring:
            flat[v] = place((float(pieces.points[v, 0]), float(pieces.points[v, 1])))
    return flat
