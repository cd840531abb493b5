"""Signs between the figures of a row stand between them, near their own, and touch neither."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from foldscript.drawing.row import BESIDE
from foldscript.drawing.scene.outlines import Box, polyline
from foldscript.drawing.scene.scene import Path, Scene
from foldscript.pages import measures
from foldscript.pages.grid import grid
from foldscript.pages.layout.row_places import Figure
from foldscript.pages.layout.signs_between import Between, signs_between
from foldscript.pages.sizes import page_size

G = grid(page_size("A4"))
STEP = G.column + G.gutter
SIGN = Scene(32.0, 18.0, (Path("sign", polyline(((1.0, 1.0), (31.0, 17.0)))),))


def square(wide: float, high: float = 100.0) -> Scene:
    """A rectangle in the middle of a frame."""
    (x, y), (w, h) = (G.frame[0] / 2, G.frame[1] / 2), (wide / 2, high / 2)
    ring = ((x - w, y - h), (x + w, y - h), (x + w, y + h), (x - w, y + h))
    return Scene(*G.frame, (Path("paper.plain", polyline(ring, closed=True)),))


def row(*figures: Figure, numbers: Mapping[int, Box] | None = None) -> Between:
    columns = [k * STEP for k in range(len(figures))]
    end = len(figures) * STEP - G.gutter
    boxes = [(numbers or {}).get(k) for k in range(len(figures))]
    return signs_between(figures, G.frame, columns, end, G, lambda _: boxes)


def test_a_sign_stands_near_the_figure_whose_words_ask_for_it() -> None:
    """In a wide gap it would else seem to belong to the other."""
    right, left = G.column / 2 + 30.0, STEP + G.column / 2 - 30.0
    after = row(Figure("1", "", square(60.0), after=(SIGN,)), Figure("2", "", square(60.0)))
    before = row(Figure("1", "", square(60.0)), Figure("2", "", square(60.0), before=(SIGN,)))
    far = 2 * measures.CELL.sign_near + BESIDE
    assert after.lefts == before.lefts == pytest.approx((0.0, STEP))  # there is room: none is moved
    (one,), (other,) = after.signs, before.signs
    assert BESIDE <= one.left - right + 2.1 <= far
    assert BESIDE <= left - other.left - SIGN.width + 2.1 <= far
    assert (one.host, other.host) == (0, 1)
    assert one.top + SIGN.height / 2 == pytest.approx(0.0)


def test_a_sign_goes_lower_rather_than_move_a_figure_far_aside() -> None:
    """Beside a square that stands on its corner there is room below mid height."""
    (x, y), reach = (G.frame[0] / 2, G.frame[1] / 2), G.column / 2 - 4.0
    ring = ((x, y - reach), (x + reach, y), (x, y + reach), (x - reach, y))
    tilted = Scene(*G.frame, (Path("paper.plain", polyline(ring, closed=True)),))
    found = row(Figure("1", "", tilted, after=(SIGN,)))
    (sign,) = found.signs
    assert found.lefts == (0.0,)
    assert sign.top > 0.0
    edge = G.column / 2 + reach - sign.top  # as far right as paper reaches at the sign's upper end
    assert sign.left >= edge
    assert sign.left + SIGN.width <= G.column


def test_figures_move_aside_where_a_sign_needs_the_room() -> None:
    """Two figures as wide as leaves the sign its place when the first goes to the left of its column."""
    wide = G.column - 20.0
    found = row(Figure("1", "", square(wide), after=(SIGN,)), Figure("2", "", square(wide)))
    (sign,) = found.signs
    right, left = found.lefts[0] + 10.0 + wide, found.lefts[1] + 10.0
    assert found.lefts[0] < 0.0
    assert found.lefts[0] + 10.0 >= 0.0
    assert sign.left - right >= BESIDE - 2.1  # the ink is measured with a little air
    assert left - sign.left - SIGN.width >= BESIDE - 2.1
    assert sign.top + SIGN.height / 2 == pytest.approx(0.0)


def test_after_the_last_of_a_row_it_stands_at_its_right() -> None:
    found = row(Figure("1", "", square(90.0)), Figure("2", "", square(90.0), after=(SIGN,)))
    (sign,) = found.signs
    assert sign.host == 1
    assert sign.left >= found.lefts[1] + G.column / 2 + 45.0 + BESIDE - 2.1
    assert sign.left + SIGN.width <= STEP + G.column


def test_without_room_it_stands_on_top_of_its_figure() -> None:
    found = row(Figure("1", "", square(G.column), after=(SIGN,)), Figure("2", "", square(G.column)))
    (sign,) = found.signs
    assert sign.top + SIGN.height <= -50.0


def test_it_keeps_off_the_number_of_the_next_figure() -> None:
    """A number at mid height of the gap: the sign goes above or below it."""
    wide = G.column - 20.0
    figures = Figure("1", "", square(wide), after=(SIGN,)), Figure("2", "", square(wide))
    number = (STEP, -8.0, STEP + 10.0, 8.0)
    (sign,) = row(*figures, numbers={1: number}).signs
    assert sign.top >= number[3] or sign.top + SIGN.height <= number[1]
    (sign,) = row(*figures, numbers={1: (STEP, -60.0, STEP + 10.0, -50.0)}).signs
    assert sign.top + SIGN.height / 2 == pytest.approx(0.0)  # a number above is not in its way
