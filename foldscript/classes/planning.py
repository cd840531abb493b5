"""Plans what a model asks of a class: level, time, sheets, cuts, tools, cautions.

In: a folded model, how many people, what paper there is to cut from. Out: a `ModelPlan`.

The rules are common practice; none of them has been measured. A step of one fold takes about a minute
to someone who reads it off the page. Teaching a group takes about three times the folding time, that
is about three minutes a step for beginners. Harder moves take longer: the weights below are this
project's own estimate. Young children need two or three sheets a person and model. Of units that are all
folded alike the first is taught, and the others are folded alone; each takes its folding time.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from ..folding.alone import part_models
from ..folding.ending import ending, finished_size_mm
from ..folding.steps import Model, Part, Step
from ..geometry.polygons import bounds
from ..languages.levels import Level, level_called
from ..languages.wording import Phrase, Template
from ..moves.planning.request import Move
from .cutting import Cutting, Paper, cut, saving_size
from .lesson import TEACHING, StepPlan, folding_minutes, lesson, verbs_of
from .plan import Amounts, ClassPlan, ModelPlan, SheetNeed, Sheets, Times

#: One spare sheet for so many people (this project's own rule of thumb).
PEOPLE_A_SPARE = 5
#: Sheets a person and model with young children (common practice).
CHILDREN = (2, 3)
#: Models and offcuts smaller than this can be swallowed: length of the gauge for small parts in
#: 16 CFR 1501.4, in mm.
SMALL = 57.1

PREPARING: tuple[Template, ...] = (
    "a paper trimmer, or a craft knife with a metal ruler and a cutting mat",
)
KNIFE = Phrase(
    "Cut the sheets before the class. Trimmers and craft knives are for adults: cut along a metal "
    "ruler, on a mat, away from the hand that holds."
)
SMALL_MODEL = Phrase(
    "The model is small enough to swallow: keep it away from children under three."
)
OFFCUTS = Phrase("Small offcuts can be swallowed: keep them away from children under three.")
HOUSE_RULES = Phrase(
    "Where your school, library or venue has rules of its own, they come before these."
)


def plan_model(model: Model, people: int, papers: Sequence[Paper]) -> ModelPlan:
    """The plan of one model for so many people; the sheets come out of the first paper they fit on."""
    steps = (*(step for part in model.folded_parts for step in part.begun), *model.steps)
    used = tuple(_moves_of(steps))
    level = max((move.level for move in used), default=Level.SIMPLE)
    uses = _uses(model)
    return ModelPlan(
        name=model.name,
        title=model.title or model.name,
        credit=model.credit,
        level=level,
        stated=level_called(model.level),
        hardest=verbs_of(used, level),
        steps=len(model.steps),
        times=times(used, _folded_alone(model)),
        sheets=tuple(
            _sheets(one, part, people, papers)
            for one, part in zip(part_models(model), model.folded_parts, strict=True)
        ),
        finished=_finished(model),
        ending=ending(model),
        tools=tuple(uses),
        cautions=_cautions(model, used),
        notes=_notes(model),
        uses=tuple(uses.values()),
        lesson=_lesson(model, level),
    )


def plan_class(
    name: str, title: str, people: int, language: str, models: Sequence[ModelPlan]
) -> ClassPlan:
    """The plan of a class from those of its models."""
    cut_up = [
        one
        for m in models
        for one in m.sheets
        if one.cutting is None or one.cutting.cuts or one.sheet.trimmed
    ]
    offcuts = any(
        max(left.width, left.height) < SMALL
        for one in cut_up
        if one.cutting is not None
        for left in one.cutting.leftovers
    )
    return ClassPlan(
        name,
        title,
        people,
        language,
        tuple(models),
        PREPARING if cut_up else (),
        (*((KNIFE,) if cut_up else ()), *((OFFCUTS,) if offcuts else ()), HOUSE_RULES),
    )


def sheet_need(model: Model) -> SheetNeed:
    """The rectangle that the model's sheet is cut from."""
    sheet = model.sheet
    left, low, right, high = bounds(sheet.outline)
    area = abs(
        sum(
            p[0] * q[1] - q[0] * p[1]
            for p, q in zip(sheet.outline, (*sheet.outline[1:], sheet.outline[0]), strict=True)
        )
        / 2
    )
    box = (right - left) * (high - low)
    return SheetNeed(
        sheet.shape,
        round((right - left) * sheet.unit_mm, 2),
        round((high - low) * sheet.unit_mm, 2),
        area < box * (1 - 1e-9),
        sheet.front_coloured,
        tuple(c for c in (model.front_colour, model.back_colour) if c),
    )


