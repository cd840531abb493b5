"""A page in grey that is photocopied twice: every line of the paper is still there.

A copier blurs and steepens: what is darker than its middle grows darker, what is lighter fades. How much it
does so here is common practice for an office copier: a blur of a tenth of a millimetre, and half as much
contrast again.
"""

from __future__ import annotations

import io
from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image, ImageFilter

from foldscript.drawing.scene.outlines import polyline
from foldscript.drawing.scene.scene import Path, Scene
from foldscript.drawing.style.ink import Ink
from foldscript.drawing.style.styles import Style, load_style
from foldscript.output.png import scene_png

DPI, BLUR, CONTRAST = 300, 0.1, 1.5
SIDE = 60.0

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
)


@pytest.mark.parametrize("role", LINES)
@pytest.mark.parametrize("paper", ["paper.plain", "paper.coloured"])
def test_lines_outlive_two_photocopies(role: str, paper: str) -> None:
    assert depth(copied(copied(printed(load_style("grey"), role, paper)))) > 0.15


def test_a_hairline_in_a_paler_grey_does_not() -> None:
    """So the test above can fail."""
    style = load_style("grey")
    inks = dict(style.roles, crease=Ink(stroke="#7a7a7a", width=0.3, cap="butt"))
    pale = replace(style, roles=inks)
    assert depth(copied(copied(printed(pale, "crease", "paper.plain")))) < 0.1
