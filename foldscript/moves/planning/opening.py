"""A folded edge is opened and laid flat elsewhere: the geometry that squash and swivel share.

In: where the edge (the spine) starts, the ray it lies on, the ray it is to land on and the ray along
which the layer over it is hinged. Out: the paper with the spine flat.

Around the start of the spine the directions are, as angles in the folded plane: spine s, target t,
hinge h. The layer under the spine bends along b, halfway between s and t, which carries the spine to
its target. The layer over it bends along h and along one more ray m. Laid flat, both layers and the
spine are one piece, so that m must land in the same place whether it goes with the hinge (2h - m) or
with the spine (2b + m - 2s, seen from the other layer, with 2b = s + t). Kawasaki's condition at that
point says the same: m = h - t + b. With the hinge on the target, m lies over b.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from ...geometry import polygons
from ...geometry.isometries import map_segment
from ...geometry.lines import (
    Line,
    Point,
    Segment,
    distance,
    flipped,
    line_at,
    mirrored,
    on_line,
    point_on_segment,
    signed_distance,
    subtract,
)
from ...geometry.tolerance import EPS, EPS_ANGLE
from ...paper.components import component_beside
from ...paper.layers import Collision, Undecided
from ...paper.refold import Divided, divided, undivided
from ...paper.signs import FoldLine, Sense
from ...paper.state import State
from ...paper.toggling import Changes, toggled
from ...source.diagnostics import Refusal
from .creasing import folds_made
from .in_the_way import collision_refusal
from .open_front import refuse_covered
from .request import LineValue, Request


@dataclass(frozen=True)
class Rays:
    """Directions around the start of the spine, in radians, in the folded plane."""

    apex: Point
    spine: float
    target: float
    hinge: float

    @property
    def bend(self) -> float:
        """Of the layer under the spine.

        A spine that lands on its own continuation turns by half a turn, either way round. The layer
        over it can only follow on the side on which it is hinged.
        """
        turn = math.remainder(self.spine - self.target, 2 * math.pi)
        if math.pi - abs(turn) <= EPS_ANGLE:
            turn = math.copysign(math.pi, math.remainder(self.hinge - self.target, 2 * math.pi))
        return self.target + turn / 2

    @property
    def near_bend(self) -> float:
        """Of the layer over the spine, beside its hinge."""
        return self.hinge - self.target + self.bend

    def line(self, angle: float) -> Line:
        """The line of a ray."""
        return line_at(self.apex, (math.cos(angle), math.sin(angle)))

    def facing_spine(self, angle: float) -> Line:
        """The line of a ray, the spine on its left."""
        line = self.line(angle)
        p = (self.apex[0] + math.cos(self.spine), self.apex[1] + math.sin(self.spine))
        return line if signed_distance(line, p) > 0 else flipped(line)

    def side(self, angle: float) -> int:
        """1 where a ray lies left of the spine, -1 right of it, 0 along it."""
        turn = math.sin(angle - self.spine)
        return 0 if abs(turn) <= EPS_ANGLE else 1 if turn > 0 else -1

    def on(self, angle: float, p: Point) -> bool:
        """Whether a point lies on the ray."""
        away = subtract(p, self.apex)
        forward = away[0] * math.cos(angle) + away[1] * math.sin(angle)
        return forward > -EPS and on_line(self.line(angle), p)

    def holds(self, angle: float, segment: Segment) -> bool:
        """Whether a segment lies on the ray."""
        return self.on(angle, segment[0]) and self.on(angle, segment[1])

    def reaches(self, angle: float, segment: Segment) -> bool:
        """Whether a segment has a part on the ray."""
        line = self.line(angle)
        return (
            on_line(line, segment[0])
            and on_line(line, segment[1])
            and any(self.on(angle, p) and distance(p, self.apex) > EPS for p in segment)
        )

    def landing(self, p: Point) -> Point:
        """Where a point of the spine lands."""
        return mirrored(self.line(self.bend), p)


@dataclass(frozen=True)
class Opened:
    """What opening the spine has done: the paper, the fold lines to draw, the creases on the sheet.

    `tail` is the spine's far end.
    """

    after: State
    lines: tuple[FoldLine, ...]
    creases: tuple[Segment, ...]
    tail: Point


def angle_of(v: Point) -> float:
    """Direction of a vector, in radians."""
    return math.atan2(v[1], v[0])


def ray_of(line: LineValue, apex: Point, toward: float) -> float:
    """The half of a line that its named segment lies on; else the half nearer a direction.

    Raises Refusal where both halves are as near.
    """
    along = angle_of(line.line.direction)
    halves = (along, along + math.pi)
    ends = [p for p in line.segment or () if distance(p, apex) > EPS]
    sides = {
        min(halves, key=lambda a: abs(math.remainder(angle_of(subtract(p, apex)) - a, 2 * math.pi)))
        for p in ends
    }
    if len(sides) == 1:
        return sides.pop()
    if abs(math.cos(along - toward)) <= EPS_ANGLE:
        raise Refusal(
            "which-half",
            f"{line.words.render()} runs both ways from where the folded edge starts, and either half could "
            "be meant",
            "name two points on the half that is meant, as in 'line O A'",
            span=line.span,
        )
    return min(halves, key=lambda a: abs(math.remainder(a - toward, 2 * math.pi)))


def same_direction(a: float, b: float) -> bool:
    """Whether two angles are the same direction."""
    return abs(math.remainder(a - b, 2 * math.pi)) <= EPS_ANGLE


def spine_folds(
    state: State, rays: Rays, over: frozenset[int] | None = None
) -> list[tuple[int, int, Segment]]:
    """(over, under, segment) of the topmost fold along the spine from the apex, its continuations,
    and the folds that lie within it.

    Where flaps on both sides of the spine are folded along it, the one that lies towards the target is
    meant: only that one opens there. With `over`, the topmost fold whose upper layer is one of these.
    """
    line = rays.line(rays.spine)
    found = [
        (a, b, seg)
        for joint, seg in state.fold_segments
        if rays.reaches(rays.spine, seg)
        for a, b in ((joint.a, joint.b), (joint.b, joint.a))
        if state.above(a, b)
    ]
    starts = [
        (a, b)
        for a, b, seg in found
        if (over is None or a in over) and point_on_segment(seg, rays.apex)
    ]
    if not starts:
        return []
    towards = rays.side(rays.target) or rays.side(rays.hinge)
    meant = [
        (a, b)
        for a, b in starts
        if towards * signed_distance(line, polygons.centroid(state.placed[a])) > 0
    ] or starts
    # On one side of the spine the upper layers of all of them overlap, so that one is the topmost.
    top, bottom = next(
        (start for start in meant if not any(state.above(a, start[0]) for a, _ in meant)), meant[0]
    )
    tops, bottoms = state.plate(top), state.plate(bottom)
    return [
        (a, b, seg)
        for a, b, seg in found
        if (a in tops or any(state.above(i, a) for i in tops))
        and (b in bottoms or any(state.above(b, i) for i in bottoms))
    ]


def open_spine(
    request: Request,
    rays: Rays,
    over: frozenset[int] | None = None,
    beneath: frozenset[int] = frozenset(),
) -> Opened:
    """Opens the fold along the spine and flattens it; `over` as in `spine_folds`.

    `beneath` are facets that may lie over what moves, for it is drawn out from under them.

    Raises
    ------
    Refusal : 'no-spine', 'not-a-flap', 'blocked', 'spine-cannot-land', 'layers-collide'
    """
    state = request.state
    folds = spine_folds(state, rays, over)
    if not folds:
        raise no_spine(request)
    placed = [map_segment(state.facets[j.a].place, j.segment) for j in state.joints]
    spine = [k for k, seg in enumerate(placed) if rays.reaches(rays.spine, seg)]
    hinged = [k for k, seg in enumerate(placed) if rays.reaches(rays.hinge, seg)]
    hinge_line, bend_line = rays.facing_spine(rays.hinge), rays.facing_spine(rays.bend)
    near = component_beside(state, hinge_line, [a for a, _, _ in folds], [*spine, *hinged])
    far = component_beside(state, bend_line, [b for _, b, _ in folds], spine)
    if near & far:
        raise Refusal(
            "not-a-flap",
            "the two layers of this flap hold together elsewhere too, so it cannot be opened",
            "free the layers first, or open it along another line",
            span=request.span,
        )
    fine = divided(undivided(state), hinge_line, near)
    fine = divided(
        fine,
        rays.line(rays.near_bend),
        [k for k, p in enumerate(fine.parent) if p in near and _left(fine.state, k, hinge_line)],
    )
    fine = divided(fine, bend_line, [k for k, p in enumerate(fine.parent) if p in far])
    fs = fine.state
    tags = [
        "near"
        if p in near and _left(fs, k, hinge_line)
        else "far"
        if p in far and _left(fs, k, bend_line)
        else ""
        for k, p in enumerate(fine.parent)
    ]
    still = [k for k, tag in enumerate(tags) if not tag]
    own = {i for a, b, _ in folds for i in (a, b)}
    named = {i for k in own for i in state.plate(k)}
    raised = [k for k, tag in enumerate(tags) if tag or fine.parent[k] in beneath]
    refuse_covered(request, fs, fine.parent, raised, named)
    changes = _changes(fs, rays, tags, drawn=bool(beneath))
    ends = [(tags[fs.joints[k].a], tags[fs.joints[k].b]) for k in changes]
    if all(one and other for one, other in ends):
        raise _held_by_nothing(request)
    try:
        after = _laid(request, fine, still, changes)
    except Refusal as refusal:
        if refusal.code not in ("tear", "nothing-moves"):
            raise
        raise _cannot_land(request) from None
    except Collision as clash:
        raise collision_refusal(request, clash) from None
    lines, creases = folds_made(fine, after, changes)
    tails = [p for _, _, seg in folds for p in seg if rays.on(rays.spine, p)]
    tail = max(tails, key=lambda p: round(distance(p, rays.apex), 9))
    return Opened(after, lines, creases, tail)


def _laid(request: Request, fine: Divided, still: list[int], changes: Changes) -> State:
    """The flap flattened: what lies on each other and moves as one stays so, where the paper leaves a choice.

    Raises Refusal where it leaves one all the same; what `toggled` raises.
    """
    try:
        return toggled(fine, still, changes, in_front=True, asks=True)
    except Undecided:
        pass
    try:
        return toggled(fine, still, changes, in_front=True, asks=True, together=True)
    except (Undecided, Collision):
        raise Refusal(
            "which-lies-over",
            "layers inside this flap could come to lie either way round",
            "open what lies inside it first, or fold it with 'collapse', which takes 'with P over Q'",
            span=request.span,
        ) from None


def no_spine(request: Request) -> Refusal:
    """There is no fold where one was named."""
    return Refusal(
        "no-spine",
        f"there is no folded edge along that line: '{request.verb}' needs a flap of two layers",
        "name the folded edge between the two layers",
        span=request.span,
    )


def _cannot_land(request: Request) -> Refusal:
    return Refusal(
        "spine-cannot-land",
        "the folded edge cannot land there: the paper around it would tear",
        "let it land on another line, or name the line that the top layer is hinged along",
        "or free the layers beside it first",
        span=request.span,
    )


def _held_by_nothing(request: Request) -> Refusal:
    return Refusal(
        "not-a-flap",
        "on neither side of this folded edge does the paper go on beyond the line where it would bend, so "
        "nothing holds it while it opens",
        "let it land on another line",
        "or fold one layer over, with 'valley'",
        span=request.span,
    )


def _left(state: State, k: int, line: Line) -> bool:
    return signed_distance(line, polygons.centroid(state.placed[k])) > 0


def _holds(state: State, k: int, rays: Rays, angle: float) -> bool:
    joint = state.joints[k]
    return rays.holds(angle, map_segment(state.facets[joint.a].place, joint.segment))


def _changes(state: State, rays: Rays, tags: list[str], *, drawn: bool) -> Changes:
    """Joints that fold or open. Senses are for the topmost layers; the others' are left open.

    Where the layer over the spine is drawn out, its hinge opens, and it bends the other way beside it.
    """
    changes: dict[int, Sense | None] = {}
    for k, joint in enumerate(state.joints):
        ta, tb = tags[joint.a], tags[joint.b]
        pair = {ta, tb}
        sense = Sense.VALLEY
        if pair == {"near", "far"}:
            ray = rays.spine
        elif pair == {"near"} and not joint.folded:
            ray, sense = rays.near_bend, Sense.VALLEY if drawn else Sense.MOUNTAIN
        elif pair == {"near", ""}:
            ray = rays.hinge
        elif pair == {"far", ""}:
            ray = rays.bend
        else:
            continue
        if not _holds(state, k, rays, ray):
            continue
        moved = joint.a if ta else joint.b
        covered = any(
            state.above(i, moved) for i in state.neighbours[moved] if tags[i] == tags[moved]
        )
        changes[k] = None if covered or joint.folded else sense
    return changes
