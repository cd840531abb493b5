"""Pockets with a slit: their sides open, their tip is laid outward, and they lie flat again.

A pocket is a layer with another one folded over it on each side; the two sides meet along a slit, which
runs from the tip of the pocket. In: such a pocket, read off the paper where two folds meet at a point of
its rim. Out: the creases that flatten it, and the paper after.

At the end of each side's fold another fold crosses it, along which all layers are folded away. Around that
end the directions are, as angles in the folded plane from the fold of the side: the crossing fold at b. The
layer below folds along the line between both ends, at c; so far the tip goes over. The fold of the side
opens, and so does the crossing fold of the side's layer, which swings out and goes on in one piece with
what lies beyond. That layer has to fold once more, at d. Laid flat, its part at the tip has been turned by
the opened side and the line between the ends, 2c; by the other way round, 2(b - d). So d = b - c, which is
Kawasaki's condition at the end.
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
    line_through,
    meet,
    mirrored,
    on_line,
    point_on_segment,
    signed_distance,
    subtract,
)
from ...geometry.tolerance import EPS, FOLDED
from ...paper.components import component_beside
from ...paper.layers import Collision
from ...paper.refold import Divided, divided
from ...paper.signs import FoldLine, Sense
from ...paper.state import State
from ...paper.toggling import Changes, toggled
from ...source.diagnostics import Refusal
from .creasing import folds_made
from .in_the_way import collision_refusal
from .open_front import refuse_covered
from .request import Request


@dataclass(frozen=True)
class Side:
    """A layer folded over one side of a pocket, in folded coordinates.

    fold : from the tip to where another fold crosses
    across : the crossing fold, from there
    slit : the layer's free edge, from the tip; rim : the same on the sheet
    """

    facets: frozenset[int]
    fold: Segment
    across: Segment
    slit: Segment
    rim: Segment


@dataclass(frozen=True)
class Slit:
    """A pocket: its tip on the sheet and as it lies, the layer below, the layers over it."""

    sheet: Point
    tip: Point
    below: frozenset[int]
    sides: tuple[Side, Side]

    @property
    def ridge(self) -> Line:
        """The line that the tip goes over, the tip on its left."""
        line = line_through(*(side.fold[1] for side in self.sides))
        return line if signed_distance(line, self.tip) > 0 else flipped(line)

    @property
    def opening(self) -> Segment:
        """Where both sides meet, from the tip: there the pocket opens."""
        return min((side.slit for side in self.sides), key=lambda slit: distance(*slit))

    @property
    def landing(self) -> Point:
        """Where the tip comes to lie."""
        return mirrored(self.ridge, self.tip)


@dataclass(frozen=True)
class Flattened:
    """What flattening a pocket has done: the paper, the fold lines to draw, creases made, folds opened, on
    the sheet; the outline of what the pocket has become; and for both sides from where to where a place on
    the slit is drawn, which becomes a corner.
    """

    after: State
    lines: tuple[FoldLine, ...]
    creases: tuple[Segment, ...]
    opened: tuple[Segment, ...]
    outline: polygons.Polygon
    drawn: tuple[Segment, Segment]


def slits(state: State) -> tuple[Slit, ...]:
    """Every pocket with a slit that opens in front, in the order of the paper's folds."""
    tips: list[tuple[Point, list[int]]] = []
    for k, joint in enumerate(state.joints):
        for end in joint.segment if joint.folded else ():
            home = next((folds for p, folds in tips if distance(p, end) <= FOLDED), None)
            if home is None:
                tips.append((end, [k]))
            else:
                home.append(k)
    rim = [p for _, seg in state.raw_edges for p in seg]
    found = (
        _pocket(state, tip, folds)
        for tip, folds in tips
        if len(folds) == 2 and any(distance(tip, p) <= FOLDED for p in rim)
    )
    return tuple(pocket for pocket in found if pocket is not None)


