"""A slit that a pocket opens along: its two edges drawn a little apart."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ...languages.wording import Template
from ...paper.signs import PointSign
from ..scene.groups import Group, Item
from ..scene.outlines import Box, mapped, placed_at, polyline, toward
from ..scene.scene import Close, Curve, Move, Path
from ..scene.strokes import along
from ..scene.view import View
from ..style.styles import Style
from . import families
from .glyph import LINES, PointGlyph, Setting, sheet

#: How far each edge of the slit stands off it, as a part of half its length, at least and at most; how far
#: the mouth keeps off the ends of the slit (points).
_GAPE, _NARROW, _WIDE, _OFF_ENDS = 0.15, 3.4, 8.0, 0.6


def _mouth(half: float) -> Path:
    """The slit about its middle, open all along it."""
    half = max(1.0, half - _OFF_ENDS)
    gape = min(max(_NARROW, _GAPE * half), _WIDE) * 4 / 3
    pull = 0.5 * half
    return Path(
        "sign.open",
        (
            Move((-half, 0.0)),
            Curve((-pull, -gape), (pull, -gape), (half, 0.0)),
            Curve((pull, gape), (-pull, gape), (-half, 0.0)),
            Close(),
        ),
    )


@dataclass(frozen=True, kw_only=True, eq=False)
class _Slit(PointGlyph):
    """The mouth lies along what the sign `opens`."""

    heading: Template = LINES
    family: families.Family = families.MOUTH

    def draw(self, sign: PointSign, setting: Setting) -> list[Group]:
        """The open slit; letters keep off it, arrows may lead out of it."""
        assert sign.opens is not None
        p, q = (setting.view(end) for end in sign.opens)
        middle = ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2)
        frame = placed_at(middle, toward(p, q))
        mouth = _mouth(math.dist(p, q) / 2)
        mouth = Path(mouth.role, mapped(mouth.segments, frame))
        setting.around.ruled.extend(along([mouth]))
        return [Group(self.family.kind, (mouth,))]

    def reach(self, sign: PointSign, view: View, scale: float) -> Box | None:
        """It lies on the paper."""
        return None

    def sample(self, style: Style) -> list[Item]:
        """Two edges that meet, with the mouth between them."""
        return [
            *sheet(((-20.0, -10.0), (20.0, -10.0), (20.0, 10.0), (-20.0, 10.0))),
            Path("edge.raw", polyline(((-20.0, 0.0), (20.0, 0.0)))),
            _mouth(17.0),
        ]


GLYPH = _Slit(
    key="point.slit",
    name="Slit: opens here",
    meaning="The two edges that meet here are drawn apart: the pocket opens along them.",
    order=170,
)