def first_cutting(papers: Iterable[Paper], sheet: SheetNeed) -> Cutting | None:
    """The sheet cut from the first paper that is large enough."""
    found = (cut(paper, sheet.width, sheet.height) for paper in papers)
    return next((cutting for cutting in found if cutting is not None), None)


def _sheets(model: Model, part: Part, people: int, papers: Sequence[Paper]) -> Sheets:
    """The sheets of one part, which is the model."""
    sheet, each = sheet_need(model), len(part.colours)
    fronts = Counter(front for front, _ in part.colours)
    if len(fronts) > 1:
        sheet = replace(sheet, colours=tuple(f"{n} {front}" for front, n in fronts.items()))
    cutting = first_cutting(papers, sheet)
    saving = None
    if cutting is not None and not sheet.trimmed:
        saving = saving_size(cutting.paper, sheet.width, sheet.height)
    return Sheets(sheet, amounts(people, each), cutting, saving)


def times(used: Iterable[Move], alone: float = 0.0) -> Times:
    """Minutes for these moves; repeats stand there as often as they are folded.

    `alone` : minutes for what is folded once more without being taught again
    """
    folding = max(1, round(folding_minutes(used)))
    more = round(alone)
    return Times(folding + more, 5 * max(1, math.ceil((TEACHING * folding + more) / 5)))


def _uses(model: Model) -> Counter[str]:
    """How often one person uses each tool, in the order in which they are first used."""
    found: Counter[str] = Counter()
    for part in (*model.folded_parts, *(p for p in model.parts if p.assembles)):
        steps = (*part.begun, *model.steps[part.first - 1 : part.last])
        for move in _moves_of(steps):
            for tool in move.tools:
                found[tool] += max(1, len(part.colours))
    return found


def _folded_alone(model: Model) -> float:
    """Minutes for all units but the first of each kind."""
    found = 0.0
    for part in model.folded_parts:
        steps = (*part.begun, *model.steps[part.first - 1 : part.last])
        found += folding_minutes(_moves_of(steps)) * (len(part.colours) - 1)
    return found


def _lesson(model: Model, level: Level) -> tuple[StepPlan, ...]:
    """The steps in order; what a part starts from is folded before its first one."""
    before = {
        part.first: folding_minutes(_moves_of(part.begun))
        for part in model.folded_parts
        if part.begun
    }
    steps = [
        (step.number, tuple(_moves_of([step])), before.get(step.number, 0.0))
        for step in model.steps
    ]
    return lesson(steps, level)


def amounts(people: int, each: int = 1) -> Amounts:
    """Sheets of one size for so many people, so many of them for each person and model."""
    least, most = (each - 1 + count for count in CHILDREN)
    total = people * each
    return Amounts(
        total, total + math.ceil(total / PEOPLE_A_SPARE), (least * people, most * people), each
    )


def _moves_of(steps: Iterable[Step]) -> Iterator[Move]:
    """Every move made, in order; what only prepares a repeat is none."""
    for step in steps:
        for record in step.records:
            if record.move is not None:
                yield record.move


def _finished(model: Model) -> tuple[float, ...]:
    return tuple(round(side, 1) for side in finished_size_mm(model))


def _cautions(model: Model, used: Iterable[Move]) -> tuple[Phrase, ...]:
    found = [move.caution for move in used if move.caution is not None]
    if max(_finished(model)) < SMALL:
        found.append(SMALL_MODEL)
    return tuple(dict.fromkeys(found))


def _notes(model: Model) -> tuple[str, ...]:
    """What the model starts from, and the script's notes; cautions have a place of their own."""
    return replace(model, cautions=()).notes
