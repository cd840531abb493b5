"""How the figures of a row stand beside their numbers."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from foldscript.drawing.scene.outlines import polyline
from foldscript.drawing.scene.scene import Path, Scene, Text
from foldscript.output.fonts import measure
from foldscript.pages import measures
from foldscript.pages.grid import Grid, grid
from foldscript.pages.layout.cells import cell_rows, in_the_middle
from foldscript.pages.layout.row_places import Figure
from foldscript.pages.parts import PartKind
from foldscript.pages.sizes import page_size
from foldscript.pages.trimming import ink
from foldscript.pages.typesetting import Typesetter


def standing_low(parts: Sequence[float], larger: int) -> list[tuple[float, float]]:
    """The height of the number and of the upper end of every figure of a row: squares, one in the middle of
    its frame, which begin so far down it, one of them drawn larger than those before."""
    g = grid(page_size("A4"))
    wide, high = g.frame
    made = [
        Figure(
            str(k + 1),
            "Fold.",
            Scene(
                wide,
                high,
                (Path("edge", polyline([(60.0, part * high), (90.0, 0.9 * high)])),),
                signs=frozenset({"scale"} if k == larger else set()),
            ),
        )
        for k, part in enumerate(parts)
    ]
    (row,) = cell_rows(made, g, Typesetter(measure, g.leading))
    return [
        (items[0].at[1], next(i.at[1] for i in items if isinstance(i.content, Scene)))
        for items in (block.items for _, block in row.cells)
    ]


def test_figures_that_would_be_far_below_their_numbers_stand_higher_together() -> None:
    """Two in one scale beside a higher one in another keep their places to each other."""
    (_, one), (_, two), (number, high) = standing_low((0.5, 0.6, 0.05), larger=2)
    g = grid(page_size("A4"))
    assert two - one == pytest.approx(0.1 * g.frame[1])
    assert max(one, two) - number <= measures.CELL.number_far + measures.ROUNDING
    assert high < number


def test_a_figure_far_below_its_number_stands_higher_alone_where_its_neighbour_cannot() -> None:
    """As far as it must, for both are drawn in one scale."""
    (number, low), (_, high) = standing_low((0.6, 0.05), larger=-1)
    assert low - number == pytest.approx(measures.CELL.number_far)
    assert high < number


def test_a_sign_after_a_figure_that_stands_higher_goes_up_with_it() -> None:
    """It stays at mid height of the figure, which is as near to its number as it must be."""
    g = grid(page_size("A4"))
    wide, high = g.frame
    tall, low = (
        Scene(wide, high, (Path("edge", polyline([(60.0, part * high), (90.0, 0.9 * high)])),))
        for part in (0.05, 0.7)
    )
    turn = Scene(20.0, 10.0, (Path("sign", polyline([(0.0, 5.0), (20.0, 5.0)])),))
    made = [Figure("1", "Fold.", tall), Figure("2", "Fold.", low, after=(turn,))]
    (row,) = cell_rows(made, g, Typesetter(measure, g.leading))
    number, figure, sign, *_ = row.cells[1][1].items
    assert isinstance(figure.content, Scene)
    assert figure.at[1] - number.at[1] == pytest.approx(measures.CELL.number_far)
    middle = figure.at[1] + figure.content.height / 2
    assert sign.at[1] + turn.height / 2 == pytest.approx(middle, abs=measures.TRIM)


def caption_heights(feet: Sequence[float], captions: Sequence[str]) -> list[float]:
    """Where the captions of a row begin, whose figures end so far down their frames."""
    g = grid(page_size("A4"))
    wide, high = g.frame
    made = [
        Figure(
            str(k), words, Scene(wide, high, (Path("edge", polyline([(60.0, 9.0), (90.0, foot)])),))
        )
        for k, (foot, words) in enumerate(zip(feet, captions, strict=True), 1)
    ]
    (row,) = cell_rows(made, g, Typesetter(measure, g.leading))
    return [
        next(i.at[1] for i in block.items if i.part and i.part.kind is PartKind.PARAGRAPH)
        for _, block in row.cells
    ]


def test_captions_of_a_row_are_level_where_they_are_near_enough_to_their_figures() -> None:
    near = measures.CELL.caption_far - 1.0
    one, two, three = caption_heights((100.0, 100.0 - near, 50.0), ("Fold.", "Turn.", "Open."))
    assert one == pytest.approx(two)
    assert three == pytest.approx(one - 50.0)


def test_a_caption_is_not_level_where_that_would_make_the_row_much_higher() -> None:
    long = "Fold the corner to the corner opposite and then crease it. " * 3
    one, two = caption_heights((100.0, 88.0), ("Fold.", long))
    assert two == pytest.approx(one - 12.0)


def test_a_figure_half_way_stands_on_the_foot_of_its_row() -> None:
    """It begins at the same height as the step's own and is lower; its number stays level with that."""
    g = grid(page_size("A4"))
    made = [square(label, low, g) for label, low in (("5", 0.5), ("5½", 0.45))]
    (row,) = cell_rows(made, g, Typesetter(measure, g.leading))
    (whole, half) = (block.items for _, block in row.cells)
    ends = [
        item.at[1] + item.scale * item.content.height
        for items in (whole, half)
        for item in items
        if isinstance(item.content, Scene)
    ]
    assert ends[0] == pytest.approx(ends[1])
    assert whole[0].at[1] == pytest.approx(half[0].at[1])
    captions = [items[-1].at[1] for items in (whole, half)]
    assert captions[0] == pytest.approx(captions[1])


def square(label: str, low: float, g: Grid) -> Figure:
    """A figure from the upper end of its frame down to this part of it, right of its number."""
    wide, high = g.frame
    line = Path("edge", polyline([(60.0, 0.1 * high), (90.0, low * high)]))
    return Figure(label, "Fold.", Scene(wide, high, (line,)))


@pytest.mark.parametrize(("label", "alone"), [("", True), ("7", False)])
def test_the_finished_model_alone_in_its_row_stands_in_the_middle(label: str, alone: bool) -> None:
    g = grid(page_size("A4"))
    (row,) = cell_rows([square(label, 0.5, g)], g, Typesetter(measure, g.leading))
    (_, block) = in_the_middle(row, g).cells[0]
    (picture,) = (item for item in block.items if isinstance(item.content, Scene))
    caption = block.items[-1]
    assert isinstance(picture.content, Scene)
    assert isinstance(caption.content, Text)
    left, _, right, _ = ink(picture.content)
    middle = picture.at[0] + picture.scale * (left + right) / 2
    assert (middle == pytest.approx(g.width / 2)) is alone
    assert (caption.content.anchor == "middle") is alone
    assert (caption.at[0] == pytest.approx(g.width / 2)) is alone
