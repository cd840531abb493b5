"""Units put together, told for fingers: how far a unit is moved, and which way.

In: a record of such a move. Out: a sentence.
"""

from __future__ import annotations

from ..folding.steps import MoveRecord
from ..geometry.lines import subtract
from ..languages.wording import Phrase, listed, phrase
from .directions import way


def brought(record: MoveRecord, template: Phrase) -> Phrase:
    """How the last of the sheets is moved: how far, and which way."""
    sheet = record.before.sheet.all[-1]
    corner = sheet.outline[0]
    x, y = subtract(record.after.where(corner), record.before.where(corner))
    found: list[Phrase] = []
    for along, toward in ((x, (x, 0.0)), (y, (0.0, y))):
        mm = f"{abs(along) * sheet.unit_mm:.0f}"
        if mm != "0":
            found.append(phrase("{mm} mm {way}", mm=mm, way=way(toward)))
    return Phrase(template.template, (*template.parts, ("way", listed(found))))
