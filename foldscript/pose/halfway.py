"""A step half way: how paper stands in space while a move is made that moves it there by itself.

In: the paper before a move and after it, both flat. Out: a `Halfway` with its pose; a Refusal where there is
none that is worth a figure. Nothing is said by the script: every piece of the sheet has its place before
and its place after, and every line between two its angle; between them paper is looked for that keeps its
lengths. A tip that goes between or around its own layers is turned through (`reversing.py`), exactly, or
brought to rest near there where it is narrowed besides, as by two rabbit ears; where all that moves comes up
towards the reader, or goes away from them, it is lifted (`lifting.py`), its pieces plane where that goes,
else bent. Where a closed point is sunk, the sheet is opened and shut again (`shutting.py`).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import chain, product

import numpy as np

from ..geometry.isometries import nearly_same
from ..geometry.lines import Point
from ..paper.state import State
from ..source.diagnostics import Refusal
from .change import Change, in_triangles, worth_showing
from .lifting import followed, lifted, rested
from .linked import amid, linked
from .making import made, overlapping
from .pieces import Array
from .pose import Edge, Pose, Reached, Vector
from .proof import HALFWAY
from .reversing import reversings
from .shutting import shut

#: Progress of the changing folds, as a share, that a figure half way may show.
_PROGRESS = (0.3, 0.72)
#: Least height of a figure, as a share of the paper's width or height.
_HEIGHT = 0.1
#: More points than this are not solved for.
_MOST = 100
#: How far (degrees) the front half is opened for a tip to be turned through; the first that passes counts.
#: Opened a little past square, the tip is seen well away both from where it was and from where it lands.
_OPENED = (105.0, 90.0, 120.0, 75.0)
#: The same where a tip that is turned through is narrowed besides, and the most (degrees) that paper may bend
#: for it.
_WIDELY, _BEND = (120.0, 105.0), 20.0
#: To what share of their angles the folds of an opened sheet are pulled, and how stiff its paper is. So far
#: it may have come, and so much (degrees) may paper bend for it: more is seen as a crease.
_SHUT, _SHUT_AGAIN, _BENT = (0.5, 2.0), (0.3, 0.9), 40.0
#: Points that lie off their flat place by more than this (mm) have moved.
_MOVED = 0.1

#: How much of a move is done, from the edges and points of its pose.
Progress = Callable[[Sequence[Edge], Array], float]
#: Where a point is, two places on its way, and where it lands.
Way = tuple[Vector, Vector, Vector, Vector]


@dataclass(frozen=True)
class Halfway:
    """A move half way.

    Attributes
    ----------
    pose : the paper in space, in the axes of the flat figures; z to the reader
    before, after : where each of its points lies in the two flat states, mm
    lifted : pieces that do not lie where they lay
    moving : those of them that the move carries on; others are only opened and shut again
    onward : the way that points still have to go, mm, by their number
    opened : whether all of the paper was opened for it, and is shut again
    """

    pose: Pose
    before: tuple[Point, ...]
    after: tuple[Point, ...]
    lifted: tuple[int, ...]
    moving: tuple[int, ...]
    onward: tuple[tuple[int, Way], ...]
    opened: bool = False


def halfway(before: State, after: State, asked: bool = False) -> Halfway:
    """The paper half way through a move.

    Raises Refusal, 'stays-flat' where no paper has to leave the plane but in a plain turn, 'no-half-way'
    where no pose passes its proof and is worth a figure; where so little moves that few would see it, it has
    to be `asked` for.
    """
    change = worth_showing(before, after)
    if change.small and not asked:
        raise Refusal("no-half-way", "too little of the paper moves")
    why = "what moves goes between layers that no way was found to open"
    plain = not change.flipped.any()
    ways = (
        () if change.whole else _turned_through(change),
        _linked(change) if change.whole and plain else (),
        _lifted(change) if plain else (),
        () if change.whole else _narrowed(change),
        () if change.whole else _reopened(change),
    )
    for found in chain(*ways):
        if found.pose.proof.holds:
            return found
        why = found.pose.proof.faults[0].text
    raise Refusal("no-half-way", why)


def _turned_through(change: Change) -> Iterator[Halfway]:
    """The front half opened; one arrow, of the point that has the longest way."""
    for turned, degrees in product(reversings(change), _OPENED):
        change = turned.change
        landed = np.c_[change.end, np.zeros(len(change.end))]
        places = [turned.opened(math.radians(degrees) * (1 - k / 3)) for k in range(3)]
        way = np.array([*places, landed])
        tip = _tip(change)
        yield _made(change, places[0], [tip], way, partial(_travelled, change, tip))


def _narrowed(change: Change) -> Iterator[Halfway]:
    """The front half opened, and what moves brought to rest between the halves."""
    for turned, degrees in product(reversings(change), _WIDELY):
        fine = in_triangles(turned.change)
        if fine is None or len(fine.pieces.points) > _MOST:
            continue
        known = {p: k for k, p in enumerate(map(tuple, turned.change.pieces.points.tolist()))}
        order = [known[p] for p in map(tuple, fine.pieces.points.tolist())]
        opened = [turned.opened(math.radians(degrees) * (1 - k / 3))[order] for k in range(3)]
        places = rested(fine, opened[0])
        way = np.array([places, *opened[1:], np.c_[fine.end, np.zeros(len(fine.end))]])
        tip = _tip(fine)
        found = _made(fine, places, [tip], way, partial(_travelled, fine, tip))
        if found.pose.proof.bend < _BEND:
            yield found


def _reopened(change: Change) -> Iterator[Halfway]:
    """All of the paper opened for a closed point that is sunk, and on its way to be shut again."""
    fine = in_triangles(change)
    if fine is None or len(fine.pieces.points) > _MOST or _tip(fine) in fine.pieces.rim:
        return
    places = shut(fine, *_SHUT)
    landed = np.c_[fine.landing, np.zeros(len(places))]
    ways = np.array([places + (landed - places) * k / 3 for k in range(4)])
    points = range(len(places))
    found = _made(fine, places, points, ways, partial(_shut_again, fine), _SHUT_AGAIN)
    if found.pose.proof.bend < _BENT:
        yield replace(found, opened=True)


def _shut_again(change: Change, edges: Sequence[Edge], _: Array) -> float:
    """The share of their angles that the folds have which change, in the mean."""
    share = [
        edge.angle / will
        for edge, turns, will in zip(edges, change.turning, change.will, strict=True)
        if turns and abs(will) > 0.1
    ]
    return float(np.mean(share))


def _tip(change: Change) -> int:
    """The point that has the longest way."""
    flat = change.end - change.start
    far = np.round(np.sqrt((flat * flat).sum(axis=1)), 6)
    return max(change.moving_points, key=lambda v: float(far[v]))


def _linked(change: Change) -> Iterator[Halfway]:
    places = linked(change)
    if places is not None:
        places = amid(change, places)
        way = _round(change, places)
        yield _made(change, places, change.moving_points, way, partial(_turned, change))


def _lifted(change: Change) -> Iterator[Halfway]:
    fine = in_triangles(change)
    if fine is None or len(fine.pieces.points) > _MOST:
        return
    sides = (1.0, -1.0) if fine.faces(1.0) else (-1.0, 1.0)
    for soft, side in product((False, True), sides):
        places = lifted(fine, side, soft)
        if change.whole:
            places = amid(fine, places)
        way = _round(fine, places)
        yield _made(fine, places, fine.moving_points, way, partial(_turned, fine))


def _round(change: Change, places: Array) -> Array:
    """Ways (4 × n × 3) on from where points are to where they land, round the half circle from their place
    before the move to that after it.
    """
    start, end = (np.c_[flat, np.zeros(len(flat))] for flat in (change.start, change.end))
    way = end - start
    wide = np.sqrt((way * way).sum(axis=1))[:, None] / 2
    way = way / np.maximum(2 * wide, 1e-12)
    middle = (start + end) / 2
    up = np.where(places[:, 2:] >= 0, 1.0, -1.0) * [0.0, 0.0, 1.0]
    along = ((places - middle) * way).sum(axis=1)[:, None]
    first = np.arctan2(np.abs(places[:, 2:]), -along)

    def on(angle: Array) -> Array:
        return middle - np.cos(angle) * wide * way + np.sin(angle) * wide * up

    off = places - on(first)
    return np.array(
        [on(first + (math.pi - first) * t) + (1 - t) * off for t in (0, 1 / 3, 2 / 3, 1)]
    )


def _made(
    change: Change,
    places: Array,
    points: Sequence[int],
    ways: Array,
    progress: Progress,
    within: tuple[float, float] = _PROGRESS,
) -> Halfway:
    """The figure of these places; `ways` (4 × n × 3) of all points, of which these are told. Its progress is
    to be `within` two shares.
    """
    pieces, unit = change.pieces, change.pieces.state.sheet.unit_mm
    size = float(np.ptp(change.start, axis=0).max()) * unit

    def measure(edges: Sequence[Edge], space: Array) -> list[Reached]:
        done, high = progress(edges, space), float(np.ptp(space[:, 2]))
        enough = within[0] <= done <= within[1]
        least = _HEIGHT * size
        return [
            Reached("half way", 50.0, 100 * done, "%", enough),
            Reached("height", least, high, "mm", high >= least),
        ]

    together = [
        layer
        for layer in overlapping(pieces)
        if nearly_same(change.motions[layer[0]], change.motions[layer[1]])
    ]
    still = change.still.index(True)
    pose = made(pieces, places, (), still, measure, HALFWAY, together)
    flat = np.c_[change.start, np.zeros(len(change.start))]
    off = np.abs(places - flat).max(axis=1) * unit > _MOVED
    return Halfway(
        pose,
        tuple((float(x), float(y)) for x, y in change.start * unit),
        tuple((float(x), float(y)) for x, y in change.end * unit),
        tuple(k for k, piece in enumerate(pose.pieces) if off[list(piece.corners)].any()),
        tuple(k for k, at_rest in enumerate(change.still) if not at_rest),
        tuple((v, _way(ways[:, v] * unit)) for v in points),
    )


def _way(places: Array) -> Way:
    a, b, c, d = ((float(x), float(y), float(z)) for x, y, z in places)
    return a, b, c, d


def _turned(change: Change, edges: Sequence[Edge], _: Array) -> float:
    """The share of their turn that the changing folds have made, in the mean."""
    share = [
        (followed(edge.angle, (was + will) / 2) - was) / (will - was)
        for edge, was, will in zip(edges, change.was, change.will, strict=True)
        if abs(was - will) > 0.1
    ]
    return float(np.mean(share))


def _travelled(change: Change, tip: int, _: Sequence[Edge], space: Array) -> float:
    """The share of its way, straight there and straight on, that a point has gone."""
    here = space[tip] / change.pieces.state.sheet.unit_mm
    gone, left = (math.dist(here, (*flat[tip], 0.0)) for flat in (change.start, change.end))
    return gone / (gone + left)
