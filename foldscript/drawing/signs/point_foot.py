"""A foot of a model that is put down: a dot in a ring, as on the table beside the figure (`mark_table`).

It is on the paper wherever the foot is now, be it at the top of a model that lies on its back.
"""

from __future__ import annotations

from dataclasses import dataclass

from ...paper.signs import PointSign
from ..scene.groups import Group
from ..scene.outlines import Box
from ..scene.shapes import Shape
from ..scene.view import View
from . import families
from .glyph import FixedGlyph, Setting


@dataclass(frozen=True, kw_only=True, eq=False)
class _Foot(FixedGlyph):
    """A dot in a ring, where the foot is in sight of the figure."""

    def draw(self, sign: PointSign, setting: Setting) -> list[Group]:
        """Nothing where the figure is flat yet: no place of it is a foot."""
        return [] if sign.foot is None else super().draw(sign, setting)

    def reach(self, sign: PointSign, view: View, scale: float) -> Box | None:
        """As its ring."""
        return None if sign.foot is None else super().reach(sign, view, scale)


GLYPH = _Foot(
    key="point.foot",
    name="Foot",
    meaning="These places come to stand on the table.",
    order=456,
    family=families.RING,
    shape=Shape(
        (
            (
                "sign.open",
                "M 3.4 0 C 3.4 1.88 1.88 3.4 0 3.4 C -1.88 3.4 -3.4 1.88 -3.4 0 "
                "C -3.4 -1.88 -1.88 -3.4 0 -3.4 C 1.88 -3.4 3.4 -1.88 3.4 0 Z",
            ),
            (
                "sign.solid",
                "M 1.7 0 C 1.7 0.94 0.94 1.7 0 1.7 C -0.94 1.7 -1.7 0.94 -1.7 0 "
                "C -1.7 -0.94 -0.94 -1.7 0 -1.7 C 0.94 -1.7 1.7 -0.94 1.7 0 Z",
            ),
        ),
        upright=True,
    ),
)
