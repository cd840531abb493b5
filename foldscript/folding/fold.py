"""Carries a script out on paper: `Program` to `Model`.

In: a parsed program. Out: its steps, every state proved by the kernel. Stops at the first fold that
the paper or its words do not allow, since later steps have no paper then; the message says in which
step that was.
"""

from __future__ import annotations

from pathlib import Path

from ..diagnostics import Diagnostic, FoldscriptError, Hint, Refusal
from ..syntax import nodes
from ..wording import phrase
from .figures import Figures
from .groups import CalledRefusal, read_groups
from .performing import Folding
from .start import start_of
from .statements import carry
from .steps import Model, Step


def fold(program: nodes.Program, source_path: Path | None = None) -> Model:
    """Folds a whole script.

    Parameters
    ----------
    source_path : the script's file; what it starts from is looked up beside it

    Raises
    ------
    FoldscriptError : the first fold that does not work, with its span and step
    """
    return _folded(program, source_path, ())[0]


def _folded(
    program: nodes.Program, path: Path | None, chain: tuple[Path, ...]
) -> tuple[Model, Folding]:
    start = start_of(program, path, chain, _folded)
    paper = Folding(start.state, start.names, steps=program.steps, groups=read_groups(program))
    paper.step_ends.append((start.state, 0))
    steps = tuple(
        _step(paper, number, step, program) for number, step in enumerate(program.steps, start=1)
    )
    head = program.head
    begun = (phrase("Start from: {base}.", base=start.words).render(),) if start.words else ()
    model = Model(
        name=Path(program.source.name).stem,
        title=head.title,
        credit=head.credit,
        licence=head.licence,
        level=head.level,
        language=head.language,
        front_colour=head.front_colour or start.colours[0],
        back_colour=head.back_colour or start.colours[1],
        sheet=start.state.sheet,
        start=start.state,
        steps=steps,
        begun=start.steps,
        notes=(*begun, *head.notes, *(c.render() for c in paper.cautions)),
    )
    return model, paper


def _step(paper: Folding, number: int, step: nodes.Step, program: nodes.Program) -> Step:
    before, done_before = paper.state, len(paper.history)
    figures = Figures(before)
    wording = []
    for statement in step.body:
        try:
            done = carry(paper, number, statement)
        except Refusal as refusal:
            raise FoldscriptError(diagnosed(refusal, statement, number, program)) from None
        for now, outcome in done:
            figures.add(now, outcome)
            if outcome.wording is not None:
                wording.append(outcome.wording)
    paper.step_ends.append((paper.state, len(paper.history)))
    own = next((c.text for c in step.captions if c.language in ("", program.head.language)), "")
    return Step(
        number,
        own,
        tuple((c.language, c.text) for c in step.captions if c.language),
        tuple(wording),
        figures.finish(),
        before,
        paper.state,
        step.span,
        tuple(paper.history[done_before:]),
    )


def diagnosed(
    refusal: Refusal, statement: nodes.Statement, number: int, program: nodes.Program
) -> Diagnostic:
    """A refusal as a diagnostic of the script, with the step's number and the calls that led there."""
    calls = refusal.calls if isinstance(refusal, CalledRefusal) else ()
    inside = ", in a group of moves" if calls else ""
    return Diagnostic(
        refusal.code,
        f"{refusal.message} (in step {number}{inside})",
        refusal.span or statement.span,
        (
            *(Hint(h) for h in refusal.hints),
            *(Hint("the group is done here", c.span) for c in calls),
        ),
        source=program.source,
    )
