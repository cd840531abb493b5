"""How a page is divided: margins, columns, type sizes and the frame a figure is drawn in.

In: a page size, and the measures for it. Out: a Grid, all in points on that page. Figures are drawn in
the frame, which is as wide as a column, so that no figure is scaled afterwards and line weights stay true.
A figure's number stands in a corner that the figure leaves free, level with those of its row. A4 and
Letter hold six to twelve figures, A5 four to eight.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from . import measures
from .measures import measures_of
from .sizes import PageSize


@dataclass(frozen=True, slots=True)
class Grid:
    """One page divided, in points; `measures.PageMeasures` says what from.

    Attributes
    ----------
    left, top, right, bottom : edges of the area for figures and head; the foot lies below `bottom`
    foot : baseline of the running foot
    columns, column, gutter : number and width of columns, and the space between them
    frame : width and height that figures are drawn in
    caption_gap : space between a figure and its caption
    wanted : how long the longest side of a figure should be
    least : no page is worth figures with shorter ones in the middle
    smallest : no figure should be shorter
    closer_heads : whether a head is set closer where that saves a page
    caption, small, key, number_size, title, heading : type sizes
    key_most : how high a key should be at most
    key_pitch : from line to line of the key
    leading : distance from baseline to baseline, in type sizes
    row_gap, row_gap_most : space between rows, and how far a sparse page may stretch it
    figures_most : most figures that a page should hold
    """

    left: float
    top: float
    right: float
    bottom: float
    foot: float
    columns: int
    column: float
    gutter: float
    frame: tuple[float, float]
    caption_gap: float
    wanted: float
    least: float
    smallest: float
    closer_heads: bool
    caption: float
    small: float
    key: float
    key_most: float
    key_pitch: float
    number_size: float
    title: float
    heading: float
    leading: float
    row_gap: float
    row_gap_most: float
    figures_most: int

    @property
    def width(self) -> float:
        """Width between the side margins."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Height between the top margin and the foot."""
        return self.bottom - self.top

    @property
    def rows_most(self) -> int:
        """Most rows of figures that a page should hold."""
        return max(1, self.figures_most // self.columns)

    def column_left(self, index: int) -> float:
        """Left edge of a column, counted from 0."""
        return self.left + index * (self.column + self.gutter)

    def with_columns(self, columns: int) -> Grid:
        """The grid with so many columns, its frame as wide as one and of the same shape."""
        column = (self.width - (columns - 1) * self.gutter) / columns
        frame = (column, column * self.frame[1] / self.frame[0])
        return replace(self, columns=columns, column=column, frame=frame)

    def span(self, columns: int) -> float:
        """Width of several neighbouring columns with the gutters between them."""
        return columns * self.column + (columns - 1) * self.gutter


def grid(page: PageSize, enlarged: float = 1.0, large_letters: bool = False) -> Grid:
    """The grid of a page size; every size of page has at least one column.

    `enlarged` is how much larger the style prints it (large print): the grid is that of the smaller page
    which is laid out then, with large letters.
    """
    page = page.times(1 / enlarged)
    m, scale = measures_of(page, large_letters or enlarged > 1.0)
    margin = scale * m.margin
    gutter = m.gutter * scale
    width = page.width - 2 * margin
    columns = max(1, int((width + gutter) // (m.narrowest * scale + gutter)))
    column = (width - (columns - 1) * gutter) / columns
    foot = page.height - m.folio_height * margin
    bottom = foot - m.foot * scale
    return Grid(
        left=margin,
        top=margin,
        right=page.width - margin,
        bottom=bottom,
        foot=foot,
        columns=columns,
        column=column,
        gutter=gutter,
        frame=(column, min(column * m.frame_height, (bottom - margin) * m.frame_most)),
        caption_gap=m.caption_gap * scale,
        wanted=m.figure * scale,
        least=m.least * scale,
        smallest=m.smallest * scale / enlarged,
        closer_heads=m.closer_heads,
        caption=m.caption * scale,
        small=m.small * scale,
        key=m.key * scale,
        key_most=m.key_most * scale / enlarged,
        key_pitch=m.key_lines * m.key * scale,
        number_size=m.number * scale,
        title=m.title * scale,
        heading=m.heading * scale,
        leading=m.leading,
        row_gap=m.row_gap * scale,
        row_gap_most=m.row_gap_most * scale,
        figures_most=m.figures_most,
    )


def figure_frame(page: PageSize, enlarged: float = 1.0) -> tuple[float, float]:
    """Width and height in points that the figures of a handout on this page are to be drawn in.

    `enlarged` is how much larger the style prints them afterwards.
    """
    return grid(page, enlarged).frame


def finished_frame(page: PageSize, enlarged: float = 1.0) -> tuple[float, float]:
    """Width and height in points of the small picture of the finished model in the head."""
    g, m = grid(page, enlarged), measures.HEAD
    width = min(g.frame[0], m.picture_width * g.width)
    high = min(g.frame[1], width * m.picture_height, m.picture_height_ems * g.caption)
    return (width, high)