def _pocket(state: State, tip: Point, folds: list[int]) -> Slit | None:
    """The pocket between two folds that end at a point of the rim; None where there is none."""
    pairs = [frozenset(state.plate_of[i] for i in _pair(state, k)) for k in folds]
    common = pairs[0] & pairs[1]
    if len(common) != 1 or pairs[0] == pairs[1]:
        return None
    (floor,) = common
    below = frozenset(state.plates[floor])
    sides: list[Side] = []
    for k, pair in zip(folds, pairs, strict=True):
        (over,) = pair - common
        upper, lower = sorted(_pair(state, k), key=lambda i: state.plate_of[i] == floor)
        side = _side(state, tip, frozenset(state.plates[over]), below)
        if side is None or not state.above(upper, lower):
            return None
        sides.append(side)
    one, other = sides
    if on_line(line_through(*one.fold), other.fold[1]):
        return None
    return Slit(tip, one.fold[0], below, (one, other))


def _pair(state: State, joint: int) -> tuple[int, int]:
    return state.joints[joint].a, state.joints[joint].b


def _side(state: State, tip: Point, over: frozenset[int], below: frozenset[int]) -> Side | None:
    """The layer over one side: its fold from the tip, the fold that crosses there, its free edge."""
    here = next((i for i in state.facets_on_sheet(tip) if i in over), None)
    if here is None:
        return None
    at = state.facets[here].place(tip)
    mine: list[Segment] = []
    others: list[Segment] = []
    for joint, seg in state.fold_segments:
        pair = {joint.a, joint.b}
        if pair & over and pair & below:
            mine.append(seg)
        elif pair & over:
            others.append(seg)
    fold, rim = _run(mine, at), _run([seg for i, seg in state.raw_edges if i in over], tip)
    if fold is None or rim is None:
        return None
    across = _run(others, fold[1])
    if across is None or on_line(line_through(*fold), across[1]):
        return None
    return Side(over, fold, across, map_segment(state.facets[here].place, rim), rim)


def _run(segments: list[Segment], start: Point) -> Segment | None:
    """From a point as far as segments lead straight on; None where none starts there."""
    first = next(
        ((p, q) for seg in segments for p, q in (seg, seg[::-1]) if distance(p, start) <= FOLDED),
        None,
    )
    if first is None:
        return None
    line, end = line_through(*first), first[1]
    while True:
        further = next(
            (
                q
                for seg in segments
                for p, q in (seg, seg[::-1])
                if distance(p, end) <= FOLDED
                and on_line(line, q)
                and distance(q, start) > distance(end, start) + EPS
            ),
            None,
        )
        if further is None:
            return (start, end)
        end = further


def _second_crease(pocket: Slit, side: Side) -> Line:
    """The line along which a side's own layer folds, the tip on its left."""
    end = side.fold[1]
    other = next(s.fold[1] for s in pocket.sides if s is not side)
    fold, across, ridge = (
        math.atan2(*reversed(subtract(p, end))) for p in (side.fold[0], side.across[1], other)
    )
    turn = fold + across - ridge
    line = line_at(end, (math.cos(turn), math.sin(turn)))
    return line if signed_distance(line, pocket.tip) > 0 else flipped(line)


def flattened(request: Request, pocket: Slit) -> Flattened:
    """Opens the pocket, lays its tip over the ridge and presses all flat.

    Raises
    ------
    Refusal : 'not-a-flap', 'blocked', 'cannot-flatten', 'layers-collide'
    """
    drawn = (_drawn(request, pocket, pocket.sides[0]), _drawn(request, pocket, pocket.sides[1]))
    fine, tags = _divided(request, pocket)
    fs = fine.state
    raised = [k for k, tag in enumerate(tags) if tag]
    named = pocket.below.union(*(side.facets for side in pocket.sides))
    refuse_covered(request, fs, fine.parent, raised, named)
    changes = _changes(fs, pocket, tags)
    still = [k for k, tag in enumerate(tags) if not tag]
    try:
        after = toggled(fine, still, changes, in_front=True)
    except Refusal as refusal:
        if refusal.code not in ("tear", "nothing-moves"):
            raise
        raise _cannot(request) from None
    except Collision as clash:
        raise collision_refusal(request, clash) from None
    lines, creases = folds_made(fine, after, changes)
    opened = tuple(fs.joints[k].segment for k in changes if fs.joints[k].folded)
    one, other = drawn
    ends = [side.fold[1] for side in pocket.sides]
    outline = (ends[0], one[1], pocket.landing, other[1], ends[1])
    return Flattened(after, lines, creases, opened, outline, drawn)


