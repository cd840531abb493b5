"""How far drawn figures reach, and so about how far they would if they were drawn larger or smaller.

In: figures as drawn in their frames, and how many times larger they would be. Out: stand-ins for them, whose
pages tell what a size would come to, and how many pages it needs at least.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from ...drawing.scene.outlines import Box, polyline
from ...drawing.scene.scene import Path
from .. import measures
from ..document import fitted
from ..grid import Grid
from ..trimming import highest_within, ink, longest_piece, paper_box
from ..typesetting import Typesetter
from .cells import in_rows
from .row_places import Figure


@dataclass(frozen=True, slots=True)
class Extent:
    """How far a figure reaches from the middle of its frame.

    ink : box about all of it, its air left out; paper : about the paper, or the ink where there is none
    left : (distance, height), from far to near: from what height on what lies farther left is not free
    side : longest one of a piece of paper, reduced where the figure is too high for its cell
    beyond : how far it may stand out above and below its frame
    """

    ink: Box
    paper: Box
    left: tuple[tuple[float, float], ...]
    side: float
    beyond: float = 0.0


def extent(figure: Figure, number: float, frame: tuple[float, float]) -> Extent:
    """Of a figure drawn in a frame, whose number ends so far left of the frame's middle."""
    scene = figure.scene
    reduced, _, _ = fitted(scene, frame[0], frame[1] * measures.CELL.highest)
    x, y = scene.width / 2, scene.height / 2

    def about(box: Box, air: float = 0.0) -> Box:
        return (box[0] - x + air, box[1] - y + air, box[2] - x - air, box[3] - y - air)

    around = ink(scene)
    steps = [number * part for part in measures.SIZES.left_steps]
    return Extent(
        about(around, measures.TRIM),
        about(paper_box(scene) or around),
        tuple((step, highest_within(scene, x - step) - y) for step in steps),
        reduced * (longest_piece(scene) or max(around[2] - around[0], around[3] - around[1])),
        max(0.0, scene.height - frame[1]) / 2,
    )


def _grown(one: Extent, scale: float, frame: tuple[float, float]) -> Box:
    """About where a figure's ink would be in its frame, were it so many times larger."""
    wide, high = frame[0], frame[1] + 2 * one.beyond
    lows = [
        wide_or_high / 2 + scale * one.paper[k] + one.ink[k] - one.paper[k]
        for k, wide_or_high in ((0, wide), (1, high), (2, wide), (3, high))
    ]
    left, top = max(0.0, min(lows[0], wide)), max(0.0, min(lows[1], high))
    return left, top, min(wide, max(lows[2], left)), min(high, max(lows[3], top))


def least_heights(
    figures: Sequence[Figure],
    extents: Sequence[Extent],
    growths: Sequence[float],
    g: Grid,
    typesetter: Typesetter,
) -> list[float]:
    """What the rows of figures, each so many times larger, are at least as high as: the highest figure in it
    with its caption below. A picture without a number may come to stand otherwise.
    """
    tall: list[float] = []
    for one, scale in zip(extents, growths, strict=True):
        _, top, _, bottom = _grown(one, scale, g.frame)
        most = measures.CELL.highest * g.frame[1] / (g.frame[1] + 2 * one.beyond)
        tall.append(min(1.0, most) * (bottom - top))
    out: list[float] = []
    for row in in_rows(figures, g, typesetter):
        below = [0.0 if row.wide or not c.items else g.caption_gap + c.height for c in row.captions]
        cells = zip(row.numbers, below, strict=True)
        out.append(max(tall[k] + down if figures[k].label else 0.0 for k, down in cells))
    return out


def fewest_pages(rows: Sequence[float], g: Grid, above: float = 0.0) -> int:
    """How many pages rows need that are at least so high, where at least so much is taken above the first."""
    pages, left, count = 1, g.height - above, 0
    for row in rows:
        if count == g.rows_most or (row > left + 2 * measures.ROUNDING and (count or pages == 1)):
            pages, left, count = pages + 1, g.height, 0
        left, count = left - row - g.row_gap, count + 1
    return pages


def stand_ins(
    figures: Sequence[Figure],
    extents: Sequence[Extent],
    growths: Sequence[float],
    frame: tuple[float, float],
) -> list[Figure]:
    """Stand-ins for figures, each so many times larger, in a frame: outlines about where their ink would be.

    Paper grows with the scale; how far signs stand out from it does not.
    """
    out: list[Figure] = []
    for figure, one, scale in zip(figures, extents, growths, strict=True):
        wide, high = frame[0], frame[1] + 2 * one.beyond
        left, top, right, bottom = _grown(one, scale, frame)
        corners = [(right, top), (right, bottom), (left, bottom)]
        for step, free in one.left:  # stairs up to the left
            x, y = wide / 2 - scale * step, min(bottom, max(top, high / 2 + scale * free))
            if left < x < right:
                corners += [(corners[-1][0], y), (x, y)]
        corners += [(corners[-1][0], top)]
        outline = Path("edge", polyline(corners, closed=True))
        out.append(
            replace(figure, scene=replace(figure.scene, width=wide, height=high, items=(outline,)))
        )
    return out
