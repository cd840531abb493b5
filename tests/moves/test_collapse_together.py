"""A collapse of paper with loose flaps: what lies on each other and moves as one stays so."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from foldscript.paper.state import State

from ..laws.images import IMAGES, Image
from ..laws.outcomes import broken
from ..scripts import folded, layers_at, refused

#: Four corners at the middle, behind; creased like a preliminary base.
BLINTZ = (
    "mark S at midpoint of A B; mark O at the centre",
    "valley A to O; valley B to O; valley C to O; valley D to O",
    "turn over side to side",
    "crease left corner to right corner as v; crease bottom corner to top corner as h",
    "crease bottom left edge onto top right edge as d1",
    "crease bottom right edge onto top left edge as d2",
)
BASE = "collapse valley d1, valley d2, mountain v, holding S"


def between(state: State, one: tuple[float, float], other: tuple[float, float]) -> int:
    """How many layers lie between those that carry two places of the sheet."""
    (i,), (j,) = state.facets_on_sheet(one), state.facets_on_sheet(other)
    upper, lower = (i, j) if state.above(i, j) else (j, i)
    both = state.neighbours[upper] & state.neighbours[lower]
    return sum(1 for k in both if state.above(upper, k) and state.above(k, lower))


def test_a_flap_stays_on_its_wall() -> None:
    """A place of each half flap, and the one that the corner's fold laid it on: nothing comes between."""
    state = folded(*BLINTZ, BASE).finished
    assert layers_at(state, 53, 31) == 8
    for x, y in [(0.3, 0.1), (0.1, 0.3)]:
        for u, v in [(x, y), (1 - x, y), (1 - x, 1 - y), (x, 1 - y)]:
            near, far = (u > 0.5), (v > 0.5)
            a, b = (1 - u if near else u), (1 - v if far else v)  # as if at corner A
            a, b = 0.5 - b, 0.5 - a  # mirrored in the fold from (0.5, 0) to (0, 0.5)
            wall = (1 - a if near else a, 1 - b if far else b)
            assert between(state, (u, v), wall) == 0


def test_words_still_choose() -> None:
    """Where two layers move apart anyway the script is asked, as before."""
    fault = refused(
        "crease through 1/4 of A B perpendicular to edge A B, as k1",
        "crease through 2/4 of A B perpendicular to edge A B, as k2",
        "crease through 3/4 of A B perpendicular to edge A B, as k3",
        "collapse mountain k1, valley k2 and k3, holding A",
    )
    assert fault.code == "which-lies-over"


SAID: Sequence[Sequence[str]] = (
    (
        *("mark S at midpoint of A B", "mark O at the centre"),
        *("valley A to O", "valley B to O", "valley C to O", "valley D to O"),
        "turn over side to side",
        *("crease left corner to right corner, as v", "crease bottom corner to top corner, as h"),
        "crease bottom left edge onto top right edge, as d1",
        "crease bottom right edge onto top left edge, as d2",
        BASE,
    ),
)


@pytest.mark.parametrize("statements", SAID, ids=lambda said: said[-1])
@pytest.mark.parametrize("image", IMAGES, ids=lambda image: image.name)
def test_the_mirror_law(statements: Sequence[str], image: Image) -> None:
    assert not broken(statements, image)
