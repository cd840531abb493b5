"""creases: the finished model's crease pattern as a picture, at true size."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from ...drawing.sheet.true_sheet import pattern_scene
from ..drawn import Drawn
from ..svg import scene_svg

SUMMARY = "the crease pattern at true size, as a picture"


def files(drawn: Drawn) -> Iterator[tuple[str, bytes]]:
    """One SVG for each kind of sheet."""
    style = replace(drawn.style, enlarged=1.0)
    for model in drawn.alone():
        yield f"{model.name}-creases.svg", scene_svg(pattern_scene(model), style)
