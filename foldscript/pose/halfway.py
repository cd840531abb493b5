"""A step half way: how paper stands in space while a move is made that moves it there by itself.

In: the paper before a move and after it, both flat. Out: a `Halfway` with its pose, or None where there is
none that is worth a figure. Nothing is said by the script: every piece of the sheet has its place before
and its place after, and every crease its angle; between them paper is looked for that keeps its lengths.

A move by which all that moves comes up towards the reader is lifted: each point is put on the half circle
from its place before to its place after, and the sheet is brought to rest near there, its faces stiff.
Still paper stays where it lies.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from threadpoolctl import threadpool_limits

from ..geometry import polygons
from ..geometry.isometries import Isometry, compose, inverse, nearly_same
from ..geometry.lines import Point, Segment
from ..paper.state import State
from .crossing import triangles
from .elastic import Elastic
from .lengths import true_lengths
from .making import made, overlapping
from .net import strung
from .pieces import Array, Pieces, cut_up
from .pose import Edge, Line, Pose, Reached
from .proof import HALFWAY
from .springs import Wanted

#: Progress of the changing folds, as a share, that a figure half way may show.
_PROGRESS = (0.3, 0.75)
#: Least height of a figure, as a share of the paper's width or height.
_HEIGHT = 0.1
#: Least part of the figure that moves.
_LEAST_PART = 0.05
#: More points than this are not solved for.
_MOST = 260


@dataclass(frozen=True)
class Halfway:
    """A move half way.

    Attributes
    ----------
    pose : the paper in space, in the axes of the flat figures; z to the reader
    before, after : where each of its points lies in the two flat states, mm
    moving : pieces that move
    """

    pose: Pose
    before: tuple[Point, ...]
    after: tuple[Point, ...]
    moving: tuple[int, ...]


def halfway(before: State, after: State, share: float = 0.55) -> Halfway | None:
    """The paper when so much of a move is done; None where no pose passes its proof and is worth a figure."""
    change = _change(before, after)
    if change is None or not change.deserves:
        return None
    for side in (1.0, -1.0) if change.faces(1.0) else (-1.0, 1.0):
        with threadpool_limits(1):
            pose = _lifted(change, share, side)
        if pose is not None and pose.proof.holds:
            unit = after.sheet.unit_mm
            return Halfway(
                pose,
                tuple((float(x), float(y)) for x, y in change.start * unit),
                tuple((float(x), float(y)) for x, y in change.end * unit),
                tuple(k for k, still in enumerate(change.still) if not still),
            )
    return None


@dataclass(frozen=True)
class _Change:
    """What a move changes.

    Attributes
    ----------
    pieces : triangles of the sheet, each in one facet of both states; its state is the one after the move
    start, end : places of all points, n × 2 (sheet units)
    was, will : angle of every seam before and after
    motions : how each piece is carried; `still` whether it is not
    """

    pieces: Pieces
    before: State
    earlier: tuple[int, ...]
    start: Array
    end: Array
    was: Array
    will: Array
    motions: tuple[Isometry, ...]
    still: tuple[bool, ...]

    @property
    def turning(self) -> NDArray[np.bool_]:
        """Which seams change."""
        return np.abs(self.was - self.will) > 0.1

    @property
    def deserves(self) -> bool:
        """Whether paper has to leave the plane in more than one turn: a crease between two pieces that move
        in different ways changes, or a fold turns to its other side; and enough of the figure moves. Folds
        that are all parallel, a pleat's, are made one after the other and need no figure."""
        if all(self.still) or not any(self.still) or not self.turning.any():
            return False
        areas = self.pieces.areas()
        moving = sum(a for a, still in zip(areas, self.still, strict=True) if not still)
        if moving < _LEAST_PART * sum(areas):
            return False
        if self._parallel:
            return False
        if bool((np.abs(self.was - self.will) > 5).any()):
            return True
        return any(
            turns
            and not self.still[seam.left]
            and not self.still[seam.right]
            and not nearly_same(self.motions[seam.left], self.motions[seam.right])
            for seam, turns in zip(self.pieces.seams, self.turning, strict=True)
            if seam.right >= 0
        )

    @property
    def _parallel(self) -> bool:
        seams = [s for s, turns in zip(self.pieces.seams, self.turning, strict=True) if turns]
        ways = np.array([self.start[s.end] - self.start[s.start] for s in seams])
        ways /= np.sqrt((ways * ways).sum(axis=1))[:, None]
        return bool((np.abs(ways[:, 0] * ways[0, 1] - ways[:, 1] * ways[0, 0]) < 1e-3).all())

    def faces(self, side: float) -> bool:
        """Whether most of what moves ends above (1) or below (-1) what is still."""
        state, facets = self.pieces.state, self.pieces.facets
        still = {f for f, s in zip(facets, self.still, strict=True) if s}
        total = 0
        for facet in {f for f, s in zip(facets, self.still, strict=True) if not s}:
            for other in still:
                above = state.above(facet, other)
                total += 0 if above is None else (1 if above else -1)
        return total * side >= 0


