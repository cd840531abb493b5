"""The crease pattern as one page: the sheet at true size, its corners named, and what each line is.

In: the open sheet in points, a page size. Out: a Document of one page: the page asked for, upright or
lying, where the sheet fits on it, else one made to measure, for a plotter or a print shop.
"""

from __future__ import annotations

from collections.abc import Sequence

from ...drawing.scene.scene import Scene, Text
from ...drawing.sheet.true_sheet import TrueSheet, moved
from ...drawing.signs.key import KeyEntry
from ...folding.steps import Model
from ..document import Block, Document, Page, Placed
from ..head import Translate
from ..sizes import POINTS_PER_MM, PageSize
from ..text import Measure, text_block
from .true_size import corner_names, inner_lines, lines_of_text, placed, ruler

_MM = POINTS_PER_MM
_MARGIN = 12 * _MM
_GAP = 20.0
_SIZE, _TITLE, _LETTER = 9.0, 14.0, 11.0
#: Narrowest page that ruler and words stand side by side on.
_NARROWEST = 120 * _MM


def crease_page(
    model: Model,
    sheet: TrueSheet,
    entries: Sequence[KeyEntry],
    page: PageSize,
    measure: Measure,
    translate: Translate = lambda text: text,
) -> Document:
    """Lay the crease pattern out; `entries` are name and sample of the kinds of lines on it."""
    title = translate("{title}: crease pattern").format(title=model.title or model.name)
    for size in (page, page.landscape()):
        foot = _foot(model, title, entries, size.width - 2 * _MARGIN, measure, translate)
        room = size.height - 2 * _MARGIN - foot.height - _GAP
        if sheet.width <= size.width - 2 * _MARGIN and sheet.height <= room:
            break
    else:
        width = max(sheet.width + 2 * _MARGIN, _NARROWEST)
        foot = _foot(model, title, entries, width - 2 * _MARGIN, measure, translate)
        room = sheet.height
        size = PageSize("sheet", width, room + foot.height + _GAP + 2 * _MARGIN)
    at = ((size.width - sheet.width) / 2, _MARGIN + max(0.0, (room - sheet.height) / 2))
    here = moved(sheet, *at)
    items = (
        *inner_lines(here),
        placed(here.edge),
        *(placed(text) for _, text in corner_names(here, _LETTER, -1.1 * _LETTER)),
        *foot.at(_MARGIN, size.height - _MARGIN - foot.height),
    )
    document = Page(size, "1", items)
    return Document(
        title, model.credit, model.language, (document,), subject=translate("Crease pattern")
    )


def _foot(
    model: Model,
    title: str,
    entries: Sequence[KeyEntry],
    width: float,
    measure: Measure,
    translate: Translate,
) -> Block:
    """Title, what the lines are, and the ruler, below the sheet."""
    head = text_block(title, width, _TITLE, measure, "text.title", bold=True)
    key = _key(entries, width, measure)
    check = ruler()
    facts = [part for part in (model.credit, model.sheet.shape, model.licence) if part]
    words = lines_of_text(
        [
            " · ".join(facts),
            translate("The side that faces you before the first step."),
            translate("Print at 100 % (actual size): the ruler must be 50 mm long."),
        ],
        width - check.width - _GAP,
        _SIZE,
        measure,
    )
    y = head.height + 6.0
    items = [*head.at(0.0, 0.0), *key.at(0.0, y)]
    y += key.height + 8.0
    items += [*check.at(0.0, y + 3.0), *words.at(check.width + _GAP, y)]
    return Block(width, y + max(check.height + 3.0, words.height), tuple(items))


def _key(entries: Sequence[KeyEntry], width: float, measure: Measure) -> Block:
    """Samples with their names, side by side as many as there is room for."""
    cells: list[tuple[float, Scene, Text]] = []
    for name, scene in entries:
        wide = scene.width + 4.0 + measure(name, _SIZE, False) * 1.03
        cells.append((wide, scene, Text("text.key", (0.0, 0.0), name, _SIZE)))
    items: list[Placed] = []
    x = y = 0.0
    high = max((scene.height for _, scene, _ in cells), default=0.0)
    for wide, scene, text in cells:
        if x > 0 and x + wide > width:
            x, y = 0.0, y + 0.7 * high
        items.append(Placed((x, y), scene))
        items.append(Placed((x + scene.width + 4.0, y + high / 2 + 0.35 * _SIZE), text))
        x += wide + _GAP
    return Block(width, y + high if cells else 0.0, tuple(items))
