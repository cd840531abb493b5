"""Signs between figures: turned over, turned round, drawn larger, repeated.

In: such a sign and the middle of the place kept for it. Out: `Path`s and `Text`s.
"""

from __future__ import annotations

import math

from ...paper.signs import RepeatSign, Rotate, TurnOver
from ..glyphs import glyph_paths
from ..scene.heads import half_head, solid_head
from ..scene.outlines import arc, polyline
from ..scene.scene import Path, Point, Text
from ..style.styles import Style

#: Width kept free beside a figure for a sign between figures (points).
STRIP = 36.0
_RADIUS = 11.0


def turn(sign: TurnOver | Rotate, at: Point, style: Style) -> list[Path | Text]:
    """A turn-over or rotate sign about its middle."""
    if isinstance(sign, TurnOver):
        return list(glyph_paths(turn_key(sign), at))
    return _rotate(sign, at, style)


def turn_key(sign: TurnOver | Rotate) -> str:
    """Key of the sign, for the page's key."""
    if isinstance(sign, Rotate):
        return "rotate"
    return "turn-over" if sign.side_to_side else "turn-over.top-to-bottom"


def turn_size(sign: TurnOver | Rotate) -> tuple[float, float]:
    """Width and height a sign takes."""
    if isinstance(sign, Rotate):
        return (2 * _RADIUS + 8, 2 * _RADIUS + 8)
    return (32.0, 18.0) if sign.side_to_side else (18.0, 32.0)


def _rotate(sign: Rotate, at: Point, style: Style) -> list[Path | Text]:
    """Two arrows that circle the way the paper turns, with the amount between them."""
    way = -1.0 if sign.degrees > 0 else 1.0  # positive degrees turn counter-clockwise
    out: list[Path | Text] = []
    sweep = math.radians(118)
    head = math.radians(34)
    for start in (math.radians(-150), math.radians(30)):
        begin = start if way > 0 else math.pi - start
        out.append(Path("sign", arc(at, _RADIUS, begin, way * sweep)))
        tip = begin + way * (sweep + head * 0.72)
        back = begin + way * (sweep - head * 0.35)
        p = (at[0] + _RADIUS * math.cos(tip), at[1] + _RADIUS * math.sin(tip))
        q = (at[0] + _RADIUS * math.cos(back), at[1] + _RADIUS * math.sin(back))
        d = math.dist(p, q)
        out.append(solid_head(p, ((p[0] - q[0]) / d, (p[1] - q[1]) / d), 0.86))
    amount = f"{abs(sign.degrees):.4g}°"
    size = style.small if len(amount) > 3 else style.sign
    out.append(Text("text.sign", (at[0] + 0.6, at[1] + 0.35 * size), amount, size, "middle"))
    return out


def scale_size(factor: float, style: Style) -> tuple[float, float]:
    """Width and height that a scale sign takes."""
    return 12.0 + 0.575 * style.sign * len(_factor(factor)), max(10.0, 1.25 * style.sign)


def _factor(factor: float) -> str:
    return f"×{factor:.3g}"


def scale_sign(factor: float | None, at: Point, style: Style) -> list[Path | Text]:
    """A small frame that grows into a larger one, and the factor; `at` is its top right corner.

    Without a factor it stands for any, as in the key.
    """
    x, y = at
    words = "×" if factor is None else _factor(factor)
    left = x - 0.56 * style.sign * len(words) - 12.0
    return [
        Path("sign", _square((left, y + 9.0), 4.0)),
        Path("sign", _square((left, y + 9.0), 8.5)),
        Text("text.sign", (left + 10.5, y + 8.2), words, style.sign),
    ]


def _square(corner: Point, side: float) -> tuple:
    x, y = corner
    return polyline(((x, y), (x + side, y), (x + side, y - side), (x, y - side)), closed=True)


#: Length of a repeat sign's arrow, and of the part that runs on behind the paper (points).
_REPEAT_SHAFT = 20.0
BEHIND = 17.0


def is_behind(sign: RepeatSign) -> bool:
    """Whether the steps are done again on the back."""
    return "behind" in sign.where


def repeat_shaft(sign: RepeatSign) -> float:
    """Length of the sign's arrow, in points."""
    return BEHIND + 12.0 if is_behind(sign) else _REPEAT_SHAFT


def repeat_size(sign: RepeatSign, style: Style) -> tuple[float, float]:
    """Width and height of the box with the steps."""
    return 0.56 * style.sign * len(_steps(sign)) + 6.0, style.sign + 4.4


def _steps(sign: RepeatSign) -> str:
    return f"{sign.first}" if sign.first == sign.last else f"{sign.first}–{sign.last}"


def repeat_sign(sign: RepeatSign, tip: Point, towards: Point, style: Style) -> list[Path | Text]:
    """An arrow to the place, crossed by one tick for each repetition, from a box with the steps.

    Where the place is on the back, the arrow's end is dotted and its head one-sided.
    """
    ux, uy = towards
    n = repeat_shaft(sign)
    start = (tip[0] - n * ux, tip[1] - n * uy)
    neck = (tip[0] - 5 * ux, tip[1] - 5 * uy)
    out: list[Path | Text] = []
    if is_behind(sign):
        turn = (tip[0] - BEHIND * ux, tip[1] - BEHIND * uy)
        out.append(Path("sign", polyline((start, turn))))
        out.append(Path("arrow.hidden", polyline((turn, neck))))
        out.append(half_head(tip, towards, True, 1.1))
    else:
        out += [Path("sign", polyline((start, neck))), solid_head(tip, towards, 0.86)]
    for k in range(min(max(1, sign.times), 5)):
        x, y = start[0] + (3.2 + 2.3 * k) * ux, start[1] + (3.2 + 2.3 * k) * uy
        out.append(Path("sign", polyline(((x - 3 * uy, y + 3 * ux), (x + 3 * uy, y - 3 * ux)))))
    wide, high = repeat_size(sign, style)
    reach = min(
        wide / 2 / abs(ux) if abs(ux) > 1e-6 else math.inf,
        high / 2 / abs(uy) if abs(uy) > 1e-6 else math.inf,
    )
    mx, my = start[0] - reach * ux, start[1] - reach * uy
    box = (
        (mx - wide / 2, my - high / 2),
        (mx + wide / 2, my - high / 2),
        (mx + wide / 2, my + high / 2),
        (mx - wide / 2, my + high / 2),
    )
    out.append(Path("sign.open", polyline(box, closed=True)))
    words = _steps(sign)
    out.append(Text("text.sign", (mx, my + 0.35 * style.sign), words, style.sign, "middle"))
    return out
