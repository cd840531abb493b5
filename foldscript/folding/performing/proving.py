"""What was said is what was folded: the claims of a move checked on the paper after it.

In: the paper before and after, and the claims. Out: nothing, or `ClaimBroken`: the fault is foldscript's, and
no such paper is drawn. The check compares where every piece of the sheet lay and lies; it knows nothing of
how moves are planned.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import product

from ...geometry.cover import cells
from ...geometry.isometries import Isometry, compose, inverse
from ...geometry.lines import Line, Point, distance, mirrored, signed_distance, total_length
from ...geometry.polygons import (
    Polygon,
    area,
    bounds,
    clip_segment,
    counter_clockwise,
    inside,
    intersection,
    split,
)
from ...moves.planning.claims import (
    Carried,
    Claim,
    CutOff,
    Flat,
    Folds,
    Lands,
    LiesAs,
    LiesOver,
    Moves,
    NothingMoves,
    OnlyBeyond,
    Onto,
    Reaches,
    Stays,
    Thickest,
    Together,
)
from ...paper.components import component
from ...paper.seams import remainder
from ...paper.state import State

#: Places that agree within this show a claim (sheet units): thousandths of a millimetre on usual paper.
SLACK = 1e-5


class ClaimBroken(Exception):
    """A move has not done what its sentence says."""


@dataclass(frozen=True)
class Piece:
    """A piece of the sheet with where it lay and where it lies."""

    outline: Polygon
    before: Isometry
    after: Isometry
    facet: int

    @cached_property
    def moves(self) -> bool:
        """Whether it has come to lie elsewhere."""
        return any(distance(self.before(p), self.after(p)) > SLACK for p in self.outline)


@dataclass(frozen=True)
class Change:
    """What has become of the paper."""

    before: State
    after: State

    @cached_property
    def pieces(self) -> tuple[Piece, ...]:
        """The sheet in pieces that lay flat, and lie flat."""
        return tuple(_pieces(self.before, self.after))

    @cached_property
    def moved(self) -> tuple[Piece, ...]:
        """Those that have come to lie elsewhere."""
        return tuple(piece for piece in self.pieces if piece.moves)


def prove(verb: str, before: State, after: State, claims: Iterable[Claim]) -> None:
    """Raises ClaimBroken where the paper does not show a claim of the move."""
    change = Change(before, after)
    for claim in claims:
        if not _shown(change, claim):
            raise ClaimBroken(f"'{verb}' has not done what it says: {claim!r}"[:400])


def _shown(change: Change, claim: Claim) -> bool:
    """Whether the paper shows a claim."""
    after = change.after
    match claim:
        case Lands(places, at, within):
            return not places or any(
                distance(q, at) <= SLACK + within for p in places for q in _lies(after, p)
            )
        case Reaches(places, line, within):
            return not places or any(_on(line, q, within) for p in places for q in _lies(after, p))
        case Together(one, other):
            ends = ([q for p in places for q in _lies(after, p)] for places in (one, other))
            met = [distance(p, q) <= SLACK for p, q in product(*ends)]
            return not met or any(met)
        case Moves(places):
            return not places or any(True in _moving(change, p) for p in places)
        case Stays(places, within):
            return all(False in _moving(change, p, within) for p in places)
        case Folds(segments):
            folds = [joint.segment for joint in after.joints if joint.folded]
            return not remainder(segments, folds)
        case Flat(segments):
            folds = [joint.segment for joint in after.joints if joint.folded]
            return total_length(segments) - total_length(remainder(segments, folds)) <= SLACK
        case NothingMoves():
            return not change.moved
        case CutOff(gone, left):
            there = after.facets_on_sheet
            return (
                not any(map(there, gone))
                and all(map(there, left))
                and len(component(after, [0], [])) == len(after.facets)
            )
        case Onto():
            return _comes_onto(change, claim)
        case OnlyBeyond():
            return bool(change.moved) and all(_beyond(piece, claim) for piece in change.moved)
        case LiesOver(upper, lower, somewhere):
            orders = _orders(after, upper, lower)
            return True in orders and (somewhere or False not in orders)
        case Thickest(layers):
            return _thickest(change) == layers
        case Carried(motion):
            return _agrees(change.pieces, lambda piece, p: motion(piece.before(p)))
        case LiesAs(earlier, motion):
            return _agrees(_pieces(earlier, after), lambda piece, p: motion(piece.before(p)))


def _agrees(pieces: Iterable[Piece], place: Callable[[Piece, Point], Point]) -> bool:
    """Whether every corner of every piece lies where `place` says."""
    return all(
        distance(piece.after(p), place(piece, p)) <= SLACK
        for piece in pieces
        for p in piece.outline
    )


def _orders(state: State, upper: Iterable[Point], lower: Iterable[Point]) -> set[bool | None]:
    """How the layers at some places of the sheet lie to those at others: True where they lie over them."""
    one, other = (
        {i for p in places for i in state.facets_on_sheet(p)} for places in (upper, lower)
    )
    return {state.above(i, k) for i in one - other for k in other - one}


def _lies(state: State, p: Point) -> list[Point]:
    """Where a place of the sheet lies; on a cut, where each side of it does."""
    return [state.facets[i].place(p) for i in state.facets_on_sheet(p)] or [state.where(p)]


def _moving(change: Change, p: Point, within: float = 0.0) -> list[bool]:
    """Whether a place of the sheet comes to lie elsewhere; on a cut, whether each side of it does."""
    held = [piece for piece in change.pieces if inside(piece.outline, p, SLACK)]
    return [distance(piece.before(p), piece.after(p)) > SLACK + within for piece in held]


def _on(line: Line, p: Point, within: float = 0.0) -> bool:
    return abs(signed_distance(line, p)) <= SLACK + within


def _beyond(piece: Piece, claim: OnlyBeyond) -> bool:
    """Whether all of a piece that moves lay left of a line and, where that is claimed, is mirrored in it."""
    parts = [counter_clockwise(tuple(map(piece.before, piece.outline)))]
    for line in claim.lines:
        parts = [half for part in parts for half in split(part, line) if half]
    motion = compose(piece.after, inverse(piece.before))
    return all(
        any(
            all(signed_distance(line, p) >= -SLACK for p in part)
            and (
                not claim.mirrored
                or all(distance(mirrored(line, p), motion(p)) <= SLACK for p in part)
            )
            for line in claim.lines
        )
        for part in parts
        if area(part) > SLACK * SLACK
    )


def _comes_onto(change: Change, claim: Onto) -> bool:
    parts = [
        (piece, part)
        for segment in claim.segments
        for piece in change.moved
        if (part := clip_segment(piece.outline, segment)) is not None and distance(*part) > SLACK
    ]
    found = [
        all(_on(claim.line, piece.after(p), claim.within) for p in part) for piece, part in parts
    ]
    return not claim.segments or (bool(found) and all(found))


def _thickest(change: Change) -> int:
    """The number of layers that moved together where they were most."""
    plate_of = change.before.plate_of
    placed = [(piece.facet, tuple(map(piece.before, piece.outline))) for piece in change.moved]
    placed = [
        (i, ring[::-1] if change.before.facets[i].place.flips else ring) for i, ring in placed
    ]
    return max(
        (
            len({plate_of[i] for i, ring in placed if inside(ring, spot)})
            for spot, _ in cells(ring for _, ring in placed)
        ),
        default=0,
    )


def _pieces(before: State, after: State) -> Iterator[Piece]:
    """The sheet divided wherever it was folded or is."""
    there = {(f.outline, f.place): i for i, f in enumerate(before.facets)}
    boxes = [bounds(f.outline) for f in before.facets]
    for facet in after.facets:
        same = there.get((facet.outline, facet.place))
        if same is not None:
            yield Piece(facet.outline, facet.place, facet.place, same)
            continue
        x0, y0, x1, y1 = bounds(facet.outline)
        for i, (u0, v0, u1, v1) in enumerate(boxes):
            if u0 >= x1 or u1 <= x0 or v0 >= y1 or v1 <= y0:
                continue
            common = intersection(facet.outline, before.facets[i].outline)
            if common:
                yield Piece(common, before.facets[i].place, facet.place, i)
