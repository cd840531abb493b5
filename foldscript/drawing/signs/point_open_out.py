"""The sign of opening out: the mouth of the paper drawn open, its front pulled one way, its back the other.

Three signs of one family: opened to stay so, opened to be pressed flat, and raised on both sides of a slit.
The mouth lies along the whole edge that opens, as seen a little from outside: its front rim raised over the
paper, its back rim off it. Round rims stay open, the model is flat no longer; rims with a corner in
the middle are pressed flat there, the ends of the mouth together. From the front rim an arrow grows
towards the eye, from the back rim one with a half head goes away from it. At a slit amid the paper both
rims are raised. At a tip, where no edge opens, the two arrows part from the tip.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from ...paper.openings import layered
from ...paper.signs import FoldLine, PointSign, Sign
from ..placement.obstacles import Obstacles, near
from ..scene.groups import Group, Item
from ..scene.outlines import Affine, Box, Cubic, mapped, placed_at, polyline, shifted, toward
from ..scene.scene import Close, Curve, Move, Path, Point, Segment
from ..scene.shafts import growing, shrinking
from ..scene.strokes import along
from ..scene.view import View
from ..style.styles import Style
from . import families
from .glyph import PointGlyph, Setting, sheet

#: Half the length of the mouth, at least and at most, and how far it stays off the ends of its edge.
_LEAST, _MOST, _OFF_ENDS = 7.0, 54.0, 1.0
#: How far each rim leaves the edge: a part of half the mouth's length, at least and at most (points).
_GAPE, _NARROW, _WIDE = 0.2, 4.2, 8.0
#: Lengths of the two arrows (points).
_FRONT, _BACK = 18.0, 16.0
#: Where the arrows leave the mouth, as parts of its half length: the first that is free.
_PLACES = (0.0, 0.32, -0.32, 0.5, -0.5)
_CLEAR = 4.5
#: How far aside the arrows at a tip reach.
_ASIDE = 26.0


@dataclass(frozen=True)
class _Mouth:
    """About its middle: +x along the edge, +y away from the paper (points).

    half : half its length; gape : how far each rim leaves the edge; flat : pressed flat in the end;
    slit : whether it lies amid the paper, so that both rims come towards the eye
    """

    half: float
    gape: float
    flat: bool
    slit: bool = False


def _mouth(left: float, right: float, flat: bool, slit: bool = False) -> _Mouth:
    """In an edge with so much on either side (points)."""
    half = min(max(_LEAST, min(left, right) - _OFF_ENDS), _MOST)
    return _Mouth(half, min(max(_NARROW, _GAPE * half), _WIDE), flat, slit)


def _mouth_paths(mouth: _Mouth) -> list[Path]:
    """The opened edge, front rim and back rim, about its middle."""
    half, gape = mouth.half, mouth.gape
    if mouth.flat:
        shape: tuple[Segment, ...] = polyline(
            ((-half, 0.0), (0.0, -gape), (half, 0.0), (0.0, gape)), closed=True
        )
    else:
        pull, rise = 0.5 * half, gape * 4 / 3
        shape = (
            Move((-half, 0.0)),
            Curve((-pull, -rise), (pull, -rise), (half, 0.0)),
            Curve((pull, rise), (-pull, rise), (-half, 0.0)),
            Close(),
        )
    return [Path("sign.open", shape)]


def _pull_paths(mouth: _Mouth, place: float, size: float = 1.0) -> list[Path]:
    """The arrows from the rims, at this part of the mouth's half length."""
    x = place * mouth.half
    share = 1 - abs(place) if mouth.flat else 1 - place * place
    start = 0.35 * mouth.gape * share
    bend = 2.6 if place >= 0 else -2.6
    rim = mouth.gape * share
    front = _arc((x, -start), (x, -rim - size * _FRONT), bend)
    back = _arc((x, start), (x, rim + size * _BACK), -bend)
    if mouth.slit:
        return [growing(front, size**0.5), growing(back, size**0.5)]
    return [growing(front, size**0.5), shrinking(back, size**0.5)]


def _arc(tail: Point, head: Point, bend: float) -> Cubic:
    dx, dy = head[0] - tail[0], head[1] - tail[1]
    n = math.hypot(dx, dy) or 1.0
    nx, ny = -dy / n * bend, dx / n * bend
    return (
        tail,
        (tail[0] + dx / 3 - nx, tail[1] + dy / 3 - ny),
        (tail[0] + 2 * dx / 3 - nx, tail[1] + 2 * dy / 3 - ny),
        head,
    )


def _tip_paths(layers: bool = True) -> list[Path]:
    """The arrows at a tip, about it, +y away from the paper: one flap to the front, the other behind.

    A single layer is raised on both sides.
    """
    front, back = (
        (
            (side * 2.4, 1.6),
            (side * 7.0, 10.5),
            (side * 19.0, 10.5),
            (side * _ASIDE, -1.5),
        )
        for side in (1.0, -1.0)
    )
    return [growing(front), shrinking(back) if layers else growing(back)]


def _tip(spot: Point, away: Point, layers: bool, around: Obstacles) -> list[Path]:
    frame = placed_at(spot, (away[1], -away[0]))
    pulls = [Path(i.role, mapped(i.segments, frame)) for i in _tip_paths(layers)]
    around.arrows.extend(along(pulls))
    return pulls


