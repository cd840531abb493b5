"""Layers that a tucked flap can go under, where the words name none or one that it does not reach.

In: a `Request` of a tuck without its words for the layer. Out: words for the layers that lie where the flap
comes to lie, the topmost first: nothing else can take it up, so nothing else is tried.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import islice

from ...geometry import polygons
from ...geometry.lines import mirrored
from ...geometry.polygons import Polygon
from ...paper.layers import Collision
from ...paper.signs import Sense
from ...source.diagnostics import Hint, Refusal, Span, write
from .pocket_words import layer_words
from .request import Clause, PointValue, Request
from .single_fold import choose

#: Refusals of a tuck whose mistake is where the flap goes.
MISPLACED = frozenset(("tuck-where", "tuck-misses", "not-inside", "no-pocket", "same-layer"))
#: Words that say where a flap goes.
PLACES = ("under", "into", "over", "between", "inside", "into the pocket at")
_MOST = 4


def elsewhere(
    request: Request,
    rest: Request,
    refusal: Refusal,
    goes: Callable[[frozenset[int]], bool],
) -> Refusal:
    """The refusal of a tuck, first of its hints the layers that take the flap up.

    `rest` are the words that fix the fold, `goes` tells whether the flap goes under a layer, or inside where
    there is none.
    """
    found = ["inside"] if _can(goes, frozenset()) else []
    found += [
        f"under {name}"
        for name, plate in islice(_layers(request, rest), _MOST)
        if _can(goes, plate)
    ]
    hints = [_hint(request, words) for words in found]
    hints[1:] = [Hint(f"or {hint.text}", edit=hint.edit) for hint in hints[1:]]
    others = [
        hint for hint in refusal.hints if not hints or not hint.text.startswith("write it like")
    ]
    return refusal.with_hints(*hints, *others)


def without_place(request: Request) -> Request:
    """The words that fix the fold, without those that say between which layers the flap goes."""
    kept: list[Clause] = []
    last = ""
    for clause in request.clauses:
        if clause.word in PLACES or (clause.word == "and" and last in PLACES):
            last = last if clause.word == "and" else clause.word
            continue
        kept.append(clause)
        last = clause.word
    return replace(request, clauses=tuple(kept))


def _can(goes: Callable[[frozenset[int]], bool], plate: frozenset[int]) -> bool:
    try:
        return goes(plate)
    except (Refusal, Collision):
        return False


def _hint(request: Request, words: str) -> Hint:
    """To write the words in the place of those that say where the flap goes, or at the end."""
    at: Span | None = None
    for clause in request.clauses:
        goes_on = clause.word == "and" and at is not None
        if clause.word in PLACES or goes_on:
            at = clause.span if at is None else at.cover(clause.span)
        elif at is not None:
            break
    if at is not None:
        return write(at, words)
    return write(Span(request.span.end, request.span.end), f", {words}", f"add '{words}'")


def _layers(request: Request, rest: Request) -> list[tuple[str, frozenset[int]]]:
    """Flat pieces of paper that lie where the flap comes to lie, each with words for it."""
    state = request.state
    landed, movers = _landed(rest)
    there = [
        i
        for i in range(len(state.facets))
        if i not in movers and any(polygons.overlap(state.placed[i], part) for part in landed)
    ]
    plates = dict.fromkeys(state.plate(i) for i in state.top_down(there))
    named = ((layer_words(request, plate), plate) for plate in plates if not plate & movers)
    return [(words, plate) for words, plate in named if words]


def _landed(rest: Request) -> tuple[list[Polygon], frozenset[int]]:
    """Where the flap comes to lie, and what of the paper it is; where no line is said, as it lies."""
    state = rest.state
    try:
        fold, _ = choose(
            rest,
            Sense.VALLEY,
            need_side=True,
            carry=lambda state, moving, sense: state,
            from_named=True,
        )
    except Refusal:
        values = (v for clause in rest.clauses[:1] for v in clause.values)
        point = next((v for v in values if isinstance(v, PointValue) and v.facets), None)
        flap = state.plate(point.facets[0]) if point is not None else frozenset[int]()
        return [state.placed[i] for i in sorted(flap)], flap
    line = fold.flap.line
    parts = [tuple(mirrored(line, p) for p in part)[::-1] for part in fold.flap.parts]
    return parts, frozenset(fold.flap.facets)
