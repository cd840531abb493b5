"""Pleat: a shaft that goes there, back and there again. It stands at the lines of the pleat, beside many."""

from __future__ import annotations

from ..placement.obstacles import Obstacles, held, shared
from ..placement.ways import points_between, unit
from ..scene.heads import solid_head
from ..scene.outlines import item_box, mapped, placed_at, polyline
from ..scene.scene import Draw, Move, Path, Point
from .glyph import ArrowGlyph

#: Shortest zigzag, and size of its head.
LEAST, _HEAD = 26.0, 0.8
#: Across more lines than these it is not seen on the paper; how long it is and how far off then, and its
#: room to either side (points).
_FEW, _LONG, _OFF, _AIR = 4, 64.0, 9.0, 4.5


def zigzag(tail: Point, head: Point) -> list[Path]:
    """There, back and there again."""
    (ux, uy), n = unit(tail, head)
    span = max(n, LEAST)
    middle = ((tail[0] + head[0]) / 2, (tail[1] + head[1]) / 2)
    to = placed_at(middle, (ux, uy))
    a, b = -span / 2, span / 2
    shaft = (
        Move((a, 3.4)),
        Draw((span * 0.16, 3.4)),
        Draw((-span * 0.16, -1.0)),
        Draw((b - 5.0 * _HEAD, -1.0)),
    )
    tip = mapped((Move((b, -1.0)),), to)[0]
    assert isinstance(tip, Move)
    return [Path("arrow.shaft", mapped(shaft, to)), solid_head(tip.to, (ux, uy), _HEAD)]


def _draw(tail: Point, head: Point, under: bool, around: Obstacles) -> list[Path]:
    tail, head = _beside(tail, head, around) or (tail, head)
    around.arrows.extend(points_between(tail, head))
    return zigzag(tail, head)


def _beside(tail: Point, head: Point, around: Obstacles) -> tuple[Point, Point] | None:
    """The beginning of a way, beside the paper; None for one that crosses few lines, and without room."""
    import shapely

    way = shapely.LineString((tail, head))
    if sum(way.intersects(shapely.LineString(line)) for line in around.strokes) <= _FEW:
        return None
    (ux, uy), n = unit(tail, head)
    across = [(x - tail[0]) * -uy + (y - tail[1]) * ux for x, y in around.corners]
    long = min(n, _LONG)
    for off in sorted(
        (min(across) - _OFF, max(across) + _OFF), key=lambda off: off * ux
    ):  # above first
        x, y = tail[0] - off * uy, tail[1] + off * ux
        found = ((x, y), (x + long * ux, y + long * uy))
        box = item_box(Path("sign", polyline(found)))
        assert box is not None
        air = (box[0] - _AIR, box[1] - _AIR, box[2] + _AIR, box[3] + _AIR)
        x0, y0, x1, y1 = around.box
        inside = air[0] >= x0 and air[1] >= y0 and air[2] <= x1 and air[3] <= y1
        if (
            inside
            and not held([air], around.arrows, 0.0)[0]
            and not shared([air], around.taken, 0.0)[0]
        ):
            return found
    return None


GLYPH = ArrowGlyph(
    key="arrow.pleat",
    name="Pleat: there and back",
    meaning="Fold there and back, to make a step in the paper.",
    order=240,
    draw=_draw,
    on_line=True,
)
