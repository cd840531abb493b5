"""The crease pattern as one page: the sheet at true size, its corners named, and what each line is.

In: the open sheet in points, a page size. Out: a Document of one page: the page asked for, upright or
lying, where the sheet fits on it, else one made to typesetter, for a plotter or a print shop.
"""

from __future__ import annotations

from collections.abc import Sequence

from ...drawing.scene.scene import Scene, Text
from ...drawing.sheet.true_sheet import TrueSheet, moved
from ...drawing.signs.key import KeyEntry
from ...folding.steps import Model
from ...languages.wording import Translate
from .. import measures
from ..document import Block, Document, Page, Placed
from ..sizes import PageSize
from ..typesetting import TextWidth, Typesetter, text_block
from .true_size import corner_names, inner_lines, lines_of_text, placed, ruler, told


def crease_page(
    model: Model,
    sheet: TrueSheet,
    entries: Sequence[KeyEntry],
    page: PageSize,
    text_width: TextWidth,
    translate: Translate = lambda text: text,
) -> Document:
    """Lay the crease pattern out; `entries` are name and sample of the kinds of lines on it."""
    m = measures.CREASES
    typesetter = Typesetter(text_width, measures.TRUE_SIZE.leading)
    title = translate("{title}: crease pattern").format(title=model.title or model.name)
    for size in (page, page.landscape()):
        foot = _foot(model, title, entries, size.width - 2 * m.margin, typesetter, translate)
        room = size.height - 2 * m.margin - foot.height - m.gap
        if sheet.width <= size.width - 2 * m.margin and sheet.height <= room:
            break
    else:
        width = max(sheet.width + 2 * m.margin, m.narrowest)
        foot = _foot(model, title, entries, width - 2 * m.margin, typesetter, translate)
        room = sheet.height
        size = PageSize("sheet", width, room + foot.height + m.gap + 2 * m.margin)
    at = ((size.width - sheet.width) / 2, m.margin + max(0.0, (room - sheet.height) / 2))
    here = moved(sheet, *at)
    items = (
        *inner_lines(here),
        placed(here.edge),
        *(placed(text) for _, text in corner_names(here, m.letter, -m.letter_away * m.letter)),
        *foot.at(m.margin, size.height - m.margin - foot.height),
    )
    document = Page(size, "1", items)
    return Document(
        title,
        model.credit,
        model.language,
        (told(document, title),),
        subject=translate("Crease pattern"),
    )


def _foot(
    model: Model,
    title: str,
    entries: Sequence[KeyEntry],
    width: float,
    typesetter: Typesetter,
    translate: Translate,
) -> Block:
    """Title, what the lines are, and the ruler, below the sheet."""
    m = measures.CREASES
    head = text_block(title, width, m.title, typesetter, "text.title", bold=True)
    key = _key(entries, width, typesetter)
    check = ruler()
    facts = [part for part in (model.credit, model.sheet.shape, model.licence) if part]
    words = lines_of_text(
        [
            " · ".join(facts),
            translate("The side that faces you before the first step."),
            translate("Print at 100 % (actual size): the ruler must be 50 mm long."),
        ],
        width - check.width - m.gap,
        m.words,
        typesetter,
    )
    y = head.height + m.below_title
    items = [*head.at(0.0, 0.0), *key.at(0.0, y)]
    y += key.height + m.below_samples
    items += [*check.at(0.0, y + m.above_ruler), *words.at(check.width + m.gap, y)]
    return Block(width, y + max(check.height + m.above_ruler, words.height), tuple(items))


def _key(entries: Sequence[KeyEntry], width: float, typesetter: Typesetter) -> Block:
    """Samples with their names, side by side as many as there is room for."""
    m, down = measures.CREASES, measures.TYPE.centred
    cells: list[tuple[float, Scene, Text]] = []
    for name, scene in entries:
        wide = (
            scene.width
            + m.beside_sample
            + typesetter.width(name, m.words, False) * measures.TYPE.slack_alone
        )
        cells.append((wide, scene, Text("text.key", (0.0, 0.0), name, m.words)))
    items: list[Placed] = []
    x = y = 0.0
    high = max((scene.height for _, scene, _ in cells), default=0.0)
    for wide, scene, text in cells:
        if x > 0 and x + wide > width:
            x, y = 0.0, y + m.sample_rows * high
        items.append(Placed((x, y), scene))
        items.append(
            Placed((x + scene.width + m.beside_sample, y + high / 2 + down * m.words), text)
        )
        x += wide + m.gap
    return Block(width, y + high if cells else 0.0, tuple(items))
