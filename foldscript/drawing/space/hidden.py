"""What of every piece the reader sees, exactly: the piece minus all that lies in front of it.

In: pieces before the reader. Out: an area for each piece. Two pieces are compared over each connected part
of the page that both cover: paper does not pass through paper, so that one of the two is in front all over
it. Where they lie flat together, the known order of layers decides and never the depths.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from .seen import Seen
from .seen import areas as areas_in

#: Pieces that lie flat together may be so far apart (mm) and are told apart by their order still.
_TOGETHER = 1.0
#: Areas narrower than this in the mean are slips of rounding (points).
_SLIP = 0.12
#: The same for what two pieces have in common.
_COMMON = 0.02
_GRID = 1e-3


def visible(seen: Seen, scale: float) -> NDArray[np.object_]:
    """Visible areas, one for each piece; `scale` is that of `seen`."""
    shown = [k for k, side in enumerate(seen.facing.tolist()) if side]
    covered: list[list[BaseGeometry]] = [[] for _ in seen.shapes]
    for i, j, part in _overlaps(seen, shown):
        covered[i if _nearer(seen, j, i, part, scale) else j].append(part)
    out = seen.shapes.copy()
    behind = [k for k in shown if covered[k]]
    if behind:
        before = np.array([shapely.union_all(covered[k]) for k in behind], dtype=object)
        out[behind] = shapely.difference(seen.shapes[behind], before, grid_size=_GRID)
        for k in behind:
            out[k] = _sound(out[k])
    return _filled(seen, out, shown)


def _overlaps(seen: Seen, shown: list[int]) -> Iterator[tuple[int, int, BaseGeometry]]:
    """Pairs of pieces, and every connected part of the page that both cover."""
    shapes = seen.shapes[shown]
    one, other = shapely.STRtree(shapes).query(shapes, predicate="intersects")
    keep = one < other
    one, other = one[keep], other[keep]
    order = np.lexsort((other, one))
    one, other = one[order], other[order]
    parts, whose = shapely.get_parts(
        shapely.intersection(shapes[one], shapes[other]), return_index=True
    )
    around = shapely.length(parts)
    wide = 2 * shapely.area(parts) > _COMMON * around
    for part, k in zip(parts[wide], whose[wide].tolist(), strict=True):
        yield shown[one[k]], shown[other[k]], part


def _nearer(seen: Seen, i: int, j: int, part: BaseGeometry, scale: float) -> bool:
    """Whether piece i is in front of piece j over a part of the page."""
    at = shapely.get_coordinates(part)
    apart = seen.depth(i, at) - seen.depth(j, at)
    most = float(apart[int(np.argmax(np.abs(apart)))])
    known = seen.order.get((i, j))
    if known is not None and abs(most) < _TOGETHER * scale:
        return known
    return most > 0


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
