"""Pleats of equal width, one after the other from an edge: a fan.

In: a `Request` that says into how many equal parts, and which edge moves. Out: the whole figure pleated, all
its layers together, each pleat a fold of the packet over or behind what is still flat.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from ...geometry.lines import Line, Point, Segment, add, flipped, midpoint, scale, signed_distance
from ...geometry.tolerance import EPS
from ...languages.wording import Phrase
from ...paper.flap import Flap, flap, sheet_segments
from ...paper.signs import OPPOSITE, EqualLengths, FoldLine, Sense
from ...paper.state import State
from ...source.diagnostics import Refusal
from ...source.diagnostics import add as add_words
from .claims import Claim, Folds, OnlyBeyond
from .fold_claims import comes_onto
from .request import Clause, LineValue, Quantity, Request
from .single_fold import folded

PARTS = "parts"
#: Narrower pleats than those of so many parts no hand folds at once.
MOST = 64


@dataclass(frozen=True)
class Fan:
    """A figure in equal pleats.

    Attributes
    ----------
    after : the paper afterwards
    lines : the folds on the paper before, from the edge that moves onward
    creases : the same on the sheet
    tail, head : where the middle of that edge goes
    edge : what the edge is called; parts : how many there are; first : which way the first fold goes;
        equal : the parts, along a side
    """

    after: State
    lines: tuple[FoldLine, ...]
    creases: tuple[Segment, ...]
    tail: Point
    head: Point
    edge: Phrase
    letters: tuple[tuple[str, Point], ...]
    parts: int
    first: Sense
    equal: EqualLengths
    claims: tuple[Claim, ...]


def fan(request: Request, parts: Clause) -> Fan:
    """Pleats the whole figure. Raises Refusal."""
    count = _count(parts)
    edge, sense = _words(request)
    state = request.state
    line, width = _across(state, edge)
    folds = [Line(line.nx, line.ny, line.c - width * k / count) for k in range(1, count)]
    first = sense
    now, creases, lines = state, [], []
    for fold in folds:
        moving = _packet(now, fold)
        creases.extend(sheet_segments(now, moving.creases))
        lines.append(FoldLine(sense, _packet(state, fold).creases))
        now = folded(request.amid(now), moving, sense)
        sense = OPPOSITE[sense]
    assert edge.segment is not None
    tail = midpoint(*edge.segment)
    start = edge.segment[0]
    spots = [add(start, scale((line.nx, line.ny), -width * k / count)) for k in range(count + 1)]
    at = 2 * (count // 2)  # over and back again: it lands on every second line
    goal = Line(line.nx, line.ny, line.c - width * at / count)
    head = add(tail, scale((line.nx, line.ny), -width * at / count))
    return Fan(
        now,
        tuple(lines),
        tuple(creases),
        tail,
        head,
        edge.words,
        edge.letters,
        count,
        first,
        EqualLengths(tuple(pairwise(spots))),
        (OnlyBeyond((folds[-1],)), Folds(tuple(creases)), comes_onto(state, edge, goal)),
    )


def _packet(state: State, line: Line) -> Flap:
    """All paper left of a line."""
    here = [
        i
        for i, ring in enumerate(state.placed)
        if any(signed_distance(line, p) > EPS for p in ring)
    ]
    return flap(state, line, here, whole_stack=True)


def _across(state: State, edge: LineValue) -> tuple[Line, float]:
    """The edge's line with the paper on its right, and how far the paper reaches from it."""
    away = [signed_distance(edge.line, p) for ring in state.placed for p in ring]
    if min(away) < -EPS and max(away) > EPS:
        raise Refusal(
            "paper-on-both-sides",
            f"there is paper on both sides of {edge.words.render()}, so pleats cannot start from it",
            "name an edge of the figure",
            span=edge.span,
        )
    line = edge.line if max(away) <= EPS else flipped(edge.line)
    return line, max(abs(d) for d in away)


def _count(parts: Clause) -> int:
    amount = parts.values[0] if len(parts.values) == 1 else None
    if not isinstance(amount, Quantity) or amount.unit != PARTS:
        raise Refusal(
            "pleat-parts",
            "say into how many parts",
            "write it like: pleat into 16 equal parts, moving the right edge",
            span=parts.span,
        )
    if amount.value < 2 or amount.value > MOST or abs(amount.value - round(amount.value)) > EPS:
        raise Refusal(
            "pleat-parts",
            f"pleats are of a whole number of parts, from 2 to {MOST}",
            "for more of them fold in half first",
            span=amount.span,
        )
    return round(amount.value)


def _words(request: Request) -> tuple[LineValue, Sense]:
    """The edge that moves, and which way its first fold goes."""
    request.allow("into", "moving", "valley", "mountain")
    moving = request.clause("moving")
    edge = moving.values[0] if moving is not None and len(moving.values) == 1 else None
    if not isinstance(edge, LineValue) or edge.segment is None:
        raise Refusal(
            "which-side",
            "the words do not say from which edge the pleats start",
            *(
                add_words(request.span, f"moving {way} edge")
                for way in ("right", "bottom")
                if moving is None
            ),
            "say after 'moving' the edge that moves first: 'moving the right edge'",
            span=request.span if moving is None else moving.span,
        )
    senses = [c for c in request.clauses if c.word in ("valley", "mountain")]
    if len(senses) > 1 or any(c.values for c in senses):
        raise Refusal(
            "pleat-lines",
            "equal parts say where the folds are: only the first one's way is open",
            "say 'pleat mountain into 16 equal parts' for a first fold to the back, or nothing",
            span=senses[-1].span,
        )
    return edge, Sense(senses[0].word) if senses else Sense.VALLEY
