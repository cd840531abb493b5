"""From the folded plane to the page: one scale for a model, declared when it changes.

In: where the figures have their middles and the scale that each would allow. Out: a `View` for each (folded
coordinates, sheet units, y up -> points, y down). The paper is never turned; when the model has
become much smaller it is drawn larger by one of a few declared factors, and the figure says so.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from ...geometry.lines import Point
from ...geometry.polygons import bounds
from ...paper.state import State

#: Factors by which a model that has become small may be enlarged.
FACTORS = (1.0, 1.5, 2.0, 2.5, 3.0, 4.0)
#: A change to less than so many times the size before is not worth telling.
_LEAST_CHANGE = 1.5
#: Figures between two changes of scale, so that there is hardly ever more than one on a page.
_APART = 9
#: Points a sheet unit that paper is drawn at where its frame has no room for it beside its signs: it goes out
#: of the frame then.
SMALLEST = 4.0
#: What a change of scale costs, against being drawn smaller than the frame allows (natural log).
_CHANGE = 0.5


@dataclass(frozen=True, slots=True)
class View:
    """scale: points a sheet unit; centre: the folded point drawn at (0, 0); factor as declared."""

    scale: float
    centre: Point = (0.0, 0.0)
    factor: float = 1.0

    def __call__(self, p: Point) -> Point:
        return ((p[0] - self.centre[0]) * self.scale, (self.centre[1] - p[1]) * self.scale)

    def back(self, p: Point) -> Point:
        """Folded point drawn at a place on the page."""
        return (p[0] / self.scale + self.centre[0], self.centre[1] - p[1] / self.scale)


def views(middles: Sequence[Point], fits: Sequence[float]) -> list[View]:
    """A view for each figure: what is drawn in its middle, and the largest scale that it allows.

    Scales are points a sheet unit.
    """
    if not middles:
        return []
    base = min(fits)
    factors = _chosen([f / base for f in fits])
    return [View(base * k, middle, k) for middle, k in zip(middles, factors, strict=True)]


def view_within(state: State, room: tuple[float, float]) -> View:
    """A state as large as a room of this width and height (points) allows."""
    x0, y0, x1, y1 = bounds(p for ring in state.placed for p in ring)
    scale = min(room[0] / max(x1 - x0, 1e-6), room[1] / max(y1 - y0, 1e-6))
    return View(max(scale, SMALLEST), ((x0 + x1) / 2, (y0 + y1) / 2))


def _chosen(most: Sequence[float]) -> list[float]:
    """Factors, none above what fits nor below the one before, with few changes and little waste.

    Shortest path over figures; a state is a factor and for how many more figures it has to stay.
    """
    states: dict[tuple[float, int], tuple[float, list[float]]] = {(FACTORS[0], 1): (0.0, [])}
    for limit in most:
        step: dict[tuple[float, int], tuple[float, list[float]]] = {}
        for (before, held), (cost, way) in states.items():
            for k in FACTORS:
                stays = math.isclose(k, before)
                may_grow = held == 0 and k >= _LEAST_CHANGE * before - 1e-9
                if k > limit * (1 + 1e-9) or not (stays or may_grow):
                    continue
                after = (k, max(0, held - 1) if stays else _APART - 1)
                total = cost + math.log(limit / k) + (0.0 if stays else _CHANGE)
                if after not in step or total < step[after][0]:
                    step[after] = (total, [*way, k])
        states = step
    return min(states.values())[1]
