"""A step whose fold lines are short on the page: what of it is shown larger, in a circle beside the model.

In: a panel and its paper as drawn. Out: the `DetailPart` of the figure to be shown larger, or None where its
lines are long enough; and which signs are drawn in the figure, which in the circle (`detail_view.py`).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from ...folding.steps import Panel
from ...paper.signs import (
    Angle,
    Arrow,
    EqualAngles,
    EqualLengths,
    FoldLine,
    Measure,
    PointSign,
    RaisedAngle,
    RepeatSign,
    RightAngle,
    Sign,
    landmark_points,
)
from ..scene.scene import Point
from ..scene.view import View
from ..sheet.fold_lines import DrawnLines
from ..sheet.visible import Visible
from ..signs.glyph import ArrowGlyph
from ..signs.registry import glyph_for

#: A step is shown larger when none of its fold lines is as long as this on the page (millimetres).
SHORT = 7.0
SHORT_POINTS = SHORT * 72 / 25.4
#: Radii of the circle that are tried, and how much larger the part must become to be worth it.
RADII, WORTH, MOST = (32.0, 29.0, 26.0, 23.0, 21.0, 19.0), 1.6, 8.0
#: Of the circle's radius, what the part takes.
FULL = 0.8
#: What is shown round the part: half of its own size, within these limits (points of the figure).
_ROUND = (1.5, 3.2)
#: The part is ringed at least as widely as this (points).
_LEAST_RING = 4.5


@dataclass(frozen=True)
class DetailPart:
    """A disc of the figure, about the figure's middle: where the step's fold lines are.

    strokes : the fold lines in it; whole : whether all that the step does is to be seen in it;
    lettered : its points that have letters
    """

    spot: Point
    reach: float
    strokes: tuple[tuple[Point, Point], ...]
    whole: bool
    lettered: tuple[Point, ...] = ()

    def holds(self, p: Point) -> bool:
        """Whether a point on the page lies well within it."""
        return math.dist(p, self.spot) < 0.95 * self.reach

    @property
    def ring(self) -> float:
        """Radius of the ring about it."""
        return max(self.reach, _LEAST_RING)

    @property
    def outline(self) -> list[Point]:
        """Points along its outline."""
        turns = [2 * math.pi * k / 24 for k in range(24)]
        (x, y), r = self.spot, self.ring
        return [(x + r * math.cos(a), y + r * math.sin(a)) for a in turns]


def part_of(
    panel: Panel, visible: Visible, drawn: DrawnLines, enlarged: float = 1.0
) -> DetailPart | None:
    """What is to be drawn larger: all that the step does, or else its fold lines; None if long enough.

    `enlarged` is how much larger the style prints figures, and with them its dashes: there lines may
    be shorter when drawn, and are still longer on the page than where nothing is enlarged.
    """
    folds = [s for s in panel.signs if isinstance(s, FoldLine)]
    if not folds or not drawn.strokes or any(s.pinch for s in folds):
        return None
    if not any(isinstance(s, Arrow) for s in panel.signs):
        return None
    if max(math.dist(*stroke) for stroke in drawn.strokes) >= SHORT_POINTS / enlarged**0.5:
        return None
    view = visible.view
    lines = [p for stroke in drawn.strokes for p in stroke]
    tips = [view(p) for s in panel.signs if isinstance(s, Arrow) for p in (s.tail, s.head)]
    tips += [view(s.at) for s in panel.signs if isinstance(s, PointSign)]
    longest = max(math.dist(*stroke) for stroke in drawn.strokes)
    everything = _disc([*lines, *tips])
    if not any(isinstance(s, RepeatSign) for s in panel.signs):
        factor = min(MOST, FULL * RADII[2] / everything[1])
        if factor >= WORTH and factor * longest >= SHORT_POINTS:
            return _lettered(DetailPart(*everything, drawn.strokes, whole=True), panel, view)
    spot, reach = _disc(lines)
    if FULL * RADII[0] / reach < WORTH:
        return None
    return _lettered(DetailPart(spot, reach, drawn.strokes, whole=False), panel, view)


def _lettered(chosen: DetailPart, panel: Panel, view: View) -> DetailPart:
    """A part, told of the points in it that have letters."""
    points = [view(p) for _, p in panel.letters]
    return replace(chosen, lettered=tuple(p for p in points if chosen.holds(p)))


def _disc(points: Sequence[Point]) -> tuple[Point, float]:
    """Middle and radius of a disc about points, with some of what lies round them."""
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    spot = ((max(xs) + min(xs)) / 2, (max(ys) + min(ys)) / 2)
    half = max(math.dist(p, spot) for p in points)
    return spot, half + min(max(0.5 * half, _ROUND[0]), _ROUND[1])


def divided(signs: Sequence[Sign], chosen: DetailPart, view: View) -> tuple[list[Sign], list[Sign]]:
    """Signs that are drawn in the figure, and those that are drawn in the circle."""
    outer: list[Sign] = []
    inner: list[Sign] = []
    for s in signs:
        held = all(chosen.holds(view(p)) for p in _points(s)) and not isinstance(s, RepeatSign)
        (inner if held or is_on_line(s) else outer).append(s)
    return outer, inner


def is_on_line(sign: Sign) -> bool:
    """Whether a sign stands at the lines that it folds, as a pleat does."""
    return isinstance(sign, Arrow) and glyph_for(sign, ArrowGlyph).on_line


def _points(sign: Sign) -> Sequence[Point]:
    """Where a sign has to be in view to be understood."""
    if isinstance(sign, Arrow):
        return (sign.tail, sign.head)
    if isinstance(sign, RaisedAngle):
        return (sign.tip, sign.foot)
    if isinstance(sign, PointSign):
        return (sign.at,)
    if isinstance(sign, EqualAngles | RightAngle):
        return (sign.apex,)
    if isinstance(sign, EqualLengths | Measure | Angle):
        return landmark_points(sign)
    return ()
