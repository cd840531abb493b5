"""Arrows there and back of one figure: few, and their heads apart, on every sample and base.

Three millimetres and three arrows are what readers of the drawings asked for.
"""

from __future__ import annotations

import math
from itertools import combinations
from pathlib import Path

import pytest

from foldscript.drawing.draw import draw
from foldscript.drawing.scene.scene import Close
from foldscript.drawing.scene.scene import Path as Line
from foldscript.drawing.style.styles import load_style
from foldscript.folding.steps import Panel
from foldscript.pages.grid import figure_frame
from foldscript.pages.sizes import page_size
from foldscript.paper.signs import Arrow

from ..sample_scripts import SCRIPTS, sample
from ..scripts import folded
from .composed import composed

STYLE = load_style("colour")
MM = 72 / 25.4
GRID = (
    "crease the left edge onto the right edge as u",
    "crease the bottom edge onto the top edge as l",
)
QUARTERS = tuple(
    f"crease the {side} edge onto {line}"
    for side, line in (("left", "u"), ("right", "u"), ("bottom", "l"), ("top", "l"))
)


def pairs(panel: Panel) -> int:
    return sum(isinstance(s, Arrow) and s.act == "fold-unfold" for s in panel.signs)


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda p: p.stem)
def test_heads_keep_three_millimetres_apart(path: Path) -> None:
    model = sample(path.stem).model
    assert all(pairs(panel) <= 3 for step in model.steps for panel in step.panels)
    for label, panel, ink in composed(model, STYLE, figure_frame(page_size("A4"))):
        if pairs(panel) < 2:
            continue
        groups = [g for g in ink.groups if g.kind == "arrow"]
        heads = [
            [
                s.to
                for item in group.items
                if isinstance(item, Line) and item.role in ("arrow.head", "arrow.open")
                for s in item.segments
                if not isinstance(s, Close)
            ]
            for group in groups
        ]
        for some, others in combinations(heads, 2):
            assert min(math.dist(p, q) for p in some for q in others) > 2.95 * MM, label


def test_too_many_are_shared_out_evenly_each_with_its_sentences() -> None:
    """Six as three and three, four as two and two; later figures have the creases of those before."""
    model = folded("\n  ".join((*GRID, *QUARTERS)))
    (step,) = model.steps
    assert [pairs(panel) for panel in step.panels] == [3, 3]
    assert [len(panel.state.creases) > 0 for panel in step.panels] == [False, True]
    figures = draw(model, STYLE, (140.0, 140.0))
    assert [figure.label for figure in figures] == ["1a", "1b"]
    for figure in figures:
        assert figure.caption.count("Crease, and unfold.") == 3
    model = folded(*GRID, "\n  ".join(QUARTERS))
    assert [pairs(panel) for panel in model.steps[-1].panels] == [2, 2]


def test_three_stay_together() -> None:
    model = folded(*GRID, "\n  ".join(QUARTERS[:3]))
    assert [pairs(panel) for panel in model.steps[-1].panels] == [3]
