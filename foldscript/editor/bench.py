"""A script on the bench: read, folded and drawn again for each version of its text.

In: versions of one text. Out: what is wrong with the latest, and what of it is folded and drawn (`Folded`),
as soon as it is known. Steps that are as they were are not folded again. Work on a version that has been
overtaken by a later one ends after the step it is at; what was folded of it stays. All of `work` is done in
one thread; whoever answers reads only `Folded`s and finished pictures, which do not change any more.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from ..building.script import Script
from ..folding.resuming import FinishedStep, FoldingCache
from ..folding.steps import Model, Step
from ..source.diagnostics import Diagnostic, FoldscriptError
from ..source.reporting import internal_fault
from .figures import Figures
from .written import Written


class Overtaken(Exception):
    """There is a later version."""


@dataclass(frozen=True)
class Folded:
    """What is folded of one version.

    Attributes
    ----------
    steps : the steps that fold, from the first on, each with the paper and all names after it
    begun_with : names from what the script starts from, and of the sheet's corners
    model : the whole model in the script's language; None where not all of it folds
    """

    written: Written
    steps: tuple[FinishedStep, ...] = ()
    begun_with: frozenset[str] = frozenset()
    model: Model | None = None

    def step(self, index: int) -> Step | None:
        """The folded step of an index, with its pose and half-way figure where they are known."""
        if self.model is not None and index < len(self.model.steps):
            return self.model.steps[index]
        return self.steps[index].step if 0 <= index < len(self.steps) else None


#: Told what is wrong with a version, as often as more is known.
Tell = Callable[[Written, Sequence[Diagnostic]], None]


class Bench:
    """One script; `tell` is called in the thread that works."""

    def __init__(self, written: Written, tell: Tell) -> None:
        self.written = written
        self.folded = Folded(written)
        self.good: Folded | None = None  # the last version of which all folds
        self.faults: tuple[Written, tuple[Diagnostic, ...]] = (written, ())
        self.figures = Figures()
        self._tell = tell
        self._memory = FoldingCache(self._still_wanted)
        self._script = Script(written.path, memory=self._memory)
        self._worked_at: Written | None = None

    @property
    def path(self) -> Path:
        """The file, which need not be as the text."""
        return self.written.path

    def take(self, text: str, version: int) -> None:
        """A later version."""
        self.written = Written(self.path, text, version)

    def work(self) -> None:
        """Reads, folds and draws the latest version; ends early where there is a later one."""
        self._worked_at = written = self.written
        try:
            self._make(written)
        except Overtaken:
            pass
        except Exception as error:  # whatever a script brings up, the editor is served on
            self._told(written, [internal_fault(self.path, error)])

    def _still_wanted(self) -> None:
        if self._worked_at is not self.written:
            raise Overtaken

    def _make(self, written: Written) -> None:
        if written.mistakes:
            self._told(written, written.mistakes)  # before it is tried what to write instead
            self._still_wanted()
        self._script = script = self._script.renewed(written.source)
        try:
            model = script.model
        except FoldscriptError as error:
            self._told(written, error.diagnostics)
            self._beginning(written)
            return
        self._told(written, model.warnings)
        self._keep(written, model)
        self._still_wanted()
        said, warnings = script.said()
        self._told(written, warnings)
        self.good = self._keep(written, said)
        self._draw(said)

    def _beginning(self, written: Written) -> None:
        """Folds and draws the steps before the first that is wrong."""
        wrong = min((d.span.start for d in written.mistakes if d.span is not None), default=None)
        count = len(written.program.steps) if wrong is None else max(0, written.step_at(wrong))
        if wrong is None:
            count = min(count, len(self._memory.finished))
        while count:
            short = self._script.renewed(written.source)
            short.program = replace(written.program, steps=written.program.steps[:count])
            try:
                said, _ = short.said()
            except FoldscriptError:  # another step is wrong, too
                count = min(count - 1, len(self._memory.finished))
                continue
            self._keep(written, said)
            self._draw(said)
            return
        self._keep(written)

    def _draw(self, model: Model) -> None:
        """Draws every step, those first that are asked for."""
        while True:
            self._still_wanted()
            step = self.figures.next(model)
            if step is None:
                return
            self.figures.draw(model, step)

    def _keep(self, written: Written, model: Model | None = None) -> Folded:
        start = self._memory.start
        known = frozenset(start.names.known()) if start is not None else frozenset[str]()
        steps = self._memory.finished
        whole = model if model is not None and len(model.steps) == len(steps) else None
        self.folded = Folded(written, steps, known, whole)
        return self.folded

    def _told(self, written: Written, faults: Sequence[Diagnostic]) -> None:
        self.faults = written, tuple(faults)
        if written is self.written:
            self._tell(written, faults)

    # --- for answers ---------------------------------------------------------------------------

    def folded_step(self, index: int) -> tuple[Step, Model | None, bool] | None:
        """The step with the moves that the latest text has at an index, its model, and whether it is of now.

        Where the text does not fold up to there, the step as it last did; None where there is none.
        """
        steps = self.written.program.steps
        if not 0 <= index < len(steps):
            return None
        found = [
            (step, folded.model, _same(folded.written, self.written, index))
            for folded in self._versions()
            if (step := folded.step(index)) is not None
        ]
        return max(found, key=lambda one: (one[2], one[1] is not None), default=None)

    def _versions(self) -> Iterator[Folded]:
        yield self.folded
        if self.good is not None and self.good is not self.folded:
            yield self.good


def _same(one: Written, other: Written, index: int) -> bool:
    """Whether a step and all before it are written alike in two versions."""
    if one is other:
        return True
    steps = one.program.steps, other.program.steps
    if min(map(len, steps)) <= index:
        return False
    ends = steps[0][index].span.end, steps[1][index].span.end
    return one.source.text[: ends[0]] == other.source.text[: ends[1]]
