"""A script in parts: what each begins with, and what it leaves for the parts after it.

In: a program with parts, and the folding at the end of the part before. Out: the folding that a part begins
with, and `Part`s for the model. Steps are numbered through all parts; names, moves and steps to repeat are a
part's own.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from ..paper.state import State
from ..source.diagnostics import Diagnostic, FoldscriptError, Refusal
from ..syntax import nodes
from .groups import read_groups
from .performing.perform import Folding
from .performing.units import Unit, first_unit
from .start import Start
from .steps import Part, Step

#: The paper that a program begins with.
StartOf = Callable[[nodes.Program], Start]


@dataclass(frozen=True)
class Begins:
    """A part and the start of its paper; None where it puts together what is folded already."""

    node: nodes.Part
    start: Start | None


def of_part(program: nodes.Program, part: nodes.Part) -> nodes.Program:
    """The program with the head of a part."""
    return replace(program, head=part.head)


def begins(program: nodes.Program, start: Start, start_of: StartOf) -> tuple[Begins, ...]:
    """The parts with their starts; that of the first is known. Raises FoldscriptError."""
    found: list[Begins] = []
    for k, part in enumerate(program.parts):
        if k and part.first >= len(program.steps):
            break  # a script up to some step
        own = None
        if not part.assembles:
            own = start if k == 0 else start_of(of_part(program, part))
            sheet = replace(own.sheet, colours=_colours(own, part)[0])
            own = replace(own, state=_coloured(own, part, 0), sheet=sheet)
        found.append(Begins(part, own))
    return tuple(found)


def part_begun(
    program: nodes.Program, parts: Sequence[Begins], number: int, folding: Folding
) -> Folding:
    """The folding for a step: that of the step before, or a new one where a part begins with it."""
    k = next((k for k, one in enumerate(parts) if k and one.node.first == number - 1), None)
    if k is None:
        return folding
    units = {**folding.units, **_units(parts[k - 1], folding)}
    before, start = parts[k].node, parts[k].start
    if start is not None:
        new = Folding(start.state, start.names.copy())
    else:
        try:
            new = Folding(*first_unit(units[1]), laid=(1,))
        except Refusal as refusal:
            raise FoldscriptError(
                Diagnostic(
                    refusal.code,
                    refusal.message,
                    before.span,
                    refusal.hints,
                    source=program.source,
                )
            ) from None
    new.units = units
    new.steps, new.groups = program.steps, read_groups(program)
    new.cautions = folding.cautions
    new.calls, new.work = folding.calls, folding.work
    new.first_step = number
    new.step_ends.extend([(new.state, 0)] * number)
    return new


def _units(part: Begins, folding: Folding) -> Mapping[int, Unit]:
    """What a part has folded, numbered on from the units before."""
    if part.start is None:
        return {}
    solid = folding.solid[1] if folding.solid is not None else ""
    first = len(folding.units) + 1
    found: dict[int, Unit] = {}
    for k in range(len(_colours(part.start, part.node))):
        state = _coloured(replace(part.start, state=folding.state), part.node, k)
        state = replace(state, sheet=replace(state.sheet, number=first + k))
        found[first + k] = Unit(first + k, state, folding.names.copy(), solid)
    return found


def parts_of(parts: Sequence[Begins], steps: Sequence[Step]) -> tuple[Part, ...]:
    """The parts of a model whose steps are folded."""
    found: list[Part] = []
    for k, one in enumerate(parts):
        last = parts[k + 1].node.first if k + 1 < len(parts) else len(steps)
        mine = steps[one.node.first : last]
        start = one.start
        found.append(
            Part(
                one.node.title,
                one.node.first + 1,
                last,
                start.sheet if start is not None else mine[0].before.sheet,
                start.state if start is not None else mine[0].before,
                mine[-1].after,
                _colours(start, one.node) if start is not None else (),
                start.steps if start is not None else (),
                start.told if k and start is not None else None,
            )
        )
    return tuple(found)


def _colours(start: Start, part: nodes.Part) -> tuple[tuple[str, str], ...]:
    """The two colours of every sheet of a part."""
    head = part.head
    front = head.front_colour or start.colours[0]
    back = head.back_colour or start.colours[1]
    lots = head.lots or (nodes.Lot(1, "", part.span),)
    return tuple((lot.colour or front, back) for lot in lots for _ in range(lot.count))


def _coloured(start: Start, part: nodes.Part, k: int) -> State:
    """The paper in the colours of one of its sheets."""
    state = start.state
    sheet = replace(state.sheet, colours=_colours(start, part)[k])
    return replace(state.relaid(state.facets, state.order), sheet=sheet)
