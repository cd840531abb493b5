"""Open out: a pocket is opened between front and back and flattened the other way.

The step from hat to boat. In: the two ends of the pocket. Out: the model folded about the line halfway
between them, its front half outward at the front, its back half outward at the back, so that the ends
come together; the folds that joined front and back at the sides are open. Where parts of front and back
come to lie across each other, such as the brims of a hat, those of the front lie outside on either half.
The model is turned in its plane so that the ends meet on the old middle line.
"""

from __future__ import annotations

import math

from ..geometry import polygons
from ..geometry.constructions import point_to_point
from ..geometry.isometries import Isometry, map_segment, rotation, translation
from ..geometry.lines import (
    Line,
    Point,
    Segment,
    distance,
    dot,
    flipped,
    line_through,
    meet,
    midpoint,
    on_line,
    scale,
    signed_distance,
    subtract,
    unit,
)
from ..languages.levels import Level
from ..languages.wording import Phrase, phrase
from ..paper.flap import sheet_segments
from ..paper.layers import Collision
from ..paper.openings import opening_at
from ..paper.refold import Divided, divided
from ..paper.signs import FoldLine, Sense, Sign
from ..paper.state import State
from ..paper.toggling import toggled
from ..source.diagnostics import Refusal
from .planning.at_points import opening_out, pushed
from .planning.called import all_of
from .planning.claims import Together, layers_at
from .planning.fingers import Several
from .planning.fold_clauses import as_point
from .planning.in_the_way import collision_refusal
from .planning.pocket import STEP, Parted, partings
from .planning.request import Move, Outcome, PointValue, Request

VERB = "open out"
FORMS = (f"{VERB} A and C", f"{VERB} the left corner and the right corner")


def make(request: Request) -> Outcome:
    """Opens the pocket between the two points and flattens it."""
    p, q = _ends(request)
    state = request.state
    middle = _middle_line(p, q)
    fine = divided(state, middle, range(len(state.facets)))
    fs = fine.state
    mouth = midpoint(p.at, q.at)
    along = unit(subtract(p.at, mouth))
    clash: Collision | None = None
    torn = False
    for parted in partings(fs, mouth, along, middle):
        spine = _spine(fs, parted, middle)
        if spine is None:
            continue
        try:
            after = _flattened(fs, parted, middle)
        except Collision as collision:
            facets = tuple(dict.fromkeys(fine.parent[k] for k in collision.facets))
            clash = clash or Collision(collision.reason, facets, collision.at)
            continue
        except Refusal as refusal:
            if refusal.code != "tear":
                raise
            torn = True
            continue
        turn = _upright(spine, middle, p.at, mouth)
        return _outcome(request, p, q, fine, parted, middle, after.moved(turn), spine)
    raise _refused(request, p, q, clash, torn)


def _ends(request: Request) -> tuple[PointValue, PointValue]:
    request.allow("", "and", "to", "onto", "between")
    found = [v for c in request.clauses for v in c.values]
    if len(found) != 2:
        raise Refusal(
            "open-what",
            "say which two ends of the pocket come together",
            *(f"write it like: {form}" for form in request.forms),
            "for a pocket with a slit in front: open pocket at the left corner",
            span=request.span,
        )
    p, q = as_point(found[0]), as_point(found[1])
    if distance(p.at, q.at) < 2 * STEP:
        raise Refusal(
            "same-point",
            f"{p.words.render()} and {q.words.render()} lie together already",
            "name the two ends of the pocket's open edge",
            span=q.span,
        )
    return p, q


def _middle_line(p: PointValue, q: PointValue) -> Line:
    """The line halfway between the two ends, the first of them on its left."""
    (crease,) = point_to_point(p.at, q.at)
    return crease.line if signed_distance(crease.line, p.at) > 0 else flipped(crease.line)


def _left(state: State, piece: int, middle: Line) -> bool:
    return signed_distance(middle, polygons.centroid(state.placed[piece])) > 0


def _spine(state: State, parted: Parted, middle: Line) -> Line | None:
    """The line of the folds between front and back on the left; None when there is no such line."""
    line: Line | None = None
    for joint in state.joints:
        if (joint.a in parted.front) == (joint.b in parted.front):
            continue
        if _left(state, joint.a, middle) != _left(state, joint.b, middle) or not joint.folded:
            return None
        if not _left(state, joint.a, middle):
            continue
        seg = map_segment(state.facets[joint.a].place, joint.segment)
        if line is None:
            line = line_through(*seg)
        elif not (on_line(line, seg[0]) and on_line(line, seg[1])):
            return None
    return line


