"""What of every piece the reader sees, exactly: the piece minus all that lies in front of it.

In: pieces before the reader. Out: an area for each piece. Two pieces are compared over each connected part
of the page that both cover: paper does not pass through paper, so that one of the two is in front all over
it. Where they lie flat together, the known order of layers decides and never the depths.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from ...geometry.sides import parted
from .seen import Seen
from .seen import areas as areas_in

#: Pieces that lie flat together may be so far apart (mm) and are told apart by their order still.
_TOGETHER = 1.0
#: Areas narrower than this in the mean are slips of rounding (points).
_SLIP = 0.12
#: The same for what two pieces have in common.
_COMMON = 0.02
#: Of a piece whose visible part is smaller than this nothing is seen (square points).
_NOTHING = 1e-6
_GRID = 1e-3


def visible(seen: Seen, scale: float) -> NDArray[np.object_]:
    """Visible areas, one for each piece; `scale` is that of `seen`."""
    shown = _shown(seen)
    return _filled(seen, _uncovered(seen, scale, shown, shown), shown)


def visible_of(seen: Seen, scale: float, pieces: Iterable[int]) -> NDArray[np.object_]:
    """Visible areas of a few pieces, whole for all others; holes in rings of layers are left open."""
    return _uncovered(seen, scale, _shown(seen), pieces)


def _shown(seen: Seen) -> list[int]:
    return [k for k, side in enumerate(seen.facing.tolist()) if side]


def _uncovered(
    seen: Seen, scale: float, shown: list[int], wanted: Iterable[int]
) -> NDArray[np.object_]:
    """The areas of the pieces, those that are wanted without what lies in front of them."""
    covered: list[list[BaseGeometry]] = [[] for _ in seen.shapes]
    asked = np.zeros(len(seen.shapes), dtype=bool)
    asked[list(wanted)] = True
    sizes = shapely.area(seen.shapes)
    out = seen.shapes.copy()
    gone: set[int] = set()
    for k, part, size in _covers(seen, scale, np.array(shown, dtype=np.int64), asked):
        if asked[k]:
            covered[k].append(part)
            if size > sizes[k] - _NOTHING:
                gone.add(k)
    for k in gone:
        out[k] = shapely.MultiPolygon()
    behind = [k for k in shown if covered[k] and k not in gone]
    if behind:
        before = np.array(
            [shapely.union_all(covered[k], grid_size=_GRID) for k in behind], dtype=object
        )
        out[behind] = shapely.difference(seen.shapes[behind], before, grid_size=_GRID)
        for k in behind:
            out[k] = _sound(out[k])
    return out


def _covers(
    seen: Seen, scale: float, shown: NDArray[np.int64], asked: NDArray[np.bool_]
) -> Iterator[tuple[int, BaseGeometry, float]]:
    """For every connected part of the page that two pieces cover, the one behind, the part, and its area."""
    shapes = seen.shapes[shown]
    one, other = shapely.STRtree(shapes).query(shapes, predicate="intersects")
    keep = (one < other) & (asked[shown[one]] | asked[shown[other]])
    one, other = one[keep], other[keep]
    order = np.lexsort((other, one))
    one, other = shown[one[order]], shown[other[order]]
    rings = [shapely.get_coordinates(shape)[:-1] for shape in seen.shapes]
    meeting = ~parted(rings, one, other, _COMMON / 2)
    one, other = one[meeting], other[meeting]
    parts, whose = shapely.get_parts(
        shapely.intersection(seen.shapes[one], seen.shapes[other]), return_index=True
    )
    sizes = shapely.area(parts)
    wide = 2 * sizes > _COMMON * shapely.length(parts)
    parts, whose, sizes = parts[wide], whose[wide], sizes[wide]
    one, other = one[whose], other[whose]
    nearer = _nearer(seen, other, one, parts, scale)
    yield from zip(np.where(nearer, one, other).tolist(), parts, sizes.tolist(), strict=True)


def _nearer(
    seen: Seen,
    one: NDArray[np.int64],
    other: NDArray[np.int64],
    parts: NDArray[np.object_],
    scale: float,
) -> NDArray[np.bool_]:
    """Whether a piece is in front of another over a part of the page, for many at once."""
    if not len(parts):
        return np.zeros(0, dtype=bool)
    at, whose = shapely.get_coordinates(parts, return_index=True)
    apart = seen.depths(one[whose], at) - seen.depths(other[whose], at)
    starts = np.flatnonzero(np.diff(whose, prepend=-1))
    high, low = np.maximum.reduceat(apart, starts), np.minimum.reduceat(apart, starts)
    far = np.maximum(high, -low)
    front = high > -low
    for k in np.flatnonzero(far < _TOGETHER * scale).tolist():
        front[k] = seen.order.get((int(one[k]), int(other[k])), bool(front[k]))
    return front


def _wide(area: BaseGeometry) -> float:
    """Mean width."""
    around = float(shapely.length(area))
    return 2 * float(shapely.area(area)) / around if around > 0 else 0.0


def _sound(area: BaseGeometry) -> BaseGeometry:
    """An area without slips."""
    kept = [p for p in areas_in(area) if _wide(p) > _SLIP]
    return kept[0] if len(kept) == 1 else shapely.MultiPolygon(kept)


def _filled(seen: Seen, areas: NDArray[np.object_], shown: list[int]) -> NDArray[np.object_]:
    """Holes that layers leave which cover each other in a ring show the nearest of them."""
    whole = shapely.union_all(seen.shapes, grid_size=_GRID)
    hole = shapely.difference(whole, shapely.union_all(areas, grid_size=_GRID), grid_size=_GRID)
    for part in areas_in(hole):
        if _wide(part) <= _SLIP:
            continue
        spot = shapely.point_on_surface(part)
        at = shapely.get_coordinates(spot)
        here = [k for k in shown if shapely.intersects(seen.shapes[k], spot)]
        if here:
            k = max(here, key=lambda k: float(seen.depth(k, at)[0]))
            piece = areas_in(shapely.intersection(part, seen.shapes[k], grid_size=_GRID))
            areas[k] = shapely.union_all([*areas_in(areas[k]), *piece], grid_size=_GRID)
    return areas
