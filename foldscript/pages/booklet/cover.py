"""The two covers of a booklet.

In: title, lines and pictures. Out: what lies on the first and on the last page. A panel runs over
the head of both, so that it wraps round the spine of the folded booklet.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ...drawing.scene.scene import Close, Draw, Move, Path, Scene, Text
from ...languages.wording import Translate
from ...source.diagnostics import Diagnostic, FoldscriptError, Hint
from .. import measures
from ..document import Block, Placed, fitted, rule
from ..grid import Grid
from ..parts import Part, PartKind
from ..sizes import PageSize
from ..trimming import trimmed_to_ink
from ..typesetting import Typesetter, shortened, text_block, wrap
from .link_code import link_code
from .texts import BookletTexts


def picture_frame(page: PageSize) -> tuple[float, float]:
    """Width and height in points that pictures for the covers are to be drawn in."""
    wide, high = measures.COVER.frame
    return (wide * page.width, high * page.height)


def front(
    texts: BookletTexts, pictures: Sequence[Scene], page: PageSize, g: Grid, typesetter: Typesetter
) -> tuple[Placed, ...]:
    """The first page. Raises FoldscriptError ('cover-too-full') where the title does not fit."""
    m = measures.COVER
    panel = m.panel * page.height
    top = panel + m.above_pictures * g.row_gap_most
    low = g.foot - (m.publisher_room * g.heading if texts.publisher else 0.0)
    return (
        Placed((0.0, 0.0), _rectangle(page.width, panel)),
        *_title(texts, panel, page, g, typesetter),
        *_figures(pictures, top, low, g),
        *_publisher(texts, g, typesetter),
    )


def back(
    texts: BookletTexts,
    pictures: Sequence[Scene],
    page: PageSize,
    g: Grid,
    typesetter: Typesetter,
    translate: Translate = lambda text: text,
) -> tuple[Placed, ...]:
    """The last page: all the models, small, and a link where there is one."""
    m = measures.COVER
    panel = m.panel * page.height
    high, gap = m.back_picture * page.width, m.back_gap * page.width
    across = max(1, int((g.width + gap) // (m.back_aspect * high + gap)))
    room = g.foot - m.back_foot * g.heading - panel - 2 * gap
    code: tuple[Placed, ...] = ()
    if texts.link:
        says = translate("A code for telephones, which leads to {link}").format(link=texts.link)
        block = link_code(texts.link, says, g, typesetter)
        room -= block.height
        code = block.at(g.left, g.foot - m.back_foot * g.heading - block.height)
    rows = _balanced(pictures, across)
    high = min(high, (room + gap) / max(1, len(rows)) - gap)
    items: list[Placed] = [Placed((0.0, 0.0), _rectangle(page.width, panel))]
    if high > m.back_least * m.back_picture * page.width:
        y = panel + 2 * gap
        wide = (g.width - (across - 1) * gap) / across
        for row in rows:
            left = g.left + (g.width - len(row) * wide - (len(row) - 1) * gap) / 2
            for place, picture in enumerate(row):
                items.append(_centred(picture, left + place * (wide + gap), y, wide, high))
            y += high + gap
    return (*items, *code, *_publisher(texts, g, typesetter))


def plate(title: str, picture: Scene, g: Grid, typesetter: Typesetter) -> tuple[Placed, ...]:
    """A page before a model's steps: what it will be, and its name below that."""
    m = measures.COVER
    name = shortened(title, g.width, g.heading, typesetter)
    figure = _centred(picture, g.left, g.top, g.width, m.plate * g.height)
    assert isinstance(figure.content, Scene)
    low = figure.at[1] + figure.scale * figure.content.height
    words = Text("text.caption", (0.0, 0.0), name, g.heading, "middle", bold=True)
    return (figure, Placed((g.left + g.width / 2, low + m.below_plate * g.heading), words))


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
    texts: BookletTexts, panel: float, page: PageSize, g: Grid, typesetter: Typesetter
) -> tuple[Placed, ...]:
    """Title and subtitle, standing on the panel's lower margin, as large as they fit."""
    m, wider = measures.COVER, measures.TYPE.slack_alone
    room = panel - m.above_title * g.top - m.title_foot * g.left
    for part in m.titles:
        size = part * page.width
        title = _balanced_block(texts.title, g.width, size, typesetter, bold=True)
        title = title.as_part(Part(PartKind.TITLE))
        small = max(m.subtitle * size, g.caption)
        below = _balanced_block(texts.subtitle, g.width, small, typesetter, bold=False)
        whole = all(
            typesetter.width(word, size, True) * wider <= g.width for word in texts.title.split()
        )
        gap = m.below_title * size if below.items else 0.0
        high = title.height + gap + below.height
        if high <= room and whole:
            y = panel - m.title_foot * g.left - high
            return (*title.at(g.left, y), *below.at(g.left, y + title.height + gap))
    raise FoldscriptError(
        Diagnostic(
            "cover-too-full",
            f"title and subtitle do not fit on the cover of a page of {page.name}",
            hints=(Hint("shorten them, or choose a larger page"),),
        )
    )


def _balanced_block(
    text: str, width: float, size: float, typesetter: Typesetter, bold: bool
) -> Block:
    """Lines of nearly one length: the narrowest setting that takes no more of them."""
    m = measures.COVER
    lines = len(wrap(text, width, size, typesetter, bold))
    narrow = width
    least, step = m.narrowest * width, m.balancing
    while narrow > least and len(wrap(text, step * narrow, size, typesetter, bold)) <= lines:
        narrow *= step
    return replace(text_block(text, narrow, size, typesetter, "text.cover", bold), width=width)


def _figures(pictures: Sequence[Scene], top: float, bottom: float, g: Grid) -> tuple[Placed, ...]:
    m = measures.COVER
    rows = m.rows[len(pictures)]
    if not rows:
        return ()
    gap = m.picture_gap * g.gutter
    high = (bottom - top - gap * (len(rows) - 1)) / len(rows)
    across = max(rows)
    items: list[Placed] = []
    left_over = list(pictures)
    for number, count in enumerate(rows):
        wide = min((g.width - gap * (across - 1)) / across, m.picture_width * g.width)
        if count == 1:
            wide = m.picture_width * g.width
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


def _publisher(texts: BookletTexts, g: Grid, typesetter: Typesetter) -> tuple[Placed, ...]:
    if not texts.publisher:
        return ()
    lines = wrap(texts.publisher, g.width, g.heading, typesetter)
    step = typesetter.leading * g.heading
    y = g.foot - step * (len(lines) - 1)
    part = Part(PartKind.PARAGRAPH)
    set_lines = (
        Placed((g.left, y + step * i), Text("text.credit", (0.0, 0.0), line, g.heading), part=part)
        for i, line in enumerate(lines)
    )
    return (
        Placed((g.left, y - measures.COVER.publisher_rule * g.heading), rule(g.width)),
        *set_lines,
    )


def _rectangle(width: float, height: float) -> Path:
    corners = ((width, 0.0), (width, height), (0.0, height))
    return Path("page.panel", (Move((0.0, 0.0)), *(Draw(c) for c in corners), Close()))
