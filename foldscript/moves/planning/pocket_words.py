"""Pockets in words: what tells those at one place apart, and why none of them takes a flap up.

In: a `Request`, the gaps between layers at a place, what was refused. Out: words of the script that choose a
gap; refusals that say what closes each, and how much of the paper at the flap moves.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from ...geometry.lines import Point, distance, midpoint, subtract
from ...geometry.tolerance import EPS, same
from ...source.diagnostics import Hint, Refusal, Span, write
from .fold_clauses import as_point
from .pockets_at import Gap, closing
from .request import Clause, PointValue, Request

#: Pockets that are shown, each with the words that choose it.
MOST = 4
_AT = re.compile(r"the ([a-z]+ layer) at (?:point|corner) (\S+)")
_WITH = re.compile(r"the layer with (?:point|corner) (\S+)")


def between(request: Request, gap: Gap, at: str) -> str:
    """'between second layer at P and third layer at P', as a script says it; '' where that has no words."""
    said = [_layer(request, *one, at) for one in zip((gap.over, gap.below), gap.said, strict=True)]
    return f"between {said[0]} and {said[1]}" if all(said) else ""


def layer_words(request: Request, plate: frozenset[int]) -> str:
    """'C', 'second layer at P': words of the script for a flat piece of paper; '' where it has none."""
    return _layer(request, plate, "", "")


def _layer(request: Request, plate: frozenset[int], called: str, at: str) -> str:
    """The layer counted at the place, or where more lie there than are counted, by another point of it."""
    if called:
        return f"{called} at {at}"
    for facet in sorted(plate):
        words = request.describe(facet)
        if counted := _AT.fullmatch(words):
            return f"{counted[1]} at {counted[2]}"
        if alone := _WITH.fullmatch(words):
            return alone[1]
    return ""


def seen(request: Request, gap: Gap, at: Point) -> str:
    """What one sees of a pocket at a place: the fold that closes it, and on which side that is."""
    folds = closing(request.state, gap)
    if not folds:
        return "open on all sides"
    longest = max(folds, key=lambda seg: round(distance(*seg), 9))
    middle = midpoint(*longest)
    name = request.words_at(middle)
    if name:
        return f"closed by the fold at the {name}"
    return f"closed by the fold {_side(at, middle)}{request.locate(middle)}"


def _side(at: Point, spot: Point) -> str:
    """'above it, ': on which side of a place another lies, where it clearly lies on one."""
    x, y = subtract(spot, at)
    if max(abs(x), abs(y)) <= EPS or same(abs(x), abs(y)):
        return ""
    if abs(x) > abs(y):
        return "to the right of it, " if x > 0 else "to the left of it, "
    return "above it, " if y > 0 else "below it, "


def _ranked(k: int, count: int) -> str:
    """How deep a pocket lies among those at its place, the uppermost first."""
    if k == 0:
        return "the uppermost"
    if k == count - 1:
        return "the undermost"
    return ("the second", "the third", "the fourth")[k - 1] + " from the top"


def several(request: Request, clause: Clause, done: Sequence[tuple[Gap, str]]) -> Refusal:
    """The flap fits into each of these pockets, `done` with the words that choose them."""
    point = as_point(clause.values[0])
    rows: list[str | Hint] = []
    if not point.letter:
        rows.append("give the place a name before this: 'mark P at ...'")
    for k, (gap, words) in enumerate(done[:MOST]):
        which = f"{_ranked(k, len(done))}, that {seen(request, gap, point.at)}"
        if not words:
            lies = " and ".join(request.describe(min(plate)) for plate in (gap.over, gap.below))
            rows.append(
                f"for {which}, between {lies}: mark a point on each of these layers where "
                "few lie, and say 'between' and both names"
            )
            continue
        hint = f"say '{words}', for {which}"
        rows.append(write(clause.span, words, hint) if point.letter else hint)
    return Refusal(
        "several-pockets",
        f"{len(done)} pockets lie at {point.words.render()}, and the flap fits into each",
        *rows,
        span=clause.span,
    )


def none_takes_it_up(
    request: Request,
    clause: Clause,
    pockets: Sequence[Gap],
    refused: Sequence[Refusal],
    moving: tuple[PointValue, int, int] | None,
    others: Sequence[str],
) -> Refusal:
    """No pocket at a place takes the flap up.

    `moving` is the point that moves, how many of the layers there move with it, and how many lie there;
    `others` are words for pockets at the same place, next to other layers than the one said, that take it up.
    """
    point = as_point(clause.values[0])
    at = point.letter or "P"
    named = [between(request, gap, at) for gap in pockets]
    rows: list[str | Hint] = [write(clause.span, words) for words in others[:MOST]]
    layers = ""
    if moving is not None and moving[1] < moving[2]:
        what, some, there = moving
        layers = f"; with {what.words.render()} {_move(some)} of the {there} layers there"
        front = Span(clause.span.start, clause.span.start)
        rows.append(write(front, "all layers, ", "or have them all move: add 'all layers'"))
    closed = next((r.message for r in refused if r.code == "layers-collide"), "")
    why = re.sub(r"^.*?cannot lie like this: ", "", closed)
    missed = sum(r.code == "tuck-misses" for r in refused) == len(refused) > 0
    reason = ": it reaches none of them" if missed else f": in the first, {why}" if why else ""
    if len(pockets) <= 2 and all(named):
        head = (
            f"no pocket at {point.words.render()} takes the flap up, neither {' nor '.join(named)}"
        )
    else:
        head = f"none of the {len(pockets)} pockets at {point.words.render()} takes the flap up"
    if all(c is clause or c.word == "" for c in request.clauses):
        rows.append(
            f"say where it is folded, as for a valley fold: tuck A to P into the pocket at {at}"
        )
    return Refusal(
        "no-pocket",
        f"{head}{reason}{layers}",
        *rows,
        "name a point on the edge where the pocket is open, on the side from which the flap comes",
        span=clause.span,
    )


def _move(some: int) -> str:
    return "moves 1" if some == 1 else f"move {some}"
