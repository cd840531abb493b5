"""Pieces of paper that have been cut off go; what stays is a sheet of another outline.

In: a state whose paper no longer holds together, and the pieces that go. Out: the rest as a state of a
smaller sheet, nothing of it moved. `as_cut` gives how the rest lay earlier, for paper that is laid back.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace
from types import MappingProxyType

from ..geometry import polygons
from ..geometry.cover import rims
from ..geometry.lines import Segment, distance
from ..geometry.tolerance import EPS
from .refold import coalesced
from .seams import remainder
from .sheet import Sheet
from .state import State
from .toggling import divided_on_sheet


def cut_off(state: State, gone: Collection[int]) -> State:
    """The paper without some facets, which joints no longer hold to the rest; the rest is one piece."""
    rest = _without(state, gone)
    ((outline, holes),) = rims([f.outline for f in rest.facets])
    had = state.sheet
    left = [(name, p) for name, p in had.corners if any(distance(p, q) <= 4 * EPS for q in outline)]
    sheet = replace(
        had,
        outline=outline,
        holes=holes,
        corner_names=tuple(name for name, _ in left),
        left=tuple(p for _, p in left),
    )
    return coalesced(_trimmed(rest, sheet))


def as_cut(earlier: State, now: State) -> State:
    """How the paper that is left now lay in an earlier state, with the cuts made since."""
    if earlier.sheet == now.sheet and not remainder(now.cuts, earlier.cuts):
        return earlier
    fine = divided_on_sheet(earlier, [*now.sheet.sides, *now.cuts]).state
    fine = replace(fine, cuts=now.cuts)
    gone = {
        i
        for i, f in enumerate(fine.facets)
        if not now.facets_on_sheet(polygons.centroid(f.outline))
    }
    return coalesced(_trimmed(_without(fine, gone), now.sheet))


def _without(state: State, gone: Collection[int]) -> State:
    """The state without some facets; sheet, creases and cuts are those of the whole."""
    alive = [i for i in range(len(state.facets)) if i not in gone]
    number = {i: k for k, i in enumerate(alive)}
    order = {
        (number[i], number[j]): above
        for (i, j), above in state.order.items()
        if i in number and j in number
    }
    facets = tuple(state.facets[i] for i in alive)
    return replace(state, facets=facets, order=MappingProxyType(order))


def _trimmed(state: State, sheet: Sheet) -> State:
    """The state on another sheet, with those parts of creases and cuts that lie amid the paper."""
    creases, cuts = (
        tuple(sorted(_amid(state, sheet, lines))) for lines in (state.creases, state.cuts)
    )
    return replace(state, sheet=sheet, creases=creases, cuts=cuts)


def _amid(state: State, sheet: Sheet, lines: Collection[Segment]) -> list[Segment]:
    return remainder(state.on_paper(lines), sheet.sides)
