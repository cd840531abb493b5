"""A class plan as text and as JSON. foldscript/classes/README.md describes the JSON.

In: a plan. Out: text for a terminal or a message, or the `foldscript-class-plan` document. Lengths
are millimetres, times minutes.
"""

from __future__ import annotations

import json
import textwrap
from collections.abc import Iterable, Iterator

from ..classes.cutting import Cutting, Rectangle
from ..classes.plan import ClassPlan, ModelPlan, PaperNeed, Sheets
from ..classes.plan_rows import (
    BASIS,
    Row,
    class_rows,
    model_rows,
    paper_rows,
    paper_title,
    waiting_row,
)
from ..languages.wording import ENGLISH, Translate

_WIDTH = 92
_LABEL = 10

#: What the sides of a finished model are called: one that lies, and one that stands.
_SIDES = {2: ("width", "height"), 3: ("width", "depth", "height")}


def class_plan_text(plan: ClassPlan, translate: Translate = ENGLISH) -> str:
    """The plan in lines, ending in a line break."""
    title = translate("Class plan: {title}").format(title=plan.title)
    out = [title, "", *_rows(class_rows(plan, translate))]
    several = len(plan.models) > 1
    for need in plan.paper:
        size = paper_title(need, several, translate)
        out += ["", *_heading(translate("Paper {size}").format(size=size))]
        out += _rows(paper_rows(need, translate))
    begins = 0
    for model in plan.models:
        out += ["", *_heading(f"{model.title} ({model.credit})" if model.credit else model.title)]
        out += _rows(model_rows(model, translate))
        out += _rows([waiting_row(model, begins, translate)])
        begins += model.times.teaching
        cautions = tuple(c.render(translate) for c in model.cautions)
        out += _rows([(translate("Notes"), model.notes), (translate("Mind"), cautions)])
    out += ["", *textwrap.wrap(translate(BASIS), _WIDTH)]
    return "\n".join(out) + "\n"


def _heading(text: str) -> list[str]:
    lines = textwrap.wrap(text, _WIDTH)
    return [*lines, "-" * max(map(len, lines), default=0)]


def _rows(rows: Iterable[Row]) -> Iterator[str]:
    for label, lines in rows:
        for k, line in enumerate(lines):
            lead = f"{label if k == 0 else '':<{_LABEL}} "
            yield from textwrap.wrap(
                line, _WIDTH, initial_indent=lead, subsequent_indent=" " * (_LABEL + 1)
            )


def class_plan_json(plan: ClassPlan) -> str:
    """The document as text, ending in a line break."""
    return json.dumps(class_plan_data(plan), ensure_ascii=False, indent=2) + "\n"


def class_plan_data(plan: ClassPlan) -> dict[str, object]:
    """The document as plain data."""
    return {
        "format": "foldscript-class-plan",
        "version": 1,
        "title": plan.title,
        "people": plan.people,
        "basis": BASIS,
        "folding_minutes": plan.times.folding,
        "teaching_minutes": plan.times.teaching,
        "tools": list(plan.tools),
        "cautions": [caution.render() for caution in plan.cautions],
        "paper": [_need(need) for need in plan.paper],
        "models": [_model(model) for model in plan.models],
    }


def _model(plan: ModelPlan) -> dict[str, object]:
    return {
        "name": plan.name,
        "title": plan.title,
        "credit": plan.credit,
        "level": plan.level.words,
        "level_stated": plan.stated.words if plan.stated is not None else None,
        "hardest_moves": list(plan.hardest),
        "steps": plan.steps,
        "folding_minutes": plan.times.folding,
        "teaching_minutes": plan.times.teaching,
        **_sheets(plan.sheets[0]),
        **({"parts": [_sheets(one) for one in plan.sheets]} if len(plan.sheets) > 1 else {}),
        "finished": dict(zip(_SIDES[len(plan.finished)], plan.finished, strict=True)),
        "tools": list(plan.tools),
        "tool_uses": dict(zip(plan.tools, plan.uses, strict=True)),
        "cautions": [caution.render() for caution in plan.cautions],
        "notes": list(plan.notes),
        "lesson": [
            {
                "step": step.number,
                "starts_at_minute": step.starts,
                "hard_moves": list(step.hard),
                "wait": step.waits,
            }
            for step in plan.lesson
        ],
    }


def _sheets(one: Sheets) -> dict[str, object]:
    return {
        "sheet": {
            "words": one.sheet.words,
            "width": one.sheet.width,
            "height": one.sheet.height,
            "trimmed_to_shape": one.sheet.trimmed,
            "side_up": "coloured" if one.sheet.coloured_up else "plain",
            "colours": list(one.sheet.colours),
        },
        "sheets": {
            "each": one.amounts.each,
            "people": one.amounts.people,
            "with_spares": one.amounts.with_spares,
            "young_children": list(one.amounts.children),
        },
    }


def _need(need: PaperNeed) -> dict[str, object]:
    return {
        "width": need.sheet.width,
        "height": need.sheet.height,
        "trimmed_to_shape": need.sheet.trimmed,
        "models": list(need.titles),
        "sheets": need.sheets,
        "sheets_young_children": list(need.children),
        "pages": need.pages or None,
        "cutting": _cutting(need.cutting) if need.cutting is not None else None,
        "saving_size": None
        if need.saving is None
        else {"width": need.saving[0], "height": need.saving[1], "per_page": need.saving[2]},
    }


def _cutting(cutting: Cutting) -> dict[str, object]:
    return {
        "from": cutting.paper.name,
        "page": {"width": cutting.paper.width, "height": cutting.paper.height},
        "per_page": cutting.count,
        "cuts": [
            {
                "pieces": one.count,
                "width": one.width,
                "height": one.height,
                "direction": "across" if one.across else "down",
                "at": list(one.at),
            }
            for one in cutting.cuts
        ],
        "sheets": [_rectangle(r) for r in cutting.sheets],
        "leftovers": [_rectangle(r) for r in cutting.leftovers],
    }


def _rectangle(r: Rectangle) -> dict[str, float]:
    return {"x": r.x, "y": r.y, "width": r.width, "height": r.height}
