"""What figures of a model in parts say of them: over the first figure of a part, and under its last.

In: a model in a language, and a step's number. Out: words; '' where the model has no parts.
"""

from __future__ import annotations

from dataclasses import replace

from ..languages.wording import Phrase, listed, own_text, phrase, plural
from .ending import Ending, ending
from .steps import Model, Part


def part_heading(model: Model, number: int) -> str:
    """What is folded from this step on, and from which sheets: 'Lid: 1 sheet, square 15 cm'."""
    part = model.part_of(number)
    if part is None or part.first != number:
        return ""
    return heading_of(part).render(model.speech)


def heading_of(part: Part) -> Phrase:
    """What a part is, and from which sheets it is folded."""
    if part.assembles:
        return own_text(part.title) if part.title else Phrase("Putting the units together")
    count = plural("{n} sheet", "{n} sheets", len(part.colours))
    if len(set(part.colours)) > 1:
        count = colours_of(part)
    title = own_text(part.title) if part.title else Phrase("The unit")
    words = phrase(
        "{part}: {sheets}, {shape}",
        part=title,
        sheets=count,
        shape=own_text(part.sheet.shape),
    )
    if part.starts_from is not None:
        return phrase("{words}. {base}", words=words, base=part.starts_from)
    return words


def colours_of(part: Part) -> Phrase:
    """'2 sheets red, 4 sheets blue'."""
    counts: dict[str, int] = {}
    for front, _ in part.colours:
        counts[front] = counts.get(front, 0) + 1
    return listed(
        [
            plural("{n} sheet {colour}", "{n} sheets {colour}", n, colour=own_text(colour))
            for colour, n in counts.items()
        ]
    )


def part_finished(model: Model, number: int) -> Phrase:
    """What stands under the figure of a part that is finished after this step."""
    part = model.part_of(number)
    if part is None:
        return Phrase("")
    count = len(part.colours)
    steps = model.steps[part.first - 1 : part.last]
    flat = ending(replace(model, steps=steps, parts=())) is Ending.FLAT
    if not flat and number not in model.poses:
        title = own_text(part.title) if part.title else Phrase("The unit")
        return phrase("{title}, before it is opened out", title=title)
    if count > 1:
        return phrase("The finished unit. Fold {n} of them.", n=str(count))
    if part.title:
        return phrase("{part} is finished.", part=own_text(part.title))
    return Phrase("The finished unit.")
