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

from ..geometry.lines import Point, Segment, midpoint, point_on_segment
from ..paper.state import State
from .driving import drive
from .elastic import Elastic, Stage, Work
from .gaps import Gaps
from .goals import Blow, Bring, Goal, Hold, Open, Part, Pull, Raise, Spread, Stages
from .gussets import gussets
from .holding import held_corners, held_points
from .layers import SNAP, Layers, layered
from .measuring import brought
from .net import Net, hair_apart, knit
from .own_frame import own_frame
from .parting import Parting, led, parted, slipped_into
from .pieces import Array
from .pose import Line, Pose
from .posing import Found, posed, skin_of, swung
from .pulling import aside, beside_held, pulled
from .springs import Wanted
from .symmetry import Motion, of_net, symmetries

#: Sides of triangles where the coarse net does not do (sheet units).
FINE = 0.125
#: From so many points on paper is pulled to its goals in longer steps.
_MANY = 150


@dataclass(frozen=True, slots=True)
class Attempt:
    """How it is tried.

    Attributes
    ----------
    soft : how hard lengths are at first
    bend, crease, fold, driven : how stiff facets, flat creases, folds, and what hands turn are
    fine : longest side of a triangle
    """

    soft: float
    bend: float
    crease: float
    fold: float
    driven: float
    fine: float


#: Facets that stay plane while walls are raised.
STIFF = Attempt(300.0, 3.0, 0.02, 0.02, 3.0, 9.0)
GENTLE = tuple(
    Attempt(soft, bend, bend, 0.03, 0.5, fine)
    for soft, bend in ((8.0, 0.05), (4.0, 0.05), (16.0, 0.1))
    for fine in (9.0, FINE)
)
#: What is closed all round: the coarse net that gives most, then fine ones.
BLOWN = (GENTLE[2], *sorted((*GENTLE[:2], *GENTLE[3:]), key=lambda a: a.fine))
#: Bends between these (radians) are neither of a plane wall nor its edge.
_WALL = (math.radians(15), math.radians(65))


def opened(state: State, stages: Stages, work: Work | None = None) -> Pose:
    """The pose that these goals lead to, with the work that is left, or as much as a pose may take.

    Raises Refusal where it cannot be told what opens; where no attempt passes, the pose that comes back
    says so itself (`Pose.proof`).
    """
    frame = own_frame(state, stages)
    goals = [goal for some in stages for goal in some]
    # what is blown up bends along lines that are level as it lies, whatever frame it is solved in
    blown = any(isinstance(goal, Blow) for goal in goals)
    chords = frame.lines(_level_chords(state)) if blown else []
    raises = all(isinstance(goal, Raise | Bring | Hold) for goal in goals) or any(
        isinstance(goal, Part) for goal in goals
    )
    with threadpool_limits(
        1
    ):  # one thread adds in one order, and small systems take a tenth of the time
        work = work or Work()
        inflates = _inflates(stages)
        gentle = BLOWN if inflates else GENTLE
        first, *others = (STIFF, *gentle) if raises else (*gentle, STIFF)
        best = attempted(frame.state, frame.stages, first, work, chords)
        done = best.proof.holds and not (inflates and _bulges(best))
        for attempt in others:
            if done or work.left <= 0:
                break
            pose = attempted(frame.state, frame.stages, attempt, work, chords)
            done = pose.proof.holds
            if done or _worse(pose) < _worse(best):
                best = pose
    return frame.back(best, stages)


def _inflates(stages: Stages) -> bool:
    """Whether what is closed all round is blown up."""
    return any(goal == Blow(None) for goals in stages for goal in goals)


def _bulges(pose: Pose) -> bool:
    """Whether walls are bent that could be plane, with edges between them: a finer net may show them so."""
    soft, sharp = _WALL
    bends = (abs(edge.angle) for edge in pose.edges if edge.kind is Line.BEND)
    return any(soft < bend < sharp for bend in bends)


def _worse(pose: Pose) -> tuple[int, float]:
    return len(pose.proof.faults), pose.proof.stretch


