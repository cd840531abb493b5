"""How a page is divided: margins, columns, type sizes and the frame a figure is drawn in.

In: a page size. Out: a Grid. Figures are drawn in the frame, so that no figure is scaled
afterwards and line weights stay true. A4 and Letter hold six to nine figures, A5 four to six.
"""

from __future__ import annotations

from dataclasses import dataclass

from .sizes import PageSize

#: Narrowest useful column, at normal print: number and figure side by side.
_NARROWEST = 150.0
_GUTTER = 16.0
#: Pages whose short side is at least this get everything enlarged (a poster, or large print).
_LARGE_FROM = 700.0
_LARGE_BASE = 595.0
_SMALL_BELOW = 450.0


@dataclass(frozen=True, slots=True)
class Grid:
    """Measures of one page size, in points.

    Attributes
    ----------
    left, top, right, bottom : edges of the area for figures and head; the foot lies below `bottom`
    foot : baseline of the running foot
    columns, column, gutter : number and width of columns, and the space between them
    number : width kept free left of each figure for its number
    frame : width and height that figures are drawn in
    caption, small, key, number_size, title, heading : type sizes
    row_gap, row_gap_most : space between rows, and how far a sparse page may stretch it
    """

    left: float
    top: float
    right: float
    bottom: float
    foot: float
    columns: int
    column: float
    gutter: float
    number: float
    frame: tuple[float, float]
    caption: float
    small: float
    key: float
    number_size: float
    title: float
    heading: float
    row_gap: float
    row_gap_most: float

    @property
    def width(self) -> float:
        """Width between the side margins."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Height between the top margin and the foot."""
        return self.bottom - self.top

    def column_left(self, index: int) -> float:
        """Left edge of a column, counted from 0."""
        return self.left + index * (self.column + self.gutter)

    def span(self, columns: int) -> float:
        """Width of several neighbouring columns with the gutters between them."""
        return columns * self.column + (columns - 1) * self.gutter


def grid(page: PageSize) -> Grid:
    """The grid of a page size; every size of page has at least one column."""
    short = min(page.width, page.height)
    scale = short / _LARGE_BASE if short >= _LARGE_FROM else 1.0
    margin = scale * (42.0 if short / scale > 450 else 34.0 if short / scale > 350 else 24.0)
    gutter = _GUTTER * scale
    width = page.width - 2 * margin
    columns = max(1, int((width + gutter) // (_NARROWEST * scale + gutter)))
    column = (width - (columns - 1) * gutter) / columns
    number = 26.0 * scale
    foot = page.height - 0.72 * margin
    bottom = foot - 21.0 * scale
    across = column - number
    return Grid(
        left=margin,
        top=margin,
        right=page.width - margin,
        bottom=bottom,
        foot=foot,
        columns=columns,
        column=column,
        gutter=gutter,
        number=number,
        frame=(across, min(across * 1.02, (bottom - margin) * 0.3)),
        caption=12.0 * scale,
        small=10.0 * scale,
        key=11.0 * scale,
        number_size=20.0 * scale,
        title=24.0 * scale,
        heading=13.0 * scale,
        row_gap=10.0 * scale,
        row_gap_most=44.0 * scale,
    )


def is_small(page: PageSize) -> bool:
    """Whether a page is too small for nine figures (A5, half letter)."""
    return min(page.width, page.height) < _SMALL_BELOW


def figure_frame(page: PageSize, enlarged: float = 1.0) -> tuple[float, float]:
    """Width and height in points that the figures of a handout on this page are to be drawn in.

    `enlarged` is how much larger the style prints them afterwards.
    """
    return grid(page.times(1 / enlarged)).frame


def finished_frame(page: PageSize) -> tuple[float, float]:
    """Width and height in points of the small picture of the finished model in the head."""
    g = grid(page)
    width = min(g.frame[0], 0.3 * g.width)
    return (width, min(g.frame[1], width * 0.9, 7.5 * g.caption))
