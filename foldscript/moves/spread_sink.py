"""Spread sink: a closed point is pressed open from above and laid flat in front, as a rectangle.

In: the point and a line across it. Out: the layer at the back is folded forward over the line, the
point lies in the middle of a flat rectangle in front, and the front layer is pleated under it.

What it needs: six folds that meet at the point: a front and a back layer of equal angle (2a), and on
each side a gusset of two layers between them; the line is square to the point's axis, at distance d.
On the sheet, with the point at (0, 0), the front layer downwards and w = d tan a:

- the rectangle's corners are (±w, d), on the back layer's edges, and (±w, -d), on the front layer's;
- the front layer also folds along the line from (-2w, -2d) to (2w, -2d);
- in the gussets, triangles (±w, ±d), (±(w + d / tan a), 0) and (±w, -d), (±2w, -2d) close the sides.

Kawasaki's condition holds at every corner: with the back layer's angle 90 + a and the gusset's
rest a beside (w, d), 2a and 180 - 2a at (w + d / tan a, 0), 90 - a and 2a at (2w, -2d).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..geometry.lines import (
    Line,
    Point,
    Segment,
    distance,
    flipped,
    midpoint,
    mirrored,
    signed_distance,
)
from ..geometry.polygons import Polygon, centroid, counter_clockwise, inside
from ..geometry.tolerance import EPS, EPS_ANGLE
from ..languages.levels import Level
from ..languages.wording import Phrase, briefly, phrase
from ..paper.layers import Collision
from ..paper.signs import Arrow, Sense
from ..paper.state import State
from ..paper.toggling import divided_on_sheet, joints_along, toggled
from ..paper.vertices import interior_vertices
from ..source.diagnostics import Refusal
from .planning.at_points import landmark
from .planning.claims import OnlyBeyond
from .planning.creasing import folds_made
from .planning.fingers import Several
from .planning.fold_claims import lands
from .planning.in_the_way import collision_refusal
from .planning.open_front import refuse_covered
from .planning.request import Each, Move, Outcome, PointValue, Request
from .planning.tip import tip_alignments


@dataclass(frozen=True)
class Corner:
    """A closed point on the sheet: `axis` is the direction into its front layer, `half` half of
    that layer's angle; `around` are the facets there, the front one first."""

    at: Point
    axis: float
    half: float
    around: tuple[int, ...]


@dataclass(frozen=True)
class Spread:
    """Creases on the sheet by what becomes of them, and the outline of all that moves."""

    front: tuple[tuple[Segment, Sense], ...]
    sides: tuple[Segment, ...]
    opened: tuple[Segment, ...]
    outline: Polygon


def make(request: Request) -> Outcome:
    """Presses the point open."""
    tip, found = tip_alignments(request)
    line = found[0].line
    state = request.state
    corner = _corner(request, tip)
    depth = _depth(request, corner, line)
    plan = _plan(corner, depth)
    made = [*(seg for seg, _ in plan.front), *plan.sides]
    fine = divided_on_sheet(state, made)
    fs = fine.state
    moved = [k for k, f in enumerate(fs.facets) if inside(plan.outline, centroid(f.outline))]
    _refuse_short(request, fs, made, plan.opened)
    own = {i for k in corner.around for i in state.plate(k)}
    layers = [k for k, parent in enumerate(fine.parent) if parent in own]
    refuse_covered(request, fs, fine.parent, [*moved, *layers])
    changes: dict[int, Sense | None] = dict.fromkeys(joints_along(fs, [*made, *plan.opened]))
    for seg, sense in plan.front:
        changes.update(dict.fromkeys(joints_along(fs, [seg]), sense))
    still = sorted(set(range(len(fs.facets))) - set(moved))
    try:
        after = toggled(fine, still, changes, in_front=True)
    except Refusal as refusal:
        if refusal.code != "tear":
            raise
        raise _too_deep(request) from None
    except Collision as clash:
        why = collision_refusal(request, clash)
        raise Refusal(
            "locked-layers",
            f"this point cannot be spread like this: {why.message}",
            "choose a line nearer the point, or try an open sink",
            span=request.span,
        ) from None
    lines, creases = folds_made(fine, after, changes)
    landing = after.where(corner.at)
    return Outcome(
        after,
        (
            *lines,
            Arrow("squash", tip.at, landing),
            landmark(landing),
        ),
        briefly(
            phrase(
                "Spread sink {what} {where} (open the layers below the point, press it down from above "
                "and flatten it in front).",
                what=tip.words,
                where=found[0].where,
            ),
            phrase("Spread sink {what} {where}.", what=tip.words, where=found[0].where),
        ),
        creases=creases,
        folded=True,
        letters=found[0].letters,
        claims=(
            OnlyBeyond((_through(mirrored(line, tip.at), line, tip.at),)),
            lands(state, tip, mirrored(line, tip.at)),
        ),
    )


def _through(at: Point, line: Line, left: Point) -> Line:
    """The line parallel to another through a point, with a further point on its left."""
    moved = Line(line.nx, line.ny, line.nx * at[0] + line.ny * at[1])
    return moved if signed_distance(moved, left) > 0 else flipped(moved)


