"""Open out: a pocket is opened between front and back and flattened the other way.

The step from hat to boat. In: the two ends of the pocket. Out: the model folded about the line halfway
between them, its front half outward at the front, its back half outward at the back, so that the ends
come together; the folds that joined front and back at the sides are open. Where parts of front and back
come to lie across each other, such as the brims of a hat, those of the front lie outside on either half.
The model is turned in its plane so that the ends meet on the old middle line.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from itertools import pairwise

from ..geometry import polygons
from ..geometry.constructions import point_to_point
from ..geometry.isometries import Isometry, map_line, map_segment, reflection, rotation, translation
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
from ..paper.state import Joint, State
from ..paper.toggling import toggled
from ..source.diagnostics import Refusal, write
from .planning.at_points import opening_out, pushed
from .planning.called import all_of
from .planning.claims import Together, layers_at
from .planning.fingers import Several
from .planning.fold_clauses import as_point
from .planning.layering import lie_otherwise
from .planning.pocket import STEP, Parted, partings
from .planning.pocket_shut import Amiss, Ends, refused
from .planning.request import Move, Outcome, PointValue, Request

VERB = "open out"
FORMS = (f"{VERB} A and C", f"{VERB} the left corner and the right corner")


@dataclass(frozen=True)
class Way:
    """One way to open the pocket: its front and its back, the line that held them together on the left,
    and the paper afterwards."""

    parted: Parted
    spine: Line
    after: State


def make(request: Request) -> Outcome:
    """Opens the pocket between the two points and flattens it."""
    p, q = _ends(request)
    state = request.state
    middle = _middle_line(p, q)
    fine = divided(state, middle, range(len(state.facets)))
    mouth = midpoint(p.at, q.at)
    along = unit(subtract(p.at, mouth))
    ways: list[Way] = []
    amiss = Amiss()
    likeliest: dict[tuple[bool, int], list[Parted]] = {}
    every = list(partings(fine.state, mouth, along, middle))
    said = [one for one in every if all(_next_to(fine, one, end) for end in (p, q))]
    if every and not said:
        raise _beside_no_pocket(p, q)
    for parted in said:
        rank = (not _walled(fine.state, parted, middle), parted.uneven)
        likeliest.setdefault(rank, []).append(parted)
    for _, alike in sorted(likeliest.items()):
        if ways:
            break
        for parted in alike:
            way = _way(fine, parted, middle, amiss)
            if way is not None and all(lie_otherwise(fine.state, way.after, w.after) for w in ways):
                ways.append(way)
    if not ways:
        raise refused(request, (p, q), fine, along, middle, amiss)
    way = ways[0] if len(ways) == 1 else which_pocket(request, (p, q), fine, ways)
    turn = _upright(way.spine, middle, p.at, mouth)
    return _outcome(request, p, q, fine, way.parted, middle, way.after.moved(turn), way.spine)


def _way(fine: Divided, parted: Parted, middle: Line, amiss: Amiss) -> Way | None:
    """The pocket opened with the layers parted like this; None, and told in `amiss`, where it cannot be."""
    spine = _spine(fine.state, parted, middle)
    if not isinstance(spine, Line):
        amiss.crooked = amiss.crooked or spine
        return None
    try:
        return Way(parted, spine, _flattened(fine.state, parted, middle))
    except Collision as collision:
        facets = tuple(dict.fromkeys(fine.parent[k] for k in collision.facets))
        amiss.clash = amiss.clash or Collision(collision.reason, facets, collision.at)
    except Refusal as refusal:
        if refusal.code != "tear":
            raise
        amiss.torn = True
    return None


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


def _next_to(fine: Divided, parted: Parted, end: PointValue) -> bool:
    """Whether a pocket opens next to the layer that is said of an end; where none is said, any does."""
    if not end.layer:
        return True
    own = {k for k, facet in enumerate(fine.parent) if facet == end.facets[0]}
    stack = fine.state.facets_at(end.at)
    return any(
        {upper, lower} & own and upper in parted.front and lower in parted.back
        for upper, lower in pairwise(stack)
    )


def _beside_no_pocket(p: PointValue, q: PointValue) -> Refusal:
    layers = [end.words.render() for end in (p, q) if end.layer]
    return Refusal(
        "beside-no-pocket",
        f"no pocket opens next to {' and '.join(layers)}: its front and its back are other layers there",
        "leave out which layer, or name one on either side of the opening",
        span=p.span.cover(q.span),
    )


def _middle_line(p: PointValue, q: PointValue) -> Line:
    """The line halfway between the two ends, the first of them on its left."""
    (crease,) = point_to_point(p.at, q.at)
    return crease.line if signed_distance(crease.line, p.at) > 0 else flipped(crease.line)


def _left(state: State, piece: int, middle: Line) -> bool:
    return signed_distance(middle, polygons.centroid(state.placed[piece])) > 0


def _spine(state: State, parted: Parted, middle: Line) -> Line | Joint | None:
    """The line of the folds between front and back on the left, or its image where they hold together on the
    right alone; where these do not lie along one line, one that is amiss; None where there is none."""
    lines: dict[bool, Line] = {}
    for joint in state.joints:
        if (joint.a in parted.front) == (joint.b in parted.front):
            continue
        left = _left(state, joint.a, middle)
        if left != _left(state, joint.b, middle) or not joint.folded:
            return joint
        seg = map_segment(state.facets[joint.a].place, joint.segment)
        line = lines.setdefault(left, line_through(*seg))
        if left and not (on_line(line, seg[0]) and on_line(line, seg[1])):
            return joint
    if True in lines or not lines:
        return lines.get(True)
    return map_line(reflection(middle), lines[False])


def _walled(state: State, parted: Parted, middle: Line) -> bool:
    """Whether front and back both go on across the middle: else there are two flaps, and no pocket."""
    across = {
        joint.a in parted.front
        for joint in state.joints
        if _left(state, joint.a, middle) != _left(state, joint.b, middle)
    }
    return len(across) == 2


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


def which_pocket(request: Request, ends: Ends, fine: Divided, ways: Sequence[Way]) -> Way:
    """Of pockets as even, the one at whose ends the points named lie: there its front and back meet.

    Raises Refusal where the points tell none.
    """
    meant = [way for way in ways if all(_at_end(fine, way.parted, p.facets) for p in ends)]
    if len(meant) == 1:
        return meant[0]
    state = request.state
    said: dict[str, None] = {}
    for way in ways:
        names = [
            sorted(
                name
                for name, at in request.points.items()
                if distance(state.where(at), end.at) <= STEP
                and _at_end(fine, way.parted, state.facets_on_sheet(at))
            )
            for end in ends
        ]
        if all(names):
            said[f"{request.verb} {names[0][0]} and {names[1][0]}"] = None
    raise Refusal(
        "which-pocket",
        f"{len(ways)} pockets open between {all_of([p.words for p in ends]).render()}, one over the other",
        *(write(request.span, words) for words in said),
        "name points on the fold at the end of the pocket, where its front and its back hold together: 'mark "
        "E at top layer at the left corner'",
        span=request.span,
    )


def _at_end(fine: Divided, parted: Parted, facets: Collection[int]) -> bool:
    """Whether some of these facets belong to the front and some to the back."""
    mine = {k for k, p in enumerate(fine.parent) if p in facets}
    return not (mine.isdisjoint(parted.front) or mine.isdisjoint(parted.back))


MOVE = Move(
    VERB,
    "open a pocket and flatten it the other way",
    FORMS,
    make,
    by_sight=(f"{VERB} {{corner}} and {{corner}}",),
    level=Level.LOW_INTERMEDIATE,
    fingers=Several(
        Phrase("Open the pocket, spread its layers apart, and press it flat the other way."),
    ),
)
