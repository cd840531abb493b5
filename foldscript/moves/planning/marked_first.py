"""Lines that mark a point on each of two layers without a name, to say which of them lies over the other.

In: two pieces of the paper as a move divides it. Out: a hint that writes the marks before the statement. A
place is a part of the way between two that have names, as they lie; its layer is counted there.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import combinations

from ...geometry.lines import Point, between
from ...geometry.polygons import centroid, inside
from ...paper.state import State
from ...source.diagnostics import Hint, Span, write
from .pockets_at import FROM_TOP
from .request import Request

#: Parts of the way between two places, simple ones first; how far inside a place lies, in sheet units.
_PARTS = (*(Fraction(1, n) for n in (2, 3, 4)), Fraction(2, 3), Fraction(3, 4))
_INNER = 0.01
#: Names for what is marked.
_NAMES = ("P", "Q", "R", "S", "T", "U", "V", "W", "X", "Y", "Z", *(f"P{n}" for n in range(1, 99)))


def marked_first(request: Request, fine: State, pieces: Sequence[int]) -> tuple[Hint, ...]:
    """The marks, before the statement; nothing where a piece has no place with words."""
    places = [next(_places(request, fine, piece), "") for piece in pieces]
    if not all(places) or places[0] == places[1]:
        return ()
    names = [name for name in _NAMES if name not in request.points][:2]
    marks = [f"mark {name} at {place}" for name, place in zip(names, places, strict=True)]
    start = Span(request.span.start, request.span.start)
    told = " and ".join(f"'{mark}'" for mark in marks)
    over = " over ".join(names)
    hint = (
        f"write before this, each in a line, {told}, and add 'with {over}', or the other way round"
    )
    return (write(start, "".join(f"{mark}\n  " for mark in marks), hint),)


def _places(request: Request, fine: State, piece: int) -> Iterator[str]:
    """Words for a place inside this piece, on a line between two that have words, and its layer there."""
    ring = fine.placed[piece]
    state = request.state
    spots = {words: at for at in ring if (words := request.words_at(at))}
    spots |= {name: state.where(at) for name, at in request.points.items()}
    for part in _PARTS:
        for (u, a), (v, b) in combinations(spots.items(), 2):
            at = between(a, b, part.numerator / part.denominator)
            if inside(ring, at, -_INNER):
                yield from _counted(request, fine, piece, at, f"{part} of line {u} {v}")


def _counted(request: Request, fine: State, piece: int, at: Point, words: str) -> Iterator[str]:
    state = request.state
    (own,) = state.facets_on_sheet(centroid(fine.facets[piece].outline))[:1]
    plates = list(dict.fromkeys(state.plate_of[i] for i in state.facets_at(at)))
    if state.plate_of[own] not in plates:
        return
    k = plates.index(state.plate_of[own])
    if k < len(FROM_TOP):
        yield f"{FROM_TOP[k]} at {words}"
    elif k == len(plates) - 1:
        yield f"bottom layer at {words}"
