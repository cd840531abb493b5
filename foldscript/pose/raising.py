"""Flaps raised about creases: the exact pose, each flap turned as one.

In: the paper as it lies flat, and the goals. Out: a `Pose`. Nothing has to be solved: where a line of
creases parts the model, what lies beyond it is turned about it. Where it does not part it, other creases
have to give way, and the turned pieces would gape; the proof finds that, and it is for the solvers to find
a pose.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from ..geometry import polygons
from ..geometry.lines import Point, Segment
from ..paper.state import State
from ..paper.union_find import UnionFind
from ..source.diagnostics import Refusal
from .flattening import Opened
from .goals import Floor, Goal, Hold, Raise
from .holding import held_piece, together
from .making import made, overlapping
from .passing import Passage, passage
from .pieces import Array, Pieces, cut_up
from .pose import Amiss, Edge, Fault, Pose, Reached
from .proof import RIGID
from .saying import millimetres
from .turning import turned

#: How high walls stand at least over a floor, as a share of its width.
_WALL = 0.1
#: Degrees that a raised flap may be off.
_ENOUGH = 1e-6
#: A part of so much of the paper stays, whatever is raised from it.
_MOST = 0.6
#: Middles of parts nearer than this (sheet units) lie over each other.
_APART = 1e-3


def raised(
    state: State,
    goals: Sequence[Raise],
    flaps: Sequence[Opened] = (),
    holds: Sequence[Hold] = (),
) -> Pose:
    """The pose with every flap turned about its creases, and some opened flat towards their tips.

    Raises Refusal, 'no-crease', where a goal's segments are no lines of the paper.
    """
    bends = [s for flap in flaps for s in flap.on_sheet(state)]
    pieces = cut_up(state, [*(s for goal in goals for s in goal.creases), *bends])
    angles = [seam.angle for seam in pieces.seams]
    lasting = lastly(pieces, goals)
    for n, seams in lasting.items():
        for k in seams:
            angles[k] = asked_angle(pieces, k, goals[n])
    along = list(angles)
    flat = {k: angle for flap in flaps for k, angle in flap.folds(pieces, angles).items()}
    for k, angle in flat.items():
        angles[k] = angle
    turning = [k for seams in lasting.values() for k in seams]
    still = staying(pieces, turning, [k for flap in flaps for k in flap.moved(pieces)])
    if holds:
        still = held_piece(pieces, holds[0])
    stand = {n: [k for k in seams if k not in flat] for n, seams in lasting.items()}
    places, gap = turned(pieces, angles, still)

    def measure(edges: Sequence[Edge], space: Array) -> list[Reached]:
        angles = (raised_to(goals[n], [edges[k] for k in seams]) for n, seams in stand.items())
        floors = (walled(pieces, goal, space) for goal in goals if isinstance(goal, Floor))
        return [*angles, *floors, *(together(pieces, space, hold) for hold in holds)]

    layers = overlapping(pieces)
    closes = gap < RIGID.apart  # where it gapes, no way has to be looked for
    # what is opened flat, is so when all stands; of flaps raised by one word hands lift the upper one first
    groups = [some for seams in lasting.values() for some in pieces.by_line(seams)]
    way = passage(pieces, along, groups, still, layers) if closes else Passage(gapes=True)
    pose = made(
        pieces,
        places,
        ((*goals, *holds),),
        still,
        measure,
        RIGID,
        layers,
        passed=way.places,
        ways=dict(enumerate(angles)),
    )
    blocked = _blocked(way)
    if blocked is not None and pose.proof.holds:
        where = None if way.under is None else way.under[2]
        proof = replace(pose.proof, crossing=way.depth, faults=(blocked,), where=where)
        return replace(pose, proof=proof)
    return pose


def _blocked(way: Passage) -> Fault | None:
    """What is in the way, None where it is free."""
    if way.gapes:
        return Fault(Amiss.HELD, "other creases would have to give way")
    if way.under is not None:
        return Fault(Amiss.COVERED, "a flap lies under other paper, which is in its way")
    if way.depth > RIGID.crossing:
        said = f"paper passes {millimetres(way.depth)} through paper on its way"
        return Fault(Amiss.THROUGH, said)
    return None


def lastly(pieces: Pieces, goals: Sequence[Goal]) -> dict[int, list[int]]:
    """By the number of each goal that raises flaps the seams whose angle is its own in the end: what is
    raised again later stands as that has it.

    Raises Refusal, 'no-crease', where a goal's segments are no lines of the paper.
    """
    found: dict[int, list[int]] = {}
    again: set[int] = set()
    for n, goal in reversed(list(enumerate(goals))):
        if isinstance(goal, Raise):
            seams = pieces.on(goal.creases)
            if not seams:
                raise Refusal("no-crease", "there is no crease to raise the paper about")
            found[n] = [k for k in seams if k not in again]
            again.update(seams)
    return {n: found[n] for n in sorted(found) if found[n]}


def asked_angle(pieces: Pieces, seam: int, goal: Raise) -> float:
    """Radians that a seam is to be folded by: in the sense that it has, or as the reader sees the goal's."""
    here = pieces.seams[seam]
    fold = math.pi - math.radians(goal.angle)
    if here.angle:
        return math.copysign(fold, here.angle)
    for segment, sense in zip(goal.creases, goal.senses, strict=False):
        if sense and pieces.on([segment], [seam]):
            return fold * sense
    facet = pieces.state.facets[pieces.facets[here.left]]
    return fold if facet.shows_front else -fold


