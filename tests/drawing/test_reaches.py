"""Signs that stand out from the paper have room in the frame, also in frames that are wide and low."""

from __future__ import annotations

import pytest

from foldscript.drawing.draw import draw
from foldscript.drawing.scene.outlines import item_box, union_box
from foldscript.drawing.style.styles import load_style
from foldscript.folding.steps import Model
from foldscript.pages.grid import figure_frame
from foldscript.pages.sizes import page_size

from ..sample_scripts import sample


def folded(name: str) -> Model:
    return sample(name).model


@pytest.mark.parametrize(
    ("name", "style_name", "size"),
    [
        ("hat-to-boat", "colour", "A5 landscape"),
        ("hat-to-boat", "large", "A4 landscape"),
        ("waterbomb", "colour", "A5 landscape"),
        ("waterbomb", "large", "A5"),
        ("waterbomb", "large", "A5 landscape"),
        ("lantern", "large", "A5 landscape"),
        ("cup", "large", "A5 landscape"),
        ("frog", "large", "A5 landscape"),
    ],
)
def test_figures_keep_within_their_frames(name: str, style_name: str, size: str) -> None:
    style = load_style(style_name)
    wide, high = figure_frame(page_size(size), style.enlarged)
    for figure in draw(folded(name), style, (wide, high)):
        box = union_box(item_box(item) for item in figure.scene.items)
        assert box is not None
        tall = figure.scene.height
        assert min(box[0], box[1], wide - box[2], tall - box[3]) > -0.01, figure.label


@pytest.mark.parametrize("name", ["lily", "cup", "crane", "helmet"])
def test_figures_with_room_for_their_signs_are_not_made_smaller(name: str) -> None:
    """On A4 the usual frames have margins wide enough; so the paper is as large as the margins let it."""
    wide, high = figure_frame(page_size("A4"))
    margin = 6.5  # points
    largest = 0.0
    for figure in draw(folded(name), load_style("colour"), (wide, high)):
        box = union_box(
            item_box(item) for item in figure.scene.items if item.role.startswith("paper.")
        )
        assert box is not None
        part = max((box[2] - box[0]) / (wide - 2 * margin), (box[3] - box[1]) / (high - 2 * margin))
        largest = max(largest, part)
    assert largest > 0.97
