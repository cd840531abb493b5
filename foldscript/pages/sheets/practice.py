"""The practice sheet: the paper to be folded, at true size, with the lines of some steps on it.

In: the open sheet in points and a page size. Out: a Document: one page where the sheet fits, else as
many as it takes, with strips where they overlap, register marks on every seam, and a map.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ...drawing.scene.outlines import polyline
from ...drawing.scene.scene import Path, Text
from ...drawing.sheet.true_sheet import TrueSheet, as_it_lies, moved
from ...folding.steps import Model
from ...languages.wording import Translate, phrase
from ...source.diagnostics import Diagnostic, FoldscriptError, Hint
from .. import measures
from ..document import Block, Document, Page, Placed
from ..sizes import PageSize
from ..typesetting import TextWidth, Typesetter
from .seams import register_mark, seam
from .true_size import (
    Box,
    clipped,
    corner_names,
    edge_lines,
    inner_lines,
    lines_of_text,
    placed,
    ruler,
    step_numbers,
    told,
    within,
)


@dataclass(frozen=True, slots=True)
class _Way:
    """How a sheet is shared out: page and margin, height of the words below, and the parts."""

    size: PageSize
    margin: float
    strip_height: float
    tiles: list[Tile]


@dataclass(frozen=True, slots=True)
class Tile:
    """One page's part of the sheet: column and row, and what it shows, in the sheet's points."""

    column: int
    row: int
    window: Box


def practice(
    model: Model,
    sheet: TrueSheet,
    steps: tuple[int, int],
    page: PageSize,
    text_width: TextWidth,
    translate: Translate = lambda text: text,
) -> Document:
    """Lay a practice sheet out.

    `sheet` holds the lines of the steps from `steps[0]` to `steps[1]`; it is turned as it lies before the
    first step, where it fits on one page so. Raises FoldscriptError
    ('too-many-pages') where the sheet is too large to be put together from pages.
    """
    typesetter = Typesetter(text_width, measures.TRUE_SIZE.leading)
    first, last = steps
    said = phrase("step {n}", n=str(first))
    if first != last:
        said = phrase("steps {n} to {m}", n=str(first), m=str(last))
    title = phrase(
        "{title}: practice sheet, {steps}", title=model.title or model.name, steps=said
    ).render(translate)
    lying = as_it_lies(sheet)
    upright = lying if sheet.upright else sheet
    askew = not sheet.upright
    pages = _on_one_page(model, lying, title, page, typesetter, translate, askew) or (
        _on_one_page(model, upright, title, page, typesetter, translate)
        or _tiled(model, upright, title, page, typesetter, translate)
    )
    return Document(
        title,
        model.credit,
        model.language,
        tuple(told(page, title) for page in pages),
        subject=translate("Practice sheet"),
    )


def _advice(model: Model, sheet: TrueSheet, title: str, translate: Translate) -> list[str]:
    """What stands beside the ruler."""
    up = (
        translate("Print on the coloured side; the printed side faces you in the beginning.")
        if model.sheet.front_coloured
        else translate("Print on the plain side; the printed side faces you in the beginning.")
    )
    lie = ""
    if len(sheet.lowest) == 1:
        lie = translate("Corner {name} at the bottom.").format(name=sheet.lowest[0])
    elif len(sheet.lowest) == 2:
        lie = translate("Edge {names} at the bottom.").format(names=" ".join(sheet.lowest))
    return [
        f"{title} ({model.sheet.shape})",
        translate("Print at 100 % (actual size): the ruler must be 50 mm long."),
        " ".join(part for part in (up, lie) if part),
        translate(
            "Dashes: valley. Dashes and dots: mountain. A number is the step that folds there."
        ),
    ]


# --- one page --------------------------------------------------------------------------------------


def _on_one_page(
    model: Model,
    sheet: TrueSheet,
    title: str,
    page: PageSize,
    typesetter: Typesetter,
    translate: Translate,
    askew: bool = False,
) -> list[Page] | None:
    """The sheet on one page, upright or lying; None where it is too large for that.

    A sheet that nearly fills the page shares the page's left and upper edge, and both of its sides
    where it is as large as the page.
    """
    m = measures.PRACTICE
    said = _advice(model, sheet, title, translate)
    advice = [*said, translate("Cut along the outline.")]
    ways = (page, page.landscape())
    for size in ways:
        strip = _strip(advice, size.width - 2 * m.margin, None, typesetter)
        high = size.height - 2 * m.margin - strip.height - m.gap
        if (
            sheet.width <= size.width - 2 * m.margin + measures.ROUNDING
            and sheet.height <= high + measures.ROUNDING
        ):
            at = ((size.width - sheet.width) / 2, m.margin + (high - sheet.height) / 2)
            below = (m.margin, size.height - m.margin - strip.height)
            return [_page(size, sheet, at, strip, below, m.letter_away * m.letter)]
    for size in ways:
        if askew or not (_shares(sheet.width, size.width) and _shares(sheet.height, size.height)):
            continue
        whole = abs(sheet.width - size.width) + abs(sheet.height - size.height) <= m.same
        advice = [
            *said,
            translate("The page itself is the sheet: cut nothing off.")
            if whole
            else translate(
                "Two edges of the page are edges of the sheet: cut along the other lines."
            ),
        ]
        strip = _strip(advice, size.width - 2 * m.margin, None, typesetter)
        at = (m.margin, size.height - m.margin - strip.height)
        if sheet.height + m.gap > at[1]:
            strip = _note(advice, typesetter)
            at = _quiet_place(sheet, strip, size)
        return [_page(size, sheet, (0.0, 0.0), strip, at, m.letter_away_full * m.letter)]
    return None


def _shares(length: float, room: float) -> bool:
    m = measures.PRACTICE
    return length <= room - m.unprinted or abs(length - room) <= m.same


def _page(
    size: PageSize,
    sheet: TrueSheet,
    at: tuple[float, float],
    words: Block,
    words_at: tuple[float, float],
    corner: float,
) -> Page:
    m = measures.PRACTICE
    here = moved(sheet, *at)
    names = corner_names(here, m.letter, corner)
    inside = (m.same, m.same, size.width - m.same, size.height - m.same)
    items = [
        *inner_lines(here),
        *edge_lines(here, inside),
        *(placed(text) for _, text in names),
        *(placed(text) for _, text in step_numbers(here, m.words, [at for at, _ in names])),
        *words.at(*words_at),
    ]
    return Page(size, "1", tuple(items))


def _strip(texts: Sequence[str], width: float, plan: Block | None, typesetter: Typesetter) -> Block:
    """Ruler at the left, words in the middle, and the map of the pages at the right."""
    m = measures.PRACTICE
    check = ruler()
    room = width - check.width - m.gap - (plan.width + m.gap if plan else 0.0)
    words = lines_of_text(texts, room, m.words, typesetter)
    items = [*check.at(0.0, m.above_ruler), *words.at(check.width + m.gap, 0.0)]
    high = max(check.height + m.above_ruler, words.height)
    if plan is not None:
        items.extend(plan.at(width - plan.width, 0.0))
        high = max(high, plan.height)
    return Block(width, high, tuple(items))


def _note(texts: Sequence[str], typesetter: Typesetter) -> Block:
    """Ruler and words one below the other, for a sheet that leaves nothing else of the page."""
    m = measures.PRACTICE
    check = ruler()
    words = lines_of_text(texts, check.width, m.words_small, typesetter)
    items = (*check.at(0.0, 0.0), *words.at(0.0, check.height + m.below_ruler))
    return Block(check.width, check.height + m.below_ruler + words.height, items)


def _quiet_place(sheet: TrueSheet, block: Block, size: PageSize) -> tuple[float, float]:
    """Where a block crosses the fewest lines of a sheet as large as its page; the lowest such place."""
    m = measures.PRACTICE
    air = m.note_clear
    best: tuple[float, float, float] | None = None
    step = m.note_step
    y = size.height - m.margin - block.height
    while y >= m.margin:
        x = m.margin
        while x <= size.width - m.margin - block.width:
            box = (x - air, y - air, x + block.width + air, y + block.height + air)
            crossed = sum(clipped(line.segment, box) is not None for line in sheet.lines)
            if best is None or crossed < best[0]:
                best = (crossed, x, y)
            x += step
        y -= step
    return (best[1], best[2]) if best else (m.margin, m.margin)


# --- many pages ------------------------------------------------------------------------------------


def tiles(sheet: TrueSheet, width: float, height: float) -> list[Tile]:
    """The sheet in equal parts of at most this size, which overlap by 10 mm; row by row."""
    columns = _parts(sheet.width, width)
    rows = _parts(sheet.height, height)
    return [
        Tile(i, j, (left, top, right, low))
        for j, (top, low) in enumerate(rows)
        for i, (left, right) in enumerate(columns)
    ]


def _parts(length: float, room: float) -> list[tuple[float, float]]:
    m = measures.PRACTICE
    count = max(1, math.ceil((length - m.overlap) / (room - m.overlap) - measures.ROUNDING))
    part = (length + (count - 1) * m.overlap) / count
    return [(k * (part - m.overlap), k * (part - m.overlap) + part) for k in range(count)]


def _tiled(
    model: Model,
    sheet: TrueSheet,
    title: str,
    page: PageSize,
    typesetter: Typesetter,
    translate: Translate,
) -> list[Page]:
    advice = [
        *_advice(model, sheet, title, translate),
        translate(
            "Cut each page along its lines with scissors marks, lay the page on its neighbour so "
            "that the round marks meet, and tape."
        ),
    ]
    measured = measures.PRACTICE
    ways: list[_Way] = []
    for margin in (measured.margin, measured.unprinted):
        for size in (page, page.landscape()):
            strip = _strip([*advice, "0"], size.width - 2 * margin, _blank_map(sheet), typesetter)
            high = size.height - 2 * margin - strip.height - measured.gap
            if high > measured.tile_overlaps * measured.overlap:
                found = tiles(sheet, size.width - 2 * margin, high)
                ways.append(_Way(size, margin, strip.height, found))
    way = min(ways, key=lambda w: len(w.tiles), default=None)
    if way is None or len(way.tiles) > measured.pages_most:
        count = f"{len(way.tiles)} pages" if way else "more pages than there are"
        raise FoldscriptError(
            Diagnostic(
                "too-many-pages",
                f"the sheet is too large for a practice sheet on {page.name}: it takes {count}",
                hints=(Hint("print on a larger page, or practise with a smaller sheet"),),
            )
        )
    out: list[Page] = []
    size, m = way.size, way.margin
    for number, tile in enumerate(way.tiles, start=1):
        count = translate("page {n} of {count}").format(n=number, count=len(way.tiles))
        strip = _strip(
            [*advice, count], size.width - 2 * m, _map(sheet, way.tiles, tile), typesetter
        )
        items = [
            *_tile_items(sheet, tile, way, translate),
            *strip.at(m, size.height - m - way.strip_height),
        ]
        out.append(Page(size, str(number), tuple(items)))
    return out


def _tile_items(sheet: TrueSheet, tile: Tile, way: _Way, translate: Translate) -> list[Placed]:
    m = measures.PRACTICE
    dx, dy = way.margin - tile.window[0], way.margin - tile.window[1]
    window = (way.margin, way.margin, tile.window[2] + dx, tile.window[3] + dy)
    here = moved(sheet, dx, dy)
    names = corner_names(here, m.letter, m.letter_away * m.letter)
    texts = [*names, *step_numbers(here, m.words, [at for at, _ in names])]
    return [
        *inner_lines(here, window),
        *edge_lines(here, window),
        *(placed(text) for at, text in texts if within(at, window, m.letter_window)),
        *(item.shifted(dx, dy) for item in _seams(tile, way.tiles, translate)),
    ]


def _seams(tile: Tile, found: Sequence[Tile], translate: Translate) -> Iterator[Placed]:
    """Where this page is cut, where its neighbours' cut edges come to lie, and the marks on both."""
    m = measures.PRACTICE
    left, top, right, low = tile.window
    number = {(t.column, t.row): k for k, t in enumerate(found, start=1)}
    here = (tile.column, tile.row)
    after = next((t for t in found if (t.column, t.row) == (here[0] + 1, here[1])), None)
    below = next((t for t in found if (t.column, t.row) == (here[0], here[1] + 1)), None)
    uprights = [(left, True)] * (tile.column > 0)
    levels = [(top, True)] * (tile.row > 0)
    if after is not None:
        uprights.append((after.window[0], False))
        words = translate("page {n} from here").format(n=number[after.column, after.row])
        yield placed(
            Text(
                "text.soft",
                (after.window[0] + m.seam_words_in, low - m.seam_words_up),
                words,
                m.seam_words,
            )
        )
    if below is not None:
        levels.append((below.window[1], False))
        words = translate("page {n} from here").format(n=number[below.column, below.row])
        yield placed(
            Text(
                "text.soft",
                (left + m.seam_words_in, below.window[1] + m.seam_words_down),
                words,
                m.seam_words,
            )
        )
    for x, cut in uprights:
        yield from seam((x, top), (x, low), cut)
        for y in (top + (low - top) * part for part in m.marks):
            yield from register_mark(x, y)
    for y, cut in levels:
        yield from seam((left, y), (right, y), cut)
        for x in (left + (right - left) * part for part in m.marks):
            yield from register_mark(x, y)


