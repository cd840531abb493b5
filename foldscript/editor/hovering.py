"""What stands beside the pointer: the figure of a step, where a point lies, how a move is written.

In: what is written and folded, and a place of the text. Out: Markdown, and the span that it is about. Texts
of the script are escaped. Nothing is drawn here: pictures are ready, or are asked for (`Hover.waits_for`).
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from ..folding.repeating.repeat_statement import FORMS as OF_REPEAT
from ..folding.resolving.names import Names, locate
from ..folding.resolving.words_for import point_words
from ..folding.steps import Model, Step
from ..geometry.lines import Point, Segment, distance
from ..geometry.polygons import bounds
from ..languages.wording import ENGLISH, sentences
from ..moves.registry import moves
from ..paper.heaps import on_top
from ..paper.sheet import Sheet
from ..paper.state import State
from ..source.diagnostics import Severity, Span
from ..syntax import nodes
from ..syntax.script_lines import token_span
from .bench import Bench
from .figures import in_markdown
from .giving import Kind
from .names import Entity, Place

#: Letters that mean something in Markdown (CommonMark 0.31, 2.4 'Backslash escapes').
_MARKS = re.compile(r"([\\`*_{}\[\]()#+\-.!<>|~&$])")


@dataclass(frozen=True)
class Hover:
    """What is said of a span; `waits_for` is the number of a step whose figure is not drawn yet, or 0."""

    markdown: str
    span: Span
    waits_for: int = 0


def escaped(text: str) -> str:
    """A text that Markdown shows as it is."""
    return " ".join(_MARKS.sub(r"\\\1", text).split())


def hover(bench: Bench, offset: int, pictures: str) -> Hover | None:
    """What to say of a place; `pictures` is 'svg', 'png' or 'none'. None where there is nothing."""
    written = bench.written
    named = written.names.at(offset)
    if named is not None:
        return _named(bench, *named)
    token = written.token_at(offset)
    if token is None:
        return None
    span = token_span(token)
    statement = written.statement_at(offset)
    if statement is not None and statement.verb_span.start <= offset <= statement.verb_span.end:
        return Hover(of_verb(statement.verb), statement.verb_span)
    asked = _asked_step(statement, offset) if statement is not None else None
    if asked is not None:
        return _of_step(bench, asked.first - 1, asked.span, pictures)
    index = written.step_at(offset)
    if 0 <= index < len(written.program.steps):
        around = statement.span if statement is not None else span
        return _of_step(bench, index, around, pictures)
    return None


# --- moves and steps -----------------------------------------------------------------------------


def forms_of(verb: str) -> tuple[str, ...]:
    """How a statement with this verb may be written."""
    from ..folding.groups import FORMS as OF_DO

    move = moves().get(verb)
    return move.forms if move is not None else {"do": OF_DO, "repeat": OF_REPEAT}.get(verb, ())


def summary_of(verb: str) -> str:
    """What a statement with this verb does, in one line."""
    several = {
        "do": "do the moves of a group, with these points and lines",
        "repeat": "do steps once more, elsewhere on the paper or again",
    }
    move = moves().get(verb)
    return move.summary if move is not None else several.get(verb, "")


def of_verb(verb: str) -> str:
    """A move's forms and what it does, as Markdown."""
    forms = "\n".join(forms_of(verb))
    return f"**{verb}**: {escaped(summary_of(verb))}\n\n```foldscript\n{forms}\n```"


def _asked_step(statement: nodes.Statement, offset: int) -> nodes.StepRange | None:
    return next(
        (
            o
            for phrase in statement.phrases
            for o in phrase.operands
            if isinstance(o, nodes.StepRange) and o.span.start <= offset <= o.span.end
        ),
        None,
    )


def _of_step(bench: Bench, index: int, span: Span, pictures: str) -> Hover | None:
    """The figures and the caption of a step."""
    found = bench.folded_step(index)
    node = bench.written.program.steps[index : index + 1]
    if found is None:
        caption = node[0].captions[0].text if node and node[0].captions else ""
        said = f"**Step {index + 1}** {escaped(caption)}".rstrip()
        return Hover(f"{said}\n\n*{_why_unfolded(bench)}*", span)
    step, model, current = found
    shown: tuple[bytes, ...] | None = ()
    if pictures != "none" and model is not None:
        shown = bench.figures.of(model, step)
    image = in_markdown(shown or (), pictures, f"step {step.number}")
    lines = [image] if image else []
    lines.append(f"**Step {step.number}** {escaped(_caption(step, model))}".rstrip())
    if not current:
        lines.append("*as it last folded*")
    waits = step.number if shown is None and current else 0
    return Hover("\n\n".join(lines), span, waits)