def _drawn(request: Request, pocket: Slit, side: Side) -> Segment:
    """Where the second crease meets the slit, and where that place comes to lie."""
    at = meet(_second_crease(pocket, side), line_through(*side.slit))
    if at is None or not point_on_segment(side.slit, at) or distance(at, pocket.tip) <= FOLDED:
        raise _cannot(request)
    return at, mirrored(line_through(*side.across), at)


def _divided(request: Request, pocket: Slit) -> tuple[Divided, list[str]]:
    """The paper divided along the new creases; of every piece what it is: 'below', or with the number of its
    side 'tip' or 'out'; '' for what stays.
    """
    state = request.state
    facets = [frozenset(side.facets) for side in pocket.sides]
    opening = [
        k
        for k, joint in enumerate(state.joints)
        for side in pocket.sides
        if any({joint.a, joint.b} & f for f in facets) and _lies(state, k, side.fold)
    ]
    below = component_beside(state, pocket.ridge, pocket.below, opening)
    fine = divided(state, pocket.ridge, below)
    groups = [(below, pocket.ridge, "below")]
    for n, side in enumerate(pocket.sides):
        across = line_through(*side.across)
        across = across if signed_distance(across, pocket.tip) > 0 else flipped(across)
        group = component_beside(state, across, side.facets, opening)
        if any(group & other for other, _, _ in groups):
            raise Refusal(
                "not-a-flap",
                "the layers of this pocket hold together elsewhere too, so it cannot be opened",
                "free the layers first",
                span=request.span,
            )
        second = _second_crease(pocket, side)
        fine = divided(fine, second, [k for k, p in enumerate(fine.parent) if p in group])
        groups += [(group, second, f"tip {n}"), (group, across, f"out {n}")]
    middles = [polygons.centroid(placed) for placed in fine.state.placed]
    tags = [
        next(
            (
                tag
                for group, line, tag in groups
                if parent in group and signed_distance(line, middle) > 0
            ),
            "",
        )
        for parent, middle in zip(fine.parent, middles, strict=True)
    ]
    return fine, tags


def _lies(state: State, joint: int, segment: Segment) -> bool:
    seg = map_segment(state.facets[state.joints[joint].a].place, state.joints[joint].segment)
    return all(point_on_segment(segment, p) for p in seg)


def _changes(state: State, pocket: Slit, tags: list[str]) -> Changes:
    """Joints that open, and those that fold, the topmost layer below as a valley."""
    changes: dict[int, Sense | None] = {}
    for k, joint in enumerate(state.joints):
        pair = {tags[joint.a], tags[joint.b]}
        p, q = map_segment(state.facets[joint.a].place, joint.segment)
        for n, side in enumerate(pocket.sides):
            if (
                (pair == {"below", f"tip {n}"} and _lies(state, k, side.fold))
                or pair == {f"tip {n}", f"out {n}"}
                or (pair == {f"out {n}", ""} and _along(line_through(*side.across), p, q))
            ):
                changes[k] = None
        if pair == {"below", ""} and _along(pocket.ridge, p, q):
            moved = joint.a if tags[joint.a] else joint.b
            covered = any(
                state.above(i, moved) for i in state.neighbours[moved] if tags[i] == "below"
            )
            changes[k] = None if covered or joint.folded else Sense.VALLEY
    return changes


def _along(line: Line, p: Point, q: Point) -> bool:
    return on_line(line, p) and on_line(line, q)


def _cannot(request: Request) -> Refusal:
    return Refusal(
        "cannot-flatten",
        "this pocket cannot be pressed flat: the paper around it would tear",
        "its sides must be folded away with the layer below, along the same line, and its slit must reach "
        "far enough",
        "free the layers beside it first",
        span=request.span,
    )
