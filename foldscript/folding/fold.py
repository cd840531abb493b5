"""Carries a script out on paper: `Program` to `Model`.

In: a parsed program. Out: its steps, every state proved by the kernel. Stops at the first fold that
the paper or its words do not allow, since later steps have no paper then; the message says in which
step that was.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path

from ..diagnostics import Diagnostic, FoldscriptError, Hint, Refusal, Span
from ..geometry.isometries import IDENTITY, Isometry, rotation
from ..geometry.polygons import bounds, centroid
from ..moves.registry import moves
from ..moves.request import Clause, Deed, Outcome, Request
from ..moves.simple import blocked_refusal, collision_refusal
from ..paper.flap import Blocked
from ..paper.layers import Collision
from ..paper.sheet import Sheet
from ..paper.signs import Sense
from ..paper.state import State, flat
from ..syntax import nodes
from .figures import Figures
from .names import Names, describe, locate
from .scope import Scope
from .steps import Model, Step

NAME_LIMIT = 2000


@dataclass
class Folding:
    """The paper and everything that has happened to it so far."""

    state: State
    names: Names
    history: list[Deed] = field(default_factory=list)
    step_ends: list[tuple[State, int]] = field(default_factory=list)


def fold(program: nodes.Program, source_path: Path | None = None) -> Model:
    """Folds a whole script.

    Raises
    ------
    FoldscriptError : the first fold that does not work, with its span and step
    """
    spec = program.head.sheet
    if spec is None:
        raise FoldscriptError(
            Diagnostic(
                "no-sheet",
                "the script does not say which sheet to fold",
                Span(0, 0),
                (Hint("add a line such as: sheet square 15 cm, coloured side down"),),
                source=program.source,
            )
        )
    sheet = sheet_of(spec)
    start = flat(sheet, first_place(sheet, spec.lowest))
    paper = Folding(start, Names.of_sheet(sheet))
    paper.step_ends.append((start, 0))
    steps = tuple(
        _step(paper, number, step, program) for number, step in enumerate(program.steps, start=1)
    )
    head = program.head
    return Model(
        name=Path(program.source.name).stem,
        title=head.title,
        credit=head.credit,
        licence=head.licence,
        level=head.level,
        language=head.language,
        front_colour=head.front_colour,
        back_colour=head.back_colour,
        sheet=sheet,
        start=start,
        steps=steps,
        notes=head.notes,
    )


def sheet_of(spec: nodes.SheetSpec) -> Sheet:
    """The kernel's sheet: longer side of the bounding box is one unit."""
    x0, y0, x1, y1 = bounds(spec.outline)
    unit = max(x1 - x0, y1 - y0)
    outline = tuple(((x - x0) / unit, (y - y0) / unit) for x, y in spec.outline)
    return Sheet(outline, spec.names, unit, spec.shape, spec.coloured_up)


def first_place(sheet: Sheet, lowest: tuple[str, ...]) -> Isometry:
    """How the sheet lies before the first step: a named corner or edge at the bottom."""
    if not lowest:
        return IDENTITY
    middle = centroid(sheet.outline)
    if len(lowest) == 1:
        p = sheet.corner(lowest[0])
        angle = math.atan2(p[1] - middle[1], p[0] - middle[0])
    else:
        p, q = sheet.corner(lowest[0]), sheet.corner(lowest[1])
        i, j = sheet.corner_names.index(lowest[0]), sheet.corner_names.index(lowest[1])
        if (i + 1) % len(sheet.outline) != j:
            p, q = q, p
        angle = math.atan2(-(q[0] - p[0]), q[1] - p[1])
    turn = -math.pi / 2 - angle
    quarter = turn / (math.pi / 2)
    if abs(quarter - round(quarter)) < 1e-12 and round(quarter) % 4 == 0:
        return IDENTITY
    return rotation(turn, middle)


def _step(paper: Folding, number: int, step: nodes.Step, program: nodes.Program) -> Step:
    before = paper.state
    figures = Figures(before)
    wording = []
    for statement in step.body:
        now = paper.state
        try:
            outcome = perform(paper, number, statement)
        except Refusal as refusal:
            raise FoldscriptError(diagnosed(refusal, statement, number, program)) from None
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
    )