def raised_to(goal: Raise, edges: Sequence[Edge]) -> Reached:
    """What angle the paper stands at, the farthest off of all its creases; flat where a flap that is opened
    flat has them all.
    """
    stands = [180.0 - abs(math.degrees(edge.angle)) for edge in edges]
    got = max(stands, key=lambda angle: abs(angle - goal.angle), default=180.0)
    return Reached("raise", goal.angle, got, "degrees", abs(got - goal.angle) <= _ENOUGH)


def walled(pieces: Pieces, floor: Floor, space: Array) -> Reached:
    """How high the paper stands over a floor at most, mm: with no walls it has only opened flat."""
    ends = {
        v for k in pieces.on(floor.creases) for v in (pieces.seams[k].start, pieces.seams[k].end)
    }
    spots = space[sorted(ends)]
    middle = spots.mean(axis=0)
    normal = np.linalg.svd(spots - middle)[2][-1]
    high = float(np.abs((space - middle) @ normal).max())
    least = _WALL * float(np.ptp(spots, axis=0).max())
    return Reached("walls", least, high, "mm", high >= least)


def parts(pieces: Pieces, seams: Sequence[int]) -> list[int]:
    """For each piece which part it is in, when these seams are taken away.

    Part 0 is the one that stays: one that is most of the paper, as the body above its feet; else what most
    of the seams bound, as the body between two wings and the floor between four walls; where two are
    bounded alike, the larger.
    """
    number = {k: n for n, some in enumerate(_ranked(pieces, seams)) for k in some.pieces}
    return [number[k] for k in range(len(pieces.rings))]


def alike(pieces: Pieces, seams: Sequence[int]) -> list[set[int]]:
    """The pieces of each part that could as well be the one that stays; of parts that lie over each other
    only the first.

    Where there are more than two, as of a sheet that is raised along lines that cross in its middle, none of
    them stays rather than the others.
    """
    first, *others = _ranked(pieces, seams)
    found = [first]
    for part in others:
        apart = all(math.dist(part.at, one.at) > _APART for one in found)
        if part.worth == first.worth and apart:
            found.append(part)
    return [set(part.pieces) for part in found]


@dataclass(frozen=True, slots=True)
class _Part:
    """A part of the sheet: `worth` is less the more it is one that stays, `at` the folded plane's place of
    its middle.
    """

    worth: tuple[bool, float, float, float]
    at: Point
    pieces: tuple[int, ...]


def _ranked(pieces: Pieces, seams: Sequence[int]) -> list[_Part]:
    """The parts that these seams leave, the one that stays first."""
    gone = set(seams)
    joined = UnionFind(len(pieces.rings))
    for k, seam in enumerate(pieces.seams):
        if seam.right >= 0 and k not in gone:
            joined.unite(seam.left, seam.right)
    bound = [0.0] * len(pieces.rings)
    for k in gone:
        seam = pieces.seams[k]
        if joined.find(seam.left) != joined.find(seam.right):
            length = math.dist(pieces.points[seam.start], pieces.points[seam.end])
            bound[seam.left] += length
            bound[seam.right] += length
    areas = pieces.areas()
    most = _MOST * sum(areas)
    middles = [_middle(pieces, k) for k in range(len(pieces.rings))]
    low, high = np.min(middles, axis=0), np.max(middles, axis=0)
    found: list[_Part] = []
    for some in joined.sets():
        weights = [areas[k] for k in some]
        x, y = np.average([middles[k] for k in some], axis=0, weights=weights)
        worth = (
            sum(weights) < most,
            -round(sum(bound[k] for k in some), 6),
            -round(sum(weights), 6),
            round(math.dist((x, y), (low + high) / 2), 6),
        )
        found.append(_Part(worth, (float(x), float(y)), tuple(some)))
    return sorted(found, key=lambda part: (part.worth, part.pieces))


