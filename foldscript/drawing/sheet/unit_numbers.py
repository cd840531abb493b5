"""The numbers of units on their paper, in figures where units are put together.

In: what is visible. Out: items on the page, together for each number.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import TYPE_CHECKING

from ...geometry.lines import Point
from ..scene.groups import Item
from ..signs.unit_number import RADIUS, disc
from ..style.styles import Style
from .visible import Visible

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

#: A part of a unit bears its number where it is this much larger than the disc (area against square).
_ROOM = 4.0
#: So does each part that is at least this large against the largest.
_LARGE = 0.4
#: How exactly the middle of a part is found (points).
_FINE = 0.5
#: How far numbers keep from signs, in sizes of a letter, and from arrows and fold lines, in points.
_CLEAR, _BESIDE = 0.7, 1.5


def unit_numbers(
    visible: Visible, style: Style, marks: Sequence[Point] = (), ways: Sequence[Point] = ()
) -> list[list[Item]]:
    """The numbers of all units, none where all is one sheet.

    Each stands once where no other unit has the same colours, else on all larger parts of the unit.

    Parameters
    ----------
    marks, ways : points on the page that signs are to stand at, and along arrows and fold lines, which a
        number keeps clear of where it can
    """
    import shapely

    state = visible.state
    if not state.sheet.others:
        return []
    areas: dict[int, list[BaseGeometry]] = {}
    for facet, area in visible.fills:
        areas.setdefault(state.sheets[facet], []).append(area)
    far = [*[_CLEAR * style.label] * len(marks), *[_BESIDE] * len(ways)]
    spots = [shapely.Point(p) for p in (*marks, *ways)]
    taken = shapely.union_all([p.buffer(r) for p, r in zip(spots, far, strict=True)])
    colours = [sheet.colours for sheet in state.sheet.all]
    alike = Counter(colours)
    needed = _ROOM * (RADIUS * style.label) ** 2
    out: list[list[Item]] = []
    for k, seen in sorted(areas.items()):
        parts = list(shapely.get_parts(shapely.union_all(seen, grid_size=0.001)))
        parts.sort(key=lambda part: -round(part.area, 1))
        least = _LARGE * parts[0].area
        for part in parts if alike[colours[k]] > 1 else parts[:1]:
            if part.area < max(least, needed):
                continue
            shared = [plate for area in seen for plate in shapely.get_parts(area & part)]
            plates = [plate for plate in shared if plate.area > 0.0]
            free = [rest for plate in plates for rest in shapely.get_parts(plate - taken)]
            roomy = [rest for rest in free if rest.area > needed / 2]
            at, _ = max((_amid(rest) for rest in roomy or plates), key=lambda one: round(one[1], 1))
            out.append(disc(state.sheet.all[k].number, at, style))
    return out


def _amid(area: BaseGeometry) -> tuple[Point, float]:
    """The middle of the largest circle in an area, and its radius."""
    import shapely

    circle = shapely.maximum_inscribed_circle(area, tolerance=_FINE)  # pyright: ignore[reportCallIssue, reportArgumentType]
    (x, y), _ = shapely.get_coordinates(circle)
    return (float(x), float(y)), float(shapely.length(circle))