def _corner(request: Request, tip: PointValue) -> Corner:
    """The closed point; refused where the folds that meet there are others than it needs."""
    state = request.state
    vertex = next(
        (
            v
            for v in interior_vertices(state)
            if tip.sheet is not None and distance(v.at, tip.sheet) <= 4 * EPS
        ),
        None,
    )
    if vertex is None:
        raise Refusal(
            "open-point",
            f"{tip.words.render()} is not a closed point: no folds meet there inside the sheet",
            "name the closed point, such as the top of a waterbomb base",
            span=tip.span,
        )
    rays = [
        angle
        for k, angle in zip(vertex.joints, vertex.angles, strict=True)
        if state.joints[k].folded
    ]
    gaps = [(rays[(k + 1) % len(rays)] - angle) % (2 * math.pi) for k, angle in enumerate(rays)]
    if len(rays) == 6:
        facets = [
            _facet_toward(state, vertex.at, angle + gap / 2)
            for angle, gap in zip(rays, gaps, strict=True)
        ]
        for k in range(6):
            around = [facets[(k + n) % 6] for n in range(6)]
            angles = [gaps[(k + n) % 6] for n in range(6)]
            if _fits(angles) and _in_front(state, around):
                return Corner(vertex.at, rays[k] + gaps[k] / 2, gaps[k] / 2, tuple(around))
    raise Refusal(
        "not-a-point-to-spread",
        f"{tip.words.render()} cannot be spread: {len(rays)} folds meet there, and a spread sink needs "
        "a front layer and a back layer of equal angle with a gusset of two layers on each side",
        "the tops of a preliminary base and of a waterbomb base are such points",
        "try an open sink",
        span=tip.span,
    )


def _fits(angles: list[float]) -> bool:
    """Front and back alike, and all four layers of the gussets."""
    front, *one, back = angles[:4]
    two = angles[4:]
    rest = (math.pi - front) / 2
    return abs(front - back) <= EPS_ANGLE and all(abs(a - rest) <= EPS_ANGLE for a in (*one, *two))


def _in_front(state: State, around: list[int]) -> bool:
    """Whether the first of six layers around a point lies over all others and the fourth under."""
    front, back = around[0], around[3]
    return all(state.above(front, i) is not False for i in around if i != front) and all(
        state.above(back, i) is not True for i in around if i != back
    )


def _facet_toward(state: State, at: Point, angle: float) -> int:
    near = (at[0] + 1e-6 * math.cos(angle), at[1] + 1e-6 * math.sin(angle))
    return state.facets_on_sheet(near)[0]


def _depth(request: Request, corner: Corner, line: Line) -> float:
    """Distance of the line from the point; refused unless it runs square to the point's axis."""
    state = request.state
    place = state.facets[corner.around[0]].place
    step = (corner.at[0] + math.cos(corner.axis), corner.at[1] + math.sin(corner.axis))
    tip, inward = place(corner.at), place(step)
    depth = signed_distance(line, tip)
    if abs(signed_distance(line, inward) - depth + 1) > EPS:
        raise Refusal(
            "line-askew",
            "the line of a spread sink runs square to the middle line of the point",
            "say it with 'perpendicular to' the middle line",
            span=request.span,
        )
    return depth


def _plan(corner: Corner, d: float) -> Spread:
    w = d * math.tan(corner.half)
    far = w + d / math.tan(corner.half)
    down = (math.cos(corner.axis), math.sin(corner.axis))
    right = (-down[1], down[0])

    def at(x: float, y: float) -> Point:
        return (
            corner.at[0] + x * right[0] - y * down[0],
            corner.at[1] + x * right[1] - y * down[1],
        )

    sides: list[Segment] = []
    opened: list[Segment] = []
    for s in (1, -1):
        back, front, low, out = at(s * w, d), at(s * w, -d), at(s * 2 * w, -2 * d), at(s * far, 0)
        sides += [(back, front), (back, out), (front, out), (low, out)]
        opened += [(corner.at, back), (corner.at, front), (corner.at, out)]
    hexagon = (at(w, d), at(far, 0), at(2 * w, -2 * d), at(-2 * w, -2 * d), at(-far, 0), at(-w, d))
    return Spread(
        (
            ((at(-w, d), at(w, d)), Sense.VALLEY),
            ((at(-w, -d), at(w, -d)), Sense.MOUNTAIN),
            ((at(-2 * w, -2 * d), at(2 * w, -2 * d)), Sense.VALLEY),
        ),
        tuple(sides),
        tuple(opened),
        counter_clockwise(hexagon),
    )


def _refuse_short(
    request: Request, state: State, made: list[Segment], opened: tuple[Segment, ...]
) -> None:
    """Every crease must run over flat paper all its way, every fold that opens must be there."""
    for segments, folded in ((made, False), (opened, True)):
        for seg in segments:
            held = sum(
                distance(*state.joints[k].segment)
                for k in joints_along(state, [seg])
                if state.joints[k].folded == folded
            )
            if held < distance(*seg) - 1e-7:
                spot = state.where(midpoint(*seg)) if _on_sheet(state, midpoint(*seg)) else None
                where = f" ({request.locate(spot)})" if spot is not None else ""
                raise Refusal(
                    "too-deep",
                    f"the layers end, or are folded, before the creases of this sink do{where}: "
                    "they reach as far below the line as the line lies below the point",
                    "choose a line nearer the point",
                    span=request.span,
                )


def _on_sheet(state: State, p: Point) -> bool:
    return bool(state.facets_on_sheet(p))


def _too_deep(request: Request) -> Refusal:
    return Refusal(
        "too-deep",
        "the layers around this point hold together so that it cannot be spread so far",
        "choose a line nearer the point",
        span=request.span,
    )


MOVE = Move(
    "spread sink",
    "press a closed point open and flatten it in front",
    ("spread sink O along k", "spread sink O to Q", "spread sink O through P Q"),
    make,
    each=Each(),
    level=Level.HIGH_INTERMEDIATE,
    fingers=Several(
        Phrase("This is a spread sink: a closed point is opened like a flower and pressed flat."),
    ),
)
