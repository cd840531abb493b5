"""The parts of a model as models of their own: for all that is told of one sheet.

In: a model. Out: a model for every part that is folded from a sheet, with its own sheet, its steps as they
are numbered in the whole, and a title that names both; the model itself where it has no parts.
"""

from __future__ import annotations

from dataclasses import replace

from .steps import Model


def part_models(model: Model) -> tuple[Model, ...]:
    """A model for every sheet that is folded otherwise, in order."""
    if not model.parts:
        return (model,)
    found: list[Model] = []
    for number, part in enumerate(model.folded_parts, start=1):
        front, back = part.colours[0]
        title = model.title or model.name
        found.append(
            replace(
                model,
                name=f"{model.name}-part-{number}",
                title=f"{title}: {part.title}" if part.title else title,
                front_colour=front,
                back_colour=back,
                sheet=part.sheet,
                start=part.start,
                steps=model.steps[part.first - 1 : part.last],
                begun=part.begun,
                starts_from=part.starts_from,
                parts=(),
            )
        )
    return tuple(found)
