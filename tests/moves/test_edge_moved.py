"""An edge is folded onto a line, and only a shorter flap along it moves: the arrow and a word tell so."""

from __future__ import annotations

import pytest

from foldscript.paper.signs import Arrow

from ..scripts import folded

BASE = "start from waterbomb base\nsheet square 100 mm\n"
#: The front corners are folded up: each front flap reaches half way down the edge of the wing behind it.
UP = "valley bottom left corner to top corner; valley bottom right corner to top corner"


def test_the_arrow_begins_where_the_flap_ends() -> None:
    """Half way down the edge, at 100/4 mm from the middle line and 50/2 mm under the tip; it comes onto the
    middle line as far under the tip as it was along the edge, √2 · 25 mm.
    """
    model = folded(UP, "valley top left edge onto centre line", sheet=BASE)
    (arrow,) = (s for s in model.steps[-1].records[0].signs if isinstance(s, Arrow))
    (tx, ty), (hx, hy) = arrow.tail, arrow.head
    assert (hx - tx) * 100 == pytest.approx(25)
    assert (hy - ty) * 100 == pytest.approx(25 - 25 * 2**0.5)


def test_it_is_told_that_the_rest_of_the_edge_stays() -> None:
    (warning,) = folded(UP, "valley top left edge onto centre line", sheet=BASE).warnings
    assert warning.code == "less-moves"
    assert "only 35 mm of 71 move" in warning.message


@pytest.mark.parametrize(
    "line",
    [
        "valley top left edge onto centre line, 4 layers",
        "valley top left edge onto centre line, all layers",
        "valley line top corner midpoint of the top left edge onto centre line",
    ],
)
def test_whoever_says_which_paper_is_told_nothing(line: str) -> None:
    assert not folded(UP, line, sheet=BASE).warnings
