"""Squash fold: a two-layer flap is raised, opened and flattened, its spine landing on a line.

In: the spine (the folded edge between the flap's near and far layer) and the line it lands on. They
cross at the apex. Out: the far layer bends along the bisector of spine and target, the near layer
along its own bisector and along the hinge (the target line unless another is named), and the spine
lies flat. For any hinge through the apex the near layer's crease lies at hinge - target + bisector.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..diagnostics import Refusal
from ..geometry import polygons
from ..geometry.isometries import map_segment
from ..geometry.lines import (
    Line,
    Point,
    distance,
    flipped,
    line_at,
    meet,
    mirrored,
    on_line,
    signed_distance,
    subtract,
)
from ..geometry.tolerance import EPS
from ..paper.flap import sheet_segments
from ..paper.refold import divided, undivided
from ..paper.signs import Act, Arrow, FoldLine, PointSign, Sense, Spot
from ..paper.state import Joint, State
from ..paper.toggling import Changes, component, toggled
from ..wording import phrase
from .open_front import refuse_covered
from .request import LineValue, Move, Outcome, PointValue, Request
from .words import as_line, as_point


@dataclass(frozen=True)
class Rays:
    """Directions around the apex, in radians, in the folded plane."""

    apex: Point
    spine: float
    target: float
    hinge: float
    bend: float  # of the far layer
    near_bend: float

    def line(self, angle: float) -> Line:
        return line_at(self.apex, (math.cos(angle), math.sin(angle)))

    def on(self, angle: float, p: Point) -> bool:
        """Whether a point lies on the ray."""
        away = subtract(p, self.apex)
        forward = away[0] * math.cos(angle) + away[1] * math.sin(angle)
        return forward > -EPS and on_line(self.line(angle), p)


def make(request: Request) -> Outcome:
    """Opens the flap and flattens it."""
    spine, target, hinge = _words(request)
    state = request.state
    rays = _rays(request, spine, target, hinge)
    upper, lower = _layers_at_spine(request, rays)
    fine = divided(undivided(state), rays.line(rays.hinge), range(len(state.facets)))
    side = _toward_spine(rays)
    swing = {
        k for k in range(len(fine.state.facets))
        if polygons.half_plane_extent(fine.state.placed[k], side)[1] > EPS
    }  # fmt: skip
    barred = [
        k
        for k in range(len(fine.state.joints))
        if _joint_on(fine.state, k, rays, rays.spine) or _joint_on(fine.state, k, rays, rays.hinge)
    ]
    near = component(fine.state, [k for k in swing if fine.parent[k] == upper], barred, swing)
    far = component(fine.state, [k for k in swing if fine.parent[k] == lower], barred, swing)
    if near & far:
        raise Refusal(
            "not-a-flap",
            "the two layers of this flap hold together elsewhere too, so it cannot be opened",
            "free the layers first, or squash along another line",
            span=request.span,
        )
    tags = {k: "near" if k in near else "far" if k in far else "" for k in range(len(fine.parent))}
    origin = fine.parent
    for angle, tag in ((rays.near_bend, "near"), (rays.bend, "far")):
        bent = divided(fine.state, rays.line(angle), [k for k, t in tags.items() if t == tag])
        tags = {k: tags[p] for k, p in enumerate(bent.parent)}
        origin = tuple(origin[p] for p in bent.parent)
        fine = bent
    fs = fine.state
    changes, parts = _changes(fs, rays, tags)
    still = [
        k for k, t in tags.items()
        if t == "" or (t == "far" and _beside_target(fs, k, rays))
    ]  # fmt: skip
    if not still:
        raise Refusal("nothing-moves", "nothing would stay still", span=request.span)
    moved = {k for k, t in tags.items() if t and k not in set(still)}
    refuse_covered(fs, origin, moved)
    after = toggled(fs, still, changes, in_front=True)
    lines = tuple(
        FoldLine(sense, tuple((origin[i], seg) for i, seg in rows))
        for sense, rows in parts.items()
        if rows
    )
    creases = [seg for rows in parts.values() for seg in sheet_segments(fs, rows)]
    tail = _far_end(fs, rays)
    head = _landing(rays, tail)
    return Outcome(
        after,
        (*lines, Arrow(Act.SQUASH, tail, head), PointSign(Spot.LANDMARK, head)),
        phrase("Squash fold: open the flap and flatten it, {spine} landing on {target}.",
               spine=spine.words, target=target.words),
        creases=tuple(creases),
        folded=True,
        letters=(*(spine.letters if isinstance(spine, LineValue) else ()), *target.letters),
    )  # fmt: skip


def _words(request: Request) -> tuple[LineValue | PointValue, LineValue, LineValue | None]:
    request.allow("", "to", "onto", "along")
    head = request.clause("")
    goal = request.clause("to", "onto")
    along = request.clause("along")
    if head is None or goal is None or not head.values or not goal.values:
        raise Refusal(
            "squash-what",
            "say which folded edge of the flap lands on which line",
            *(f"write it like: {form}" for form in FORMS),
            span=request.span,
        )
    spine = head.values[0]
    if not isinstance(spine, LineValue):
        spine = as_point(spine)
    hinge = as_line(along.values[0]) if along is not None and along.values else None
    return spine, as_line(goal.values[0]), hinge


def _rays(
    request: Request, spine: LineValue | PointValue, target: LineValue, hinge: LineValue | None
) -> Rays:
    state = request.state
    if isinstance(spine, PointValue):
        line, far = _spine_through(request, spine, target)
    else:
        line = spine.line
        far = None
    apex = meet(line, target.line)
    if apex is None:
        raise Refusal(
            "never-meet", "the folded edge and the line it should land on never meet",
            "name a line that starts where the folded edge starts", span=target.span,
        )  # fmt: skip
    if far is None:
        ends = [
            p
            for _, seg in state.fold_segments
            for p in seg
            if on_line(line, seg[0]) and on_line(line, seg[1])
        ]
        if isinstance(spine, LineValue) and spine.segment is not None:
            ends = [*spine.segment]
        if not ends:
            raise _no_spine(request, spine)
        far = max(ends, key=lambda p: round(distance(p, apex), 9))
    s = _angle(subtract(far, apex))
    t = _ray_of(target, apex, s)
    h = t
    if hinge is not None:
        if not on_line(hinge.line, apex):
            raise Refusal(
                "hinge-elsewhere", "the hinge must pass through the point where the spine starts",
                span=hinge.span,
            )  # fmt: skip
        h = _ray_of(hinge, apex, t)
    turn = math.remainder(s - t, 2 * math.pi)
    if abs(turn) < 1e-9 or abs(abs(turn) - math.pi) < 1e-9:
        raise Refusal(
            "spine-lies-there", "the folded edge lies on that line already", span=target.span
        )
    b = t + turn / 2
    return Rays(apex, s, t, h, b, h - t + b)


def _angle(v: Point) -> float:
    return math.atan2(v[1], v[0])


def _ray_of(line: LineValue, apex: Point, toward: float) -> float:
    """The half of a line that its named segment lies on; else the half nearer a direction."""
    ends = [p for p in line.segment or () if distance(p, apex) > EPS]
    dirs = {round(math.remainder(_angle(subtract(p, apex)), 2 * math.pi), 9) for p in ends}
    if len(dirs) == 1 or (
        ends
        and len(dirs) == 2
        and abs(abs(max(dirs)) - math.pi) < 1e-8
        and abs(abs(min(dirs)) - math.pi) < 1e-8
    ):
        return _angle(subtract(ends[0], apex))
    d = _angle(line.line.direction)
    options = (d, d + math.pi)
    return min(options, key=lambda a: round(abs(math.remainder(a - toward, 2 * math.pi)), 9))


def _spine_through(request: Request, p: PointValue, target: LineValue) -> tuple[Line, Point]:
    """The folded edge through a point that starts on the target line, topmost first."""
    state = request.state
    best: tuple[int, Line] | None = None
    ranks = {f: k for k, f in enumerate(state.top_down(range(len(state.facets))))}
    for joint, seg in state.fold_segments:
        line = line_at(seg[0], subtract(seg[1], seg[0]))
        if not on_line(line, p.at) or on_line(target.line, p.at):
            continue
        apex = meet(line, target.line)
        if apex is None or not state.facets_at(apex):
            continue
        if min(distance(p.at, e) for e in seg) > EPS and not _within(seg, p.at):
            continue
        rank = min(ranks[joint.a], ranks[joint.b])
        if best is None or rank < best[0]:
            best = (rank, line)
    if best is None:
        raise _no_spine(request, p)
    return best[1], p.at


def _within(seg: tuple[Point, Point], p: Point) -> bool:
    return distance(seg[0], p) + distance(p, seg[1]) <= distance(*seg) + 1e-9


def _no_spine(request: Request, spine: LineValue | PointValue) -> Refusal:
    return Refusal(
        "no-spine",
        f"{spine.words.render()} is not on a folded edge: a squash needs a flap of two layers",
        "name the folded edge between the two layers",
        span=spine.span,
    )


def _joint_on(state: State, k: int, rays: Rays, angle: float) -> bool:
    joint = state.joints[k]
    seg = map_segment(state.facets[joint.a].place, joint.segment)
    return rays.on(angle, seg[0]) and rays.on(angle, seg[1])


def _toward_spine(rays: Rays) -> Line:
    """The hinge line, the spine on its left."""
    line = rays.line(rays.hinge)
    p = (rays.apex[0] + math.cos(rays.spine), rays.apex[1] + math.sin(rays.spine))
    return line if signed_distance(line, p) > 0 else flipped(line)


def _layers_at_spine(request: Request, rays: Rays) -> tuple[int, int]:
    """(near, far) facets of the topmost fold along the spine."""
    state = request.state
    ranks = {f: k for k, f in enumerate(state.top_down(range(len(state.facets))))}
    found: list[tuple[int, int, int]] = []
    for joint, seg in state.fold_segments:
        if rays.on(rays.spine, seg[0]) and rays.on(rays.spine, seg[1]):
            a, b = (joint.a, joint.b) if state.above(joint.a, joint.b) else (joint.b, joint.a)
            found.append((ranks[a], a, b))
    if not found:
        raise Refusal(
            "no-spine",
            "there is no folded edge along that line: a squash needs a flap of two layers",
            "name the folded edge between the two layers",
            span=request.span,
        )
    _, a, b = min(found)
    return a, b


def _beside_target(state: State, k: int, rays: Rays) -> bool:
    """Whether a piece of the far layer lies between the target and the bend, and so stays."""
    line = rays.line(rays.bend)
    p = (rays.apex[0] + math.cos(rays.target), rays.apex[1] + math.sin(rays.target))
    side = signed_distance(line, p)
    return side * signed_distance(line, polygons.centroid(state.placed[k])) > 0


def _changes(
    state: State, rays: Rays, tags: dict[int, str]
) -> tuple[Changes, dict[Sense, list[tuple[int, tuple[Point, Point]]]]]:
    changes: dict[int, Sense | None] = {}
    parts: dict[Sense, list[tuple[int, tuple[Point, Point]]]] = {
        Sense.VALLEY: [],
        Sense.MOUNTAIN: [],
    }
    for k, joint in enumerate(state.joints):
        ta, tb = tags[joint.a], tags[joint.b]
        sense: Sense | None = None
        hit = False
        if ta == tb == "far" and _joint_on(state, k, rays, rays.bend):
            sense, hit = Sense.VALLEY, True
        elif ta == tb == "near" and _joint_on(state, k, rays, rays.near_bend):
            sense, hit = Sense.MOUNTAIN, True
        elif {ta, tb} == {"near", "far"} and _joint_on(state, k, rays, rays.spine):
            hit = True
        elif (ta == "near") != (tb == "near") and _joint_on(state, k, rays, rays.hinge):
            sense, hit = Sense.VALLEY, True
        if not hit:
            continue
        folds = not joint.folded
        changes[k] = sense if folds and _is_outermost(state, joint) else None
        if folds and sense is not None:
            seg = map_segment(state.facets[joint.a].place, joint.segment)
            parts[sense].append((joint.a, seg))
    return changes, parts


def _is_outermost(state: State, joint: Joint) -> bool:
    """Whether no other layer of the flap lies over a joint, so that its sense is the one named."""
    return not any(state.above(i, joint.a) for i in state.neighbours[joint.a])


def _far_end(state: State, rays: Rays) -> Point:
    ends = [p for _, seg in state.fold_segments for p in seg if rays.on(rays.spine, p)]
    return max(ends, key=lambda p: round(distance(p, rays.apex), 9))


def _landing(rays: Rays, p: Point) -> Point:
    return mirrored(rays.line(rays.bend), p)


FORMS = (
    "squash line O M onto line O A",
    "squash M onto line O A",
    "squash M onto line O A, along k",
)
MOVE = Move("squash", "open a flap of two layers and flatten it", FORMS, make)
