"""The two covers of a booklet.

In: title, lines and pictures. Out: what lies on the first and on the last page. A panel runs over
the head of both, so that it wraps round the spine of the folded booklet.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from ...drawing.scene.scene import Close, Draw, Move, Path, Scene, Text
from ...source.diagnostics import Diagnostic, FoldscriptError, Hint
from ..cells import fitted
from ..document import Block, Placed, rule
from ..grid import Grid
from ..sizes import PageSize
from ..text import Measure, text_block, wrap
from ..trimming import trimmed_to_ink

#: Part of the page's height that the panel takes, and where the title's first line may start.
_PANEL = 0.38
#: Type sizes of the title that are tried, as parts of the page's width, and of the subtitle.
_TITLES = (0.105, 0.095, 0.085, 0.075, 0.065, 0.055, 0.046)
_SUBTITLE = 0.4
#: Rows of figures on the front, by their number: how many stand in each.
_ROWS = {0: (), 1: (1,), 2: (1, 1), 3: (1, 2), 4: (2, 2), 5: (2, 3), 6: (3, 3)}
#: Height of a picture on the back, and the space about it, as parts of the page's width.
_SMALL, _SMALL_GAP = 0.11, 0.045


@dataclass(frozen=True)
class Words:
    """What the covers say."""

    title: str
    subtitle: str
    publisher: str


def picture_frame(page: PageSize) -> tuple[float, float]:
    """Width and height in points that pictures for the covers are to be drawn in."""
    return (0.5 * page.width, 0.3 * page.height)


def front(
    words: Words, pictures: Sequence[Scene], page: PageSize, g: Grid, measure: Measure
) -> tuple[Placed, ...]:
    """The first page. Raises FoldscriptError ('cover-too-full') where the title does not fit."""
    panel = _PANEL * page.height
    top = panel + 1.4 * g.row_gap_most / 2
    low = g.foot - (3.2 * g.heading if words.publisher else 0.0)
    return (
        Placed((0.0, 0.0), _rectangle(page.width, panel)),
        *_title(words, panel, page, g, measure),
        *_figures(pictures, top, low, g),
        *_publisher(words, g, measure),
    )


def back(
    words: Words, pictures: Sequence[Scene], page: PageSize, g: Grid, measure: Measure
) -> tuple[Placed, ...]:
    """The last page: all the models, small."""
    panel = _PANEL * page.height
    high, gap = _SMALL * page.width, _SMALL_GAP * page.width
    across = max(1, int((g.width + gap) // (1.55 * high + gap)))
    room = g.foot - 4.0 * g.heading - panel - 2 * gap
    rows = _balanced(pictures, across)
    high = min(high, (room + gap) / max(1, len(rows)) - gap)
    items: list[Placed] = [Placed((0.0, 0.0), _rectangle(page.width, panel))]
    if high > 0.3 * _SMALL * page.width:
        y = panel + 2 * gap
        wide = (g.width - (across - 1) * gap) / across
        for row in rows:
            left = g.left + (g.width - len(row) * wide - (len(row) - 1) * gap) / 2
            for place, picture in enumerate(row):
                items.append(_centred(picture, left + place * (wide + gap), y, wide, high))
            y += high + gap
    return (*items, *_publisher(words, g, measure))


def _balanced(pictures: Sequence[Scene], across: int) -> list[Sequence[Scene]]:
    """Rows of nearly the same length, at most `across` long, the longer ones first."""
    if not pictures:
        return []
    count = -(-len(pictures) // across)
    size, more = divmod(len(pictures), count)
    rows: list[Sequence[Scene]] = []
    start = 0
    for number in range(count):
        end = start + size + (number < more)
        rows.append(pictures[start:end])
        start = end
    return rows


def _title(
    words: Words, panel: float, page: PageSize, g: Grid, measure: Measure
) -> tuple[Placed, ...]:
    """Title and subtitle, standing on the panel's lower margin, as large as they fit."""
    room = panel - 1.2 * g.top - 0.6 * g.left
    for part in _TITLES:
        size = part * page.width
        title = _balanced_block(words.title, g.width, size, measure, bold=True)
        small = max(_SUBTITLE * size, g.caption)
        below = _balanced_block(words.subtitle, g.width, small, measure, bold=False)
        whole = all(measure(word, size, True) * 1.03 <= g.width for word in words.title.split())
        gap = 0.3 * size if below.items else 0.0
        high = title.height + gap + below.height
        if high <= room and whole:
            y = panel - 0.6 * g.left - high
            return (*title.at(g.left, y), *below.at(g.left, y + title.height + gap))
    raise FoldscriptError(
        Diagnostic(
            "cover-too-full",
            f"title and subtitle do not fit on the cover of a page of {page.name}",
            hints=(Hint("shorten them, or choose a larger page"),),
        )
    )


def _balanced_block(text: str, width: float, size: float, measure: Measure, bold: bool) -> Block:
    """Lines of nearly one length: the narrowest setting that takes no more of them."""
    lines = len(wrap(text, width, size, measure, bold))
    narrow = width
    while narrow > 0.3 * width and len(wrap(text, 0.96 * narrow, size, measure, bold)) <= lines:
        narrow *= 0.96
    return replace(text_block(text, narrow, size, measure, "text.cover", bold), width=width)


def _figures(pictures: Sequence[Scene], top: float, bottom: float, g: Grid) -> tuple[Placed, ...]:
    rows = _ROWS[len(pictures)]
    if not rows:
        return ()
    gap = 1.6 * g.gutter
    high = (bottom - top - gap * (len(rows) - 1)) / len(rows)
    across = max(rows)
    items: list[Placed] = []
    left_over = list(pictures)
    for number, count in enumerate(rows):
        wide = min((g.width - gap * (across - 1)) / across, 0.62 * g.width)
        if count == 1:
            wide = 0.62 * g.width
        left = g.left + (g.width - count * wide - gap * (count - 1)) / 2
        y = top + number * (high + gap)
        for place in range(count):
            items.append(_centred(left_over.pop(0), left + place * (wide + gap), y, wide, high))
    return tuple(items)


def _centred(picture: Scene, x: float, y: float, width: float, height: float) -> Placed:
    """A picture in the middle of a box, no larger than it was drawn."""
    ink = trimmed_to_ink(picture)
    scale, wide, high = fitted(ink, width, height)
    return Placed((x + (width - wide) / 2, y + (height - high) / 2), ink, scale)


def _publisher(words: Words, g: Grid, measure: Measure) -> tuple[Placed, ...]:
    if not words.publisher:
        return ()
    lines = wrap(words.publisher, g.width, g.heading, measure)
    y = g.foot - 1.25 * g.heading * (len(lines) - 1)
    texts = (
        Placed((g.left, y + 1.25 * g.heading * i), Text("text.credit", (0.0, 0.0), line, g.heading))
        for i, line in enumerate(lines)
    )
    return (Placed((g.left, y - 1.6 * g.heading), rule(g.width)), *texts)


def _rectangle(width: float, height: float) -> Path:
    corners = ((width, 0.0), (width, height), (0.0, height))
    return Path("page.panel", (Move((0.0, 0.0)), *(Draw(c) for c in corners), Close()))
