"""The symbol poster: every line, sign and arrow with its name and what it means.

In: a style, a page size, and the words. Out: a Document, as many pages as it takes, for the wall of a
classroom. Samples are drawn by the functions that draw figures, in the weights of the page.
"""

from __future__ import annotations

from collections.abc import Sequence

from ...drawing.scene.scene import Scene, Text
from ...drawing.signs.key import legend, meaning, sections
from ...drawing.style.styles import Style
from ...languages.wording import ENGLISH, Language, Template, phrase
from ..document import Block, Document, Page, Placed, enlarged, rule
from ..grid import Grid, grid
from ..key import stacked
from ..sizes import PageSize
from ..text import Measure, text_block

TITLE: Template = "Signs of paper folding"
#: Smallest width of a column, and the room of a sample, as multiples of the caption's size.
_COLUMN, _SAMPLE, _GAP = 17.0, 4.6, 0.8
#: Type sizes against the caption's.
_NAME, _MEANING = 1.0, 0.83


def poster(style: Style, size: PageSize, measure: Measure, speech: Language = ENGLISH) -> Document:
    """The poster in one style and one language."""
    page = size.times(1 / style.enlarged)
    g = grid(page)
    columns = max(1, int((g.width + g.gutter) // (_COLUMN * g.caption + g.gutter)))
    width = (g.width - (columns - 1) * g.gutter) / columns
    blocks: list[Block] = [_head(g, measure, speech)]
    for heading, keys in sections():
        title = text_block(speech(heading), g.width, g.heading, measure, "text.heading", bold=True)
        cells = [_cell(key, style, width, g, measure, speech) for key in keys]
        rows = [_row(cells[i : i + columns], width, g) for i in range(0, len(cells), columns)]
        blocks.append(stacked([title, rows[0]], 0.5 * g.caption))
        blocks += rows[1:]
    pages = _filled(blocks, page, g, style, speech)
    title = speech(TITLE)
    document = Document(f"{title}, {style.name}", "", speech.tag, pages, subject=title)
    return enlarged(document, size, style.enlarged)


def _head(g: Grid, measure: Measure, speech: Language) -> Block:
    title = text_block(speech(TITLE), g.width, g.title, measure, "text.title", bold=True)
    y = title.height + 0.4 * g.caption
    return Block(g.width, y, (*title.items, Placed((0.0, y), rule(g.width))))


def _cell(
    key: str, style: Style, width: float, g: Grid, measure: Measure, speech: Language
) -> Block:
    """A sample with its name and meaning beside it."""
    ((name, scene),) = legend([key], style, speech)
    name = name.split(":")[0].strip()
    sample = _SAMPLE * g.caption
    scale = max(1.0, g.caption / 12.0)
    left = sample + _GAP * g.caption
    words = stacked(
        [
            text_block(name, width - left, _NAME * g.caption, measure, "text.key", bold=True),
            text_block(
                speech(meaning(key)), width - left, _MEANING * g.caption, measure, "text.note"
            ),
        ],
        0.12 * g.caption,
    )
    tall = max(words.height, scene.height * scale)
    return Block(
        width,
        tall,
        (
            _placed(scene, scale, sample, tall),
            *words.at(left, (tall - words.height) / 2),
        ),
    )


def _placed(scene: Scene, scale: float, width: float, height: float) -> Placed:
    x, y = (width - scene.width * scale) / 2, (height - scene.height * scale) / 2
    return Placed((x, y), scene, scale)


def _row(cells: Sequence[Block], width: float, g: Grid) -> Block:
    height = max(cell.height for cell in cells)
    items = tuple(
        item
        for k, cell in enumerate(cells)
        for item in cell.at(k * (width + g.gutter), (height - cell.height) / 2)
    )
    return Block(g.width, height, items)


def _filled(
    blocks: Sequence[Block], size: PageSize, g: Grid, style: Style, speech: Language
) -> tuple[Page, ...]:
    """Blocks one below the other, each page with the style's name and its number at the foot."""
    gap = 0.75 * g.caption
    pages: list[list[Placed]] = [[]]
    y = g.top
    for block in blocks:
        if y + block.height > g.bottom and pages[-1]:
            pages.append([])
            y = g.top
        pages[-1] += block.at(g.left, y)
        y += block.height + gap
    out: list[Page] = []
    for number, items in enumerate(pages, 1):
        name = phrase("Style: {name}", name=style.name).render(speech)
        place = phrase("{n} of {total}", n=str(number), total=str(len(pages))).render(speech)
        told = Text("text.note", (0.0, 0.0), name, g.small)
        count = Text("text.note", (0.0, 0.0), place, g.small, "end")
        foot = (Placed((g.left, g.foot), told), Placed((g.right, g.foot), count))
        out.append(Page(size, str(number), (*items, *foot)))
    return tuple(out)
