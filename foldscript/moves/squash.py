"""Squash fold: a two-layer flap is raised, opened and flattened, its spine landing on a line.

In: the spine (the folded edge between the flap's near and far layer) and the line it lands on. They
cross at the apex. Out: the paper with the spine flat; see `opening` for how the layers bend. The near
layer is hinged along the target line unless another line is named.
"""

from __future__ import annotations

import math

from ..geometry.lines import (
    Line,
    Point,
    Segment,
    distance,
    line_at,
    meet,
    on_line,
    point_on_segment,
    same_line,
    subtract,
)
from ..geometry.tolerance import same, same_point
from ..languages.levels import Level
from ..languages.wording import Phrase, briefly, phrase
from ..paper.signs import Arrow, EqualAngles
from ..paper.state import State
from ..source.diagnostics import Refusal
from .planning.at_points import landmark
from .planning.claims import OnlyBeyond, Onto, Reaches, layers_at, segments_of
from .planning.fingers import Several
from .planning.fold_clauses import as_line, as_point
from .planning.opening import (
    Rays,
    angle_of,
    no_spine,
    open_spine,
    ray_of,
    same_direction,
    spine_folds,
)
from .planning.request import Each, LineValue, Move, Outcome, PointValue, Request


def make(request: Request) -> Outcome:
    """Opens the flap and flattens it."""
    spine, target, hinge = _words(request)
    rays = _rays(request, spine, target, hinge)
    if isinstance(spine, PointValue) and not any(
        point_on_segment(seg, spine.at) for _, _, seg in spine_folds(request.state, rays)
    ):
        raise _not_on_an_edge(spine, target)
    opened = open_spine(request, rays)
    head = rays.landing(opened.tail)
    reach = distance(rays.apex, opened.tail)
    halfway = (
        rays.apex[0] + reach * math.cos(rays.bend),
        rays.apex[1] + reach * math.sin(rays.bend),
    )
    return Outcome(
        opened.after,
        (
            *opened.lines,
            Arrow("squash", opened.tail, head),
            landmark(head),
            EqualAngles(rays.apex, opened.tail, halfway, head),
        ),
        briefly(
            phrase(
                "Squash fold: lift the flap upright, open its layers and press it flat, so that "
                "{spine} "
                "lies on {target}.",
                spine=spine.words,
                target=target.words,
            ),
            phrase(
                "Squash fold, so that {spine} lies on {target}.",
                spine=spine.words,
                target=target.words,
            ),
        ),
        creases=opened.creases,
        folded=True,
        letters=(*(spine.letters if isinstance(spine, LineValue) else ()), *target.letters),
        claims=(
            OnlyBeyond((rays.facing_spine(rays.hinge), rays.facing_spine(rays.bend))),
            _claim(request.state, spine, target.line, (rays.apex, opened.tail)),
        ),
    )


def _claim(
    state: State, spine: LineValue | PointValue, target: Line, half: Segment
) -> Onto | Reaches:
    """The folded edge comes onto the line: that of the topmost layers which it lies on."""
    if isinstance(spine, PointValue):
        return Reaches(layers_at(state, spine.at), target)
    facets = range(len(state.facets))
    return Onto(segments_of(state, half, facets) if spine.segment else (), target)


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
    if isinstance(spine, PointValue):
        line, far = _spine_through(request, spine, target)
    else:
        line, far = spine.line, None
    if same_line(line, target.line):
        raise _lies_there(target)
    apex = meet(line, target.line)
    if apex is None:
        raise Refusal(
            "never-meet",
            "the folded edge and the line it should land on never meet",
            "name a line that starts where the folded edge starts",
            span=target.span,
        )
    if far is None:
        far = _far_end(request, spine, line, apex)
    s = angle_of(subtract(far, apex))
    t = ray_of(target, apex, s)
    h = t
    if hinge is not None:
        if not on_line(hinge.line, apex):
            raise Refusal(
                "hinge-elsewhere",
                "the hinge must pass through the point where the folded edge starts",
                "name a line through that point",
                span=hinge.span,
            )
        h = ray_of(hinge, apex, t)
        if same_direction(h, s) or same_direction(h, s + math.pi):
            raise Refusal(
                "hinge-elsewhere",
                "the folded edge that opens cannot be the hinge of its own top layer",
                "name another line through the point where the folded edge starts",
                "or leave 'along' out: the top layer is then hinged on the line that the edge lands on",
                span=hinge.span,
            )
    return Rays(apex, s, t, h)


