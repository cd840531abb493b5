"""The figures of a model as they are drawn, with the groups of ink that they are made of."""

from __future__ import annotations

from foldscript.drawing.draw import framings_of, last_panel
from foldscript.drawing.figure import compose
from foldscript.drawing.plan import planned
from foldscript.drawing.scene.groups import Sketch
from foldscript.drawing.style.styles import Style
from foldscript.folding.steps import Model, Panel


def composed(
    model: Model, style: Style, frame: tuple[float, float]
) -> list[tuple[str, Panel, Sketch]]:
    """Label, panel and ink of every figure, the finished one last ('finished')."""
    row = planned(model)
    labels = [*(one.label or f"after {one.last}" for one in row), "finished"]
    panels = [*(one.panel for one in row), last_panel(model)]
    found = framings_of(model, row, style, frame)
    return [
        (label, panel, compose(model, panel, framing, style))
        for label, panel, framing in zip(labels, panels, found, strict=True)
    ]