def _change(before: State, after: State) -> _Change | None:
    """What a move changes; None where nothing does, or the two cannot be laid over each other."""
    if before.sheet != after.sheet or before.cuts != after.cuts or before.sheet.others:
        return None
    lines: list[Segment] = [s for f in before.facets for s in polygons.edges(f.outline)]
    coarse = cut_up(after, [*lines, *before.creases])
    pieces = cut_up(after, [*lines, *before.creases, *_diagonals(coarse)])
    if len(pieces.points) > _MOST or any(len(r) != 3 for r in pieces.rings):
        return None
    earlier = [_facet(before, pieces, k) for k in range(len(pieces.rings))]
    motions: list[Isometry] = []
    for k, facet in enumerate(pieces.facets):
        one, other = before.facets[earlier[k]].place, after.facets[facet].place
        motions.append(compose(other, inverse(one)))
    still = [nearly_same(m, Isometry(1.0, 0.0, 0.0, 0.0, 1.0, 0.0)) for m in motions]
    was = np.array(
        [
            0.0 if s.right < 0 else _angle(before, earlier[s.left], earlier[s.right])
            for s in pieces.seams
        ]
    )
    will = np.array([s.angle for s in pieces.seams])
    start = _flat(pieces, [before.facets[f].place for f in earlier])
    end = _flat(pieces, [after.facets[f].place for f in pieces.facets])
    return _Change(
        pieces, before, tuple(earlier), start, end, was, will, tuple(motions), tuple(still)
    )


def _diagonals(pieces: Pieces) -> list[Segment]:
    out: list[Segment] = []
    for ring in pieces.rings:
        for t in triangles(ring, pieces.points) if len(ring) > 3 else ():
            for a, b in zip(t, (*t[1:], t[0]), strict=True):
                (ax, ay), (bx, by) = pieces.points[a], pieces.points[b]
                out.append(((float(ax), float(ay)), (float(bx), float(by))))
    return out


def _facet(state: State, pieces: Pieces, k: int) -> int:
    middle = polygons.centroid(pieces.polygon(k))
    deep = [polygons.depth(f.outline, middle) for f in state.facets]
    return max(range(len(deep)), key=lambda i: deep[i])


def _angle(state: State, left: int, right: int) -> float:
    if state.facets[left].shows_front == state.facets[right].shows_front:
        return 0.0
    back, front = (right, left) if state.facets[left].shows_front else (left, right)
    return math.pi if state.above(back, front) else -math.pi


def _flat(pieces: Pieces, places: Sequence[Isometry]) -> Array:
    flat = np.zeros((len(pieces.points), 2))
    for ring, place in zip(pieces.rings, places, strict=True):
        for v in ring:
            flat[v] = place((float(pieces.points[v, 0]), float(pieces.points[v, 1])))
    return flat