def _middle(pieces: Pieces, k: int) -> Point:
    """Where the middle of a piece lies in the folded plane."""
    return pieces.state.facets[pieces.facets[k]].place(polygons.centroid(pieces.polygon(k)))


def staying(pieces: Pieces, seams: Sequence[int], moved: Sequence[int] = ()) -> int:
    """The first piece of the part that stays, of those that are not moved otherwise; where all of it is,
    any other piece that lies still, or the first of all.
    """
    part = parts(pieces, seams)
    lying = [k for k in range(len(part)) if k not in moved]
    return min(lying, key=lambda k: (part[k] != 0, k), default=0)


def hanging(
    state: State, folds: Sequence[Segment], creases: Sequence[Segment]
) -> tuple[Segment, ...]:
    """The flat creases on a line of folds by which a flap hangs besides these: it turns about both.

    Others on the line run through paper that stays, as the diagonals of a table's top under its legs. Of two
    that would do, that is one whose flap is the smaller.
    """
    pieces = cut_up(state, [*folds, *creases])
    turning = pieces.on(folds)
    seams = {crease: pieces.on([crease]) for crease in creases}
    areas = pieces.areas()

    def parted(kept: Sequence[Segment]) -> UnionFind:
        gone = {*turning, *(k for crease in kept for k in seams[crease])}
        joined = UnionFind(len(pieces.rings))
        for k, seam in enumerate(pieces.seams):
            if seam.right >= 0 and k not in gone:
                joined.unite(seam.left, seam.right)
        return joined

    def apart(joined: UnionFind) -> list[int]:
        """Folds whose sides are apart."""
        ends = ((k, pieces.seams[k]) for k in turning)
        return [k for k, seam in ends if joined.find(seam.left) != joined.find(seam.right)]

    whole = parted(creases)
    flaps = apart(whole)
    size = {k: sum(areas[i] for i in some) for some in whole.sets() for k in some}

    def smaller(crease: Segment) -> float:
        sides = (pieces.seams[k] for k in seams[crease])
        return min((size[side] for seam in sides for side in (seam.left, seam.right)), default=0.0)

    kept = sorted(creases, key=lambda crease: (-round(smaller(crease), 9), crease))
    for crease in tuple(kept):
        others = [c for c in kept if c != crease]
        if apart(parted(others)) == flaps:
            kept = others
    return tuple(crease for crease in creases if crease in kept)


def flaps(state: State, creases: Sequence[Segment]) -> int:
    """How many parts turn about these creases, the one that stays not counted."""
    pieces = cut_up(state, creases)
    return max(parts(pieces, pieces.on(creases)))


def between(state: State, creases: Sequence[Segment], at: Sequence[Point]) -> tuple[Segment, ...]:
    """Those of some creases that have on either side a part with one of these places of the sheet."""
    pieces = cut_up(state, creases)
    part = parts(pieces, pieces.on(creases))
    own = {part[_piece_with(pieces, place)] for place in at}

    def inside(crease: Segment) -> bool:
        sides = [pieces.seams[k] for k in pieces.on([crease])]
        return bool(sides) and all({part[s.left], part[s.right]} <= own for s in sides)

    return tuple(crease for crease in creases if inside(crease))


def _piece_with(pieces: Pieces, at: Point) -> int:
    """The piece that a place of the sheet lies deepest in."""
    return max(range(len(pieces.rings)), key=lambda k: polygons.depth(pieces.polygon(k), at))


def bounding(state: State, creases: Sequence[Segment], at: Point) -> tuple[Segment, ...]:
    """Those of some creases by which the part with a place of the sheet hangs; () where that part stays."""
    pieces = cut_up(state, creases)
    part = parts(pieces, pieces.on(creases))
    own = part[_piece_with(pieces, at)]
    if own == 0:
        return ()

    def beside(crease: Segment) -> bool:
        sides = (pieces.seams[k] for k in pieces.on([crease]))
        return any((part[s.left] == own) != (part[s.right] == own) for s in sides)

    return tuple(crease for crease in creases if beside(crease))


def held_parts(state: State, creases: Sequence[Segment], holds: Sequence[Hold]) -> list[int]:
    """For each place that is held the number of the part that it is in when paper is raised about creases."""
    pieces = cut_up(state, creases)
    part = parts(pieces, pieces.on(creases))
    return [part[held_piece(pieces, hold)] for hold in holds]
