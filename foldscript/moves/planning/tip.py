"""Moves whose words name a tip and a fold line across it: 'inside reverse A to Q', '... A along k'.

In: a `Request` whose first words are the tip. Out: the alignments of the line, tip on the left.
"""

from __future__ import annotations

from dataclasses import replace

from ...geometry.lines import mirrored, signed_distance
from ...geometry.tolerance import EPS
from ...source.diagnostics import Refusal
from .alignment import Alignment, alignments, distinct
from .fold_clauses import as_point, sort_clauses
from .request import PointValue, Request


def tip_of(request: Request) -> PointValue:
    """The point straight after the verb."""
    first = request.clauses[0] if request.clauses else None
    if first is None or first.word != "" or not first.values:
        raise Refusal(
            "which-tip",
            f"say which tip '{request.verb}' moves",
            *(f"write it like: {form}" for form in request.forms),
            span=request.span,
        )
    tip = as_point(first.values[0])
    if not tip.facets:
        raise Refusal(
            "off-the-paper",
            f"there is no paper at {tip.words.render()}",
            "name a point of the flap",
            span=tip.span,
        )
    return tip


def tip_alignments(request: Request) -> tuple[PointValue, list[Alignment]]:
    """The tip and every line that the words describe, with where the tip lands.

    Raises Refusal; a number of layers is refused too (see `layered_tip`).
    """
    tip, found, layers = layered_tip(request)
    if layers is not None:
        clause = request.clause("layers")
        raise Refusal(
            "unexpected-words",
            f"'{request.verb}' takes no number of layers",
            "leave the number out",
            span=clause.span if clause is not None else request.span,
        )
    return tip, found


def layered_tip(request: Request) -> tuple[PointValue, list[Alignment], int | None]:
    """The tip, every line that the words describe, and how many layers: None unless said, 0 for all."""
    tip = tip_of(request)
    if len(request.clauses) == 1:
        raise Refusal(
            "which-line",
            f"say where {tip.words.render()} is folded: along which line, or to where it goes",
            *(f"write it like: {form}" for form in request.forms),
            span=request.span,
        )
    clauses = sort_clauses(request)
    found: list[Alignment] = []
    for one in distinct(alignments(request, clauses)):
        if signed_distance(one.line, tip.at) <= EPS:
            continue
        found.append(replace(one, what=tip.words, tail=tip.at, head=mirrored(one.line, tip.at)))
    if clauses.pick is not None:
        found = found[clauses.pick : clauses.pick + 1]
    if clauses.near is not None:
        spot = clauses.near.at
        found = sorted(found, key=lambda a: round(abs(signed_distance(a.line, spot)), 9))[:1]
    if not found:
        raise Refusal(
            "fold-misses-flap",
            f"no such line crosses the flap with {tip.words.render()}",
            "choose a line between the tip and the rest of the flap",
            span=request.span,
        )
    return tip, found, clauses.layers
