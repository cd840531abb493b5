"""Swivel: the top layer is folded over along a line from a pivot, and the layer hinged to it follows.

In: a point of the top layer that moves, the line that this layer folds along, the pivot: a point of
the line on a folded edge between the top layer and the one under it. Out: the paper with that edge,
beyond the pivot, opened flat and swung about the pivot.

Around the pivot, with the edge running on beyond it as before, four creases meet: the edge that stays
folded, the line in the top layer, one more crease in the top layer and one in the layer under it.
Directions are angles in the folded plane: the moving part of the edge lies at e, the line at h, and
where the edge is to land at t. The under layer turns about the bisector of e and t; Kawasaki's
condition at the pivot then fixes the second crease of the top layer at h - t + (e + t) / 2. This is a
squash with its hinge named (see `opening`), with paper on both sides of its apex; and it is one wing
of a petal fold. When nothing else is said, the edge lands on the line itself, and then both hidden
creases halve the angle between line and edge.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..geometry.lines import (
    Line,
    Point,
    distance,
    flipped,
    line_at,
    line_through,
    meet,
    mirrored,
    on_line,
    signed_distance,
    subtract,
)
from ..geometry.polygons import centroid
from ..geometry.tolerance import EPS, EPS_ANGLE
from ..languages.levels import Level
from ..languages.wording import Phrase, briefly, phrase
from ..paper.signs import Arrow
from ..paper.state import State
from ..source.diagnostics import Refusal
from .planning.at_points import landmark, pushed
from .planning.claims import Onto, segments_of
from .planning.fingers import Several
from .planning.fold_claims import lands
from .planning.fold_clauses import as_line, as_point
from .planning.opening import Rays, angle_of, open_spine, ray_of, same_direction
from .planning.request import Each, LineValue, Move, Outcome, PointValue, Request


@dataclass(frozen=True)
class Edge:
    """A folded edge that the line meets at a corner: its far end, and the layer over it, with a
    point inside."""

    corner: Point
    far: Point
    over: frozenset[int]
    inner: Point


def make(request: Request) -> Outcome:
    """Swings the top layer about the pivot."""
    moving, along, pivot, goal = _words(request)
    line = _facing(along, moving)
    edge = _edge(request, moving, along, line, pivot)
    rays = _rays(line, edge, goal)
    _refuse_crossing(request, rays, goal)
    opened = open_spine(request, rays, edge.over)
    tail = moving.at
    landing = rays.landing(opened.tail)
    letters = [(p.letter, p.at) for p in (moving, pivot) if p is not None and p.letter]
    return Outcome(
        opened.after,
        (
            *opened.lines,
            Arrow("valley", tail, _landing(rays, tail)),
            landmark(edge.corner),
            pushed(opened.tail, landing),
        ),
        _sentence(moving, along, goal if goal is not None else along),
        creases=opened.creases,
        folded=True,
        letters=(*letters, *along.letters),
        claims=(
            lands(request.state, moving, _landing(rays, tail)),
            Onto(
                segments_of(request.state, (edge.corner, opened.tail), edge.over),
                goal.line if goal is not None else line,
            ),
        ),
    )


def _landing(rays: Rays, at: Point) -> Point:
    """Where a point of the top layer lands: mirrored in the line or, beyond the second crease, swung with
    the edge, which first goes over that crease.
    """
    hinge = rays.facing_spine(rays.hinge)
    second = rays.facing_spine(rays.near_bend)
    if signed_distance(second, at) > 0:
        at = mirrored(second, at)
    return mirrored(hinge, at)


def _sentence(moving: PointValue, along: LineValue, goal: LineValue) -> Phrase:
    parts = {"what": moving.words, "line": along.words, "goal": goal.words}
    return briefly(
        phrase(
            "Swivel fold: fold {what} over along {line}; the layer below is pulled along: flatten "
            "it, so "
            "that its folded edge lies on {goal}.",
            **parts,
        ),
        phrase("Swivel fold {what} along {line}; the folded edge comes to lie on {goal}.", **parts),
    )


def _words(
    request: Request,
) -> tuple[PointValue, LineValue, PointValue | None, LineValue | None]:
    request.allow("", "along", "at", "onto", "to")
    head, along = request.clause(""), request.clause("along")
    if head is None or along is None or not head.values or not along.values:
        raise Refusal(
            "swivel-what",
            "say a point of the top layer that moves, and the line that it folds along",
            *(f"write it like: {form}" for form in FORMS),
            span=request.span,
        )
    at, goal = request.clause("at"), request.clause("onto", "to")
    return (
        as_point(head.values[0]),
        as_line(along.values[0]),
        as_point(at.values[0]) if at is not None and at.values else None,
        as_line(goal.values[0]) if goal is not None and goal.values else None,
    )


def _facing(along: LineValue, moving: PointValue) -> Line:
    """The line with the moving point on its left."""
    if on_line(along.line, moving.at):
        raise Refusal(
            "on-the-line",
            f"{moving.words.render()} lies on the line, so it does not say which side moves",
            "name a point of the top layer that moves",
            span=moving.span,
        )
    return along.line if signed_distance(along.line, moving.at) > 0 else flipped(along.line)


def _edge(
    request: Request, moving: PointValue, along: LineValue, line: Line, pivot: PointValue | None
) -> Edge:
    """The folded edge at the pivot; refused unless there is one."""
    found = _edges(request, moving, along, line)
    if pivot is not None:
        found = [e for e in found if distance(e.corner, pivot.at) <= 4 * EPS]
        if not found:
            raise Refusal(
                "no-spine",
                f"{pivot.words.render()} is not where {along.words.render()} meets a folded edge "
                f"of the layer with {moving.words.render()}",
                "the pivot of a swivel fold is the end of the line on the folded edge that swings",
                span=pivot.span,
            )
    if not found:
        raise Refusal(
            "no-spine",
            f"{along.words.render()} meets no folded edge of the layer with {moving.words.render()}: "
            "nothing would swing",
            "use 'valley' to fold a layer that is hinged to no other",
            "or draw the line from a point of the folded edge",
            span=along.span,
        )
    if len(found) > 1:
        raise Refusal(
            "two-pivots",
            f"{along.words.render()} meets {len(found)} folded edges of this layer",
            "say with 'at' about which point it swings",
            "or use 'petal' when both ends swing",
            span=along.span,
        )
    return found[0]


def _edges(request: Request, moving: PointValue, along: LineValue, line: Line) -> list[Edge]:
    """Folded edges of the topmost layer with the moving point, where the line meets them.

    Raises Refusal where several layers have such edges and lie beside each other: none is the topmost.
    """
    state = request.state
    tops: dict[frozenset[int], list[Edge]] = {}
    for facet in moving.facets:
        plate = state.plate(facet)
        covered = any(state.above(i, k) for top in tops for i in top for k in plate - top)
        if not covered and (found := _edges_of(state, plate, line)):
            tops[plate] = found
    if len(tops) > 1:
        raise Refusal(
            "which-flap",
            f"{moving.words.render()} belongs to {len(tops)} flaps side by side, and {along.words.render()} "
            "meets a folded edge of each",
            "name a point that lies on the flap that moves, and on no other",
            span=moving.span,
        )
    return next(iter(tops.values()), [])


def _edges_of(state: State, plate: frozenset[int], line: Line) -> list[Edge]:
    found: list[Edge] = []
    for joint, seg in state.fold_segments:
        over, under = (joint.a, joint.b) if state.above(joint.a, joint.b) else (joint.b, joint.a)
        if over not in plate or under in plate:
            continue
        far = max(seg, key=lambda p: signed_distance(line, p))
        corner = meet(line_through(*seg), line)
        if corner is None or signed_distance(line, far) <= EPS:
            continue
        starts = min(abs(signed_distance(line, p)) for p in seg) <= EPS
        if not starts and max(distance(corner, p) for p in seg) > distance(*seg) + EPS:
            continue
        if all(distance(e.corner, corner) > 4 * EPS for e in found):
            found.append(Edge(corner, far, plate, centroid(state.placed[over])))
    return found


def _rays(line: Line, edge: Edge, goal: LineValue | None) -> Rays:
    spine = angle_of(subtract(edge.far, edge.corner))
    side = line_at(edge.corner, subtract(edge.far, edge.corner))
    ahead = (edge.corner[0] + line.direction[0], edge.corner[1] + line.direction[1])
    hinge = angle_of(line.direction)
    if signed_distance(side, ahead) * signed_distance(side, edge.inner) < 0:
        hinge += math.pi
    if goal is None:
        return Rays(edge.corner, spine, hinge, hinge)
    if not on_line(goal.line, edge.corner):
        raise Refusal(
            "goal-elsewhere",
            f"the edge swings about the pivot, and {goal.words.render()} does not pass there",
            "name a line through the pivot",
            span=goal.span,
        )
    return Rays(edge.corner, spine, ray_of(goal, edge.corner, hinge), hinge)


def _refuse_crossing(request: Request, rays: Rays, goal: LineValue | None) -> None:
    """The second crease of the top layer lies between the line and the edge, or there is none."""
    turn = math.remainder(rays.hinge - rays.spine, 2 * math.pi)
    second = math.remainder(rays.near_bend - rays.spine, 2 * math.pi)
    if same_direction(rays.spine, rays.target) or not (
        EPS_ANGLE < second * math.copysign(1, turn) < abs(turn) - EPS_ANGLE
    ):
        raise Refusal(
            "spine-cannot-land",
            "the folded edge cannot swing there: the top layer would have to fold outside the "
            "angle "
            "between its edge and the line",
            "let the edge land nearer the line, or leave 'onto' out and it lands on the line",
            span=goal.span if goal is not None else request.span,
        )


FORMS = ("swivel M along line P A", "swivel M along k, at P", "swivel M along k, at P, onto n")
MOVE = Move(
    "swivel",
    "fold the top layer over from a pivot, the layer hinged to it following",
    FORMS,
    make,
    each=Each(dealt=("to", "onto")),
    level=Level.HIGH_INTERMEDIATE,
    fingers=Several(
        Phrase(
            "This is a swivel fold: while one edge is folded over, the layer under it shifts "
            "along and is pressed flat where it wants to lie."
        ),
    ),
)