def _why_unfolded(bench: Bench) -> str:
    """What to say of a step that is not folded: where the text is wrong, or that it takes a moment."""
    told, faults = bench.faults
    if told is bench.written:
        for fault in faults:
            if fault.severity is Severity.ERROR and fault.span is not None:
                line, _ = told.source.position(fault.span.start)
                return f"not folded: line {line} has to be put right first"
    return "not folded yet"


def _caption(step: Step, model: Model | None) -> str:
    """The author's caption, then what the moves say, in the language of the model."""
    speech = model.speech if model is not None else ENGLISH
    said = sentences(step.wording, speech)
    return step.caption if step.caption else said


# --- names ---------------------------------------------------------------------------------------


def _named(bench: Bench, entity: Entity, place: Place) -> Hover:
    """What a name stands for, where it got its name, and where it lies."""
    written = bench.written
    name = f"{entity.name}{place.ending}"
    lines = [f"**{escaped(name)}**: {_kind(entity, place)}{_where_given(bench, entity)}"]
    group = entity.room.group
    if entity.kind is Kind.GROUP:
        group = next(g for g in written.program.groups if g.name.text == entity.name)
        head = " ".join((group.name.text, *(p.text for p in group.parameters)))
        count = len(group.body)
        lines = [f"```foldscript\ngroup {head}\n```", f"{count} move{'s' * (count != 1)}"]
    elif group is None or place.gives is False:
        lines.extend(_lies(bench, name, place.span.start))
    return Hover("\n\n".join(lines), place.span)


def _kind(entity: Entity, place: Place) -> str:
    kind = entity.kind.value
    return f"{kind}, an image of {escaped(entity.name)}" if place.ending else kind


def _where_given(bench: Bench, entity: Entity) -> str:
    given = entity.given
    if given is None or entity.kind in (Kind.PARAMETER, Kind.CORNER):
        return ""
    line, _ = bench.written.source.position(given.span.start)
    index = bench.written.step_at(given.span.start)
    step = f" of step {index + 1}" if index >= 0 and entity.room.group is None else ""
    return f", named in line {line}{step}"


def _lies(bench: Bench, name: str, offset: int) -> list[str]:
    """Where the thing lies on the sheet, and in the figure of the step."""
    index = bench.written.step_at(offset)
    after = bench.folded.steps[index : index + 1] if index >= 0 else ()
    before = bench.folded.steps[index - 1 : index] if index >= 1 else ()
    for one in (*before, *after):
        names = one.folding.names
        if name not in names.points and name not in names.creases:
            continue
        state = after[0].step.before if after else one.step.after
        when = f"Before step {index + 1}" if after else f"After step {one.step.number}"
        if name in names.points:
            others = names.copy()
            at = others.points.pop(name)
            return _point_lies(others, state, name, at, when)
        return [_crease_lies(state.sheet, names.creases[name])]
    return []


def _point_lies(others: Names, state: State, name: str, at: Point, when: str) -> list[str]:
    """Where a point lies; `others` are the names of all else."""
    lines = [f"On the sheet {_measured(state.sheet, at)}."]
    if state.facets_on_sheet(at):
        spot = state.where(at)
        words = point_words(state, others, spot)
        here = f"at the {words}" if " " in words else locate(state, others, spot)
        layers = len(state.facets_at(spot))
        heap = on_top(state, {**others.points, name: at}, spot)
        many = f", {layers} layers there" if layers > 1 else ""
        many += f": {escaped(heap)}" if heap else ""
        lines.append(f"{when} it lies {escaped(here)}{many}.")
    return lines


def _measured(sheet: Sheet, at: Point) -> str:
    left, low, _, _ = bounds(sheet.outline)
    across, up = ((at[0] - left) * sheet.unit_mm, (at[1] - low) * sheet.unit_mm)
    return f"{across:.0f} mm from the left and {up:.0f} mm from the bottom"


def _crease_lies(sheet: Sheet, creases: tuple[Segment, ...]) -> str:
    total = sum(distance(*segment) for segment in creases) * sheet.unit_mm
    many = f", in {len(creases)} pieces" if len(creases) > 1 else ""
    return f"On the sheet {total:.0f} mm long{many}."
