"""How the figures of a row stand: how high each, and where its number is.

In: figures with label and caption, as drawn in their frames. Out: heights from the middle of the row's
frames. Figures of a row stand as they lie in their frames, but for those that would make the row higher than
need be, or be far below their number.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from ...drawing.draw import HALF
from ...drawing.scene.outlines import Box
from ...drawing.scene.scene import Scene
from .. import measures
from ..document import Block, fitted
from ..grid import Grid
from ..trimming import highest_within, ink
from ..typesetting import Typesetter

#: Signs of a figure that is drawn in another scale than the one before.
_OTHER_SCALE = frozenset({"scale", "close-up"})


@dataclass(frozen=True, slots=True)
class Figure:
    """What stands in a cell. `label` '' for a picture without a number.

    `heading` stands over the row that the figure then begins; '' for none. `before` and `after` are signs
    between it and its neighbours.
    """

    label: str
    caption: str
    scene: Scene
    heading: str = ""
    before: tuple[Scene, ...] = ()
    after: tuple[Scene, ...] = ()

    @property
    def signs(self) -> frozenset[str]:
        """Keys of the signs in it and beside it."""
        return self.scene.signs.union(*(turn.signs for turn in (*self.before, *self.after)))


@dataclass(frozen=True, slots=True)
class Stand:
    """A figure as it stands in its row, heights from the middle of the row's frames.

    Its ink is drawn in `scale`, from `top` to `bottom`; its number begins at `number`.
    """

    figure: Figure
    scale: float
    top: float
    bottom: float
    number: float

    @property
    def upper(self) -> float:
        """Where figure and number begin."""
        return min(self.top, self.number) if self.figure.label else self.top

    def lower(self, far: float) -> Stand:
        """The same so much farther down."""
        return replace(self, top=self.top + far, bottom=self.bottom + far, number=self.number + far)


def stand(
    figure: Figure,
    frame: tuple[float, float],
    left: float,
    grid: Grid,
    typesetter: Typesetter,
) -> Stand:
    """A figure so far from its column's left, whose number may be level with its top, or above it where its
    corner is not free."""
    scale, _, height = fitted(figure.scene, frame[0], frame[1] * measures.CELL.highest)
    _, top, _, bottom = (scale * value - height / 2 for value in ink(figure.scene))
    wide, high = number_size(figure, grid, typesetter)
    air = measures.CELL.number_air
    free = highest_within(figure.scene, (wide + air - left) / scale) * scale - height / 2
    return Stand(figure, scale, top, bottom, min(top, free - high - air))


def number_size(figure: Figure, grid: Grid, typesetter: Typesetter) -> tuple[float, float]:
    """Width and height of a figure's number."""
    wide = typesetter.width(figure.label, grid.number_size, True)
    return wide, grid.number_size * measures.TYPE.capital


def stands_in(
    figures: Sequence[Figure],
    frame: tuple[float, float],
    lefts: Sequence[float],
    grid: Grid,
    typesetter: Typesetter,
) -> list[Stand]:
    """Figures of a row, each so far from its column's left."""
    return [stand(f, frame, left, grid, typesetter) for f, left in zip(figures, lefts, strict=True)]


def lowered(stands: Sequence[Stand], captions: Sequence[Block], frame: float) -> list[Stand]:
    """Figures of a row; one that stands out above its frame, such as with a part drawn larger, farther down.

    As far as makes the row lower: no lower than the lowest figure, nor its caption than the lowest caption,
    and not above the highest of those that stay.
    """
    high = [one.scale * one.figure.scene.height > frame + measures.ROUNDING for one in stands]
    if all(high) or not any(high):
        return list(stands)
    lowest = max(one.bottom for one in stands)
    ends = [one.bottom + caption.height for one, caption in zip(stands, captions, strict=True)]
    upper = min(one.upper for one, out in zip(stands, high, strict=True) if not out)
    return [
        one.lower(max(0.0, min(upper - one.upper, lowest - one.bottom, max(ends) - end)))
        if out
        else one
        for one, out, end in zip(stands, high, ends, strict=True)
    ]


def numbered(stands: Sequence[Stand]) -> list[Stand]:
    """Figures of a row with their numbers on one line.

    Above a place that is free for a number all is free, so the highest of them is free for all.
    """
    level = min((one.number for one in stands if one.figure.label), default=0.0)
    return [replace(one, number=level) for one in stands]


def caption_tops(stands: Sequence[Stand], captions: Sequence[Block], grid: Grid) -> list[float]:
    """Where the captions of a row begin: on one line, where that is near enough to their figures.

    The lowest figure sets the line. A caption that would be far from its figure there, or make the row higher
    by more than a little, begins on a line with others like it, close below the lowest of their figures.
    """
    m = measures.CELL
    low = max(one.bottom + block.height for one, block in zip(stands, captions, strict=True))
    low += m.level_costs * grid.caption
    out = [one.bottom for one in stands]
    left = set(range(len(stands)))
    while left:
        line = max(stands[k].bottom for k in left)
        level = {
            k
            for k in left
            if line - stands[k].bottom <= m.caption_far and line + captions[k].height <= low
        }
        level |= {k for k in left if stands[k].bottom >= line}
        for k in level:
            out[k] = line
        left -= level
    return [top + grid.caption_gap for top in out]


def number_box(one: Stand, column: float, grid: Grid, typesetter: Typesetter) -> Box | None:
    """Where a figure's number will stand in its row, its column's left given; None without one."""
    if not one.figure.label:
        return None
    wide, high = number_size(one.figure, grid, typesetter)
    return (column, one.number, column + wide, one.number + high)


def raised(stands: Sequence[Stand], grid: Grid) -> list[Stand]:
    """Figures of a row that stand far below their numbers, farther up.

    Neighbours drawn in one scale go up together, until one of them would reach its number; those that are
    still far from theirs, on their own, until they are not.
    """
    level = numbered(stands)[0].number
    high = grid.number_size * measures.TYPE.capital
    far = measures.CELL.number_far

    def gap(one: Stand) -> float:
        return one.top - level - high if one.figure.label else 0.0

    out: list[Stand] = []
    for some in _of_one_scale(stands):
        if max(map(gap, some)) > far:
            up = min(one.upper - level for one in some)
            some = [one.lower(-up) for one in some]
        out += [one.lower(-min(max(0.0, gap(one) - far), one.upper - level)) for one in some]
    return out


def on_the_foot(stands: Sequence[Stand], grid: Grid) -> list[Stand]:
    """Figures of a row; one of a step half way, which is mostly lower than those of whole steps, as far down
    as the lowest of the others, as long as it is not far from its number."""
    level = numbered(stands)[0].number + grid.number_size * measures.TYPE.capital
    lowest = max(one.bottom for one in stands)
    return [
        one.lower(max(0.0, min(lowest - one.bottom, level + measures.CELL.number_far - one.top)))
        if one.figure.label.endswith(HALF)
        else one
        for one in stands
    ]


def _of_one_scale(stands: Sequence[Stand]) -> Iterator[list[Stand]]:
    """Neighbours in a row that are drawn in one scale."""
    some: list[Stand] = []
    for one in stands:
        if some and one.figure.scene.signs & _OTHER_SCALE:
            yield some
            some = []
        some.append(one)
    yield some
