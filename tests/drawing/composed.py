"""The figures of a model as they are drawn, with the groups of ink that they are made of."""

from __future__ import annotations

from foldscript.drawing.figure import compose
from foldscript.drawing.row import Row
from foldscript.drawing.scene.groups import Sketch
from foldscript.drawing.style.styles import Style
from foldscript.folding.steps import Model, Panel


def composed(
    model: Model, style: Style, frame: tuple[float, float]
) -> list[tuple[str, Panel, Sketch]]:
    """Label, panel and ink of every figure, the finished one last ('finished')."""
    row = Row(model)
    labels = [*(one.label or f"after {one.last}" for one in row.figures), "finished"]
    panels = [*(one.panel for one in row.figures), row.last]
    return [
        (label, panel, compose(model, panel, framing, style))
        for label, panel, framing in zip(labels, panels, row.framings(style, frame), strict=True)
    ]
