"""Flaps raised on a model that stands: they turn as they are, and nothing else moves.

In: the `Pose` of the stages before, and the flaps that hands raise then. Out: the `Pose` with them turned
about their lines, proved as any other; None where the lines do not part a flap from the rest: other paper has
to give way then, which is for the solver.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Sequence

import numpy as np

from ..paper.state import State
from ..paper.union_find import UnionFind
from .curling import laid_out, lines_of
from .goals import Raise, Stages
from .making import made
from .measuring import measured_again
from .pieces import Array, Pieces, cut_up
from .pose import Edge, Pose, Reached
from .proof import BENT, normal, turned_by
from .raising import asked_angle, lastly, parts, raised_to
from .turning import rotation

#: Sheet units within which two turns of one point agree.
_AGREE = 1e-9
#: Shares of the way at which the paper is looked at, for what comes to lie on what.
_WAY = (0.25, 0.5, 0.75, 0.95)


def raised_on(state: State, base: Pose, stages: Stages) -> Pose | None:
    """The pose of `base`, that of all stages but the last, with the flaps of the last stage raised.

    Raises Refusal, 'no-crease', where a goal's segments are no lines of the paper.
    """
    goals = [goal for goal in stages[-1] if isinstance(goal, Raise)]
    lines, bends = lines_of(base, state.sheet.unit_mm)
    pieces = cut_up(state, [*lines, *(s for goal in goals for s in goal.creases)])
    owners, places = laid_out(pieces, base)
    lasting = lastly(pieces, goals)
    turns = {
        k: asked_angle(pieces, k, goals[n]) - _angle(pieces, places, k)
        for n, seams in lasting.items()
        for k in seams
    }
    part = parts(pieces, list(turns))
    home = [k for k, number in enumerate(part) if number == 0]
    still = next((k for k in home if owners[k] == base.still), home[0])
    moved = _turned(pieces, places, turns, still)
    if moved is None:
        return None
    way = [_turned(pieces, places, {k: a * t for k, a in turns.items()}, still) for t in _WAY]
    done = [goal for some in stages[:-1] for goal in some]

    def measure(edges: Sequence[Edge], space: Array) -> list[Reached]:
        again = {k for seams in lasting.values() for k in seams}
        kept = [
            one
            for one in measured_again(pieces, space, base.goals, base.proof.reached, done)
            if one.goal != "raise" or not _said_again(pieces, base, again)
        ]
        new = (raised_to(goals[n], [edges[k] for k in seams]) for n, seams in lasting.items())
        return [*kept, *new]

    return made(
        pieces,
        moved,
        stages,
        still,
        measure,
        BENT,
        passed=[one for one in way if one is not None],
        meant=pieces.on(bends),
    )


def _said_again(pieces: Pieces, base: Pose, seams: set[int]) -> bool:
    """Whether one of these seams was raised before: what it came to then is overtaken."""
    raised = [goal for goal in base.goals if isinstance(goal, Raise)]
    return any(k in seams for goal in raised for k in pieces.on(goal.creases))


def _angle(pieces: Pieces, places: Array, k: int) -> float:
    """Radians by which a seam is folded in space; what lies folded flat keeps the sense of its fold."""
    seam = pieces.seams[k]
    left, right = (normal(places[list(pieces.rings[side])]) for side in (seam.left, seam.right))
    angle = turned_by(left, right, places[seam.start], places[seam.end])
    flat = math.pi - abs(angle) < 1e-6
    return math.copysign(angle, seam.angle) if flat and seam.angle else angle


def _turned(pieces: Pieces, places: Array, turns: dict[int, float], still: int) -> Array | None:
    """Places with every part turned about the seams by which it hangs; None where parts do not hang so."""
    joined = UnionFind(len(pieces.rings))
    around: dict[int, list[int]] = {}
    for k, seam in enumerate(pieces.seams):
        if seam.right >= 0 and k not in turns:
            joined.unite(seam.left, seam.right)
    for k in turns:
        seam = pieces.seams[k]
        one, other = joined.find(seam.left), joined.find(seam.right)
        if one == other:
            return None
        around.setdefault(one, []).append(k)
        around.setdefault(other, []).append(k)
    motion = {joined.find(still): (np.eye(3), np.zeros(3))}
    waiting = deque(motion)
    while waiting:
        part = waiting.popleft()
        turn, shift = motion[part]
        for k in around.get(part, ()):
            seam = pieces.seams[k]
            one, other = joined.find(seam.left), joined.find(seam.right)
            beyond = other if one == part else one
            if beyond in motion:
                continue
            start, end = places[seam.start], places[seam.end]
            about = rotation(end - start, turns[k] if beyond == one else -turns[k])
            motion[beyond] = turn @ about, turn @ (start - about @ start) + shift
            waiting.append(beyond)
    found = np.full(places.shape, np.nan)
    for k, ring in enumerate(pieces.rings):
        if joined.find(k) not in motion:
            return None
        turn, shift = motion[joined.find(k)]
        here = places[list(ring)] @ turn.T + shift
        known = found[list(ring)]
        fixed = ~np.isnan(known[:, 0])
        if fixed.any() and float(np.abs(known[fixed] - here[fixed]).max()) > _AGREE:
            return None
        found[list(ring)] = np.where(fixed[:, None], known, here)
    return found