def diagnosed(
    refusal: Refusal, statement: nodes.Statement, number: int, program: nodes.Program
) -> Diagnostic:
    """A refusal as a diagnostic of the script, with the step's number."""
    return Diagnostic(
        refusal.code,
        f"{refusal.message} (in step {number})",
        refusal.span or statement.span,
        tuple(Hint(h) for h in refusal.hints),
        source=program.source,
    )


def perform(paper: Folding, number: int, statement: nodes.Statement) -> Outcome:
    """Carries one statement out and remembers it. Raises Refusal."""
    move = moves()[statement.verb]
    scope = Scope(paper.state, paper.names)
    phrases = list(statement.phrases)
    new_name, name_span = "", statement.span
    if move.names_first:
        new_name, name_span, phrases = _leading_name(statement, phrases)
    clauses: list[Clause] = []
    for phrase in phrases:
        if phrase.word == "as":
            if len(phrase.operands) != 1 or not isinstance(phrase.operands[0], nodes.Name):
                raise Refusal("name-it", "'as' takes one new name", span=phrase.span)
            new_name, name_span = phrase.operands[0].text, phrase.operands[0].span
            continue
        values = tuple(scope.value(o) for o in phrase.operands)
        clauses.append(Clause(phrase.word, values, phrase.span))
    if new_name:
        _refuse_taken(paper.names, new_name, name_span)
    request = Request(
        paper.state,
        statement.verb,
        tuple(clauses),
        statement.span,
        new_name,
        partial(describe, paper.state, paper.names),
        partial(locate, paper.state, paper.names),
        tuple(paper.history),
        tuple(paper.step_ends),
        move.forms,
    )
    try:
        outcome = move.make(request)
    except Collision as clash:
        raise collision_refusal(request, clash) from None
    except Blocked as held:
        raise blocked_refusal(request, held, Sense.VALLEY) from None
    _remember(paper, number, statement, outcome, new_name, name_span)
    return outcome


def _leading_name(
    statement: nodes.Statement, phrases: list[nodes.Phrase]
) -> tuple[str, Span, list[nodes.Phrase]]:
    first = phrases[0] if phrases else None
    if first is None or not first.operands or not isinstance(first.operands[0], nodes.Name):
        raise Refusal(
            "name-it",
            f"'{statement.verb}' needs a new name first",
            *(f"write it like: {form}" for form in moves()[statement.verb].forms),
            span=statement.span,
        )
    name = first.operands[0]
    rest = replace(first, operands=first.operands[1:])
    kept = ([rest] if rest.operands or rest.word else []) + phrases[1:]
    return name.text, name.span, kept


def _refuse_taken(names: Names, name: str, span: Span) -> None:
    if name in names.points or name in names.creases:
        raise Refusal("name-taken", f"'{name}' is a name already", "choose another name", span=span)
    if len(names.points) + len(names.creases) >= NAME_LIMIT:
        raise Refusal("too-many-names", f"more than {NAME_LIMIT} names", span=span)


def _remember(
    paper: Folding,
    number: int,
    statement: nodes.Statement,
    outcome: Outcome,
    new_name: str,
    name_span: Span,
) -> None:
    for k in outcome.undoes:
        paper.history[k] = replace(paper.history[k], undone=True)
    for name, at in outcome.points:
        paper.names.points[name] = at
    if new_name and not outcome.points:
        if not outcome.creases:
            raise Refusal(
                "nothing-to-name", f"'{statement.verb}' makes no crease to name", span=name_span
            )
        paper.names.creases[new_name] = outcome.creases
    paper.history.append(
        Deed(
            step=number,
            verb=statement.verb,
            before=paper.state,
            after=outcome.after,
            signs=outcome.signs,
            name=new_name if not outcome.points else "",
            creases=outcome.creases,
            folded=outcome.folded,
            turn=outcome.turn,
            moved=outcome.moved,
        )
    )
    paper.state = outcome.after
