"""What moves lifted off what is still: collapses, petals, squashes, rabbit ears half way.

In: a `Change` in triangles, and the side on which all that moves ends. Out: places for its points. Each is
put on the half circle from its place before to its place after, and the sheet is brought to rest near there,
its faces stiff. Still paper stays where it is put.
"""

from __future__ import annotations

import math

import numpy as np
from threadpoolctl import threadpool_limits

from .change import Change
from .elastic import Elastic
from .lengths import true_lengths
from .net import strung
from .pieces import Array
from .pose import Line
from .springs import Wanted

#: So much of a move is done.
_SHARE = 0.55


def lifted(change: Change, side: float, soft: bool = False) -> Array:
    """Places (n × 3, sheet units) of the paper lifted towards the reader (1) or away from them (-1); `soft`
    paper may bend between its creases.
    """
    way = change.landing - change.start
    guess = np.zeros((len(way), 3))
    guess[:, :2] = (change.start + change.landing) / 2 - math.cos(math.pi * _SHARE) * way / 2
    guess[:, 2] = side * math.sin(math.pi * _SHARE) * np.sqrt((way * way).sum(axis=1)) / 2
    return rested(change, guess, change.was + (change.will - change.was) * _SHARE, soft)


def rested(change: Change, guess: Array, wanted: Array | None = None, soft: bool = False) -> Array:
    """Places (n × 3, sheet units) at which a change in triangles comes to rest near a `guess`.

    `wanted` : the angles (radians) that its seams are brought to; those that they have in the guess when None
    """
    with threadpool_limits(1):
        return _rested(change, guess, wanted, soft)


def _rested(change: Change, guess: Array, wanted: Array | None, soft: bool) -> Array:
    pieces = change.pieces
    held = np.zeros(len(guess), dtype=bool)
    for ring, still in zip(pieces.rings, change.still, strict=True):
        if still:
            held[list(ring)] = True
    net = strung(pieces, np.arange(len(guess)), change.start)
    was, will = change.was[net.seams], change.will[net.seams]
    turning = np.abs(was - will) > 0.1
    plane = np.array([k is Line.BEND for k in net.kinds]) & ~turning
    stiff = np.where(turning, 0.1, np.where(np.abs(was) > 0.1, 0.3, 0.08))
    rest = (was + will) / 2 if wanted is None else wanted[net.seams]
    paper = Elastic(net, [], stiff, rest, 10.0, guess.copy())
    paper.angle = followed(paper.angle, paper.rest)
    if wanted is None:
        paper.rest = paper.angle.copy()
    for pull, hard in ((1.0, 10.0), (0.3, 30.0), (0.1, 100.0), (0.03, 300.0), (0.01, 600.0)):
        paper.hard = hard
        paper.wanted = _near(np.where(held, 30.0, pull), guess)
        paper.relax(25)
    level = plane | (~turning & (np.abs(was) < 0.1))
    paper.rest = np.where(level, 0.0, paper.rest)
    for weight in () if soft else np.geomspace(2.0, 20.0, 6):
        paper.stiff = np.where(level, weight, paper.stiff)
        paper.hard = max(paper.hard, 60 * float(weight))
        paper.wanted = _near(np.where(held, 30.0, 0.01), guess)
        paper.relax(15, 1e-4)
    paper.wanted = _near(np.where(held, 30.0, 0.0), guess)
    paper.rest = np.where(level, 0.0, paper.angle)
    paper.stiff, paper.hard = np.where(level, 0.3 if soft else 1.0, 0.1 if soft else 0.02), 3000.0
    paper.relax(20, 1e-4)
    return true_lengths(pieces, paper.x)


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


def followed(angle: Array | float, like: Array | float) -> Array:
    """Angles on the turn that is nearest to what is wanted."""
    return angle + 2 * np.pi * np.round((like - angle) / (2 * np.pi))
