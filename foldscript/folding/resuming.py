"""Folds the next version of a script from the last step that it has in common with the one before.

In: a program, and the memory of folding an earlier version of it. Out: the paper after the last step
whose moves are still the same, to go on from. Words in captions may have changed, and everything may
stand elsewhere in the text; what is compared is the sheet, what the script starts from, its groups,
and the moves of each step.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any

from ..source.diagnostics import Source, Span
from ..syntax import nodes
from .performing.perform import Folding
from .start import Start
from .steps import Step

_NOWHERE = Span(0, 0)


@dataclass(frozen=True)
class FinishedStep:
    """A finished step: its moves as they stood and wherever they stand, and the paper afterwards."""

    node: nodes.Step
    moves: Any
    step: Step
    folding: Folding


class FoldingCache:
    """What folding a script has left behind, for folding its next version.

    One memory serves one script; whoever folds with it must not do so from two threads at once. `between`
    is called after each step that is folded; what it raises ends the folding, and the steps so far stay.
    """

    def __init__(self, between: Callable[[], None] = lambda: None) -> None:
        self._between = between
        self._before: tuple[object, ...] | None = None
        self._start: Start | None = None
        self._kept: list[FinishedStep] = []
        self._stale = False

    def unchanged(self, program: nodes.Program, ancestors: Sequence[Source]) -> int:
        """How many steps, from the first on, need no folding; 0 also when nothing is known."""
        if self._start is None or self._before != before_steps(program, ancestors):
            return 0
        for number, (step, kept) in enumerate(zip(program.steps, self._kept, strict=False)):
            if _folds(program, number, step) != kept.moves:
                return number
        return min(len(program.steps), len(self._kept))

    @property
    def start(self) -> Start | None:
        """What lay there before the first step, if anything has been folded."""
        return self._start

    @property
    def finished(self) -> tuple[FinishedStep, ...]:
        """The steps that are folded, from the first on."""
        return tuple(self._kept)

    def take_up(
        self, program: nodes.Program, ancestors: Sequence[Source], *, forget: bool = True
    ) -> tuple[Start, Sequence[FinishedStep]] | None:
        """The start and the steps that need no folding; None when the start is another one.

        Everything that was kept of later steps is forgotten, where it is not asked to stay.
        """
        number = self.unchanged(program, ancestors)
        if self._start is None or self._before != before_steps(program, ancestors):
            return None
        same = tuple(self._kept[:number])
        if forget:
            del self._kept[number:]
        moved = zip(same, program.steps, strict=False)
        self._stale = any(kept.node.body != step.body for kept, step in moved)
        return self._start, same

    @property
    def stale(self) -> bool:
        """Whether what was taken up remembers places of an earlier text, which no message may show."""
        return self._stale

    def begin(self, program: nodes.Program, ancestors: Sequence[Source], start: Start) -> None:
        """Forgets everything and notes the start of a script."""
        self._before, self._start = before_steps(program, ancestors), start
        self._kept, self._stale = [], False

    def keep(self, program: nodes.Program, node: nodes.Step, step: Step, folding: Folding) -> None:
        """Notes a finished step."""
        moves = _folds(program, step.number - 1, node)
        self._kept.append(FinishedStep(node, moves, step, copied(folding)))
        self._between()


def copied(folding: Folding) -> Folding:
    """The paper as it lies, apart from what happens to it later."""
    return replace(
        folding,
        names=folding.names.copy(),
        history=list(folding.history),
        step_ends=list(folding.step_ends),
        statements=list(folding.statements),
        cautions=list(folding.cautions),
    )


def before_steps(program: nodes.Program, ancestors: Sequence[Source]) -> tuple[object, ...]:
    """Everything ahead of the steps that the folding depends on."""
    head = program.parts[0].head if program.parts else program.head
    sheet = head.sheet
    words = program.source.text[sheet.span.start : sheet.span.end] if sheet is not None else ""
    texts = tuple(source.text for source in ancestors)
    return head.start_from, placeless(sheet), words, placeless(program.groups), texts


def _folds(program: nodes.Program, before: int, step: nodes.Step) -> object:
    """What a step does, with so many steps before it: its moves, and what it takes from which parts."""
    parts = [p for p in program.parts if p.first <= before]
    return placeless(step.body), [(p.first, p.assembles, _takes(p.head)) for p in parts]


def _takes(head: nodes.Head) -> object:
    """What the head of a part says of its paper."""
    return placeless((head.start_from, head.sheet, head.front_colour, head.back_colour, head.lots))


def placeless(node: Any) -> Any:
    """A node, or a tuple of them, without where it stands in the text."""
    if isinstance(node, Span):
        return _NOWHERE
    if isinstance(node, tuple):
        return tuple(placeless(part) for part in node)
    if is_dataclass(node) and not isinstance(node, type):
        parts = {f.name: placeless(getattr(node, f.name)) for f in fields(node)}
        return replace(node, **parts)
    return node
