"""Carries a script out on paper: `Program` to `Model`.

In: a parsed program. Out: its steps, every state proved by the kernel. Stops at the first fold that
the paper or its words do not allow, since later steps have no paper then; the message says in which
step that was.
"""

from __future__ import annotations

import math
from pathlib import Path

from ..diagnostics import Diagnostic, FoldscriptError, Hint, Refusal, Span
from ..geometry.isometries import IDENTITY, Isometry, rotation
from ..geometry.polygons import bounds, centroid
from ..paper.sheet import Sheet
from ..paper.state import flat
from ..syntax import nodes
from .figures import Figures
from .names import Names
from .performing import Folding, perform
from .steps import Model, Step


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
        notes=(*head.notes, *(c.render() for c in paper.cautions)),
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
