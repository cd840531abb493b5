"""Lines that all but pass through corners of the paper are made to pass through them.

In: a state and a line worked out from it, with the rounding of all steps in between. Out: the line, moved
by no more than a hand could ever see, so that a fold along it leaves no slivers beside corners.
"""

from __future__ import annotations

from collections.abc import Sequence

from ..geometry.lines import Line, Point, distance, flipped, line_through
from .state import State

#: A corner nearer to a line than this was meant to lie on it: 15 nanometres on a sheet of 15 cm.
SLACK = 1e-7
#: Corners this near lie on it well enough.
EXACT = 1e-13
#: Two corners closer than this do not fix a direction well.
SPREAD = 0.05


def steadied(state: State, line: Line) -> Line:
    """The line through those corners of the folded paper that it all but meets, same side left."""
    near: list[Point] = []
    off = 0.0
    for ring in state.placed:
        for p in ring:
            d = line.nx * p[0] + line.ny * p[1] - line.c
            if -SLACK <= d <= SLACK:
                near.append(p)
                off = max(off, abs(d))
    return line if off <= EXACT else drawn_through(line, near)


def drawn_through(line: Line, near: Sequence[Point]) -> Line:
    """The line through the two outermost of some points that lie beside it, same side left.

    Where those are too close to each other to fix a direction, the line keeps its own, through the nearest.
    """
    ordered = sorted((line.ny * p[0] - line.nx * p[1], p) for p in near)
    first, last = ordered[0][1], ordered[-1][1]
    if distance(first, last) < SPREAD:
        offsets = [line.nx * p[0] + line.ny * p[1] for _, p in ordered]
        return Line(line.nx, line.ny, min(offsets, key=lambda c: abs(c - line.c)))
    through = line_through(first, last)
    return through if through.nx * line.nx + through.ny * line.ny > 0 else flipped(through)
