"""Models opened, blown up, spread: poses whose paper gives, found by attempts from the gentlest on.

In: the paper as it lies flat, and the goals in the order in which hands do them. Out: the first `Pose` that
its proof lets pass; where none does, the last attempt with what is wrong with it, so that it can be said.

An attempt is a net (coarse first, for it keeps facets plane; finer where too few points are free), how soft
the paper begins, and how stiff its facets are against bending.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from threadpoolctl import threadpool_limits

from ..geometry.lines import Segment
from ..paper.state import State
from .elastic import Drive, Elastic, Skin, Stage
from .gaps import Gaps
from .goals import Blow, Goal, Raise
from .layers import Layers, layered
from .lengths import true_lengths
from .making import made
from .net import Net, hair_apart, knit
from .parting import Parting, parted
from .pieces import Array
from .pose import Edge, Line, Pose, Reached
from .proof import BENT
from .raising import asked_angle, raised_to
from .springs import Wanted, breath
from .symmetry import of_net, symmetries

#: Sides of triangles where the coarse net does not do (sheet units).
FINE = 0.125
#: How much of a width asked has to be there, and how much more may be.
_WIDTH = (0.85, 1.15)
#: Degrees that a raised part may be off, where paper bends.
_ANGLE = 10.0


@dataclass(frozen=True, slots=True)
class Attempt:
    """`soft`: how hard lengths are at first; `bend`: how stiff facets are; `fine`: longest side of a
    triangle.
    """

    soft: float
    bend: float
    fine: float


ATTEMPTS = tuple(
    Attempt(soft, bend, fine)
    for soft, bend in ((8.0, 0.05), (4.0, 0.05), (16.0, 0.1))
    for fine in (9.0, FINE)
)


def opened(state: State, goals: Sequence[Goal]) -> Pose:
    """The pose that these goals lead to.

    Raises Refusal where it cannot be told what opens; where no attempt passes, the pose that comes back
    says so itself (`Pose.proof`).
    """
    with threadpool_limits(
        1
    ):  # one thread adds in one order, and small systems take a tenth of the time
        first, *others = ATTEMPTS
        best = attempted(state, goals, first)
        for attempt in others:
            if best.proof.holds:
                break
            pose = attempted(state, goals, attempt)
            if pose.proof.holds or _worse(pose) < _worse(best):
                best = pose
    return best


def _worse(pose: Pose) -> tuple[int, float]:
    return len(pose.proof.faults), pose.proof.stretch


def attempted(state: State, goals: Sequence[Goal], attempt: Attempt) -> Pose:
    """What one attempt leads to."""
    creases = [s for goal in goals if isinstance(goal, Raise) for s in goal.creases]
    chords = _level_chords(state) if any(isinstance(goal, Blow) for goal in goals) else []
    layers = layered(state, creases, chords, attempt.fine)
    motions = symmetries(layers)
    gaps = Gaps(layers)
    parting = parted(gaps, goals, motions)
    net = knit(layers, parting.opened)
    for low, high, _ in parting.pairs.values():
        motions = [m for m in motions if {int(m.to[low]), int(m.to[high])} == {low, high}]
    paper = Elastic(
        net,
        [of_net(m, net) for m in motions],
        np.where(net.where(Line.FOLD), 0.03, attempt.bend),
        net.flat.copy(),
        attempt.soft,
        hair_apart(layers, net),
    )
    paper.contact = min(100.0, 3 * attempt.soft)
    stage = Stage(_wanted(net, parting), _drive(net, goals), _skin(layers, parting, goals))
    if stage.skin is not None:
        _smooth_skin(paper, parting, goals)
    paper.go(stage, steps=16, tries=15)
    for hard in np.geomspace(attempt.soft, 300.0, 7):
        paper.hard, paper.contact = float(hard), min(100.0, 3 * float(hard))
        paper.relax(20)
    paper.let_go(80)
    return _posed(layers, paper, goals, parting)


def _wanted(net: Net, parting: Parting) -> Wanted | None:
    if not parting.pairs:
        return None
    pairs = list(parting.pairs.values())
    return Wanted(
        np.array([[net.of[high], net.of[low]] for low, high, _ in pairs]),
        np.array([[1.0, -1.0]] * len(pairs)),
        np.array([[0.0, 0.0, 1.0]] * len(pairs)),
        np.array([width for _, _, width in pairs]),
        np.full(len(pairs), 20.0),
    )


def _drive(net: Net, goals: Sequence[Goal]) -> Drive | None:
    pieces = net.pieces
    asked = {
        k: asked_angle(pieces, k, goal)
        for goal in goals
        if isinstance(goal, Raise)
        for k in pieces.on(goal.creases)
    }
    hinges = [n for n, k in enumerate(net.seams) if int(k) in asked]
    if not hinges:
        return None
    return Drive(np.array(hinges), np.array([asked[int(net.seams[n])] for n in hinges]), 0.5)


def _skin(layers: Layers, parting: Parting, goals: Sequence[Goal]) -> Skin | None:
    blown = [goal for goal in goals if isinstance(goal, Blow)]
    if not blown:
        return None
    skin = sorted(t for t, sides in parting.skin.items() if len(sides) == 1)
    fronts = layers.fronts
    outward = [(1.0 if fronts[t] else -1.0) * (-1 if 1 in parting.skin[t] else 1) for t in skin]
    closed = all(goal.edge is None for goal in blown)
    return Skin(np.array(skin), np.array(outward), 5.0 if closed else 0.05)


def _smooth_skin(paper: Elastic, parting: Parting, goals: Sequence[Goal]) -> None:
    """Folds of a blown skin want to be flat."""
    seams = paper.net.pieces.seams
    closed = all(goal.edge is None for goal in goals if isinstance(goal, Blow))
    for n, k in enumerate(paper.net.seams):
        seam = seams[int(k)]
        if seam.kind is Line.FOLD and seam.left in parting.skin and seam.right in parting.skin:
            paper.rest[n], paper.stiff[n] = 0.0, (0.1 if closed else 0.5)


def _level_chords(state: State) -> list[Segment]:
    """Level lines between corners of the flat model that mirror each other: a skin that is blown bends
    there.
    """
    rings = [shapely.Polygon(r).buffer(1e-5) for r in state.outlines]
    whole = shapely.union_all(rings)
    corners = sorted({p for ring in state.outlines for p in ring})
    middle = (min(x for x, _ in corners) + max(x for x, _ in corners)) / 2
    return [
        ((ax, ay), (bx, by))
        for ax, ay in corners
        for bx, by in corners
        if ax < bx - 1e-3
        and abs(ay - by) < 1e-4
        and abs(ax + bx - 2 * middle) < 1e-4
        and whole.covers(shapely.LineString([(ax, ay), (bx, by)]))
    ]


def _posed(layers: Layers, paper: Elastic, goals: Sequence[Goal], parting: Parting) -> Pose:
    unit = layers.pieces.state.sheet.unit_mm

    def measure(edges: Sequence[Edge], space: Array) -> list[Reached]:
        out: list[Reached] = []
        for n, goal in enumerate(goals):
            if n in parting.pairs:
                low, high, asked = parting.pairs[n]
                got, asked = math.dist(space[low], space[high]), asked * unit
                out.append(
                    Reached("width", asked, got, "mm", _WIDTH[0] <= got / asked <= _WIDTH[1])
                )
            elif isinstance(goal, Raise):
                found = raised_to(goal, [edges[k] for k in layers.pieces.on(goal.creases)])
                near = abs(found.got - found.asked) <= _ANGLE
                out.append(Reached(found.goal, found.asked, found.got, found.unit, near))
            elif isinstance(goal, Blow):
                skin = _skin(layers, parting, [goal])
                assert skin is not None
                corners = layers.corners[skin.triangles]
                volume = breath(space, corners, skin.outward)[0] / 1000
                out.append(Reached("blow", 0.0, volume, "cm³", volume > 0))
        return out

    still = 0
    places = true_lengths(layers.pieces, paper.x[paper.net.of])
    return made(layers.pieces, places, goals, still, measure, BENT)