def attempted(
    state: State, stages: Stages, attempt: Attempt, work: Work, chords: Sequence[Segment] = ()
) -> Pose:
    """What one attempt leads to, with the work that is left; a skin that is blown bends along the chords."""
    goals = [goal for some in stages for goal in some]
    walls = [
        (n, crease)
        for n, some in enumerate(stages)
        for goal in some
        if isinstance(goal, Raise)
        for crease in goal.creases
    ]
    corners = gussets(state, walls)
    lines = [*(s for _, s in walls), *(g.line for g in corners)]
    layers = layered(state, lines, chords, attempt.fine, _hands(state, goals), _moved(state, goals))
    work.begin(len(layers.corners))
    motions = symmetries(layers)
    gaps = Gaps(layers)
    parting = parted(gaps, goals, motions)
    motions = [m for m in motions if _alike(m, layers, stages, parting)]
    parting.opened |= slipped_into(gaps, goals, motions)
    net = knit(layers, parting.opened, held_corners(layers, goals))
    soft = set(layers.pieces.on([g.line for g in corners]))
    paper = Elastic(
        net,
        [of_net(m, net) for m in motions],
        np.array(
            [
                attempt.fold
                if kind is Line.FOLD
                else attempt.crease
                if kind is Line.CREASE or int(k) in soft
                else attempt.bend
                for kind, k in zip(net.kinds, net.seams, strict=True)
            ]
        ),
        net.flat.copy(),
        attempt.soft,
        hair_apart(layers, net),
        work=work,
    )
    paper.contact = min(100.0, 3 * attempt.soft)
    meant = {*layers.pieces.on(lines), *_on_chords(layers, chords)}
    found = Found(layers, paper, stages, parting, corners, meant)
    first = 0
    for n, some in enumerate(stages):
        numbers = range(first, first + len(some))
        first += len(some)
        stage = Stage(
            _wanted(net, layers, parting, goals, numbers),
            drive(paper, some, attempt.driven, led(gaps, some)),
            skin_of(layers, parting, some),
        )
        if n and n == len(stages) - 1 and stage.drive and len(stage.drive.hinges):
            pose = swung(found, stage.drive)
            if pose is not None:
                return pose
        if stage.skin is not None:
            _smooth_skin(paper, parting, some)
        freed = set(layers.pieces.on([g.freed for g in corners if g.stage == n]))
        paper.stiff[[k for k, seam in enumerate(net.seams) if int(seam) in freed]] = 0.0
        paper.go(stage, steps=16 if len(net.start) < _MANY else 8, tries=15)
    if attempt.soft < 300.0:
        for hard in np.geomspace(attempt.soft, 300.0, 7):
            paper.hard, paper.contact = float(hard), min(100.0, 3 * float(hard))
            paper.relax(20)
    paper.let_go(40)
    return posed(found)


def _moved(state: State, goals: Sequence[Goal]) -> list[Point]:
    """Places of the folded plane: where layers are spread, of points that are brought or pulled, and of what
    these are pulled from.
    """
    spread = [goal.at for goal in goals if isinstance(goal, Spread)]
    brought = [state.where(goal.point) for goal in goals if isinstance(goal, Bring)]
    pulls = [goal for goal in goals if isinstance(goal, Pull)]
    return [*spread, *brought, *(state.where(p) for goal in pulls for p in (goal.point, goal.held))]


def _hands(state: State, goals: Sequence[Goal]) -> list[Point]:
    """Places of the folded plane at which hands or a breath are."""
    found: list[Point] = []
    for goal in goals:
        match goal:
            case Spread():
                found.append(goal.at)
            case Open():
                found.append(midpoint(*goal.edge))
            case Blow():
                found += [] if goal.edge is None else [midpoint(*goal.edge)]
            case Bring():
                found.append(goal.to)
            case Hold():
                found.append(goal.at)
            case Pull():
                found += [state.where(goal.point), state.where(goal.held)]
            case _:
                pass
    return found


