"""A slit along a folded edge is seen in the figures after the cut."""

from __future__ import annotations

import pytest

from foldscript.drawing.offsets.layers import spread
from foldscript.drawing.offsets.spreads import Spread
from foldscript.geometry.lines import dot, subtract

from ..scripts import folded

#: A sheet of 100 mm folded in half, its fold at the left; cut along the fold from the bottom, half-way up.
CUT = (
    "valley right edge onto left edge",
    "mark K at midpoint of right edge; cut from bottom right corner to K, all layers",
)
GAP = 0.01


def gape(found: Spread) -> dict[bool, set[float]]:
    """How far the lower side lies out of the upper one, in gaps: at the mouth (True), at the closed end."""
    sides = [e for e in found.half_edges if e.mate is None and _in_slit(found, e.segment)]
    front = found.state.facets_at((0.25, 0.25))[0]
    lower, upper = sorted(sides, key=lambda edge: edge.facet == front)
    out: dict[bool, set[float]] = {}
    for at, (above, below) in zip(
        upper.segment, ((upper.start, lower.start), (upper.end, lower.end)), strict=True
    ):
        apart = dot(subtract(found.moves[below], found.moves[above]), upper.outward) / GAP
        out.setdefault(at[1] < 0.25, set()).add(round(apart, 6))
    return out


def _in_slit(found: Spread, segment: tuple[tuple[float, float], ...]) -> bool:
    return all(abs(x - 0.5) < 1e-6 and y < 0.5 + 1e-6 for x, y in segment)


@pytest.mark.parametrize("most", [0.5 * GAP, 5 * GAP])
def test_the_lower_side_of_a_slit_comes_out_where_it_opens(most: float) -> None:
    """However many layers may be laid together: at the mouth by a gap at least, at its end not at all."""
    found = gape(spread(folded(*CUT).finished, GAP, most))
    (closed,), (mouth,) = found[False], found[True]
    assert closed == pytest.approx(0.0, abs=1e-6)
    assert mouth >= 1.0 - 1e-6
