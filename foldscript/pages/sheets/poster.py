"""The symbol poster: every line, sign and arrow with its name and what it means.

In: a style, a page size, and the words. Out: a Document, as many pages as it takes, for the wall of a
classroom. Samples are drawn by the functions that draw figures, in the weights of the page.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from ...drawing.scene.scene import Scene, Text
from ...drawing.signs.key import legend, meaning, sections
from ...drawing.signs.registry import glyphs
from ...drawing.style.styles import Style
from ...languages.wording import ENGLISH, Language, Template, phrase
from .. import measures
from ..document import Block, Document, Page, Placed, enlarged, rule, side_by_side, stacked
from ..grid import Grid, grid
from ..layout.makeup import PageMakeup, SpacedBlock
from ..sizes import PageSize
from ..typesetting import TextWidth, Typesetter, text_block

TITLE: Template = "Signs of paper folding"


def poster(
    style: Style, size: PageSize, text_width: TextWidth, speech: Language = ENGLISH
) -> Document:
    """The poster in one style and one language."""
    page = size.times(1 / style.enlarged)
    g, m = grid(size, style.enlarged, large_letters=True), measures.POSTER
    typesetter = Typesetter(text_width, g.leading)
    columns = max(1, int((g.width + g.gutter) // (m.narrowest * g.caption + g.gutter)))
    width = (g.width - (columns - 1) * g.gutter) / columns
    near, apart = m.between * g.caption, m.above_heading * g.caption
    blocks = [SpacedBlock(_head(g, typesetter, speech), apart)]
    names = _names(speech)
    for heading, keys in sections():
        title = text_block(
            speech(heading), g.width, g.heading, typesetter, "text.heading", bold=True
        )
        cells = [_cell(key, names[key], style, width, g, typesetter, speech) for key in keys]
        rows = [
            side_by_side(cells[i : i + columns], width + g.gutter, g.width)
            for i in range(0, len(cells), columns)
        ]
        rows[0] = stacked([title, rows[0]], m.below_heading * g.caption)
        blocks += [SpacedBlock(row, near) for row in rows[:-1]]
        blocks.append(SpacedBlock(rows[-1], apart))
    pages = _filled(blocks, page, g, style, speech)
    title = speech(TITLE)
    document = Document(f"{title}, {style.name}", "", speech.tag, pages, subject=title)
    return enlarged(document, size, style.enlarged)


def _head(g: Grid, typesetter: Typesetter, speech: Language) -> Block:
    title = text_block(speech(TITLE), g.width, g.title, typesetter, "text.title", bold=True)
    y = title.height + measures.POSTER.title_rule * g.caption
    return Block(g.width, y, (*title.items, Placed((0.0, y), rule(g.width))))


def _names(speech: Language) -> dict[str, str]:
    """What each sign is called where its meaning is told: its name up to a colon, unless others begin so."""
    whole = {key: speech(glyph.name) for key, glyph in glyphs().items()}
    short = {key: name.split(":")[0].strip() for key, name in whole.items()}
    alike = Counter(short.values())
    return {key: name if alike[name] == 1 else whole[key] for key, name in short.items()}


def _cell(
    key: str,
    name: str,
    style: Style,
    width: float,
    g: Grid,
    typesetter: Typesetter,
    speech: Language,
) -> Block:
    """A sample with its name and meaning beside it."""
    ((_, scene),) = legend([key], style, speech)
    m = measures.POSTER
    sample = m.sample * g.caption
    scale = max(1.0, g.caption / m.sample_drawn)
    left = sample + m.beside_sample * g.caption
    words = stacked(
        [
            text_block(name, width - left, m.name * g.caption, typesetter, "text.key", bold=True),
            text_block(
                speech(meaning(key)), width - left, m.meaning * g.caption, typesetter, "text.note"
            ),
        ],
        m.below_name * g.caption,
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


def _filled(
    blocks: Sequence[SpacedBlock], size: PageSize, g: Grid, style: Style, speech: Language
) -> tuple[Page, ...]:
    """Blocks one below the other, each page with the style's name and its number at the foot."""
    made = PageMakeup(g, size)
    made.turn()
    for part in blocks:
        made.part(part)
    pages = made.items
    out: list[Page] = []
    for number, items in enumerate(pages, 1):
        name = phrase("Style: {name}", name=style.name).render(speech)
        place = phrase("{n} of {total}", n=str(number), total=str(len(pages))).render(speech)
        told = Text("text.note", (0.0, 0.0), name, g.small)
        count = Text("text.note", (0.0, 0.0), place, g.small, "end")
        foot = (Placed((g.left, g.foot), told), Placed((g.right, g.foot), count))
        out.append(Page(size, str(number), (*items, *foot)))
    return tuple(out)