def _alike(motion: Motion, layers: Layers, stages: Stages, parting: Parting) -> bool:
    """Whether a motion of the flat paper to itself takes the goals of each stage to each other."""
    asked: dict[tuple[str, frozenset[int], int], tuple[float, ...]] = {}
    image: dict[tuple[str, frozenset[int], int], tuple[float, ...]] = {}
    to, n = motion.to, 0
    for number, goals in enumerate(stages):
        for goal in goals:
            kind = type(goal).__name__
            if n in parting.pairs:
                pair = parting.pairs[n]
                ends = (*pair.low, *pair.high)
                asked[(kind, frozenset(ends), number)] = (pair.width,)
                image[(kind, frozenset(int(to[v]) for v in ends), number)] = (pair.width,)
            elif isinstance(goal, Raise):
                for k in layers.pieces.on(goal.creases):
                    a, b = layers.pieces.seams[k].start, layers.pieces.seams[k].end
                    asked[(kind, frozenset((a, b)), number)] = (goal.angle,)
                    image[(kind, frozenset((int(to[a]), int(to[b]))), number)] = (goal.angle,)
            elif isinstance(goal, Bring):
                v = brought(layers.pieces, goal)
                place = motion.turn[:2, :2] @ np.array(goal.to) + motion.shift[:2]
                asked[(kind, frozenset((v,)), number)] = goal.to
                image[(kind, frozenset((int(to[v]),)), number)] = (float(place[0]), float(place[1]))
            elif isinstance(goal, Hold | Pull):
                ends = pulled(layers, goal) if isinstance(goal, Pull) else held_points(layers, goal)
                amount = (goal.by,) if isinstance(goal, Pull) else (0.0,)
                asked[(kind, frozenset(ends), number)] = amount
                image[(kind, frozenset(int(to[v]) for v in ends), number)] = amount
            n += 1
    return asked.keys() == image.keys() and all(
        math.dist(place, image[key]) < 1e-4 for key, place in asked.items()
    )


def _wanted(
    net: Net, layers: Layers, parting: Parting, goals: Sequence[Goal], numbers: range
) -> Wanted | None:
    """What these goals want of places: pairs drawn apart, points brought."""
    rows: list[tuple[list[int], list[float], Array, float]] = []  # points, shares, axis, value
    axes = np.eye(3)
    for n in numbers:
        goal = goals[n]
        if n in parting.pairs:
            pair = parting.pairs[n]
            ends = [int(net.of[v]) for v in (*pair.high, *pair.low)]
            rows.append((ends, [*pair.share, *(-part for part in pair.share)], axes[2], pair.width))
        elif isinstance(goal, Bring):
            v = int(net.of[brought(layers.pieces, goal)])
            rows.extend(([v], [1.0], axes[k], value) for k, value in enumerate((*goal.to, 0.0)))
        elif isinstance(goal, Pull):
            v, w = (int(net.of[k]) for k in pulled(layers, goal))
            value = float((net.start[v] - net.start[w]) @ goal.way)
            value += goal.by / net.pieces.state.sheet.unit_mm
            rows.append(([v, w], [1.0, -1.0], np.array(goal.way), value))
            if aside(layers.pieces.state, goal):  # what is held does not tilt instead
                level = [int(net.of[k]) for k in beside_held(layers, goal)]
                rows.extend(([k, w], [1.0, -1.0], axes[2], 0.0) for k in level)
    if not rows:
        return None
    most = 4  # points of a row: as many in every stage
    return Wanted(
        np.array([ends + ends[:1] * (most - len(ends)) for ends, *_ in rows]),
        np.array([share + [0.0] * (most - len(share)) for _, share, *_ in rows]),
        np.array([axis for *_, axis, _ in rows]),
        np.array([value for *_, value in rows]),
        np.full(len(rows), 20.0),
    )


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


def _on_chords(layers: Layers, chords: Sequence[Segment]) -> set[int]:
    """Seams that lie along lines of the folded plane at which a skin bends."""
    flat = [(float(x), float(y)) for x, y in layers.flat]
    return {
        k
        for k, seam in enumerate(layers.pieces.seams)
        for chord in chords
        if all(point_on_segment(chord, flat[v], SNAP) for v in (seam.start, seam.end))
    }
