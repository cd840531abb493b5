"""Layers: what moves at a fold line and what stays, as the stack is seen from the side, where that is true.

One stroke is one layer, always; more than a reader sees at once are one band, in which there are no
strokes to count, and a number says how many of them move. What moves is heavy and bends, up from the stack
in front and down from it behind; what stays is fine and runs on, and many that stay are hatched. It is drawn
only where several layers lie at the line, once for lines that fold alike; of stacks that differ along a line,
the first that can be told off the paper. It stands clear of all other ink, off the paper if it can; where
there is no such place its strokes lie closer, and where there is none for that either it is left out.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby, product

from ...geometry.lines import between
from ...paper.signs import FoldLine, GuideLine, Sense
from ..placement.free_places import box_of, fill, hindered
from ..placement.obstacles import shared
from ..scene.groups import Item
from ..scene.outlines import polyline, shifted
from ..scene.scene import Close, Curve, Draw, Move, Path, Point, Text
from ..style.styles import Style
from . import families
from .glyph import LINES, LastGlyph, Setting, centred

#: How far apart the strokes lie: 1.2 mm, and closer where there is no room for that (points).
APART = (3.45, 2.7, 2.1)
#: How long they are before and after the fold, how far they bend (points).
_BEFORE, _AFTER, _BEND = 5.5, 5.0, 4.8
#: Most layers that are drawn as strokes, of those that move and of those that stay; how much thicker than
#: strokes are apart the band is that stands for more; how far apart strokes across it are if they stay
#: (points).
_STROKES, _THICKER, _HATCH = 3, 0.75, 2.6
#: Ways from the line's end in which a place is looked for, in degrees off its direction; and how far off
#: (points).
_WAYS, _FAR = (0.0, 30.0, -30.0, 60.0, -60.0, 90.0, -90.0), (3.0, 5.0, 8.0, 11.0, 14.0)
#: At how many places along a faint guide it is kept off.
_GUIDED = 24
#: Where beside a line, as parts of it; and how near the ends of its layers lie to its own (points).
_ALONG, _AT_END = (0.3, 0.7, 0.5, 0.15, 0.85), 2.0
#: As a part of what it stands beside: how far it keeps off the ends.
_WELL = 0.06
#: Within how far letters and other signs crowd it (points), and what each of two of them costs.
_AMONG, _CROWDED = 4.0, 0.4
#: What it costs to stand farther off by a point, aside by a radian, beside the line, and at an end of it
#: beyond which there is paper that does not move; how far beyond that is looked for (points).
_FARTHER, _ASIDE, _BESIDE, _AMID, _BEYOND = 0.15, 0.2, 1.0, 2.0, 4.0


def layers_sign(
    layers: Sequence[bool], sense: Sense, style: Style, apart: float = APART[0]
) -> list[Item]:
    """The sign about its middle, its strokes so far apart (points).

    Nothing where the layers that move are not those on the outside.
    """
    runs = [(moves, len(list(some))) for moves, some in groupby(layers)]
    up = sense is Sense.VALLEY
    if not up:
        runs.reverse()
    if not runs or not runs[0][0] or len(runs) > 2:
        return []
    count, rest = runs[0][1], runs[1][1] if len(runs) == 2 else 0
    way = 1.0 if up else -1.0
    band = apart + _THICKER
    out: list[Item] = []
    if count > _STROKES:
        out.append(_bent_band(0.0, way * band, way))
        size = style.small
        at = (_AFTER + band, -way * 0.4 * _BEND + 0.35 * size)
        out.append(Text("text.sign", at, str(count), size))
        below = band + apart
    else:
        out += (_bent(way * k * apart, way) for k in range(count))
        below = count * apart
    if rest > _STROKES:
        out += _level_band(way * below, way * (below + band))
    else:
        out += (_level(way * (below + k * apart)) for k in range(rest))
    return centred(out)


def _bend(y: float, way: float) -> Curve:
    """The end of a layer that moves, from (0, y) on: all tips are level, each bend lies within the next."""
    far = abs(y)
    tip = (0.85 * _AFTER + far, -way * _BEND)
    return Curve((0.35 * _AFTER + far, y), (0.7 * _AFTER + far, y - 0.3 * way * _BEND), tip)


def _bent(y: float, way: float) -> Path:
    """A layer that moves."""
    return Path("sign.moving", (Move((-_BEFORE, y)), Draw((0.0, y)), _bend(y, way)))


def _bent_band(y: float, end: float, way: float) -> Path:
    """Many layers that move."""
    one, other = _bend(y, way), _bend(end, way)
    back = Curve(other.second, other.first, (0.0, end))
    start = (Move((-_BEFORE, y)), Draw((0.0, y)), one, Draw(other.to), back)
    return Path("sign.solid", (*start, Draw((-_BEFORE, end)), Close()))


def _level(y: float) -> Path:
    """A layer that stays."""
    return Path("sign.staying", polyline(((-_BEFORE, y), (_AFTER, y))))


def _level_band(y: float, end: float) -> list[Item]:
    """Many layers that stay."""
    corners = ((-_BEFORE, y), (_AFTER, y), (_AFTER, end), (-_BEFORE, end))
    count = int((_BEFORE + _AFTER) / _HATCH)
    step = (_BEFORE + _AFTER) / count
    ways = [(-_BEFORE + k * step, -_BEFORE + (k + 1) * step) for k in range(count)]
    hatched = tuple(s for x0, x1 in ways for s in (Move((x0, end)), Draw((x1, y))))
    return [Path("sign.staying", polyline(corners, closed=True)), Path("sign.staying", hatched)]


def _draw(setting: Setting) -> list[list[Item]]:
    """One sign for all lines at which the same happens, at the end where there is most room."""
    alike: dict[tuple[tuple[bool, ...], Sense], list[FoldLine]] = {}
    for sign in setting.signs:
        if isinstance(sign, FoldLine) and len(sign.layers) > 1 and not sign.opens:
            alike.setdefault((sign.layers, sign.sense), []).append(sign)
    out: list[list[Item]] = []
    for (_, sense), lines in alike.items():
        runs = dict.fromkeys(some for line in lines for some, _ in _told(line) if len(some) > 1)
        found = [items for run in runs if (items := _placed(run, sense, lines, setting))]
        if found:
            best = next((one for one in found if _is_off(one, setting)), found[0])
            out.append(best)
            fill(box_of(best), setting.around)
    return out


def _placed(
    layers: tuple[bool, ...], sense: Sense, lines: Sequence[FoldLine], setting: Setting
) -> list[Item]:
    """The sign where it stands, its strokes as far apart as there is room for; nothing without a place."""
    for apart in APART:
        items = layers_sign(layers, sense, setting.style, apart)
        at = _place(items, layers, lines, setting) if items else None
        if at is not None:
            return [shifted(item, *at) for item in items]
    return []


def _is_off(items: Sequence[Item], setting: Setting) -> bool:
    """Whether a sign stands off the paper."""
    x0, y0, x1, y1 = box_of(items)
    return not any(setting.around.covers([(x0, y0), (x1, y0), (x0, y1), (x1, y1)]))


def _told(line: FoldLine) -> tuple[tuple[tuple[bool, ...], tuple[Point, Point]], ...]:
    """What lies at each part of a line."""
    if line.layered:
        return line.layered
    points = [p for _, ends in line.parts for p in ends]
    first = max(points, key=lambda p: (round(math.dist(p, points[0]), 6), p))
    return ((line.layers, (first, max(points, key=lambda p: (round(math.dist(p, first), 6), p)))),)


def _place(
    items: Sequence[Item], layers: tuple[bool, ...], lines: Sequence[FoldLine], setting: Setting
) -> Point | None:
    """The middle of the best free place at an end of a line, else beside it; None where there is none."""
    x0, y0, x1, y1 = box_of(items)
    spots = [spot for line in lines for spot in _spots(line, layers, setting)]
    tries: list[tuple[float, Point]] = []
    for spot, far, turn in product(spots, _FAR, _WAYS):
        a = math.radians(turn)
        (ux, uy), (x, y) = spot.way, spot.at
        wx, wy = ux * math.cos(a) - uy * math.sin(a), ux * math.sin(a) + uy * math.cos(a)
        reach = far + min(
            (x1 - x0) / 2 / max(abs(wx), 1e-6),
            (y1 - y0) / 2 / max(abs(wy), 1e-6),
        )
        at = (x + reach * wx, y + reach * wy)
        if spot.beside is None or _along(at, *spot.beside):
            aside = (_AMID if spot.amid else 0.0) if spot.beside is None else _BESIDE
            tries.append((aside + _FARTHER * far + _ASIDE * abs(a), at))
    if not tries:
        return None
    boxes = [(x + x0, y + y0, x + x1, y + y1) for _, (x, y) in tries]
    against = hindered(boxes, setting.around, _guides(setting))
    among = shared(boxes, setting.around.taken, _AMONG).tolist()
    costs = [
        (round(cost + more + _CROWDED * min(2, others), 4), k)
        for k, ((cost, _), more, others) in enumerate(zip(tries, against, among, strict=True))
    ]
    best = min(costs)
    return tries[best[1]][1] if best[0] < math.inf else None


@dataclass(frozen=True)
class _Spot:
    """A place of a line on the page, the way from there to the sign, the part that the sign stands beside.

    amid : whether it is an end amid the paper, beyond which nothing moves
    """

    at: Point
    way: Point
    beside: tuple[Point, Point] | None = None
    amid: bool = False


def _spots(line: FoldLine, layers: tuple[bool, ...], setting: Setting) -> list[_Spot]:
    """Where the layers of a line lie as they are told: ends, with the way on from there, and along it."""
    points = [setting.view(p) for _, ends in line.parts for p in ends]
    first = max(points, key=lambda p: (round(math.dist(p, points[0]), 6), p))
    last = max(points, key=lambda p: (round(math.dist(p, first), 6), p))
    n = math.dist(first, last)
    if n < 1e-6:
        return []
    told = [(setting.view(p), setting.view(q)) for some, (p, q) in _told(line) if some == layers]
    ux, uy = (last[0] - first[0]) / n, (last[1] - first[1]) / n
    out = [
        _Spot(end, way, amid=setting.around.within(_beyond(end, way), 0.0))
        for end, way in ((last, (ux, uy)), (first, (-ux, -uy)))
        if any(math.dist(end, p) < _AT_END for part in told for p in part)
    ]
    for part in told:
        for k, side in product(_ALONG, (1.0, -1.0)):
            out.append(_Spot(between(*part, k), (-uy * side, ux * side), part))
    return out


def _beyond(end: Point, way: Point) -> Point:
    return (end[0] + _BEYOND * way[0], end[1] + _BEYOND * way[1])


def _along(at: Point, p: Point, q: Point) -> bool:
    """Whether a place lies beside a part of a line, well within its ends."""
    dx, dy = q[0] - p[0], q[1] - p[1]
    t = ((at[0] - p[0]) * dx + (at[1] - p[1]) * dy) / max(dx * dx + dy * dy, 1e-9)
    return _WELL <= t <= 1.0 - _WELL


def _guides(setting: Setting) -> list[Point]:
    """Points along faint guides."""
    lines = [s.segment for s in setting.signs if isinstance(s, GuideLine)]
    return [setting.view(between(*line, k / _GUIDED)) for line in lines for k in range(_GUIDED + 1)]


def _picture(style: Style) -> list[Item]:
    """Layers that are drawn each, and many of them, both that move and that stay."""
    few = layers_sign((True, True, False), Sense.VALLEY, style)
    many = layers_sign((*[True] * (_STROKES + 2), *[False] * (_STROKES + 1)), Sense.VALLEY, style)
    return [*(shifted(i, -12.0, 0.0) for i in few), *(shifted(i, 11.0, 0.0) for i in many)]


GLYPH = LastGlyph(
    key="layers",
    name="Heavy layers move",
    meaning=(
        "At a fold line, each stroke a layer: heavy ones bend and move, fine ones stay. "
        "A band is many, a number tells how many move."
    ),
    heading=LINES,
    order=145,
    family=families.LAYERS,
    draw=_draw,
    after_letters=True,
    picture=_picture,
)
