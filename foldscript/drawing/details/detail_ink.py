"""What is drawn in the circle: a part of the figure larger, and all that lies outside of it cut away.

In: a `DetailView` and the paper, or what was drawn for it. Out: the same as seen in the circle; its ink in
the figure, with a ring round the part and a line that leads from there to the circle.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from ...paper.signs import Arrow, Sign
from ..scene.groups import Group, Sketch
from ..scene.outlines import box_of, circle, polyline, shifted
from ..scene.scene import Path, Point, Text
from ..scene.strokes import covered, polylines
from ..sheet.visible import Visible, line_points, ring_points
from .detail_part import is_on_line
from .detail_view import DetailView

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

#: Lines shorter than this do not show what kind they are, and are left to the circle (points).
_LEGIBLE = 8.0


def closer(visible: Visible, detail: DetailView) -> Visible:
    """The paper for the circle, its layers as far apart on the page as in the figure itself.

    Facets that do not reach into the circle are left empty, for none of them would be seen.
    """
    import shapely

    k = 1.0 / detail.larger
    spread = visible.spread
    moves = tuple((k * x, k * y) for x, y in spread.moves)
    near = Visible(replace(spread, moves=moves), detail.view)
    r = detail.radius + 1.0
    x0, y0, x1, y1 = shapely.bounds(near.shapes).T
    near.without((x0 > r) | (x1 < -r) | (y0 > r) | (y1 < -r))
    return near


def settled(sign: Sign, detail: DetailView) -> Sign:
    """A sign as it is drawn in the circle: pleats, which lie at their lines, below these."""
    if not isinstance(sign, Arrow) or not is_on_line(sign):
        return sign
    dx, dy = sign.head[0] - sign.tail[0], sign.head[1] - sign.tail[1]
    n = math.hypot(dx, dy) or 1.0
    ux, uy = dx / n, dy / n
    down = -1.0 if ux > 0 else 1.0
    (x, y), off, half = detail.view.centre, 0.5 * detail.radius, 0.3 * detail.radius
    x, y = x - down * off * uy / detail.view.scale, y + down * off * ux / detail.view.scale
    k = half / detail.view.scale
    return replace(sign, tail=(x - k * ux, y - k * uy), head=(x + k * ux, y + k * uy))


def place(detail: DetailView, inner: Sketch, ink: Sketch) -> None:
    """Puts what was drawn for the circle into the figure, with the line that leads to it."""
    import shapely

    disc = shapely.Point(0.0, 0.0).buffer(detail.radius, quad_segs=32)
    items: list[Path | Text] = [Path("sign.open", circle((0.0, 0.0), detail.radius))]
    for group in inner.groups:
        items += _within(group, disc, detail.radius)
    items.append(Path("sign", circle((0.0, 0.0), detail.radius)))
    if detail.part.whole or max(math.dist(*s) for s in detail.part.strokes) < _LEGIBLE:
        ink.groups[:] = [g for g in ink.groups if g.kind != "fold" or not _near(g, detail)]
    ink.add("circled", [Path("leader", circle(detail.part.spot, detail.part.ring))])
    ink.add("leader", [Path("leader", polyline(_leader(detail)))])
    ink.add("inset", [shifted(i, *detail.at) for i in items], *inner.signs, "inset")


def _near(group: Group, detail: DetailView) -> bool:
    box = group.box
    if box is None:
        return False
    return detail.part.holds(((box[0] + box[2]) / 2, (box[1] + box[3]) / 2))


def _leader(detail: DetailView) -> tuple[Point, Point]:
    (ax, ay), (bx, by) = detail.part.spot, detail.at
    n = math.dist(detail.part.spot, detail.at)
    ux, uy = (bx - ax) / n, (by - ay) / n
    return (
        (ax + detail.part.ring * ux, ay + detail.part.ring * uy),
        (bx - detail.radius * ux, by - detail.radius * uy),
    )


def _within(group: Group, disc: BaseGeometry, radius: float) -> Sequence[Path | Text]:
    """What of a group lies in the circle: paper and lines cut, letters whole, heads whole or not at all."""
    out: list[Path | Text] = []
    for item in group.items:
        if isinstance(item, Text):
            out.append(item)
            continue
        box = box_of(item.segments)
        if box is None:
            continue
        far = max(math.hypot(x, y) for x in (box[0], box[2]) for y in (box[1], box[3]))
        if far < radius:
            out.append(item)
        elif item.role not in ("arrow.head", "arrow.open"):
            out += cut(item, group.kind == "paper", disc)
    return out


def cut(path: Path, area: bool, disc: BaseGeometry) -> list[Path]:
    """The part of an area or of lines that lies in the circle."""
    import shapely

    x0, y0, x1, y1 = disc.bounds
    lines = [
        p
        for p in polylines([path])
        if len(p) > 1
        and min(x for x, _ in p) < x1
        and max(x for x, _ in p) > x0
        and min(y for _, y in p) < y1
        and max(y for _, y in p) > y0
    ]
    if not lines:
        return []
    if not area:
        left = shapely.intersection(shapely.MultiLineString(lines), disc)
        if left.geom_type not in ("LineString", "Point"):
            left = shapely.line_merge(left)
        return [Path(path.role, polyline(p)) for p in line_points(left)]
    return [
        Path(path.role, tuple(s for ring in rings for s in polyline(ring, closed=True)))
        for rings in ring_points(shapely.intersection(covered(lines), disc))
    ]
