"""The pose that paper has come to: put back where it lay, made exact where its facets are plane, measured.

In: what an attempt has found (`Found`). Out: a `Pose` with its proof. Where all facets have stayed plane the
angles are corrected until they close (`closing.py`); then the pose passes the rigid limits, and its angles
are those that were asked.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass

import numpy as np

from .closing import PLANE, closed, folded_back, laid_flat
from .elastic import Drive, Elastic, Skin
from .gaps import Gaps
from .goals import Blow, Bring, Floor, Goal, Hold, Part, Pull, Raise, Stages
from .gussets import Gusset
from .holding import held_piece, together
from .layers import Layers
from .lengths import laid_back, true_together
from .making import made
from .measuring import brought_to, opened_by
from .parting import Parting, layers_beside
from .pieces import Array
from .pose import Edge, Line, Pose, Reached
from .proof import BENT, RIGID, Limits, fold_angle, normal
from .pulling import drawn_out
from .raising import alike, lastly, parts, raised_to, walled
from .springs import Indices, breath
from .tips import come_down
from .turning import turned

#: Degrees that a raised part may be off, where paper bends.
_ANGLE = 5.0
#: The least part of what its skin could hold that a model must hold to look blown up.
_LEAST_BLOWN = 0.02
#: Degrees from which on layers that fingers part are open.
_OPEN = 1.0


@dataclass(frozen=True)
class Found:
    """Paper that has come to rest, and what it was asked; `meant` are seams that it may break along."""

    layers: Layers
    paper: Elastic
    stages: Stages
    parting: Parting
    corners: Sequence[Gusset]
    meant: Collection[int]

    @property
    def goals(self) -> list[Goal]:
        """What was asked, one after the other."""
        return [goal for some in self.stages for goal in some]

    @property
    def freed(self) -> set[int]:
        """Seams of raised creases that have given way beside a wall."""
        return set(self.layers.pieces.on([g.freed for g in self.corners]))

    @property
    def ways(self) -> dict[int, float]:
        """The angles that seams have come to, followed through shut: their sign tells what is inside."""
        seams = zip(self.paper.net.seams, self.paper.angle, strict=True)
        return {int(k): float(angle) for k, angle in seams}

    def turning(self) -> list[int]:
        """Seams that paper was raised along."""
        creases = [c for goal in self.goals if isinstance(goal, Raise) for c in goal.creases]
        return self.layers.pieces.on(creases)


def posed(found: Found) -> Pose:
    """The pose; exact where that is possible."""
    places = _laid(found, _places(found))
    pose = _made(found, places, BENT)
    asked = _asked(found, places)
    pieces, folded = found.layers.pieces, _folded(found)
    angles = closed(pieces, places, folded, asked, found.ways)
    if angles is None:
        return pose
    back = folded_back(pieces, angles, _still(found), asked)
    tried: list[list[float]] = []
    slack = laid_flat(pieces, back, folded, asked)
    down = come_down(pieces, _places_at(found, slack), slack, _still(found), asked)
    for some in (down, slack, back, angles):
        if some not in tried:
            tried.append(some)
            exact = _turned(found, some)
            if exact.proof.holds:
                return exact
    return pose


def swung(found: Found, last: Drive) -> Pose | None:
    """The pose when the last stage only swings flaps of paper that stands already; None where others have to
    give way for it.
    """
    pieces, net = found.layers.pieces, found.paper.net
    folded = _folded(found)
    if not _plane(found, set(folded)):
        return None
    seams = [int(net.seams[n]) for n in last.hinges]
    places = _places(found)
    asked = {k: angle for k, angle in _asked(found, places).items() if k not in set(seams)}
    angles = closed(pieces, places, folded, asked, found.ways)
    if angles is None:
        return None
    angles = folded_back(pieces, angles, _still(found), asked)
    for k, angle in zip(seams, last.to, strict=True):
        angles[k] = float(angle)
    pose = _turned(found, angles)
    return pose if pose.proof.holds else None


def _plane(found: Found, folded: Collection[int]) -> bool:
    """Whether the paper is plane but for its folds, as nearly as it can be corrected to be."""
    angles = zip(found.paper.net.seams, found.paper.angle, strict=True)
    return all(abs(float(a)) <= 2 * PLANE for k, a in angles if int(k) not in folded)


def _places(found: Found) -> Array:
    """Where the points are now, with true lengths."""
    return true_together(found.paper.net, found.paper.x)


def _turned(found: Found, angles: Sequence[float]) -> Pose:
    """The exact pose of these angles."""
    return _made(found, _laid(found, _places_at(found, angles)), RIGID)


def _places_at(found: Found, angles: Sequence[float]) -> Array:
    """Where the points are with these angles, the piece that stays where it lies flat."""
    return turned(found.layers.pieces, angles, _still(found))[0]


def _still(found: Found) -> int:
    holds = [goal for goal in found.goals if isinstance(goal, Hold)]
    if holds:
        return held_piece(found.layers.pieces, holds[0])
    return parts(found.layers.pieces, found.turning()).index(0)


def _made(found: Found, places: Array, limits: Limits) -> Pose:
    paper = found.paper
    return made(
        found.layers.pieces,
        places,
        found.stages,
        _still(found),
        lambda edges, space: _measured(found, edges, space),
        limits,
        found.layers.overlapping,
        passed=[x[paper.net.of] for x in paper.passed],
        meant=found.meant,
        ways=found.ways,
    )


def _laid(found: Found, places: Array) -> Array:
    """Places moved back to where the paper lay: what has stayed to its own place, where something has.

    Where more than two parts are alike, none of them stays rather than the others: all are laid back as well
    as can be, and the points that they share keep their height.
    """
    layers = found.layers
    flat = np.c_[layers.flat, np.zeros(len(layers.flat))]
    turning = found.turning()
    if not turning:  # a breath pushes it off, and it is brought back where it lay
        return places - places.mean(axis=0) + flat.mean(axis=0)
    rings = layers.pieces.rings
    alike_ones = [{v for k in one for v in rings[k]} for one in alike(layers.pieces, turning)]
    if len(alike_ones) < 3:
        return laid_back(places, sorted(alike_ones[0]), flat)
    places = laid_back(places, range(len(flat)), flat)
    shared = sorted(set.intersection(*alike_ones))
    return places - [0.0, 0.0, float(places[shared, 2].mean())] if shared else places


def _folded(found: Found) -> list[int]:
    """Seams that paper may be folded along: all but bends, and the lines that walls need."""
    pieces = found.layers.pieces
    lines = {*found.turning(), *pieces.on([g.line for g in found.corners])}
    return [
        k
        for k, seam in enumerate(pieces.seams)
        if seam.right >= 0 and (seam.kind is not Line.BEND or k in lines)
    ]


def _asked(found: Found, places: Array) -> dict[int, float]:
    """The angles that raised creases are to have, each in the sense that it has come to."""
    pieces, goals = found.layers.pieces, found.goals
    asked: dict[int, float] = {}
    for n, seams in lastly(pieces, goals).items():
        goal = goals[n]
        assert isinstance(goal, Raise)
        for k in (k for k in seams if k not in found.freed):
            seam = pieces.seams[k]
            rings = pieces.rings[seam.left], pieces.rings[seam.right]
            now = fold_angle(places, *rings, (seam.start, seam.end))
            asked[k] = math.copysign(math.pi - math.radians(goal.angle), now)
    return asked


def _measured(found: Found, edges: Sequence[Edge], space: Array) -> list[Reached]:
    layers, parting = found.layers, found.parting
    lasting = lastly(layers.pieces, found.goals)
    out: list[Reached] = []
    for n, goal in enumerate(found.goals):
        if n in parting.pairs:
            out.append(opened_by(layers.pieces, parting.pairs[n], space))
        elif n in lasting and isinstance(goal, Raise):
            stand = [k for k in lasting[n] if k not in found.freed]
            reached = raised_to(goal, [edges[k] for k in stand or lasting[n]])
            near = abs(reached.got - reached.asked) <= _ANGLE
            out.append(Reached(reached.goal, reached.asked, reached.got, reached.unit, near))
            if isinstance(goal, Floor):
                out.append(walled(layers.pieces, goal, space))
        elif isinstance(goal, Bring):
            out.append(brought_to(layers.pieces, goal, space))
        elif isinstance(goal, Hold):
            out.append(together(layers.pieces, space, goal))
        elif isinstance(goal, Pull):
            out.append(drawn_out(layers.pieces, goal, space))
        elif isinstance(goal, Part) and goal.whole:
            angle = _between(layers, goal, space)
            out.append(Reached("opening", 180.0, angle, "degrees", angle > _OPEN))
        elif isinstance(goal, Blow):
            skin = skin_of(layers, parting, [goal])
            assert skin is not None
            corners = layers.corners[skin.triangles]
            volume = breath(space, corners, skin.outward)[0] / 1000
            least = _LEAST_BLOWN * _round(space, corners) / 1000
            out.append(Reached("blow", least, volume, "cm³", volume > least))
    return out


def _round(space: Array, corners: Indices) -> float:
    """Volume of the sphere that triangles could cover, in the points' unit."""
    a, b, c = (space[corners[:, k]] for k in range(3))
    n = np.cross(b - a, c - a)
    area = float(np.sqrt((n * n).sum(axis=1)).sum()) / 2
    return area**1.5 / (6 * math.sqrt(math.pi))


def _between(layers: Layers, goal: Part, space: Array) -> float:
    """Degrees that a layer and the one that it was parted from are turned against each other."""
    pair = layers_beside(Gaps(layers), goal)
    one, other = (
        normal(space[layers.corners[t]]) * (1.0 if layers.fronts[t] else -1.0) for t in pair
    )
    return math.degrees(math.acos(max(-1.0, min(1.0, float(one @ other)))))


def skin_of(layers: Layers, parting: Parting, goals: Sequence[Goal]) -> Skin | None:
    """What a breath presses on, where one of these goals is one."""
    blown = [goal for goal in goals if isinstance(goal, Blow)]
    if not blown:
        return None
    skin = sorted(t for t, sides in parting.skin.items() if len(sides) == 1)
    fronts = layers.fronts
    outward = [(1.0 if fronts[t] else -1.0) * (-1 if 1 in parting.skin[t] else 1) for t in skin]
    closed = all(goal.edge is None for goal in blown)
    return Skin(np.array(skin), np.array(outward), 5.0 if closed else 0.05)
