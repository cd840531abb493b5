"""How far the ink of a figure reaches in its frame, and cutting off what it leaves empty.

In: scenes as drawn in their frames. Out: the extents of their ink; the same ink in a smaller frame. Nothing
is scaled.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import pairwise

from ..drawing.scene.outlines import Box, item_box, shifted, union_box
from ..drawing.scene.scene import Path, Point, Scene
from ..drawing.scene.strokes import polylines
from . import measures


def ink(scene: Scene) -> Box:
    """Box about the ink with a little air, within the frame; the whole frame where there is none."""
    box = union_box(item_box(item) for item in scene.items)
    if box is None:
        return (0.0, 0.0, scene.width, scene.height)
    return (
        max(0.0, box[0] - measures.TRIM),
        max(0.0, box[1] - measures.TRIM),
        min(scene.width, box[2] + measures.TRIM),
        min(scene.height, box[3] + measures.TRIM),
    )


def paper_box(scene: Scene) -> Box | None:
    """Box about the paper of a figure; None where there is none."""
    return union_box(
        item_box(item) for item in scene.items if isinstance(item, Path) and item.is_paper
    )


def longest_piece(scene: Scene) -> float:
    """Longest side of the box about any piece of the paper of a figure; 0 where there is none.

    A part that is drawn again beside the figure is a piece of its own.
    """
    import numpy
    import shapely

    rings = [
        ring
        for item in scene.items
        if isinstance(item, Path) and item.is_paper
        for ring in polylines([item])
        if len(ring) > 3
    ]
    if not rings:
        return 0.0
    corners = [p for ring in rings for p in ring]
    owners = [k for k, ring in enumerate(rings) for _ in ring]
    areas = numpy.asarray(shapely.polygons(shapely.linearrings(corners, indices=owners)))
    one, other = shapely.STRtree(areas).query(areas, "dwithin", 2 * measures.HAIR)
    piece, before = numpy.arange(len(rings)), None  # each is known by the first area in it
    while before is None or (piece != before).any():
        before = piece.copy()
        numpy.minimum.at(piece, one, before[other])
    boxes = shapely.bounds(areas)
    parts = [boxes[piece == first] for first in set(piece.tolist())]
    sides = [(part[:, 2:].max(0) - part[:, :2].min(0)).max() for part in parts]
    return float(max(sides)) + 2 * measures.HAIR


def highest_within(scene: Scene, width: float) -> float:
    """How far down a figure's frame its left side is free of ink, so far in; infinite where it all is."""
    tops = [math.inf]
    for item in scene.items:
        box = item_box(item)
        if box is None or box[0] >= width:
            continue
        if isinstance(item, Path) and box[2] > width:
            tops.extend(_tops(polylines([item]), width))
        else:
            tops.append(box[1])
    return min(tops)


def _tops(lines: Iterable[list[Point]], width: float) -> Iterable[float]:
    """Heights of the upper ends of what lies left of an upright line."""
    for line in lines:
        before = line[0]
        for here in line:
            (x0, y0), (x1, y1) = sorted((before, here))
            if x0 < width:
                part = min(1.0, (width - x0) / (x1 - x0)) if x1 > width else 1.0
                yield min(y0, y0 + part * (y1 - y0))
            before = here


def ink_between(scene: Scene, top: float, bottom: float) -> tuple[float, float] | None:
    """Left and right end of the ink in a band of heights; None where there is none."""
    ends: list[float] = []
    for item in scene.items:
        box = item_box(item)
        if box is None or box[1] >= bottom or box[3] <= top:
            continue
        if isinstance(item, Path) and (box[1] < top or box[3] > bottom):
            for line in polylines([item]):
                ends.extend(_within_band(line, top, bottom))
        else:
            ends += [box[0], box[2]]
    return (min(ends) - measures.TRIM, max(ends) + measures.TRIM) if ends else None


def _within_band(line: Sequence[Point], top: float, bottom: float) -> Iterable[float]:
    """Where a line is across, at its ends and where it enters or leaves a band of heights."""
    for (x0, y0), (x1, y1) in pairwise(line):
        if max(y0, y1) < top or min(y0, y1) > bottom:
            continue
        for x, y in ((x0, y0), (x1, y1)):
            if top <= y <= bottom:
                yield x
        for y in (top, bottom):
            if min(y0, y1) < y < max(y0, y1):
                yield x0 + (x1 - x0) * (y - y0) / (y1 - y0)


def trimmed(scene: Scene, box: Box) -> Scene:
    """What lies in a box of a scene, as a scene of the box's size."""
    items = tuple(shifted(item, -box[0], -box[1]) for item in scene.items)
    return replace(scene, width=box[2] - box[0], height=box[3] - box[1], items=items)


def trimmed_to_ink(scene: Scene) -> Scene:
    """A picture that stands alone, without the empty part of its frame."""
    return trimmed(scene, ink(scene))


def trimmed_above_and_below(scene: Scene) -> Scene:
    """A figure with its whole width, without what is empty above and below it."""
    box = ink(scene)
    return trimmed(scene, (0.0, box[1], scene.width, box[3]))
