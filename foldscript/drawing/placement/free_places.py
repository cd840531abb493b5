"""Which places are free for a sign that stands clear of all other ink.

In: boxes that it may fill, and what lies around. Out: what speaks against each.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import product
from typing import TYPE_CHECKING

from ..scene.groups import Item
from ..scene.outlines import Box, item_box, shifted, shifted_box, union_box
from ..scene.scene import Point
from .obstacles import Obstacles, held, shared

if TYPE_CHECKING:
    import numpy
    from numpy.typing import ArrayLike, NDArray

#: What it costs to lie on the paper.
_ON_PAPER = 1.5
#: How far more a sign keeps off ink where it can (points), what it costs to stand nearer, and on a crease.
_AIR, _NEAR, _CREASED = 1.8, 2.0, 1.0
#: In how many ways from a spot and how far off (points) a place is looked for; what a point farther costs.
_WAYS, _FAR, _FARTHER = 24, (4.0, 9.0, 15.0, 22.0, 30.0, 40.0, 52.0, 66.0), 0.05


def hindered(boxes: Sequence[Box], around: Obstacles, others: Sequence[Point] = ()) -> list[float]:
    """What speaks against each box: infinite where it is not clear of all ink and in the frame.

    `others` are points along further lines to keep off.
    """
    import numpy

    at = numpy.array(boxes)
    lines_of_paper = numpy.concatenate([around.edge_points, numpy.reshape(others, (-1, 2))])
    x0, y0, x1, y1 = around.box
    free = (at[:, 0] >= x0) & (at[:, 1] >= y0) & (at[:, 2] <= x1) & (at[:, 3] <= y1)
    if around.radius < math.inf:
        far = numpy.maximum(numpy.abs(at[:, :2]), numpy.abs(at[:, 2:]))
        free &= numpy.hypot(*far.T) <= around.radius
    out = numpy.full(len(boxes), math.inf)

    def clear(some: NDArray[numpy.bool_], more: float) -> NDArray[numpy.bool_]:
        b = at[some]
        ok = held(b, around.arrows, 2.0 + more) == 0
        ok &= held(b, around.marks, 3.6 + more) == 0
        ok &= held(b, around.folds, 1.2 + more) == 0
        ok &= shared(b, around.taken, 1.0 + more) == 0
        found = some.copy()
        found[some] = ok
        return found

    if free.any():
        free[free] = held(at[free], lines_of_paper, 1.2) == 0
    if free.any():
        free = clear(free, 0.0)
    if free.any():
        roomy = clear(free, _AIR)
        on_paper = around.on_paper(_spread_over(at[free])).mean(1)
        creased = held(at[free], around.creases, 0.7) > 0
        out[free] = _ON_PAPER * on_paper + _NEAR * ~roomy[free] + _CREASED * creased
    return out.tolist()


def placed_beside(items: Sequence[Item], spots: Sequence[Point], around: Obstacles) -> list[Item]:
    """A sign, given about its middle, at the best free place beside one of some spots; nothing without one.

    What looks for its place later is told.
    """
    _, _, x1, y1 = box_of(items)
    tries: list[tuple[float, Point]] = []
    for (x, y), far, n in product(spots, _FAR, range(_WAYS)):
        turn = 2 * math.pi * n / _WAYS
        ux, uy = math.cos(turn), math.sin(turn)
        reach = far + min(x1 / max(abs(ux), 1e-6), y1 / max(abs(uy), 1e-6))
        tries.append((_FARTHER * far, (x + reach * ux, y + reach * uy)))
    return placed_cheapest(items, tries, around)


def placed_cheapest(
    items: Sequence[Item], tries: Sequence[tuple[float, Point]], around: Obstacles
) -> list[Item]:
    """A sign at the free one of some places, each with what it costs, that costs least; nothing without one.

    What looks for its place later is told.
    """
    about = box_of(items)
    boxes = [shifted_box(about, *at) for _, at in tries]
    against = hindered(boxes, around)
    least, at = min(
        (round(cost + more, 4), at) for (cost, at), more in zip(tries, against, strict=True)
    )
    if least == math.inf:
        return []
    out = [shifted(item, *at) for item in items]
    fill(box_of(out), around)
    return out


def fill(box: Box, around: Obstacles) -> None:
    """Tells all that looks for its place later that a box is taken."""
    around.taken.append(box)
    around.arrows.extend((x, y) for x, y in _spread_over([box])[0].tolist())


def box_of(items: Sequence[Item]) -> Box:
    """The box about a sign, which has some ink."""
    box = union_box(item_box(item) for item in items)
    assert box is not None
    return box


def _spread_over(boxes: ArrayLike) -> NDArray[numpy.float64]:
    """Sixteen points spread over each box (rows of left, top, right, bottom): (boxes, 16, 2)."""
    import numpy

    boxes = numpy.asarray(boxes, dtype=float)
    share = numpy.linspace(0.0, 1.0, 4)
    x = boxes[:, 0, None] + (boxes[:, 2] - boxes[:, 0])[:, None] * numpy.repeat(share, 4)
    y = boxes[:, 1, None] + (boxes[:, 3] - boxes[:, 1])[:, None] * numpy.tile(share, 4)
    return numpy.stack((x, y), axis=-1)
