"""Signs that belong to points: what the fingers, the eye or the breath do there.

In: a `Request` that names points. Out: an `Outcome` whose paper is as it was, with a sign at each
point. Those that leave the plane say why in `Outcome.solid`; the state stays the last flat one.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from ...geometry.lines import Point, Segment, midpoint
from ...geometry.tolerance import same_point
from ...languages.wording import Phrase
from ...paper.signs import PointSign
from ...source.diagnostics import Refusal
from .called import all_of
from .request import Clause, LineValue, Outcome, PointValue, Request, Solid

OPEN_OUT = "open-out"


def landmark(at: Point) -> PointSign:
    """A point that a fold is to meet."""
    return PointSign("landmark", at)


def pushed(at: Point, toward: Point) -> PointSign:
    """Where a finger presses, and which way."""
    return PointSign("push", at, toward)


def opening_out(at: Point, toward: Point | None = None, opens: Segment | None = None) -> PointSign:
    """Where layers part; `opens` is the edge that opens there."""
    return PointSign(OPEN_OUT, at, toward, opens=opens)


def places(request: Request, *words: str) -> list[PointValue | LineValue]:
    """Everything named after these words, and after an `and` that follows them.

    Raises Refusal when nothing is named, or something that is neither a point nor a line.
    """
    found: list[PointValue | LineValue] = []
    taking = False
    for clause in request.clauses:
        taking = clause.word in words or (taking and clause.word == "and")
        if not taking:
            continue
        for value in clause.values:
            if isinstance(value, LineValue) and value.segment is None:
                raise _where(request, clause)
            if not isinstance(value, PointValue | LineValue):
                raise _where(request, clause)
            found.append(value)
    if not found:
        raise _where(request, None)
    return found


def _where(request: Request, clause: Clause | None) -> Refusal:
    return Refusal(
        "sign-where",
        f"say where to {request.verb}",
        *(f"write it like: {form}" for form in request.forms),
        span=clause.span if clause is not None else request.span,
    )


def spot_of(place: PointValue | LineValue) -> Point:
    """Where the sign stands: at the point, or at the middle of the part of the line that is meant."""
    if isinstance(place, PointValue):
        return place.at
    assert place.segment is not None
    return midpoint(*place.segment)


def listed(found: list[PointValue | LineValue]) -> Phrase:
    """'corner A, corner B and corner C'."""
    return all_of([value.words for value in found])


def signed(
    request: Request,
    kind: str,
    found: list[PointValue | LineValue],
    wording: Phrase,
    *,
    leads: Callable[[Point], Point | None] = lambda spot: None,
    solid: Solid | None = None,
    caution: Phrase | None = None,
) -> Outcome:
    """The paper as it lies, with a sign at each place, counted where several points lie together.

    `leads` gives where the sign at a place leads to.
    """
    letters = tuple(
        (p.letter, p.at) for p in found if isinstance(p, PointValue) and p.letter
    ) + tuple(pair for p in found if isinstance(p, LineValue) for pair in p.letters)
    return Outcome(
        request.state,
        tuple(_counted(kind, [spot_of(p) for p in found], leads)),
        wording,
        letters=letters,
        solid=solid,
        caution=caution,
    )


def _counted(
    kind: str, spots: list[Point], leads: Callable[[Point], Point | None]
) -> list[PointSign]:
    out: list[PointSign] = []
    for spot in spots:
        k = next((k for k, s in enumerate(out) if same_point(s.at, spot)), None)
        if k is None:
            out.append(PointSign(kind, spot, leads(spot)))
        else:
            out[k] = replace(out[k], count=out[k].count + 1)
    return out
