"""Equal angles: for each an arc, crossed by a tick; other sizes, other radii."""

from __future__ import annotations

import math

from ...paper.signs import EqualAngles
from ..placement.obstacles import Obstacles
from ..scene.groups import Item
from ..scene.outlines import arc, polyline
from ..scene.scene import Path, Point
from ..style.styles import Style
from .glyph import MarkGlyph, Setting, centred

#: Arc that a tick needs, and the farthest an arc lies from its apex (points).
_NARROWEST, _FARTHEST = 4.6, 30.0


def _draw(setting: Setting) -> list[list[Path]]:
    """For each sign an arc for each of its two angles.

    Angles whose apex lies off the paper are left out, for nobody could check them there, and so are
    those too narrow for two ticks side by side.
    """
    view, around = setting.view, setting.around
    out: list[list[Path]] = []
    sizes: list[float] = []
    for sign in setting.signs:
        if not isinstance(sign, EqualAngles):
            continue
        apex = view(sign.apex)
        if not _on_paper(apex, around):
            continue
        ends = [view(p) for p in (sign.first, sign.middle, sign.last)]
        first, last = (
            (_angle(apex, a), math.remainder(_angle(apex, b) - _angle(apex, a), 2 * math.pi))
            for a, b in ((ends[0], ends[1]), (ends[1], ends[2]))
        )
        nth = next((k for k, s in enumerate(sizes) if abs(s - abs(first[1])) < 0.01), len(sizes))
        if nth == len(sizes):
            sizes.append(abs(first[1]))
        most = min(_FARTHEST, 0.5 * min(math.dist(apex, e) for e in ends))
        needed = _NARROWEST / max(1e-6, min(abs(first[1]), abs(last[1])))
        radius = min(max(15.0 + 4.0 * (nth % 3), needed), most)
        if radius < needed:
            continue
        paths: list[Path] = []
        for start, sweep in (first, last):
            paths += _ticked(apex, radius, start, sweep)
            around.arrows.extend(
                (apex[0] + radius * math.cos(a), apex[1] + radius * math.sin(a))
                for a in (start + t * sweep for t in (0.0, 0.25, 0.5, 0.75, 1.0))
            )
        out.append(paths)
    return out


def _ticked(
    apex: Point, radius: float, start: float, sweep: float, half: float = 1.9
) -> list[Path]:
    """An arc and the tick in its middle."""
    c, s = math.cos(start + sweep / 2), math.sin(start + sweep / 2)
    tick = tuple((apex[0] + r * c, apex[1] + r * s) for r in (radius - half, radius + half))
    return [
        Path("mark.angle", arc(apex, radius, start, sweep)),
        Path("mark.angle", polyline(tick)),
    ]


def _angle(p: Point, q: Point) -> float:
    return math.atan2(q[1] - p[1], q[0] - p[0])


def _on_paper(p: Point, around: Obstacles) -> bool:
    import shapely

    return bool(shapely.dwithin(around.silhouette, shapely.Point(p), 4.0))


def _picture(style: Style) -> list[Item]:
    """Three creases from one point, and two angles of 30 degrees between them."""
    apex = (-12.0, 8.0)
    out: list[Item] = []
    for k in range(3):
        a = -math.radians(30 * k + 4)
        end = (apex[0] + 27 * math.cos(a), apex[1] + 27 * math.sin(a))
        out.append(Path("crease", polyline((apex, end))))
    for k in range(2):
        out += _ticked(apex, 15.0, -math.radians(30 * k + 4), -math.radians(30), 2.0)
    return centred(out)


GLYPH = MarkGlyph(
    key="mark.equal-angles",
    name="Equal angles",
    meaning="Angles with the same tick are equal.",
    order=500,
    draw=_draw,
    picture=_picture,
)
