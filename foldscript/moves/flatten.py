"""Flatten: a closed point is pressed flat from inside, and becomes the floor of a box.

In: the closed point. Out: the paper as it lay, with a finger at the point and the mouth opposite it that
hands open, and the goal of a pose: what lies between the point and the creases round it is opened flat. Walls
and all that they take with them stand as the floor has them stand.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely

from ..geometry.isometries import inverse
from ..geometry.lines import Point, Segment, add, dot, midpoint, scale, subtract, unit
from ..geometry.polygons import Polygon
from ..geometry.tolerance import EPS
from ..languages.wording import phrase
from ..paper.openings import open_sides
from ..paper.signs import PointSign
from ..paper.silhouette import centre
from ..paper.state import State
from ..pose.goals import Floor, Part
from ..pose.pieces import Pieces, cut_up
from ..pose.pose import Line
from ..source.diagnostics import Hint, Refusal, write
from .planning.at_points import opening_out, places
from .planning.claims import NothingMoves
from .planning.fingers import Still
from .planning.request import Move, Outcome, PointValue, Request, Solid

_STANDS = Solid("it stands in space")
#: Distances and areas (sheet units) that are nothing.
_NEAR, _LEAST = 1e-5, 1e-6
#: The cosine of the angle up to which an edge faces away from the point.
_FACES = 0.8


@dataclass(frozen=True, slots=True)
class _Around:
    """The lines from a closed point to the creases round it, and the pieces between them, each with its
    facet; on the sheet.
    """

    rays: tuple[Segment, ...]
    pieces: tuple[tuple[int, Polygon], ...]


def make(request: Request) -> Outcome:
    """The floor round a closed point pressed flat."""
    request.allow("")
    (tip, *more) = places(request, "")
    if more or not isinstance(tip, PointValue) or tip.sheet is None:
        raise Refusal(
            "flatten-where",
            "one point is pressed flat: the closed point that is to be the floor",
            *(f"write it like: {form}" for form in request.forms),
            span=request.span,
        )
    state = request.state
    floor = _floor(state, tip.sheet)
    if floor is None:
        raise Refusal(
            "no-floor",
            f"there is no crease all round {tip.words.render()}, at which walls could stand up from a floor",
            *(
                _other_floors(request, tip)
                or ("first crease the tip up along a line, through all layers",)
            ),
            span=tip.span,
        )
    outward = subtract(tip.at, centre(state))
    return Outcome(
        state,
        (PointSign("push", tip.at, add(tip.at, outward)), *_mouth(state, outward)),
        phrase(
            "Press {what} flat from inside: this is the floor, and the walls stand up.",
            what=tip.words,
        ),
        letters=((tip.letter, tip.at),) if tip.letter else (),
        solid=_STANDS,
        claims=(NothingMoves(),),
        goals=(
            Floor(floor.rays, 180.0, (0,) * len(floor.rays), scale(tip.sheet, request.unit_mm)),
            *_parted(state, floor),
        ),
    )


def _floor(state: State, tip: Point) -> _Around | None:
    """What becomes the floor; None where no flat crease goes all round the point."""
    pieces = cut_up(state)
    found = np.flatnonzero(np.abs(pieces.points - tip).max(axis=1) < _NEAR)
    if not len(found):
        return None
    middle = int(found[0])
    around = [k for k, ring in enumerate(pieces.rings) if middle in ring]
    kinds = {frozenset((seam.start, seam.end)): seam.kind for seam in pieces.seams}
    for k in around:
        ring = (*pieces.rings[k], pieces.rings[k][0])
        sides = [frozenset(side) for side in pairwise(ring) if middle not in side]
        if any(kinds[side] is not Line.CREASE for side in sides):
            return None
    rays = [seam for seam in pieces.seams if middle in (seam.start, seam.end)]
    if any(seam.right < 0 for seam in rays) or not any(seam.angle for seam in rays):
        return None
    return _Around(
        tuple((_place(pieces, seam.start), _place(pieces, seam.end)) for seam in rays),
        tuple((pieces.facets[k], pieces.polygon(k)) for k in around),
    )


def _mouth(state: State, outward: Point) -> tuple[PointSign, ...]:
    """Where hands go in: at the open edge that faces away from the point, or else at the corner that lies
    farthest that way, where two such edges meet; () where the paper is closed there.
    """
    facing = [(round(-dot(out, unit(outward)), 6), edge, out) for edge, out in open_sides(state)]
    facing = [side for side in facing if side[0] > EPS]
    if not facing:
        return ()
    straightest, edge, out = max(facing)
    if straightest > _FACES:
        middle = midpoint(*edge)
        return (opening_out(middle, add(middle, out), opens=edge),)
    ends = [p for _, side, _ in facing for p in side]
    corner = min(ends, key=lambda p: (round(dot(p, outward), 6), p))
    return (opening_out(corner, subtract(corner, outward)),)


def _other_floors(request: Request, tip: PointValue) -> tuple[Hint, ...]:
    """Points with a name round which there is a crease."""
    names = [n for n, at in request.points.items() if _floor(request.state, at) is not None]
    return tuple(
        write(tip.span, name, f"say '{name}': round it there is a crease") for name in names[:1]
    )


def _place(pieces: Pieces, v: int) -> Point:
    x, y = pieces.points[v]
    return float(x), float(y)


def _parted(state: State, floor: _Around) -> tuple[Part, ...]:
    """The pieces of the floor parted from each other, and from whatever else lies on them or under them: the
    space between them opens, of other layers only what would keep the floor from becoming flat.
    """
    found: dict[tuple[int, bool, int], Part] = {}
    own = {k for k, _ in floor.pieces}
    for k, polygon in floor.pieces:
        facet = state.facets[k]
        flat = shapely.Polygon([facet.place(p) for p in polygon])
        for other in state.placed:
            common = flat.intersection(shapely.Polygon(other))
            if common.area < _LEAST:
                continue
            spot = common.representative_point()
            stack = state.facets_at((spot.x, spot.y))
            here = stack.index(k)
            at = inverse(facet.place)((spot.x, spot.y))
            for upward in (True, False):
                beside = here - 1 if upward else here + 1
                if 0 <= beside < len(stack):
                    inside = stack[beside] in own
                    part = Part(at, facet.shows_front == upward, inside)
                    found.setdefault((k, upward, stack[beside]), part)
    return tuple(found.values())


MOVE = Move(
    "flatten",
    "press a closed point flat from inside, up to the crease round it; it is the floor of a box",
    ("flatten O", "flatten the bottom corner"),
    make,
    flat=False,
    fingers=Still(),
)
