"""Carries a script out on paper: `Program` to `Model`.

In: a parsed program. Out: its steps, every state proved by the kernel. Stops at the first fold that
the paper or its words do not allow, since later steps have no paper then; the message says in which
step that was.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path

from ..source.diagnostics import Diagnostic, FoldscriptError, Hint, Refusal, Severity
from ..syntax import nodes
from .caption_said import otherwise_said
from .caption_shares import Folded
from .earlier_lines import Place
from .figures import Figures
from .going_on import LayOut
from .groups import CalledRefusal, read_groups
from .half_way import shown_half_way
from .lettering import is_letter, lettered
from .lineage import lineage
from .looking_ahead import by_what_follows
from .parts import begins, of_part, part_begun, parts_of
from .performing.perform import Folding
from .repeating.checkpoints import restore, save
from .resuming import FoldingCache, copied
from .sheet_sizes import unusual_sizes
from .start import Start, start_of
from .statements import carry
from .steps import Model, Step
from .suggesting import reworded


def fold(
    program: nodes.Program, source_path: Path | None = None, memory: FoldingCache | None = None
) -> Model:
    """Folds a whole script.

    Parameters
    ----------
    source_path : the script's file; what it starts from is looked up beside it
    memory : of folding an earlier version of the same script, which steps that are the same are
        taken from; afterwards it remembers this version

    Raises
    ------
    FoldscriptError : the first fold that does not work, with its span and step
    """
    if memory is None:
        return _folded(program, source_path, ())[0]
    try:
        return _resumed(program, source_path, memory)[0]
    except FoldscriptError:
        if memory.stale:  # the message could point at places of an earlier text
            return _folded(program, source_path, ())[0]
        raise


def paper_after(
    program: nodes.Program, source_path: Path | None = None, memory: FoldingCache | None = None
) -> Folding:
    """The paper as it lies after the last step, with all that is known of it. Raises FoldscriptError.

    Steps that are those of a `memory` are taken from it; it remembers what it did.
    """
    if memory is None:
        return _folded(program, source_path, ())[1]
    return _resumed(program, source_path, memory, remember=False)[1]


def _resumed(
    program: nodes.Program, path: Path | None, memory: FoldingCache, *, remember: bool = True
) -> tuple[Model, Folding]:
    ancestors = lineage(program, path)
    taken = memory.take_up(program, ancestors, forget=remember)
    if taken is None:
        start = start_of(_beginning(program), path, (), _folded)
        if remember:
            memory.begin(program, ancestors, start)
        folding, steps = _laid_out(program, start), ()
    else:
        start, kept = taken
        steps = tuple(
            _told(k.step, node, program) for k, node in zip(kept, program.steps, strict=False)
        )
        folding = copied(kept[-1].folding) if kept else _laid_out(program, start)
        folding.steps, folding.groups = program.steps, read_groups(program)
    kept_in = memory if remember else None
    return _carried_on(program, path, (), start, folding, steps, kept_in)


def _folded(
    program: nodes.Program, path: Path | None, chain: tuple[Path, ...]
) -> tuple[Model, Folding]:
    start = start_of(_beginning(program), path, chain, _folded)
    folding = _laid_out(program, start)
    return _carried_on(program, path, chain, start, folding)


def _beginning(program: nodes.Program) -> nodes.Program:
    """The program with the head that its first step stands under."""
    return of_part(program, program.parts[0]) if program.parts else program


def before_steps_of(
    program: nodes.Program, path: Path | None = None, chain: tuple[Path, ...] = ()
) -> Folding:
    """The paper of a program before its first step. Raises FoldscriptError where there is none."""
    return _laid_out(program, start_of(_beginning(program), path, chain, _folded))


def _laid_out(program: nodes.Program, start: Start) -> Folding:
    """The paper before the first step."""
    names = start.names.copy()
    folding = Folding(start.state, names, steps=program.steps, groups=read_groups(program))
    folding.history.extend(start.history)
    folding.statements.extend(start.statements)
    folding.step_ends.append((start.state, len(start.history)))
    return folding


def _carried_on(
    program: nodes.Program,
    path: Path | None,
    chain: tuple[Path, ...],
    start: Start,
    folding: Folding,
    done: Sequence[Step] = (),
    memory: FoldingCache | None = None,
) -> tuple[Model, Folding]:
    """Folds the steps that come after those already done."""
    steps = list(done)
    parts = begins(program, start, lambda part: start_of(part, path, chain, _folded))
    if parts and parts[0].start is not None:
        start = parts[0].start
        folding = folding if done else _laid_out(program, start)
    lay_out = partial(before_steps_of, path=path, chain=chain)
    for number, node in enumerate(program.steps[len(done) :], start=len(done) + 1):
        folding = part_begun(program, parts, number, folding)
        try:
            step = _step(folding, number, node, program, lay_out)
        except FoldscriptError as error:
            raise FoldscriptError(*error.diagnostics, *_warned(steps, program)) from None
        steps.append(step)
        if memory is not None:
            memory.keep(program, node, step, folding)
    head = program.head
    model = Model(
        name=Path(program.source.name).stem,
        title=head.title,
        credit=head.credit,
        licence=head.licence,
        level=head.level,
        language=head.language,
        front_colour=head.front_colour or start.colours[0],
        back_colour=head.back_colour or start.colours[1],
        sheet=start.sheet,
        start=start.state,
        steps=tuple(steps),
        begun=start.steps,
        own_notes=head.notes,
        titles=tuple((t.language, t.text) for t in head.titles),
        other_notes=tuple((n.language, n.text) for n in head.translated_notes),
        starts_from=start.told,
        cautions=tuple(folding.cautions),
        warnings=tuple(_warned(steps, program)),
        parts=parts_of(parts, steps),
    )
    return model, folding


def _warned(steps: Sequence[Step], program: nodes.Program) -> Iterator[Diagnostic]:
    """What is odd about the sheets, and the remarks of the steps folded so far, at their statements."""
    yield from unusual_sizes(program)
    for step, node in zip(steps, program.steps, strict=False):
        folded = Folded(step.number, step.before, step.records, dict(step.named))
        left = otherwise_said(node, folded, program)
        if left is not None:
            yield left
        for index, remark in step.remarks:
            yield Diagnostic(
                remark.code,
                f"{remark.message} (in step {step.number})",
                node.body[index].span,
                tuple(Hint(h) if isinstance(h, str) else h for h in remark.hints),
                Severity.WARNING,
                program.source,
            )


def _step(
    folding: Folding, number: int, step: nodes.Step, program: nodes.Program, lay_out: LayOut
) -> Step:
    before, done_before = folding.state, len(folding.history)
    figures = Figures(before)
    folding.names.earlier = before.creases
    known = dict(folding.names.points)  # some may be cut off
    wording = []
    remarks = []
    for index, statement in enumerate(step.body):
        was = save(folding)
        try:
            done = carry(folding, number, statement)
        except Refusal as refusal:
            restore(folding, was)  # a repeat may have folded some of its places
            better = reworded(refusal, statement, number, folding, program)
            if not isinstance(better, CalledRefusal):
                place = Place.of(program, statement, number, folding, better)
                better = better.with_hints(*by_what_follows(better.hints, place, lay_out))
            raise FoldscriptError(diagnosed(better, statement, number, program)) from None
        for now, outcome in done:
            figures.add(now, outcome)
            remarks.extend((index, remark) for remark in outcome.remarks)
            if outcome.wording is not None:
                wording.append(outcome.wording)
    folding.step_ends.append((folding.state, len(folding.history)))
    folded = Step(
        number,
        "",
        (),
        tuple(wording),
        figures.finish(),
        before,
        folding.state,
        step.span,
        tuple(folding.history[done_before:]),
        tuple(remarks),
        tuple((name, at) for name, at in (known | folding.names.points).items() if is_letter(name)),
    )
    return _told(folded, step, program)


def _told(step: Step, node: nodes.Step, program: nodes.Program) -> Step:
    """A folded step with the captions that the script has for it."""
    own = next((c.text for c in node.captions if c.language in ("", program.head.language)), "")
    others = tuple((c.language, c.text) for c in node.captions if c.language)
    step = replace(step, caption=own, captions=others, span=node.span, half_way=node.half_way)
    if node.half_way is not None and node.half_way[0]:
        try:
            shown_half_way(step)
        except Refusal as refusal:
            raise FoldscriptError(_half_way_refused(refusal, step, program)) from None
    return lettered(step)


def _half_way_refused(refusal: Refusal, step: Step, program: nodes.Program) -> Diagnostic:
    message = f"{refusal.message} (in step {step.number})"
    return Diagnostic(refusal.code, message, refusal.span, refusal.hints, source=program.source)


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
            *refusal.hints,
            *(Hint("the group is done here", c.span) for c in calls),
        ),
        source=program.source,
    )
