"""A page in grey that is photocopied twice: every line of the paper is still there.

A copier blurs and steepens: what is darker than its middle grows darker, what is lighter fades. How much it
does so here is common practice for an office copier: a blur of a tenth of a millimetre, and half as much
contrast again.
"""

from __future__ import annotations

import io
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image, ImageFilter

from foldscript.drawing.scene.outlines import polyline
from foldscript.drawing.scene.scene import Path, Scene
from foldscript.drawing.scene.strokes import polylines
from foldscript.drawing.signs.key import legend
from foldscript.drawing.style.ink import Ink
from foldscript.drawing.style.styles import Style, load_style
from foldscript.output.png import scene_png

DPI, BLUR, CONTRAST = 300, 0.1, 1.5
SIDE = 60.0
#: Roles of strokes, by their first part.
STROKES = ("sign", "mark", "arrow")

Grey = NDArray[np.float64]


def printed(style: Style, role: str, paper: str) -> Image.Image:
    """A level line of a role on paper of one side."""
    square = ((0.0, 0.0), (SIDE, 0.0), (SIDE, SIDE), (0.0, SIDE))
    line = ((5.0, SIDE / 2), (SIDE - 5.0, SIDE / 2))
    items = (Path(paper, polyline(square, closed=True)), Path(role, polyline(line)))
    png = scene_png(Scene(SIDE, SIDE, items), style, DPI)
    return Image.open(io.BytesIO(png)).convert("L")


def copied(original: Image.Image) -> Image.Image:
    """What comes out of the copier."""
    blurred = original.filter(ImageFilter.GaussianBlur(BLUR / 25.4 * DPI))
    lights = np.asarray(blurred, dtype=np.float64) / 255
    steeper = np.clip(CONTRAST * (lights - 0.5) + 0.5, 0.0, 1.0)
    return Image.fromarray((255 * steeper).astype(np.uint8))


def depth(copy: Image.Image) -> float:
    """How much darker than the paper about it the darkest tenth along the line is, of the whole range."""
    lights = np.asarray(copy, dtype=np.float64) / 255
    middle = lights.shape[0] // 2
    across = lights[middle - 8 : middle + 8, 40:-40].min(axis=0)
    ground = float(np.median(lights[middle - 60 : middle - 30, 40:-40]))
    return ground - float(np.quantile(across, 0.1))


LINES = (
    "edge",
    "edge.under",
    "crease",
    "fold.valley",
    "fold.mountain",
    "fold.hidden",
    "line.guide",
    "line.cut",
    "line.discarded",
    "leader",
    "mark.length",
    "mark.angle",
    "mark.ring",
    "arrow",
    "arrow.hidden",
    "sign",
    "sign.moving",
    "sign.staying",
)
#: Signs of thin strokes, or of several close to each other.
SIGNS = (
    "arrow.raise",
    "arrow.lower",
    "mark.angle",
    "mark.raised",
    "mark.apart",
    "mark.opening",
    "mark.opened",
    "layers",
    "point.push",
)


@pytest.mark.parametrize("role", LINES)
@pytest.mark.parametrize("paper", ["paper.plain", "paper.coloured"])
def test_lines_outlive_two_photocopies(role: str, paper: str) -> None:
    assert depth(copied(copied(printed(load_style("grey"), role, paper)))) > 0.15


@pytest.mark.parametrize("key", SIGNS)
def test_signs_outlive_two_photocopies(key: str) -> None:
    """Every stroke is there, most of its way at least where others lie over it."""
    style = load_style("grey")
    ((_, sample),) = legend([key], style)
    png = scene_png(sample, style, DPI)
    copy = np.asarray(copied(copied(Image.open(io.BytesIO(png)).convert("L"))), float) / 255
    drawn = [i for i in sample.items if isinstance(i, Path) and i.role.split(".")[0] in STROKES]
    assert drawn
    for item in drawn:
        points = [p for line in polylines([item]) for p in line]
        dots = [(round(y * DPI / 72), round(x * DPI / 72)) for x, y in points]
        lights = [copy[y - 1 : y + 2, x - 1 : x + 2].min() for y, x in dots]
        assert np.median(lights) < 0.6, item.role


def test_layers_in_their_sign_stay_apart_in_two_photocopies() -> None:
    """Straight up from a stroke that stays to the next one there is light between them."""
    style = load_style("grey")
    ((_, sample),) = legend(["layers"], style)
    png = scene_png(sample, style, DPI)
    copy = np.asarray(copied(copied(Image.open(io.BytesIO(png)).convert("L"))), float) / 255
    starts = {
        points[0]
        for item in sample.items
        if isinstance(item, Path) and item.role in ("sign.moving", "sign.staying")
        for points in polylines([item])
    }
    left = min(x for x, _ in starts)
    heights = sorted(y for x, y in starts if x - left < 0.1)
    assert len(heights) > 1
    column = round((left + 2.0) * DPI / 72)
    for above, below in pairwise(heights):
        between = copy[round(above * DPI / 72) : round(below * DPI / 72), column]
        assert between.max() > 0.7


def test_a_hairline_in_a_paler_grey_does_not() -> None:
    """So the test above can fail."""
    style = load_style("grey")
    inks = dict(style.roles, crease=Ink(stroke="#7a7a7a", width=0.3, cap="butt"))
    pale = replace(style, roles=inks)
    assert depth(copied(copied(printed(pale, "crease", "paper.plain")))) < 0.1