def _blank_map(sheet: TrueSheet) -> Block:
    k = measures.PRACTICE.map / max(sheet.width, sheet.height)
    return Block(sheet.width * k, sheet.height * k, ())


def _map(sheet: TrueSheet, found: Sequence[Tile], here: Tile) -> Block:
    """Where this page lies in the sheet; every page with its number, this one tinted."""
    m = measures.PRACTICE
    k = measures.PRACTICE.map / max(sheet.width, sheet.height)
    items: list[Placed] = []
    for tile in sorted(found, key=lambda t: t is here):
        left, top, right, low = (k * x for x in tile.window)
        role = "paper.coloured" if tile is here else "paper.plain"
        box = polyline(((left, top), (right, top), (right, low), (left, low)), closed=True)
        items.append(placed(Path(role, box)))
        items.append(placed(Path("page.rule", box)))
    for number, tile in enumerate(found, start=1):
        left, top, right, low = (k * x for x in tile.window)
        size = min(
            m.map_number, m.map_number_height * (low - top), m.map_number_width * (right - left)
        )
        at = ((left + right) / 2, (top + low) / 2 + measures.TYPE.centred * size)
        items.append(placed(Text("text.soft", at, str(number), size, "middle", tile is here)))
    return Block(sheet.width * k, sheet.height * k, tuple(items))