def _not_on_an_edge(p: PointValue, target: LineValue) -> Refusal:
    return Refusal(
        "no-spine",
        f"{p.words.render()} is not on a folded edge that reaches {target.words.render()}: "
        "a squash needs a flap of two layers",
        "name the folded edge between the two layers",
        span=p.span,
    )


def _lies_there(target: LineValue) -> Refusal:
    return Refusal(
        "spine-lies-there",
        "the folded edge lies along that line already",
        "name another line that starts where the folded edge starts",
        span=target.span,
    )


def _far_end(request: Request, spine: LineValue | PointValue, line: Line, apex: Point) -> Point:
    """The end of the spine away from the apex. Raises Refusal where both are as far."""
    if isinstance(spine, LineValue) and spine.segment is not None:
        ends = list(spine.segment)
    else:
        folds = request.state.fold_segments
        ends = [p for _, seg in folds if all(on_line(line, p) for p in seg) for p in seg]
    if not ends:
        raise no_spine(request)
    far = max(ends, key=lambda p: round(distance(p, apex), 9))
    if any(same(distance(p, apex), distance(far, apex)) and not same_point(p, far) for p in ends):
        raise Refusal(
            "which-half",
            "the folded edge runs on as far on both sides of the line that it should land on",
            "name a point on the half that is to land there, as M in 'squash M onto ...'",
            span=spine.span,
        )
    return far


def _spine_through(request: Request, p: PointValue, target: LineValue) -> tuple[Line, Point]:
    """The folded edge through a point that starts on the target line: that of the uppermost layers.

    Raises Refusal where there is none, or where several lie as high.
    """
    state = request.state
    found: list[tuple[int, Line]] = []
    for joint, seg in state.fold_segments:
        line = line_at(seg[0], subtract(seg[1], seg[0]))
        if not point_on_segment(seg, p.at) or on_line(target.line, p.at):
            continue
        apex = meet(line, target.line)
        if apex is not None and state.facets_at(apex):
            found.append((joint.a if state.above(joint.a, joint.b) else joint.b, line))
    if not found:
        raise _not_on_an_edge(p, target)
    tops = [line for i, line in found if not any(state.above(k, i) for k, _ in found if k != i)]
    if any(not same_line(line, tops[0]) for line in tops):
        raise Refusal(
            "which-edge",
            f"{p.words.render()} lies on several folded edges that reach {target.words.render()}",
            "name the edge that opens by two points, as in 'squash line O M onto ...'",
            span=p.span,
        )
    return tops[0], p.at


FORMS = (
    "squash line O M onto line O A",
    "squash M onto line O A",
    "squash M onto line O A, along k",
)
MOVE = Move(
    "squash",
    "open a flap of two layers and flatten it",
    FORMS,
    make,
    by_sight=("squash {edge} onto centre line", "squash {edge} onto {edge}"),
    each=Each(dealt=("to", "onto")),
    advice="say which folded edge lands on which line: 'squash line O M onto line O N'",
    level=Level.LOW_INTERMEDIATE,
    fingers=Several(
        Phrase("This is a squash fold: a flap of two layers is lifted, opened and pressed flat."),
        (
            Phrase(
                "Lift the flap so that it stands up from the table. Put a finger between its two "
                "layers and open them. Press down on the folded edge that now stands highest, "
                "until the flap is flat on both sides of it."
            ),
        ),
    ),
)
