"""Flaps that lie side by side and end at one place: which of them a move of one tip means.

In: a tip named by where it lies, and the line it is folded along. Out: nothing, or a refusal that asks: two
legs beside each other are as near to the eye, so neither is taken for the other, nor both for one.
"""

from __future__ import annotations

from ...geometry import polygons
from ...geometry.lines import Line, distance
from ...geometry.tolerance import EPS
from ...paper.flap import Flap, flap
from ...paper.state import State
from ...source.diagnostics import Hint, Refusal, write
from .request import PointValue, Request


def refuse_several_tips(request: Request, tip: PointValue, line: Line) -> None:
    """Raises Refusal 'which-flap' where flaps beside each other end at the place that the tip is named by."""
    if tip.letter or tip.layer:
        return
    apart = _apart(request.state, tip, line)
    if len(apart) < 2:
        return
    names = [name for one in apart if (name := _corner(request.state, tip, one))]
    hints: list[str | Hint] = [write(tip.span, name) for name in names]
    if not names:
        hints = ["mark a point on the one that you mean, before it comes there, and name that"]
    raise Refusal(
        "which-flap",
        f"{len(apart)} flaps lie side by side and end at {tip.words.render()}",
        *hints,
        span=tip.span,
    )


def _apart(state: State, tip: PointValue, line: Line) -> list[Flap]:
    """The flaps at the tip, where any two of them lie nowhere over each other."""
    found: dict[frozenset[int], Flap] = {}
    for seed in tip.facets:
        one = flap(state, line, (seed,), trapped=False)
        if one.facets:
            found.setdefault(frozenset(one.facets), one)
    flaps = list(found.values())
    if any(_over_each_other(a, b) for k, a in enumerate(flaps) for b in flaps[:k]):
        return []
    return flaps


def _over_each_other(one: Flap, other: Flap) -> bool:
    return bool({*one.facets} & {*other.facets}) or any(
        polygons.area(common) > EPS
        for a in one.parts
        for b in other.parts
        if (common := polygons.intersection(a, b))
    )


def _corner(state: State, tip: PointValue, one: Flap) -> str:
    """A corner of the sheet that lies at the tip on this flap, '' without."""
    for name, at in state.sheet.all_corners:
        facets = [i for i in state.facets_on_sheet(at) if i in one.facets]
        if any(distance(state.facets[i].place(at), tip.at) < EPS for i in facets):
            return name
    return ""
