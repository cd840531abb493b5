"""The practice sheet: the paper to be folded, at true size, with the lines of some steps on it.

In: the open sheet in points and a page size. Out: a Document: one page where the sheet fits, else as
many as it takes, with strips where they overlap, register marks on every seam, and a map.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ...drawing.scene.outlines import circle, polyline
from ...drawing.scene.scene import Path, Point, Text
from ...drawing.sheet.true_sheet import TrueSheet, moved
from ...drawing.signs.line_cut import SCISSORS
from ...folding.steps import Model
from ...geometry.lines import unit
from ...languages.wording import phrase
from ...source.diagnostics import Diagnostic, FoldscriptError, Hint
from ..document import Block, Document, Page, Placed
from ..head import Translate
from ..sizes import POINTS_PER_MM, PageSize
from ..text import Measure
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
    within,
)

_MM = POINTS_PER_MM
_MARGIN = 10 * _MM
#: What home printers leave white along a page's edge (common practice: 4 to 5 mm).
_UNPRINTED = 5 * _MM
_SAME = 0.3 * _MM
_OVERLAP = 10 * _MM
_MOST_PAGES = 100
_SIZE, _LETTER = 9.0, 12.0
_GAP = 12.0


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
    measure: Measure,
    translate: Translate = lambda text: text,
) -> Document:
    """Lay a practice sheet out.

    `sheet` holds the lines of the steps from `steps[0]` to `steps[1]`. Raises FoldscriptError
    ('too-many-pages') where the sheet is too large to be put together from pages.
    """
    first, last = steps
    said = phrase("step {n}", n=str(first))
    if first != last:
        said = phrase("steps {n} to {m}", n=str(first), m=str(last))
    title = phrase(
        "{title}: practice sheet, {steps}", title=model.title or model.name, steps=said
    ).render(translate)
    one = _on_one_page(model, sheet, title, page, measure, translate)
    pages = one if one is not None else _tiled(model, sheet, title, page, measure, translate)
    return Document(
        title, model.credit, model.language, tuple(pages), subject=translate("Practice sheet")
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
    measure: Measure,
    translate: Translate,
) -> list[Page] | None:
    """The sheet on one page, upright or lying; None where it is too large for that.

    A sheet that nearly fills the page shares the page's left and upper edge, and both of its sides
    where it is as large as the page.
    """
    said = _advice(model, sheet, title, translate)
    advice = [*said, translate("Cut along the outline.")]
    ways = (page, page.landscape())
    for size in ways:
        strip = _strip(advice, size.width - 2 * _MARGIN, None, measure)
        high = size.height - 2 * _MARGIN - strip.height - _GAP
        if sheet.width <= size.width - 2 * _MARGIN + 1e-6 and sheet.height <= high + 1e-6:
            at = ((size.width - sheet.width) / 2, _MARGIN + (high - sheet.height) / 2)
            below = (_MARGIN, size.height - _MARGIN - strip.height)
            return [_page(size, sheet, at, strip, below, _LETTER)]
    for size in ways:
        if not (_shares(sheet.width, size.width) and _shares(sheet.height, size.height)):
            continue
        whole = abs(sheet.width - size.width) + abs(sheet.height - size.height) <= _SAME
        advice = [
            *said,
            translate("The page itself is the sheet: cut nothing off.")
            if whole
            else translate(
                "Two edges of the page are edges of the sheet: cut along the other lines."
            ),
        ]
        strip = _strip(advice, size.width - 2 * _MARGIN, None, measure)
        at = (_MARGIN, size.height - _MARGIN - strip.height)
        if sheet.height + _GAP > at[1]:
            strip = _note(advice, measure)
            at = _quiet_place(sheet, strip, size)
        return [_page(size, sheet, (0.0, 0.0), strip, at, 2 * _LETTER)]
    return None


def _shares(length: float, room: float) -> bool:
    return length <= room - _UNPRINTED or abs(length - room) <= _SAME


def _page(
    size: PageSize,
    sheet: TrueSheet,
    at: tuple[float, float],
    words: Block,
    words_at: tuple[float, float],
    corner: float,
) -> Page:
    here = moved(sheet, *at)
    inside = (_SAME, _SAME, size.width - _SAME, size.height - _SAME)
    items = [
        *inner_lines(here),
        *edge_lines(here, inside),
        *(placed(text) for _, text in corner_names(here, _LETTER, 1.4 * corner)),
        *(placed(text) for _, text in step_numbers(here, _SIZE)),
        *words.at(*words_at),
    ]
    return Page(size, "1", tuple(items))


def _strip(texts: Sequence[str], width: float, plan: Block | None, measure: Measure) -> Block:
    """Ruler at the left, words in the middle, and the map of the pages at the right."""
    check = ruler()
    room = width - check.width - _GAP - (plan.width + _GAP if plan else 0.0)
    words = lines_of_text(texts, room, _SIZE, measure)
    items = [*check.at(0.0, 3.0), *words.at(check.width + _GAP, 0.0)]
    high = max(check.height + 3.0, words.height)
    if plan is not None:
        items.extend(plan.at(width - plan.width, 0.0))
        high = max(high, plan.height)
    return Block(width, high, tuple(items))


def _note(texts: Sequence[str], measure: Measure) -> Block:
    """Ruler and words one below the other, for a sheet that leaves nothing else of the page."""
    check = ruler()
    words = lines_of_text(texts, check.width, _SIZE - 1, measure)
    items = (*check.at(0.0, 0.0), *words.at(0.0, check.height + 4.0))
    return Block(check.width, check.height + 4.0 + words.height, items)


def _quiet_place(sheet: TrueSheet, block: Block, size: PageSize) -> tuple[float, float]:
    """Where a block crosses the fewest lines of a sheet as large as its page; the lowest such place."""
    best: tuple[float, float, float] | None = None
    step = 4 * _MM
    y = size.height - _MARGIN - block.height
    while y >= _MARGIN:
        x = _MARGIN
        while x <= size.width - _MARGIN - block.width:
            box = (x - 4.0, y - 4.0, x + block.width + 4.0, y + block.height + 4.0)
            crossed = sum(clipped(line.segment, box) is not None for line in sheet.lines)
            if best is None or crossed < best[0]:
                best = (crossed, x, y)
            x += step
        y -= step
    return (best[1], best[2]) if best else (_MARGIN, _MARGIN)


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
    count = max(1, math.ceil((length - _OVERLAP) / (room - _OVERLAP) - 1e-6))
    part = (length + (count - 1) * _OVERLAP) / count
    return [(k * (part - _OVERLAP), k * (part - _OVERLAP) + part) for k in range(count)]


def _tiled(
    model: Model,
    sheet: TrueSheet,
    title: str,
    page: PageSize,
    measure: Measure,
    translate: Translate,
) -> list[Page]:
    advice = [
        *_advice(model, sheet, title, translate),
        translate(
            "Cut each page along its lines with scissors marks, lay the page on its neighbour so "
            "that the round marks meet, and tape."
        ),
    ]
    ways: list[_Way] = []
    for margin in (_MARGIN, _UNPRINTED):
        for size in (page, page.landscape()):
            strip = _strip([*advice, "0"], size.width - 2 * margin, _blank_map(sheet), measure)
            high = size.height - 2 * margin - strip.height - _GAP
            if high > 3 * _OVERLAP:
                found = tiles(sheet, size.width - 2 * margin, high)
                ways.append(_Way(size, margin, strip.height, found))
    way = min(ways, key=lambda w: len(w.tiles), default=None)
    if way is None or len(way.tiles) > _MOST_PAGES:
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
        strip = _strip([*advice, count], size.width - 2 * m, _map(sheet, way.tiles, tile), measure)
        items = [
            *_tile_items(sheet, tile, way, translate),
            *strip.at(m, size.height - m - way.strip_height),
        ]
        out.append(Page(size, str(number), tuple(items)))
    return out


def _tile_items(sheet: TrueSheet, tile: Tile, way: _Way, translate: Translate) -> list[Placed]:
    dx, dy = way.margin - tile.window[0], way.margin - tile.window[1]
    window = (way.margin, way.margin, tile.window[2] + dx, tile.window[3] + dy)
    here = moved(sheet, dx, dy)
    texts = [*corner_names(here, _LETTER, 1.4 * _LETTER), *step_numbers(here, _SIZE)]
    return [
        *inner_lines(here, window),
        *edge_lines(here, window),
        *(placed(text) for at, text in texts if within(at, window, 5.0)),
        *(item.shifted(dx, dy) for item in _seams(tile, way.tiles, translate)),
    ]


def _seams(tile: Tile, found: Sequence[Tile], translate: Translate) -> Iterator[Placed]:
    """Where this page is cut, where its neighbours' cut edges come to lie, and the marks on both."""
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
        yield placed(Text("text.soft", (after.window[0] + 3.0, low - 4.0), words, 6.5))
    if below is not None:
        levels.append((below.window[1], False))
        words = translate("page {n} from here").format(n=number[below.column, below.row])
        yield placed(Text("text.soft", (left + 3.0, below.window[1] + 8.0), words, 6.5))
    for x, cut in uprights:
        yield from _seam((x, top), (x, low), cut)
        for y in (top + (low - top) * 0.2, top + (low - top) * 0.8):
            yield from _mark(x, y)
    for y, cut in levels:
        yield from _seam((left, y), (right, y), cut)
        for x in (left + (right - left) * 0.2, left + (right - left) * 0.8):
            yield from _mark(x, y)