def _lifted(change: _Change, share: float, side: float) -> Pose | None:
    """The paper lifted towards the reader (1) or away from them (-1); None where it comes out too flat."""
    pieces = change.pieces
    n = len(pieces.points)
    held = np.zeros(n, dtype=bool)
    for ring, still in zip(pieces.rings, change.still, strict=True):
        if still:
            held[list(ring)] = True
    way = change.end - change.start
    guess = np.zeros((n, 3))
    guess[:, :2] = (change.start + change.end) / 2 - math.cos(math.pi * share) * way / 2
    guess[:, 2] = side * math.sin(math.pi * share) * np.sqrt((way * way).sum(axis=1)) / 2
    net = strung(pieces, np.arange(n), change.start)
    was, will = change.was[net.seams], change.will[net.seams]
    turning = np.abs(was - will) > 0.1
    plane = np.array([k is Line.BEND for k in net.kinds]) & ~turning
    stiff = np.where(turning, 0.1, np.where(np.abs(was) > 0.1, 0.3, 0.08))
    paper = Elastic(net, [], stiff, was + (will - was) * share, 10.0, guess.copy())
    paper.angle = _followed(paper.angle, paper.rest)
    for pull, hard in ((1.0, 10.0), (0.3, 30.0), (0.1, 100.0), (0.03, 300.0), (0.01, 600.0)):
        paper.hard = hard
        paper.wanted = _near(np.where(held, 30.0, pull), guess)
        paper.relax(25)
    level = plane | (~turning & (np.abs(was) < 0.1))
    paper.rest = np.where(level, 0.0, paper.rest)
    for weight in np.geomspace(2.0, 20.0, 6):
        paper.stiff = np.where(level, weight, paper.stiff)
        paper.hard = max(paper.hard, 60 * float(weight))
        paper.wanted = _near(np.where(held, 30.0, 0.01), guess)
        paper.relax(15, 1e-4)
    paper.wanted = _near(np.where(held, 30.0, 0.0), guess)
    paper.rest = np.where(level, 0.0, paper.angle)
    paper.stiff, paper.hard = np.where(level, 1.0, 0.02), 3000.0
    paper.relax(20, 1e-4)
    if np.ptp(paper.x[:, 2]) < _HEIGHT * np.ptp(change.start, axis=0).max():
        return None
    return _posed(change, true_lengths(pieces, paper.x))


def _near(weight: Array, goal: Array) -> Wanted:
    """Every coordinate wants to be what it is in `goal`."""
    n = len(goal)
    return Wanted(
        np.repeat(np.arange(n), 3)[:, None],
        np.ones((3 * n, 1)),
        np.tile(np.eye(3), (n, 1)),
        goal.ravel(),
        np.repeat(weight, 3),
    )


def _followed(angle: Array, like: Array) -> Array:
    """Angles on the turn that is nearest to what is wanted."""
    return angle + 2 * np.pi * np.round((like - angle) / (2 * np.pi))


def _posed(change: _Change, places: Array) -> Pose:
    pieces = change.pieces

    def measure(edges: Sequence[Edge], space: Array) -> list[Reached]:
        share = [
            (_followed(np.array(edge.angle), np.array((was + will) / 2)) - was) / (will - was)
            for edge, was, will in zip(edges, change.was, change.will, strict=True)
            if abs(was - will) > 0.1
        ]
        done = float(np.mean(share))
        return [Reached("half way", 50.0, 100 * done, "%", _PROGRESS[0] <= done <= _PROGRESS[1])]

    still = change.still.index(True)
    layers = [
        layer
        for layer in overlapping(pieces)
        if nearly_same(change.motions[layer[0]], change.motions[layer[1]])
    ]
    return made(pieces, places, (), still, measure, HALFWAY, layers)
