"""Lines that pass a corner, an edge or a fold nearer than a hand can fold.

In: a state, a line of the folded plane and the facets that it crosses. Out: `TooNear`, with what it passes
and how far away.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..geometry.lines import Line, Point, signed_distance
from ..geometry.tolerance import EPS, FOLDED, nearest, same_point
from ..source.diagnostics import Refusal
from .state import State


class TooNear(Refusal):
    """A line that passes a corner, an edge or a fold nearer than a hand can fold.

    `corners` are those of one facet that it meets or all but meets, in folded coordinates; `beside` names
    what it passes, `miss_mm` away.
    """

    def __init__(
        self, state: State, line: Line, facet: int, miss: float, passed: Sequence[int]
    ) -> None:
        unit, placed = state.sheet.unit_mm, state.placed[facet]
        self.corners = tuple(p for p in placed if abs(signed_distance(line, p)) < nearest(unit))
        self.miss_mm = miss * unit
        self.beside, meet = "an edge or a fold", "through the two ends of it"
        if len(passed) == 1:
            self.beside = _corner_name(state, state.facets[facet].outline[passed[0]])
            meet = f"through {self.beside}"
        super().__init__(
            "too-near",
            f"the line passes {self.miss_mm:.2g} mm beside {self.beside}, and no hand folds so near",
            f"let it run {meet}: mark what it should meet, and say 'through' or 'along'",
            f"or keep it {nearest(unit) * unit:.2g} mm away at least",
        )


def refuse_slivers(state: State, line: Line, facet: int) -> None:
    """Raises TooNear where a line that crosses a facet cuts off a strip or a tip that no hand could fold."""
    away = [signed_distance(line, p) for p in state.placed[facet]]
    for side in (away, [-d for d in away]):
        if max(side) < nearest(state.sheet.unit_mm):
            beyond = [k for k, d in enumerate(side) if d > EPS]
            raise TooNear(state, line, facet, max(side), beyond)


def refuse_near(state: State, line: Line, facets: Iterable[int]) -> None:
    """Raises TooNear where a line crosses one of some facets, and passes a corner of it too near."""
    for i in facets:
        away = [signed_distance(line, p) for p in state.placed[i]]
        if max(away) <= EPS or min(away) >= -EPS:
            continue
        refuse_slivers(state, line, i)
        missed = [k for k, d in enumerate(away) if FOLDED < abs(d) < nearest(state.sheet.unit_mm)]
        if missed:
            raise TooNear(state, line, i, max(abs(away[k]) for k in missed), missed[:1])


def _corner_name(state: State, place: Point) -> str:
    for name, at in state.sheet.all_corners:
        if same_point(at, place):
            return f"corner {name}"
    return "a corner of the paper"
