"""Twist: pleats all round a polygon close together, and the paper amid them turns.

In: a `Request` with the corners of the polygon, and a line through the first of them that bounds the pleat at
its first side. Out: the pleats folded flat, the polygon turned about its middle, all else where it lay but
drawn in towards it.

At every corner four creases meet: two sides of the polygon and the edges of two pleats. With t the polygon's
angle there and p that between a side and its pleat, the angles round about are t, p, 180 - t and 180 - p
degrees, so every other two add up to 180 for any polygon and any p (Kawasaki and Justin), as long as p is the
same at all sides. The sides all fold one way; of each pleat's edges the one at the sharper angle with its
side folds the other way than the side, since it closes first (the big-little-big angle condition: Hull, T.,
The combinatorics of flat folds, 2002). Across a side and a pleat's edge the paper turns by 2 p.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations

from ..geometry import polygons
from ..geometry.isometries import inverse, map_segment, rotation
from ..geometry.lines import (
    Point,
    Segment,
    add,
    cross,
    distance,
    dot,
    midpoint,
    on_line,
    scale,
    subtract,
    unit,
)
from ..geometry.tolerance import EPS, EPS_ANGLE, same_point
from ..languages.levels import Level
from ..languages.wording import Phrase, phrase
from ..paper.layers import Collision, Undecided
from ..paper.seams import merged
from ..paper.signs import PointSign, Sense
from ..paper.state import State
from ..paper.toggling import divided_on_sheet, joints_along, motions, toggled
from ..source.diagnostics import Refusal
from .planning.called import all_of
from .planning.claims import Folds, Lands
from .planning.creasing import folds_made
from .planning.fingers import Several
from .planning.fold_clauses import as_line, as_point
from .planning.request import LineValue, Move, Outcome, PointValue, Request

FORMS = ("twist P Q R S, along line P X", "twist P Q R, along k", "twist P Q R S, along k, behind")

#: Beyond that the pleats overlap in the middle, in a ring.
SHARPER = "let the pleats leave the sides at half the angle of the middle's corners, or less"


@dataclass(frozen=True)
class Pleats:
    """Creases of a twist on the sheet: the polygon's sides; of each pleat the edge at its side's first
    corner, and the one at its second.

    angle : between a side and its pleat, in radians, 0 to pi
    """

    sides: tuple[Segment, ...]
    firsts: tuple[Segment, ...]
    seconds: tuple[Segment, ...]
    angle: float

    @property
    def all(self) -> tuple[Segment, ...]:
        return (*self.sides, *self.firsts, *self.seconds)


def make(request: Request) -> Outcome:
    """Closes the pleats and turns what lies amid them."""
    request.allow("", "along", "behind")
    corners, line = _asked(request)
    state = request.state
    ring = tuple(p.at for p in corners)
    plate = _plate(request, corners)
    pleats = _pleats(request, plate, ring, line)
    fine = divided_on_sheet(state, pleats.all)
    senses = _senses(request, pleats)
    changes = {
        k: sense
        for segments, sense in zip(
            (pleats.sides, pleats.firsts, pleats.seconds), senses, strict=True
        )
        for k in joints_along(fine.state, segments)
    }
    middle = polygons.centroid(ring)
    amid = [
        k
        for k in range(len(fine.state.facets))
        if fine.parent[k] in plate
        and polygons.inside(
            polygons.counter_clockwise(ring), polygons.centroid(fine.state.placed[k])
        )
    ]
    try:
        closed = toggled(fine, amid, changes, asks=True)
    except Collision:
        raise _too_wide(request) from None
    except Undecided:
        raise _either_way(request) from None
    except Refusal as refusal:
        if refusal.code != "tear":
            raise
        raise _held(request) from None
    outer = _beside(request, fine.state, pleats)
    went = motions(fine.state, amid, changes)[outer]
    turn = rotation(-math.atan2(went.c, went.a), middle)
    after = closed.moved(turn)
    lines, creases = folds_made(fine, closed, changes)
    degrees = math.degrees(math.atan2(turn.c, turn.a))
    lands = (Lands(((inverse(state.facets[min(plate)].place)(p)),), turn(p)) for p in ring)
    return Outcome(
        after,
        (*lines, _circling(degrees, middle)),
        _sentence(corners, degrees),
        creases=creases,
        folded=True,
        letters=tuple((p.letter, p.at) for p in corners if p.letter),
        claims=(Folds(tuple(creases)), *lands),
    )


def _circling(degrees: float, middle: Point) -> PointSign:
    """Arrows that circle the way the middle turns."""
    return PointSign("twist-anticlockwise" if degrees > 0 else "twist-clockwise", at=middle)


def _sentence(corners: tuple[PointValue, ...], degrees: float) -> Phrase:
    points = all_of([p.words for p in corners])
    amount = f"{abs(degrees):.4g}"
    if degrees > 0:
        return phrase(
            "Fold the pleats round {points} all at once, and turn the middle anticlockwise by {n} degrees, "
            "until everything lies flat.",
            points=points,
            n=amount,
        )
    return phrase(
        "Fold the pleats round {points} all at once, and turn the middle clockwise by {n} degrees, until "
        "everything lies flat.",
        points=points,
        n=amount,
    )


def _asked(request: Request) -> tuple[tuple[PointValue, ...], LineValue]:
    """The corners of the polygon, in order, and the line through the first."""
    named, along = request.clause(""), request.clause("along")
    if named is None or len(named.values) < 3 or along is None or len(along.values) != 1:
        raise Refusal(
            "twist-what",
            "say the corners of the middle, three or more, and along which line the first pleat runs",
            *(f"write it like: {form}" for form in request.forms[:2]),
            span=request.span,
        )
    corners = tuple(as_point(v) for v in named.values)
    ring = tuple(p.at for p in corners)
    for (p, one), (q, other) in combinations(zip(corners, ring, strict=True), 2):
        if same_point(one, other):
            raise Refusal(
                "twist-what",
                f"{p.words.render()} and {q.words.render()} lie on each other, as one corner of the middle",
                "look where they were marked",
                span=named.span,
            )
    turns = [
        cross(subtract(q, p), subtract(r, q))
        for p, q, r in zip(ring, (*ring[1:], *ring[:1]), (*ring[2:], *ring[:2]), strict=True)
    ]
    if min(turns) * max(turns) <= 0 or min(map(abs, turns)) <= EPS:
        raise Refusal(
            "twist-what",
            "these points are not the corners of a polygon without dents, one after the other",
            "name them in the order in which they lie round the middle",
            span=named.span,
        )
    line = as_line(along.values[0])
    if not on_line(line.line, ring[0]):
        raise Refusal(
            "off-the-line",
            f"{line.words.render()} does not run through {corners[0].words.render()}",
            "name a line through the first corner, which bounds the pleat at the side to the second",
            span=line.span,
        )
    return corners, line


def _plate(request: Request, corners: tuple[PointValue, ...]) -> frozenset[int]:
    """The topmost flat piece that carries the polygon."""
    state = request.state
    here = state.facets_at(polygons.centroid(tuple(p.at for p in corners)))
    for facet in here:
        plate, place = state.plate(facet), inverse(state.facets[facet].place)
        if all(
            any(i in plate for i in state.facets_on_sheet(place(p.at)))
            and (p.seen or p.sheet is None or distance(p.sheet, place(p.at)) <= 4 * EPS)
            for p in corners
        ):
            return plate
    raise Refusal(
        "twist-what",
        "no one flat piece of paper carries all these corners",
        "name points on one layer, none of them beyond a fold",
        span=request.span,
    )


def _pleats(
    request: Request, plate: frozenset[int], ring: tuple[Point, ...], line: LineValue
) -> Pleats:
    """Where the creases run, on the sheet."""
    state = request.state
    back = inverse(state.facets[min(plate)].place)
    round_way = 1.0 if polygons.area(ring) > 0 else -1.0
    sides = tuple(polygons.edges(ring))
    side = unit(subtract(ring[1], ring[0]))
    way = line.line.direction
    away = -round_way * cross(side, way)
    if abs(away) <= EPS_ANGLE:
        raise Refusal(
            "twist-along-side",
            f"{line.words.render()} runs along a side of the middle, and bounds no pleat there",
            "name a line that leaves the side at an angle",
            span=line.span,
        )
    way = way if away > 0 else scale(way, -1.0)
    angle = math.atan2(abs(away), dot(side, way))
    firsts: list[Segment] = []
    seconds: list[Segment] = []
    for p, q in sides:
        ux, uy = unit(subtract(q, p))
        co, si = math.cos(angle), -round_way * math.sin(angle)
        out = (ux * co - uy * si, ux * si + uy * co)
        for corner, found in ((p, firsts), (q, seconds)):
            found.append(_ray(state, plate, back(corner), back(add(corner, out))))
    on_sheet = tuple(map_segment(back, s) for s in sides)
    return Pleats(on_sheet, tuple(firsts), tuple(seconds), angle)


def _ray(state: State, plate: frozenset[int], start: Point, through: Point) -> Segment:
    """From a point of the sheet straight on, as far as the flat piece goes on there."""
    far = add(start, scale(subtract(through, start), 4.0))
    parts = [polygons.clip_segment(state.facets[i].outline, (start, far)) for i in sorted(plate)]
    for one in merged(part for part in parts if part is not None):
        near, end = sorted(one, key=lambda p: distance(p, start))
        if distance(near, start) <= 4 * EPS:
            return start, end
    return start, through


def _senses(request: Request, pleats: Pleats) -> tuple[Sense, Sense, Sense]:
    """How sides, first and second edges fold, as the reader sees them."""
    if abs(pleats.angle - math.pi / 2) <= EPS_ANGLE:
        raise _either_way(request)
    side, other = Sense.MOUNTAIN, Sense.VALLEY
    if request.clause("behind") is not None:
        side, other = other, side
    return (side, other, side) if pleats.angle < math.pi / 2 else (side, side, other)


def _beside(request: Request, state: State, pleats: Pleats) -> int:
    """A piece of the paper between two pleats, at the first corner that has some: all turn alike."""
    before = (pleats.seconds[-1], *pleats.seconds[:-1])
    for (corner, one), (_, two) in zip(pleats.firsts, before, strict=True):
        ways = [unit(subtract(end, corner)) for end in (one, two)]
        held = state.facets_on_sheet(add(corner, scale(unit(midpoint(*ways)), 1e-4)))
        if held:
            return held[0]
    raise Refusal(
        "twist-at-the-edge",
        "at these corners the paper ends: none is left between the pleats, to stay where it lies",
        "name corners further inside the paper",
        span=request.span,
    )


def _either_way(request: Request) -> Refusal:
    return Refusal(
        "twist-either-way",
        "such pleats can turn the middle one way as well as the other",
        SHARPER,
        span=request.span,
    )


def _too_wide(request: Request) -> Refusal:
    return Refusal(
        "twist-collides",
        "these pleats cannot all lie flat: under the middle they would have to pass through each other",
        SHARPER,
        span=request.span,
    )


def _held(request: Request) -> Refusal:
    return Refusal(
        "twist-held",
        "the pleats run into a fold: from the middle to the edge the paper has to lie flat",
        "unfold first what the pleats run into, or twist a smaller part",
        span=request.span,
    )


MOVE = Move(
    "twist",
    "close pleats all round a polygon, which turns",
    FORMS,
    make,
    advice="a twist names the corners of its middle, then a line: 'twist P Q R S, along line P X'",
    level=Level.INTERMEDIATE,
    fingers=Several(
        Phrase(
            "Now pleats are folded all round a piece of the paper, all at once, and that piece turns."
        ),
    ),
)