def _seam(start: Point, end: Point, cut: bool) -> Iterator[Placed]:
    """A line to be cut, with scissors where it begins, or one to lay the next page to."""
    yield placed(Path("page.rule" if cut else "line.guide", polyline((start, end))))
    if cut:
        ux, uy = unit((end[0] - start[0], end[1] - start[1]))
        at = (start[0] + 22.0 * ux, start[1] + 22.0 * uy)
        yield from (placed(path) for path in SCISSORS.at(at, (ux, uy)))


def _mark(x: float, y: float) -> Iterator[Placed]:
    """A register mark: the same spot of the sheet on both pages."""
    yield placed(Path("page.rule", circle((x, y), 4.5)))
    yield placed(Path("page.rule", polyline(((x - 8.0, y), (x + 8.0, y)))))
    yield placed(Path("page.rule", polyline(((x, y - 8.0), (x, y + 8.0)))))


_MAP = 46.0


def _blank_map(sheet: TrueSheet) -> Block:
    k = _MAP / max(sheet.width, sheet.height)
    return Block(sheet.width * k, sheet.height * k, ())


def _map(sheet: TrueSheet, found: Sequence[Tile], here: Tile) -> Block:
    """Where this page lies in the sheet; every page with its number, this one tinted."""
    k = _MAP / max(sheet.width, sheet.height)
    items: list[Placed] = []
    for tile in sorted(found, key=lambda t: t is here):
        left, top, right, low = (k * x for x in tile.window)
        role = "paper.coloured" if tile is here else "paper.plain"
        box = polyline(((left, top), (right, top), (right, low), (left, low)), closed=True)
        items.append(placed(Path(role, box)))
        items.append(placed(Path("page.rule", box)))
    for number, tile in enumerate(found, start=1):
        left, top, right, low = (k * x for x in tile.window)
        size = min(8.0, 0.7 * (low - top), 0.9 * (right - left))
        at = ((left + right) / 2, (top + low) / 2 + 0.35 * size)
        items.append(placed(Text("text.soft", at, str(number), size, "middle", tile is here)))
    return Block(sheet.width * k, sheet.height * k, tuple(items))
