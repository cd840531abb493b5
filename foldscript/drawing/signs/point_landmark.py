"""A ring round a point that a fold goes by; a larger one where many edges meet, which stay apart in it; not
where lengths are marked across it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ...paper.signs import PointSign
from ..scene.groups import Group
from ..scene.shapes import Shape
from . import families
from .glyph import PLACES, FixedGlyph, Setting

#: How much larger the ring is where many edges meet.
_WIDER = 1.6
#: Of the usual ring (points).
_RADIUS = 2.7


@dataclass(frozen=True, kw_only=True, eq=False)
class _Ring(FixedGlyph):
    """A ring; the obstacles learn where a larger one stands."""

    def draw(self, sign: PointSign, setting: Setting) -> list[Group]:
        """Its circle."""
        at = setting.view(sign.at)
        around = setting.around
        ruled = any(math.dist(at, p) < _WIDER * _RADIUS for p in around.ruled)  # its bars are clear
        if ruled or not around.crowded(at):
            return super().draw(sign, setting)
        around.wide.append(at)
        return [Group(self.family.kind, self.shape.at(at, size=_WIDER))]


GLYPH = _Ring(
    key="point.landmark",
    name="A point to go by",
    meaning="Look here: these points meet, or the fold runs through them.",
    heading=PLACES,
    family=families.RING,
    shape=Shape(
        (
            (
                "mark.ring",
                "M 2.7 0 C 2.7 1.49 1.49 2.7 0 2.7 C -1.49 2.7 -2.7 1.49 -2.7 0 "
                "C -2.7 -1.49 -1.49 -2.7 0 -2.7 C 1.49 -2.7 2.7 -1.49 2.7 0 Z",
            ),
        ),
        upright=True,
    ),
)
