"""The arrows of paper that comes out through a slit: from where it lies underneath, on both sides.

In: the paper as it lies, the slit, the layers behind it that come out. Out: an arrow on either side, from the
tip under the paper to where it comes out.
"""

from __future__ import annotations

from collections.abc import Iterable

from ...geometry.lines import Point, Segment, add, distance, scale, subtract, unit
from ...geometry.polygons import clip_segment
from ...paper.signs import Arrow
from ...paper.silhouette import extent
from ...paper.state import State

#: How much of the way to the edge of its paper an arrow begins at; the least that is a way (of the model).
_SHARE, _LEAST = 0.8, 0.05


def round_out(state: State, at: Point, slit: Segment, layers: Iterable[int]) -> tuple[Arrow, ...]:
    """Arrows at right angles to the slit, as far as the layers reach on either side of a point of it; none on
    a side where they hardly do.
    """
    (x, y), far = unit(subtract(slit[1], slit[0])), 2 * max(extent(state))
    rings = [state.placed[k] for k in layers]
    found: list[Arrow] = []
    for way in ((y, -x), (-y, x)):
        ray = (at, add(at, scale(way, far)))
        parts = [part for ring in rings for part in [clip_segment(ring, ray)] if part is not None]
        reach = max((distance(at, end) for part in parts for end in part), default=0.0)
        if reach > _LEAST * far / 2:
            found.append(
                Arrow("pull-out", add(at, scale(way, _SHARE * reach)), at, under=True, mouth=slit)
            )
    return tuple(found)