def _place(mouth: _Mouth, frame: Affine, around: Obstacles) -> float:
    """Where the arrows leave the mouth: where no fold line, letter or landmark is in their way."""

    def met(place: float) -> int:
        paths = [Path(i.role, mapped(i.segments, frame)) for i in _pull_paths(mouth, place)]
        others = [*around.folds, *around.marks, *around.arrows]
        return int(near(along(paths), others, _CLEAR).sum())

    return min(_PLACES, key=lambda place: (met(place), _PLACES.index(place)))


@dataclass(frozen=True, kw_only=True, eq=False)
class _Opening(PointGlyph):
    """One of the three. flat : pressed flat in the end; slit : amid the paper."""

    family: families.Family = families.MOUTH
    flat: bool = False
    slit: bool = False

    def stands_for(self, sign: Sign, signs: Sequence[Sign]) -> bool:
        """Slits, else what lies in one figure with fold lines, or does not."""
        if not isinstance(sign, PointSign) or sign.kind != "open-out" or sign.slit != self.slit:
            return False
        return self.slit or self.flat == any(isinstance(s, FoldLine) for s in signs)

    def draw(self, sign: PointSign, setting: Setting) -> list[Group]:
        """The mouth, and its arrows; the obstacles learn where they are."""
        view, around = setting.view, setting.around
        spot = view(sign.at)
        if sign.opens is None:
            away = (
                toward(spot, view(sign.toward))
                if sign.toward is not None
                else toward((0.0, 0.0), spot)
            )
            tip = _tip(spot, away, layered(setting.state, sign.at), around)
            return [Group(families.ARROW.kind, tuple(tip))]
        p, q = (view(end) for end in sign.opens)
        mouth = _mouth(math.dist(spot, p), math.dist(spot, q), self.flat, sign.slit)
        ux, uy = toward(p, q)
        out = (uy, -ux)
        if around.covers([(spot[0] + 2 * out[0], spot[1] + 2 * out[1])])[0]:
            out = (-uy, ux)
        frame = placed_at(spot, (out[1], -out[0]))
        place = _place(mouth, frame, around)
        ink = _mouth_paths(mouth), _pull_paths(mouth, place)
        rims, pulls = ([Path(i.role, mapped(i.segments, frame)) for i in some] for some in ink)
        around.arrows.extend(along(rims + pulls))
        return [Group(self.family.kind, tuple(rims)), Group(families.ARROW.kind, tuple(pulls))]

    def reach(self, sign: PointSign, view: View, scale: float) -> Box | None:
        """How far the arrow that leads off the paper goes; at a tip it finds room beside the paper."""
        if sign.opens is None:
            return None
        spot = view(sign.at)
        p, q = (view(end) for end in sign.opens)
        mouth = _mouth(scale * math.dist(spot, p), scale * math.dist(spot, q), False)
        ux, uy = toward(p, q)
        side = 1.0 if uy * spot[0] - ux * spot[1] >= 0 else -1.0
        far = side * (mouth.gape + _BACK)
        dx, dy = far * uy, -far * ux
        return (min(dx, 0.0), min(dy, 0.0), max(dx, 0.0), max(dy, 0.0))

    def sample(self, style: Style) -> list[Item]:
        """A slit between two flaps, or the lower part of a sheet of two layers, open at the edge below."""
        if self.slit:
            mouth = _Mouth(18.0, 3.4, flat=False, slit=True)
            return [
                *sheet(((-20.0, -10.0), (20.0, -10.0), (20.0, 10.0), (-20.0, 10.0))),
                Path("edge.raw", polyline(((-20.0, 0.0), (20.0, 0.0)))),
                *_mouth_paths(mouth),
                *_pull_paths(mouth, 0.0, 0.5),
            ]
        corners = ((-20.0, -12.0), (20.0, -12.0), (20.0, 0.5), (-20.0, 0.5))
        mouth = _Mouth(20.0, 4.4, self.flat)
        fold = Path("fold.mountain", polyline(((0.0, -12.0), (0.0, -3.9))))
        signs = (*_mouth_paths(mouth), *_pull_paths(mouth, -0.45 if self.flat else 0.0, 0.5))
        return [
            Path("paper.coloured", polyline(corners, closed=True)),
            Path("edge.raw", polyline((corners[3], *corners[:3]))),
            *((fold,) if self.flat else ()),
            *(shifted(i, 0.0, 0.5) for i in signs),
        ]


GLYPHS = (
    _Opening(
        key="point.open-out",
        name="Open out: it stays open",
        meaning="Draw the front layers towards you, the back ones away. It stays open, not flat.",
        order=410,
        fingers=(
            "Shape the model: at {where} pull the layers on top and the layers underneath gently apart "
            "with your fingers, until the model opens out there. It is no longer flat."
        ),
    ),
    _Opening(
        key="point.open-flat",
        name="Open out and press flat",
        meaning="Draw front and back apart until the ends of the opening meet; press flat.",
        order=420,
        flat=True,
    ),
    _Opening(
        key="point.open-slit",
        name="Slit: raise its sides",
        meaning="Raise both sides of the slit towards you. It stays open, not flat.",
        order=430,
        fingers=(
            "Shape the model: at {where} two flaps on top meet in a slit. Raise both sides of the slit "
            "towards you, so that the model opens there. It is no longer flat."
        ),
        slit=True,
    ),
)
