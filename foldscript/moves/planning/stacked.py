"""Which layers move at a fold line, and which stay: for the sign beside it.

In: the paper before the fold, and the flap, or of any other move the paper after it. Out: the layers that lie
beside the line where paper moves, one on the other: whether each of them moves; and where along the line that
is so.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from ...geometry.isometries import IDENTITY, Isometry, compose, inverse, same_isometry
from ...geometry.lines import (
    Line,
    Point,
    Segment,
    distance,
    dot,
    line_at,
    line_through,
    point_on_segment,
    same_line,
)
from ...geometry.polygons import clip_line
from ...paper.flap import Flap
from ...paper.signs import FoldLine, PointSign, Sign
from ...paper.state import State

#: Whether each layer at a part of a line moves, topmost first, and that part.
_Told = tuple[tuple[bool, ...], Segment]

#: How far beside the line layers are looked for, in sheet units; and parts of it that are too short to point
#: at, as parts of its length.
_BESIDE, _SHORT = 1e-4, 0.04


def stacked(state: State, flap: Flap) -> tuple[tuple[tuple[bool, ...], Segment], ...]:
    """For each layer beside the line, topmost first, whether it moves: for each part of the line where others
    lie, those parts first where most move. () where nothing lies there.
    """
    line = flap.line
    along = [dot(p, line.direction) for _, ends in flap.creases for p in ends]
    if not along:
        return ()
    first, last = min(along), max(along)
    beside = line_at(_at(flap, 0.0, _BESIDE), line.direction)
    cuts = {first, last}
    for ring in state.placed:
        part = clip_line(ring, beside)
        cuts.update(t for p in part or () if first < (t := dot(p, line.direction)) < last)
    runs: list[tuple[tuple[bool, ...], float, float]] = []
    for start, end in pairwise(sorted(cuts)):
        layers = _layers(state, flap, _at(flap, (start + end) / 2, _BESIDE))
        if runs and runs[-1][0] == layers:
            runs[-1] = (layers, runs[-1][1], end)
        elif end - start > _BESIDE:
            runs.append((layers, start, end))
    long = [run for run in runs if run[2] - run[1] > _SHORT * (last - first)] or runs
    long.sort(key=lambda run: (-sum(run[0]), -len(run[0]), run[1] - run[2]))
    return tuple((layers, (_at(flap, a), _at(flap, b))) for layers, a, b in long)


def _at(flap: Flap, along: float, off: float = 0.0) -> Point:
    """A place on the flap's line, or beside it on the flap's side."""
    return _on(flap.line, along, off)


def _layers(state: State, flap: Flap, spot: Point) -> tuple[bool, ...]:
    moving = set(flap.facets)
    return tuple(facet in moving for facet in state.facets_at(spot))


def told(before: State, after: State, signs: Sequence[Sign]) -> tuple[Sign, ...]:
    """Signs of a move whose fold lines know which layers bend at them, where the move has not said it.

    Told of where a line can be seen: there the topmost layer bends. Nothing is told of paper that was cut,
    nor where a mouth shows what is drawn apart.
    """
    lines = [s for s in signs if isinstance(s, FoldLine) and not s.layers and not s.opens]
    opening = any(isinstance(s, PointSign) and s.opens is not None for s in signs)
    if not lines or opening or before.sheet != after.sheet:
        return tuple(signs)
    every = [part for line in lines for part in line.parts]
    out: list[Sign] = []
    for sign in signs:
        if isinstance(sign, FoldLine) and sign in lines:
            layered = _bending(before, after, sign, every)
            sign = replace(sign, layers=layered[0][0], layered=layered) if layered else sign
        out.append(sign)
    return tuple(out)


def _bending(
    before: State, after: State, line: FoldLine, every: Sequence[tuple[int, Segment]]
) -> tuple[_Told, ...]:
    """What lies at each part of a line that is seen; what most layers bend at first, then the longest."""
    runs: list[_Told] = []
    for facet, part in line.parts:
        n = distance(*part)
        if n < _BESIDE:
            continue
        carrier = line_through(*part)
        along = sorted(dot(p, carrier.direction) for p in part)
        cuts = {*along}
        for ring in before.placed:
            for off in (_BESIDE, -_BESIDE):
                piece = clip_line(ring, line_at(_on(carrier, 0.0, off), carrier.direction))
                cuts.update(
                    t for p in piece or () if along[0] < (t := dot(p, carrier.direction)) < along[1]
                )
        for start, end in pairwise(sorted(cuts)):
            if end - start < _SHORT * n:
                continue
            layers = _at_line(before, after, carrier, (start + end) / 2, facet, every)
            if layers:
                runs.append((layers, (_on(carrier, start), _on(carrier, end))))
    runs.sort(key=lambda run: (-sum(run[0]), -len(run[0]), -round(distance(*run[1]), 6)))
    return tuple(runs)


def _at_line(
    before: State,
    after: State,
    carrier: Line,
    along: float,
    facet: int,
    every: Sequence[tuple[int, Segment]],
) -> tuple[bool, ...]:
    """The layers beside a place of a line, on the side that moves: whether each bends; () where hidden."""
    spots = [_on(carrier, along, off) for off in (_BESIDE, -_BESIDE)]
    stacks = [before.facets_at(spot) for spot in spots]
    if not all(stacks) or any(stack[0] != facet for stack in stacks):
        return ()
    here = _on(carrier, along)
    bent = {
        i
        for i, part in every
        if same_line(line_through(*part), carrier) and point_on_segment(part, here)
    }
    ways = [
        {i: _motion(before, after, i, spot) for i in stack}
        for spot, stack in zip(spots, stacks, strict=True)
    ]
    still = [same_isometry(way[facet], IDENTITY) for way in ways]
    side = still.index(False) if True in still and False in still else _higher(stacks)
    movers = [ways[side][i] for i in stacks[side] if i in bent]
    movers = [way for way in movers if not same_isometry(way, IDENTITY)]
    other = stacks[1 - side]
    return tuple(
        i in bent or (i not in other and any(same_isometry(ways[side][i], m) for m in movers))
        for i in stacks[side]
    )


def _higher(stacks: Sequence[Sequence[int]]) -> int:
    """The side on which more layers lie."""
    return 0 if len(stacks[0]) >= len(stacks[1]) else 1


def _motion(before: State, after: State, facet: int, spot: Point) -> Isometry:
    """How the paper of a facet at a spot moves."""
    back = inverse(before.facets[facet].place)
    there = after.facets[after.facets_on_sheet(back(spot))[0]].place
    return compose(there, back)


def _on(line: Line, along: float, off: float = 0.0) -> Point:
    """A place on a line, or so far beside it."""
    (x, y), far = line.direction, line.c + off
    return (far * line.nx + along * x, far * line.ny + along * y)
