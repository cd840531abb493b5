"""The sign of opening out: the mouth of the paper drawn open, its front pulled one way, its back the other.

In: a sign at an open edge or a tip, the paper as drawn, and what lies around. Out: `Path`s. The mouth
lies along the whole edge that opens, as seen a little from outside: its front rim raised over the
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
from ...paper.signs import FoldLine, PointSign, Sign, Spot
from ..placement.clashes import along
from ..placement.obstacles import Obstacles, near
from ..scene.outlines import Affine, Box, Cubic, mapped, placed_at, polyline, toward
from ..scene.scene import Close, Curve, Move, Path, Point, Segment
from ..scene.shafts import growing, shrinking
from ..sheet.visible import Visible

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

#: Keys of the sign: opened and pressed flat again, opened to stay so, and raised on both sides of a slit.
FLAT, ROUND, SLIT = "point.open-flat", "point.open-out", "point.open-slit"


@dataclass(frozen=True)
class Mouth:
    """About its middle: +x along the edge, +y away from the paper (points).

    half : half its length; gape : how far each rim leaves the edge; flat : pressed flat in the end;
    slit : whether it lies amid the paper, so that both rims come towards the eye
    """

    half: float
    gape: float
    flat: bool
    slit: bool = False


def is_opening(sign: Sign) -> bool:
    """Whether a sign is one of these."""
    return isinstance(sign, PointSign) and sign.kind is Spot.OPEN_OUT


def opening_key(sign: PointSign, signs: Sequence[Sign]) -> str:
    """Key of the sign in a figure with all these: opened to be pressed flat, or to stay open."""
    if sign.slit:
        return SLIT
    return FLAT if any(isinstance(s, FoldLine) for s in signs) else ROUND


def opening(
    sign: PointSign, flat: bool, visible: Visible, around: Obstacles
) -> tuple[list[Path], list[Path]]:
    """The mouth, and its arrows; `around` learns where they are."""
    view = visible.view
    spot = view(sign.at)
    if sign.opens is None:
        away = (
            toward(spot, view(sign.toward)) if sign.toward is not None else toward((0.0, 0.0), spot)
        )
        return [], _tip(spot, away, layered(visible.state, sign.at), around)
    p, q = (view(end) for end in sign.opens)
    mouth = _mouth(math.dist(spot, p), math.dist(spot, q), flat, sign.slit)
    ux, uy = toward(p, q)
    out = (uy, -ux)
    if around.covers([(spot[0] + 2 * out[0], spot[1] + 2 * out[1])])[0]:
        out = (-uy, ux)
    frame = placed_at(spot, (out[1], -out[0]))
    place = _place(mouth, frame, around)
    ink = mouth_paths(mouth), pull_paths(mouth, place)
    rims, pulls = ([Path(i.role, mapped(i.segments, frame)) for i in some] for some in ink)
    _told(rims + pulls, around)
    return rims, pulls


def _mouth(left: float, right: float, flat: bool, slit: bool = False) -> Mouth:
    """In an edge with so much on either side (points)."""
    half = min(max(_LEAST, min(left, right) - _OFF_ENDS), _MOST)
    return Mouth(half, min(max(_NARROW, _GAPE * half), _WIDE), flat, slit)


def reach(spot: Point, p: Point, q: Point, scale: float) -> Box:
    """How far an opening in the edge p q reaches off the paper, whose middle is (0, 0) (points).

    The places are in sheet units.
    """
    mouth = _mouth(scale * math.dist(spot, p), scale * math.dist(spot, q), False)
    ux, uy = toward(p, q)
    side = 1.0 if uy * spot[0] - ux * spot[1] >= 0 else -1.0
    far = side * (mouth.gape + _BACK)
    dx, dy = far * uy, -far * ux
    return (min(dx, 0.0), min(dy, 0.0), max(dx, 0.0), max(dy, 0.0))


def mouth_paths(mouth: Mouth) -> list[Path]:
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


def pull_paths(mouth: Mouth, place: float, size: float = 1.0) -> list[Path]:
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
    return [growing(front, size**0.5), *shrinking(back, place < 0, size**0.5)]


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


def tip_paths(layers: bool = True) -> list[Path]:
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
    return [growing(front), *(shrinking(back, False) if layers else [growing(back)])]


def _tip(spot: Point, away: Point, layers: bool, around: Obstacles) -> list[Path]:
    frame = placed_at(spot, (away[1], -away[0]))
    pulls = [Path(i.role, mapped(i.segments, frame)) for i in tip_paths(layers)]
    _told(pulls, around)
    return pulls


def _place(mouth: Mouth, frame: Affine, around: Obstacles) -> float:
    """Where the arrows leave the mouth: where no fold line, letter or landmark is in their way."""

    def met(place: float) -> int:
        paths = [Path(i.role, mapped(i.segments, frame)) for i in pull_paths(mouth, place)]
        others = [*around.folds, *around.marks, *around.arrows]
        return int(near(along(paths), others, _CLEAR).sum())

    return min(_PLACES, key=lambda place: (met(place), _PLACES.index(place)))


def _told(paths: Sequence[Path], around: Obstacles) -> None:
    around.arrows.extend(along(paths))
