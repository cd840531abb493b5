"""How far a flap is raised: its line seen from the end, paper and flap as a stroke each, and the degrees.

The flap stands on the side of its line where it does in the figure; bent away from the reader, it hangs
below. Two flaps that leave one line to either side by as much share a sign. It stands beside the arrow, clear
of all other ink, off the paper if it can, and rather beside the figure than above or below it.
"""

from __future__ import annotations

import math
from itertools import product

from ...geometry.lines import between
from ...geometry.tolerance import is_zero
from ...languages.wording import ENGLISH, Language, Number
from ...paper.signs import RaisedAngle
from ..placement.free_places import box_of, fill, hindered
from ..scene.groups import Item
from ..scene.outlines import Box, arc, polyline, shifted, shifted_box
from ..scene.scene import Path, Point, Text
from ..style.styles import Style
from . import families
from .glyph import ARROWS, LastGlyph, Setting, centred

#: Lengths of both strokes, and the radius of the arc between them (points); lengths where flaps stand off to
#: either side.
_STROKE, _RADIUS, _STROKE_OF_BOTH = 15.0, 7.0, 11.0
#: The number: its size beside that of letters, width of a character, how far beyond the arc (points).
_SIZE, _CHARACTER, _BEYOND = 0.85, 0.6, 2.5
#: At which parts of the way from the tip to the line a place is looked for, in how many ways, how far off
#: (points).
_ALONG, _WAYS, _FAR = (0.5, 0.0, 1.0), 24, (4.0, 9.0, 15.0, 22.0, 30.0, 40.0, 52.0)
#: What it costs to stand farther off by a point, and to make the figure so much higher.
_FARTHER, _HIGHER = 0.06, 0.12


def raised_sign(
    degrees: float,
    side: float,
    folded: bool,
    away: bool,
    style: Style,
    speech: Language = ENGLISH,
    both: bool = False,
) -> list[Item]:
    """The sign about its middle; `side` is 1 where the flap lies to the right of its line, -1 to the left.

    `both` : whether another flap is raised as far to the other side of the paper
    """
    stroke = _STROKE_OF_BOTH if both else _STROKE
    still = side if folded else -side
    down = 1.0 if away else -1.0
    turn, start = math.radians(degrees), 0.0 if still > 0 else math.pi
    sweep = still * down * turn
    tip, middle = start + sweep, start + sweep / 2
    words = f"{Number(f'{degrees:g}').render(speech)}°"
    size = _SIZE * style.label
    wide, high = _CHARACTER * size * len(words), 0.8 * size
    ux, uy = math.cos(middle), math.sin(middle)
    reach = _RADIUS + _BEYOND + abs(ux) * wide / 2 + abs(uy) * high / 2
    half = math.sin(min(turn, math.pi - 1e-3) / 2)
    if 2 * reach * half < wide:  # no room between the strokes: beyond their ends
        reach = stroke + _BEYOND + abs(ux) * wide / 2
    at = (reach * ux, reach * uy + high / 2)
    out: list[Item] = [Path("sign", polyline(((still * stroke, 0.0), (0.0, 0.0))))]
    for way in (1.0, -1.0)[: 1 + both]:
        end = (stroke * math.cos(tip), way * stroke * math.sin(tip))
        out.append(Path("sign", polyline(((0.0, 0.0), end))))
        out.append(Path("mark.angle", arc((0.0, 0.0), _RADIUS, way * start, way * sweep)))
    return centred([*out, Text("text.sign", at, words, size, "middle")])


def _draw(setting: Setting) -> list[list[Item]]:
    """Each angle once: at the flap that has most room for it."""
    alike: dict[tuple[float, bool], list[RaisedAngle]] = {}
    for sign in setting.signs:
        if isinstance(sign, RaisedAngle) and sign.degrees is not None:
            folded = sign.folded and not is_zero(sign.degrees - 90.0)  # else it looks alike
            alike.setdefault((sign.degrees, folded), []).append(sign)
    out = [_placed(some, setting) for some in alike.values()]
    return [items for items in out if items]


def _placed(alike: list[RaisedAngle], setting: Setting) -> list[Item]:
    """The sign at its best free place; nothing where there is none."""
    tries: list[tuple[float, Point, list[Item]]] = []
    boxes: list[Box] = []
    both = len({sign.away for sign in alike}) > 1
    upper, lower = _reach(setting)
    for sign in alike:
        assert sign.degrees is not None
        tip, foot = setting.view(sign.tip), setting.view(sign.foot)
        side = -1.0 if tip[0] < foot[0] - 1e-6 else 1.0
        away = sign.away and not both
        items = raised_sign(
            sign.degrees, side, sign.folded, away, setting.style, setting.speech, both
        )
        about = box_of(items)
        _, _, x1, y1 = about
        for k, far, n in product(_ALONG, _FAR, range(_WAYS)):
            turn = 2 * math.pi * n / _WAYS
            ux, uy = math.cos(turn), math.sin(turn)
            reach = far + min(x1 / max(abs(ux), 1e-6), y1 / max(abs(uy), 1e-6))
            x, y = between(tip, foot, k)
            at = (x + reach * ux, y + reach * uy)
            boxes.append(shifted_box(about, *at))
            higher = max(0.0, upper - boxes[-1][1], boxes[-1][3] - lower)
            tries.append((_FARTHER * far + _HIGHER * higher, at, items))
    against = hindered(boxes, setting.around)
    costs = [
        (round(cost + more, 4), k)
        for k, ((cost, _, _), more) in enumerate(zip(tries, against, strict=True))
    ]
    least, best = min(costs)
    if least == math.inf:
        return []
    _, at, items = tries[best]
    out = [shifted(item, *at) for item in items]
    fill(box_of(out), setting.around)
    return out


def _reach(setting: Setting) -> tuple[float, float]:
    """How far up and down paper and arrows of the figure reach."""
    _, y0, _, y1 = setting.around.silhouette.bounds
    heights = [y for _, y in setting.around.arrows]
    return min([y0, *heights]), max([y1, *heights])


GLYPH = LastGlyph(
    key="mark.raised",
    name="Raised so far",
    meaning="Seen from the end of the line: the flap stands so far off the level paper.",
    heading=ARROWS,
    order=327,
    family=families.RAISED,
    draw=_draw,
    picture=lambda style: raised_sign(60.0, 1.0, True, False, style),
)
