"""Curled paper: points and edges of a model that stands, rolled on exact cylinders.

In: a `Pose` without the rolls, and the curls. Out: the `Pose` with them, proved as any other. A roll is cut
into narrow strips along its cylinder, each turned against the one before by the same small angle. So the
paper lies on a prism of many sides whose girth is the cylinder's: a strip of paper as long as the girth
closes, its end on its start, and every length is kept exactly, as the proof checks. Corners of the prism lie
outside the cylinder by up to a thousandth and a half of the radius, the middles of its sides inside it by
less than three.

All layers that go with a point are rolled together, on one surface: paper is thin. They have to lie together
in one plane before.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from ..geometry import polygons
from ..geometry.isometries import inverse, map_segment
from ..geometry.lines import Line, Point, Segment, distance, signed_distance, subtract, unit
from ..paper.state import State
from ..source.diagnostics import Refusal, Span
from .flaps import ON, across, beyond, in_plane
from .goals import EXACT, Curl, Goal
from .making import made
from .measuring import measured_again
from .pieces import Array, Pieces, cut_up
from .pose import Edge, Pose, Reached
from .pose import Line as Kind
from .proof import BENT, ROLLED, normal

#: Largest angle between two strips (radians).
_STRIP = math.radians(10)
#: How far off (share) a radius may be, and (mm) a flap out of its plane.
_ROUND, _PLANE = 3e-3, 2e-2


@dataclass(frozen=True)
class Roll:
    """A curl on the paper as it lies.

    Attributes
    ----------
    leads : the facet that its point is told by
    facets : all that goes with it
    first : the line of the folded plane where it begins, positive towards its tip
    wide, step : width of a strip (sheet units), and radians from strip to strip; half of it where the roll
        begins, so that it leaves the plane smoothly
    count : how many strips there are
    """

    curl: Curl
    leads: int
    facets: frozenset[int]
    first: Line
    wide: float
    step: float
    count: int

    def over(self, far: float) -> tuple[float, float]:
        """How far along and off the plane a place lies that is so far beyond the beginning."""
        strips = min(self.count - 1, max(0, math.floor(far / self.wide + ON)))
        round_ = self.wide / 2 / math.sin(self.step / 2)
        along = round_ * math.sin(strips * self.step)
        off = round_ * (1 - math.cos(strips * self.step))
        rest, angle = far - strips * self.wide, (strips + 0.5) * self.step
        return along + rest * math.cos(angle), off + rest * math.sin(angle)


def curled(state: State, base: Pose, curls: Sequence[Curl], done: Collection[Goal] = ()) -> Pose:
    """A pose with points and edges rolled; what of its goals was `done` before may be undone by it.

    Raises Refusal: 'curl-bent' where a flap that is to be rolled does not lie in one plane, 'curl-over' where
    some of it would be rolled over itself.
    """
    rolls = [_roll(state, curl) for curl in curls]
    unit_mm = state.sheet.unit_mm
    lines, bends = lines_of(base, unit_mm)
    pieces = cut_up(state, [*lines, *(s for roll in rolls for s in _lines(state, roll))])
    before, places = laid_out(pieces, base)
    moved: set[int] = set()
    rounded: list[tuple[Curl, list[int], Array]] = []
    for roll in rolls:
        inside = _inside(pieces, roll)
        frame = _frame(state, base, roll)
        points = sorted({v for k in inside for v in pieces.rings[k]})
        places[points] = _rolled(places[points], roll, frame)
        moved.update(inside)
        rounded.append((roll.curl, points, frame[1:]))
    home = [k for k in range(len(pieces.rings)) if k not in moved] or [0]
    still = next((k for k in home if before[k] == base.still), home[0])

    def measure(edges: Sequence[Edge], space: Array) -> list[Reached]:
        kept = measured_again(pieces, space, base.goals, base.proof.reached, done)
        return [*kept, *(_radius(*one, space) for one in rounded)]

    exact = all(isinstance(goal, EXACT) for goal in base.goals)
    stages = ((*base.goals, *curls),)
    meant = pieces.on(bends)  # judged already, with the pose before
    return made(pieces, places, stages, still, measure, ROLLED if exact else BENT, meant=meant)


def rolled_over(times: float, *hints: str, span: Span | None = None) -> Refusal:
    """Paper that would be rolled over itself, and so many times round."""
    return Refusal(
        "curl-over",
        f"the paper would be rolled over itself, {times:.1f} times round",
        "say something thicker after 'round', or less after 'by'",
        *hints,
        span=span,
    )


def times_round(state: State, curl: Curl) -> float:
    """How often a roll goes round: with what reaches farther than the point that it was begun for."""
    return _reach(state, curl)[2] * state.sheet.unit_mm / curl.radius / 2 / math.pi


def _reach(state: State, curl: Curl) -> tuple[Line, frozenset[int], float]:
    """Where a roll begins, what goes with its point beyond that, and how far it reaches from there (sheet
    units).
    """
    _, tip, begins = in_plane(state, curl.point, curl.begins)
    first = across(tip, unit(subtract(begins, tip)), distance(tip, begins))
    facets = beyond(state, curl.point, [first])
    return first, facets, max(signed_distance(first, p) for k in facets for p in state.placed[k])


def _roll(state: State, curl: Curl) -> Roll:
    leads, tip, begins = in_plane(state, curl.point, curl.begins)
    times = times_round(state, curl)
    if times > 1 + ON:
        raise rolled_over(times)
    long, radius = distance(tip, begins), curl.radius / state.sheet.unit_mm
    wide = long / max(3, math.ceil(long / radius / _STRIP - ON))
    first, facets, far = _reach(state, curl)
    return Roll(curl, leads, facets, first, wide, wide / radius, math.ceil(far / wide - ON))


def _lines(state: State, roll: Roll) -> list[Segment]:
    """The lines of a roll on the sheet."""
    out: list[Segment] = []
    nx, ny, c = roll.first
    for facet in sorted(roll.facets):
        ring, back = state.placed[facet], inverse(state.facets[facet].place)
        for n in range(roll.count):
            part = polygons.clip_line(ring, Line(nx, ny, c + n * roll.wide))
            if part is not None:
                out.append(map_segment(back, part))
    return out


def lines_of(base: Pose, unit_mm: float) -> tuple[list[Segment], list[Segment]]:
    """The lines of a pose on the sheet, and those of them that are no creases."""
    lines: list[Segment] = []
    bends: list[Segment] = []
    for edge in base.edges:
        (ax, ay), (bx, by) = base.sheet[edge.start], base.sheet[edge.end]
        if edge.right is not None:
            lines.append(((ax / unit_mm, ay / unit_mm), (bx / unit_mm, by / unit_mm)))
            bends += lines[-1:] if edge.kind is Kind.BEND else []
    return lines, bends


def laid_out(pieces: Pieces, base: Pose) -> tuple[list[int], Array]:
    """Of which piece of the base each piece is a part, and where its points lie there (sheet units)."""
    unit_mm = pieces.state.sheet.unit_mm
    flat = np.array(base.sheet) / unit_mm
    space = np.array(base.space, dtype=float) / unit_mm
    outlines = [shapely.Polygon(flat[list(piece.corners)]) for piece in base.pieces]
    tree = shapely.STRtree(outlines)
    owners: list[int] = []
    places = np.zeros((len(pieces.points), 3))
    for k, ring in enumerate(pieces.rings):
        middle = shapely.Polygon(pieces.polygon(k)).representative_point()
        owner = min(int(n) for n in tree.query(middle, predicate="intersects"))
        corners = list(base.pieces[owner].corners)
        start = flat[corners[0]]
        affine, *_ = np.linalg.lstsq(flat[corners] - start, space[corners] - space[corners[0]])
        places[list(ring)] = space[corners[0]] + (pieces.points[list(ring)] - start) @ affine
        owners.append(owner)
    return owners, places


def _inside(pieces: Pieces, roll: Roll) -> list[int]:
    """The pieces that are rolled."""
    found: list[int] = []
    for k, facet in enumerate(pieces.facets):
        middle = pieces.state.facets[facet].place(polygons.centroid(pieces.polygon(k)))
        if facet in roll.facets and signed_distance(roll.first, middle) > 0:
            found.append(k)
    return found


def _frame(state: State, base: Pose, roll: Roll) -> Array:
    """4 × 3 in space: a point where a roll begins (sheet units), the way along its axis, the way to its tip,
    and the side that it is rolled to, unit vectors at right angles.
    """
    unit_mm, plate = state.sheet.unit_mm, state.plate(roll.leads)
    sheet, space = np.array(base.sheet) / unit_mm, np.array(base.space) / unit_mm
    flat, solid, front = list[Point](), list[Array](), np.zeros(3)
    for piece in base.pieces:
        ring = list(piece.corners)
        places = [state.facets[piece.facet].place((float(x), float(y))) for x, y in sheet[ring]]
        far = [signed_distance(roll.first, p) for p in places]
        if piece.facet in plate and max(far) > ON:
            flat += places
            solid += list(space[ring])
            front = front + normal(space[ring])
    start, ways = np.array(flat[0]), np.array(solid) - solid[0]
    affine, *_ = np.linalg.lstsq(np.array(flat) - start, ways)
    nx, ny, c = roll.first
    toward, along = np.array([nx, ny]) @ affine, np.array([ny, -nx]) @ affine
    toward, along = (w / np.sqrt(w @ w) for w in (toward, along))
    side = np.cross(along, toward)
    inward = np.sign(front @ side) * (1.0 if roll.curl.front_inside else -1.0)
    begin = solid[0] + (c * np.array([nx, ny]) - start) @ affine
    return np.array([begin, along, toward, inward * side])


def _rolled(places: Array, roll: Roll, frame: Array) -> Array:
    """Where places of a flap come to lie. Raises Refusal where they do not lie in its plane."""
    begin, along, toward, side = frame
    off = places - begin
    if float(np.abs(off @ side).max()) * roll.curl.radius > _PLANE * roll.wide / roll.step:
        raise Refusal(
            "curl-bent",
            "the paper does not lie flat where it is to be rolled",
            "let the roll begin nearer to its point",
        )
    rolled = np.array([roll.over(float(far)) for far in off @ toward])
    return begin + np.outer(off @ along, along) + rolled @ np.array([toward, side])


def _radius(curl: Curl, points: Sequence[int], axes: Array, space: Array) -> Reached:
    """The radius that the finished points of a roll lie on, the farthest off.

    Seen along its axis they lie on a circle; it is fitted to them by least squares.
    """
    at = space[list(points)] @ axes[1:].T
    at = at - at.mean(axis=0)
    fit, *_ = np.linalg.lstsq(np.c_[2 * at, np.ones(len(at))], (at * at).sum(axis=1))
    radii = np.sqrt(((at - fit[:2]) ** 2).sum(axis=1))
    asked = curl.radius
    got = max(radii.tolist(), key=lambda r: abs(r - asked))
    return Reached("curl", asked, got, "mm", abs(got - asked) <= _ROUND * asked)