def _changes(state: State, parted: Parted, middle: Line) -> dict[int, Sense | None]:
    """Joints that open at the sides, and those that fold on the middle line, as seen now."""
    found: dict[int, Sense | None] = {}
    for k, joint in enumerate(state.joints):
        if (joint.a in parted.front) != (joint.b in parted.front):
            found[k] = None
        elif _left(state, joint.a, middle) != _left(state, joint.b, middle):
            found[k] = Sense.MOUNTAIN if joint.a in parted.front else Sense.VALLEY
    return found


def _flattened(state: State, parted: Parted, middle: Line) -> State:
    left = [i for i in range(len(state.facets)) if _left(state, i, middle)]
    right = [i for i in range(len(state.facets)) if i not in set(left)]
    orders = {(i, j): True for i in left for j in right}
    changes = dict.fromkeys(_changes(state, parted, middle), None)
    still = [i for i in left if i in parted.front]

    def front_outside(i: int, j: int) -> bool | None:
        if (i in parted.front) == (j in parted.front):
            return None
        return (i in parted.front) == (i in left)

    return toggled(state, still, changes, orders=orders, prefer=front_outside)


def _upright(spine: Line, middle: Line, end: Point, mouth: Point) -> Isometry:
    """The motion that lays the side with the end on the middle line."""
    apex = meet(spine, middle)
    if apex is None:
        n = (middle.nx, middle.ny)
        return translation(scale(n, -dot(subtract(end, mouth), n)))
    a, b = subtract(end, apex), subtract(mouth, apex)
    angle = math.atan2(b[1], b[0]) - math.atan2(a[1], a[0])
    return rotation(angle, apex)


def _outcome(
    request: Request,
    p: PointValue,
    q: PointValue,
    fine: Divided,
    parted: Parted,
    middle: Line,
    after: State,
    spine: Line,
) -> Outcome:
    fs = fine.state
    parts: dict[Sense, list[tuple[int, Segment]]] = {Sense.MOUNTAIN: [], Sense.VALLEY: []}
    for k, sense in _changes(fs, parted, middle).items():
        if sense is not None:
            joint = fs.joints[k]
            seg = map_segment(fs.facets[joint.a].place, joint.segment)
            parts[sense].append((fine.parent[joint.a], seg))
    mouth = midpoint(p.at, q.at)
    signs: list[Sign] = [FoldLine(sense, tuple(rows)) for sense, rows in parts.items() if rows]
    signs += [
        opening_out(
            mouth,
            _outward(spine, middle, mouth),
            opens=opening_at(request.state, mouth),
        ),
        pushed(p.at, mouth),
        pushed(q.at, mouth),
    ]
    return Outcome(
        after,
        tuple(signs),
        phrase(
            "Open the pocket between {points}, push these two points together, and press the model flat "
            "the other way.",
            points=all_of([p.words, q.words]),
        ),
        creases=tuple(s for rows in parts.values() for s in sheet_segments(request.state, rows)),
        folded=True,
        letters=tuple((v.letter, v.at) for v in (p, q) if v.letter),
        claims=(Together(layers_at(request.state, p.at), layers_at(request.state, q.at)),),
    )


def _outward(spine: Line, middle: Line, mouth: Point) -> Point:
    """A point away from the pocket, on the middle line."""
    apex = meet(spine, middle)
    if apex is None or distance(apex, mouth) < STEP:
        apex = (mouth[0] + middle.ny, mouth[1] - middle.nx)
    return (2 * mouth[0] - apex[0], 2 * mouth[1] - apex[1])


def _refused(
    request: Request, p: PointValue, q: PointValue, clash: Collision | None, torn: bool
) -> Refusal:
    ends = f"{p.words.render()} and {q.words.render()}"
    if clash is not None:
        why = collision_refusal(request, clash)
        return Refusal(
            "locked-layers",
            f"the pocket between {ends} cannot be flattened: {why.message}",
            "free the layers that hold it first",
            span=request.span,
        )
    if torn:
        return Refusal(
            "no-pocket",
            f"the model cannot be flattened with {ends} together: the paper would tear",
            "the two sides of the pocket must mirror each other; name the ends of its open edge",
            span=request.span,
        )
    return Refusal(
        "no-pocket",
        f"there is no pocket that opens between {ends}",
        "its front and back must be free along that edge, and hold together at straight sides",
        span=request.span,
    )


MOVE = Move(
    VERB,
    "open a pocket and flatten it the other way",
    FORMS,
    make,
    level=Level.LOW_INTERMEDIATE,
    fingers=Several(
        Phrase("Open the pocket, spread its layers apart, and press it flat the other way."),
    ),
)
