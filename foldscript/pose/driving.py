"""Which creases hands turn, how far, and which way each of their layers goes.

In: paper on its way, and the goals of a stage. Out: the hinges with their angles. A crease remembers which
way it was made; of layers that have come to lie on one line, the one that hangs together with what stays
leads the others.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Collection, Sequence

import numpy as np

from .elastic import Drive, Elastic
from .goals import Goal, Raise
from .pieces import Array
from .raising import asked_angle, parts

#: Radians that a crease that lies flat may be bent by; how far (sheet units) layers may be off a line.
_FLAT, _ON_LINE = 0.1, 5e-3
#: Radians from which on a fold is sharp: more than a wall's, less than one that is shut.
_SHARP = 2.4


def drive(
    paper: Elastic, goals: Sequence[Goal], weight: float, led: Collection[int] = ()
) -> Drive | None:
    """The hinges that these goals turn, and how far; seams that are `led` by others are left to them."""
    net = paper.net
    asked = {
        k: asked_angle(net.pieces, k, goal)
        for goal in goals
        if isinstance(goal, Raise)
        for k in net.pieces.on(goal.creases)
    }
    hinges = [n for n, k in enumerate(net.seams) if int(k) in asked and int(k) not in led]
    if not hinges:
        return None
    return Drive(
        np.array(hinges),
        _in_one(paper, hinges, [asked[int(net.seams[n])] for n in hinges]),
        weight,
    )


def _in_one(paper: Elastic, hinges: Sequence[int], angles: Sequence[float]) -> Array:
    """The angles, with layers that lie on each other turned the same way about their common line.

    Which way, the longest of them has it: where paper lies with its other side up, its angle is the
    opposite.
    """
    x, net = paper.x, paper.net
    ends = np.array([x[net.hinges[n, :2]] for n in hinges])
    ways = ends[:, 1] - ends[:, 0]
    long = np.sqrt((ways * ways).sum(axis=1))
    across = np.array([x[net.hinges[n, 2]] - x[net.hinges[n, 0]] for n in hinges])
    normals = np.cross(ways, across)
    normals /= np.sqrt((normals * normals).sum(axis=1))[:, None]
    out = np.array(angles)
    sharp = _sharp_folds(paper, [int(net.seams[n]) for n in hinges])
    order = {k: sharp[net.pieces.seams[int(net.seams[n])].left] for k, n in enumerate(hinges)}
    leads: list[int] = []
    for k in sorted(order, key=lambda k: (order[k], -round(float(long[k]), 6), k)):
        if net.flat[hinges[k]] or abs(paper.angle[hinges[k]]) > _FLAT:
            continue
        for lead in leads:
            off = np.cross(ends[k] - ends[lead, 0], ways[lead] / long[lead])
            alike = float(normals[k] @ normals[lead])
            if np.abs(off).max() < _ON_LINE and abs(alike) > 0.9:
                out[k] = math.copysign(out[k], out[lead] * alike)
                break
        else:
            leads.append(k)
    return out


def _sharp_folds(paper: Elastic, turning: Sequence[int]) -> list[int]:
    """For each piece the least number of sharp folds between it and what stays."""
    pieces, net = paper.net.pieces, paper.net
    angle = {k: seam.angle for k, seam in enumerate(pieces.seams)}
    angle |= {int(k): float(a) for k, a in zip(net.seams, paper.angle, strict=True)}
    around: list[list[tuple[int, int]]] = [[] for _ in pieces.rings]
    for k, seam in enumerate(pieces.seams):
        if seam.right >= 0:
            sharp = int(abs(angle[k]) > _SHARP)
            around[seam.left].append((seam.right, sharp))
            around[seam.right].append((seam.left, sharp))
    number = [len(pieces.rings)] * len(pieces.rings)
    waiting = deque([parts(pieces, turning).index(0)])
    number[waiting[0]] = 0
    while waiting:
        here = waiting.popleft()
        for other, sharp in around[here]:
            if number[here] + sharp < number[other]:
                number[other] = number[here] + sharp
                (waiting.append if sharp else waiting.appendleft)(other)
    return number
