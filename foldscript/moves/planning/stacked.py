"""Which layers move at a fold line, and which stay: for the sign at its end.

In: the paper before the fold, and the flap. Out: the layers that lie beside the line where the flap is, one
on the other: whether each of them moves.
"""

from __future__ import annotations

from ...geometry.lines import Point, dot
from ...paper.flap import Flap
from ...paper.state import State

#: How far beside the line layers are looked for, in sheet units; and where along it, in parts of its length.
_BESIDE = 1e-4
_ALONG = (0.5, 0.37, 0.63, 0.2, 0.8, 0.07, 0.93)


def stacked(state: State, flap: Flap) -> tuple[bool, ...]:
    """For each layer beside the line, topmost first, whether it moves; where most move, if it differs.

    () where nothing lies there.
    """
    line = flap.line
    along = [dot(p, line.direction) for _, ends in flap.creases for p in ends]
    if not along:
        return ()
    found: list[tuple[bool, ...]] = []
    for part in _ALONG:
        t = min(along) + part * (max(along) - min(along))
        found.append(_layers(state, flap, _beside(flap, t)))
    return max(found, key=lambda layers: (sum(layers), len(layers)))


def _beside(flap: Flap, along: float) -> Point:
    """A place just on the flap's side of its line."""
    line, (x, y) = flap.line, flap.line.direction
    off = line.c + _BESIDE
    return (off * line.nx + along * x, off * line.ny + along * y)


def _layers(state: State, flap: Flap, spot: Point) -> tuple[bool, ...]:
    moving = set(flap.facets)
    return tuple(facet in moving for facet in state.facets_at(spot))
