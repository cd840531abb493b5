"""Folded units, and how they come to the paper that they are put together with.

In: what the parts of a script have folded. Out: units by number, and the `Folding` with one of them laid
beside its paper; the points P and the creases k of unit 2 are called 'P of unit 2' and 'k of unit 2' from
then on.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from ...geometry.lines import Point
from ...languages.unit_names import of_unit
from ...paper.assembly import beside, place_on
from ...paper.sheet import Sheet
from ...paper.state import State
from ...source.diagnostics import Refusal, Span
from ...syntax import nodes
from ..resolving.names import Names

#: How far from the paper a unit lies before it is put to it, in sheet units.
GAP = 0.2


@dataclass(frozen=True)
class Unit:
    """A folded sheet: the paper as it lies at the end of its part, and what is named on it.

    `solid` tells why it is flat no longer; '' while it is.
    """

    number: int
    state: State
    names: Names
    solid: str = ""


def first_unit(unit: Unit) -> tuple[State, Names]:
    """The paper that others are put to: unit 1 as it lies."""
    _refuse_solid(unit, None)
    sheet = unit.state.sheet
    called = replace(sheet, corner_names=_called(unit, sheet))
    state = unit.state.relaid(unit.state.facets, unit.state.order)
    state = replace(state, sheet=called)
    names = Names()
    _name(names, unit, called, 0)
    return state, names


def bring(
    paper: State,
    names: Names,
    units: Mapping[int, Unit],
    laid: tuple[int, ...],
    statement: nodes.Statement,
) -> tuple[State, int]:
    """The paper with the unit beside it that the statement names, and that unit's number.

    `laid` are the numbers of those that the paper holds; `names` learns those of the new unit.
    Raises Refusal.
    """
    asked = next(
        (
            operand
            for part in statement.phrases
            for operand in part.operands
            if isinstance(operand, nodes.Amount) and operand.unit == "unit"
        ),
        None,
    )
    if asked is None:
        raise Refusal(
            "which-unit",
            f"say which unit: '{statement.verb} unit 2'",
            span=statement.verb_span,
        )
    unit = _wanted(units, int(asked.value), laid, asked.span)
    _refuse_solid(unit, asked.span)
    sheet = unit.state.sheet
    state = beside(paper, unit.state, _called(unit, sheet), GAP)
    _name(names, unit, state.sheet, len(laid), sheet)
    return state, unit.number


def _wanted(units: Mapping[int, Unit], number: int, laid: tuple[int, ...], span: Span) -> Unit:
    if not units:
        raise Refusal(
            "no-units",
            "units are put together after a line 'assemble', and there is none above",
            "fold the unit first, then write a line 'assemble' and go on with a step",
            span=span,
        )
    if number in laid:
        raise Refusal(
            "unit-there",
            f"unit {number} has been placed already"
            if number != laid[0]
            else f"unit {number} lies there from the start: others are placed on it",
            f"the units are numbered from 1 to {len(units)}",
            span=span,
        )
    if number not in units:
        raise Refusal(
            "no-such-unit",
            f"there is no unit {number}: this script folds {len(units)}",
            f"or fold so many: 'sheets {number}' says it in the lines at the top",
            span=span,
        )
    return units[number]


def _refuse_solid(unit: Unit, span: Span | None) -> None:
    if unit.solid:
        raise Refusal(
            "not-flat-any-more",
            f"unit {unit.number} is not flat in the end: {unit.solid}",
            "only flat units are put together; tell the rest in a caption",
            span=span,
        )


def _called(unit: Unit, sheet: Sheet) -> tuple[str, ...]:
    return tuple(of_unit(name, unit.number) for name in sheet.corner_names)


def _name(names: Names, unit: Unit, sheet: Sheet, place: int, alone: Sheet | None = None) -> None:
    """Gives the points and creases of a unit their names among those of others."""

    def there(p: Point) -> Point:
        return p if alone is None else place_on(sheet, place, p, alone)

    for name, step in unit.names.gone.items():
        names.gone[of_unit(name, unit.number)] = step
    for name, at in unit.names.points.items():
        names.points[of_unit(name, unit.number)] = there(at)
    for name, creases in unit.names.creases.items():
        names.creases[of_unit(name, unit.number)] = tuple((there(p), there(q)) for p, q in creases)
