"""Sinks: the point is pressed in to where its tip comes to lie, turned inside out or with its layers closed.

Two signs that differ where hands do. Open: the arrow is hollow and its back parts, as the layers are
opened. Closed: it is solid and stands on a bar, as the layers stay together. Both are dotted under the paper,
down to the point as it lies then.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ...paper.signs import PointSign
from ..placement.ways import points_between, unit
from ..scene.groups import Group, Item
from ..scene.outlines import mapped, placed_at, polyline
from ..scene.scene import Path, Point
from ..scene.shapes import Shape
from ..style.styles import Style
from .glyph import FixedGlyph, Setting, centred, sheet

#: Where the dots begin under the paper, and the least that they run (points).
_BEGIN, _LEAST = 2.2, 5.0
#: The point of paper in a sample, and how deep it is sunk.
_POINT: tuple[Point, ...] = ((0.0, 0.0), (22.0, -11.5), (22.0, 11.5))
_DEEP = 14.0


@dataclass(frozen=True, kw_only=True, eq=False)
class SinkGlyph(FixedGlyph):
    """A sink's arrow; `half` is half the width of the point that is shown where it comes to lie."""

    half: float

    def draw(self, sign: PointSign, setting: Setting) -> list[Group]:
        """The arrow before the point, and the way of the tip under the paper."""
        drawn = super().draw(sign, setting)
        if sign.toward is None:
            return drawn
        tip, landing = setting.view(sign.at), setting.view(sign.toward)
        inside = self._inside(tip, landing)
        if inside:
            setting.around.arrows.extend(points_between(tip, landing))
        return [*drawn, *([Group(self.family.kind, tuple(inside))] if inside else [])]

    def _inside(self, tip: Point, landing: Point) -> list[Item]:
        """Dots to where the tip comes to lie, and the point that lies there."""
        (ux, uy), deep = unit(tip, landing)
        if deep < _BEGIN + _LEAST:
            return []
        start = (tip[0] + _BEGIN * ux, tip[1] + _BEGIN * uy)
        point = polyline(((-5.0, -self.half), (0.0, 0.0), (-5.0, self.half)))
        return [
            Path("arrow.hidden", polyline((start, landing))),
            Path("sign", mapped(point, placed_at(landing, (ux, uy)))),
        ]

    def sample(self, style: Style) -> Sequence[Item]:
        """On a point of paper."""
        return centred(
            [*sheet(_POINT), *self.shape.at((0.0, 0.0)), *self._inside((0.0, 0.0), (_DEEP, 0.0))]
        )


GLYPHS = (
    SinkGlyph(
        key="point.open-sink",
        name="Open sink",
        meaning="Open the point, push it in turned inside out, and close the model again.",
        order=405,
        half=4.0,
        shape=Shape(
            (
                (
                    "sign.open",
                    "M -1.6 0 L -8.4 -4.8 L -8.4 -2 L -15.8 -4.8 L -12.4 0 L -15.8 4.8 L -8.4 2 "
                    "L -8.4 4.8 Z",
                ),
            ),
        ),
    ),
    SinkGlyph(
        key="point.closed-sink",
        name="Closed sink",
        meaning="Push the point straight in; its layers stay together.",
        order=406,
        half=1.7,
        shape=Shape(
            (
                (
                    "sign.solid",
                    "M -1.6 0 L -8.4 -4.8 L -8.4 -1.9 L -13.2 -1.9 L -13.2 1.9 L -8.4 1.9 L -8.4 4.8 Z",
                ),
                ("sign", "M -15.2 -4.4 L -15.2 4.4"),
            ),
        ),
    ),
)
