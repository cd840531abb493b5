"""svg: each step as a picture that scales."""

from __future__ import annotations

from collections.abc import Iterator

from ..drawn import Drawn
from ..svg import scene_svg

SUMMARY = "a picture of each step"


def files(drawn: Drawn) -> Iterator[tuple[str, bytes]]:
    """One SVG a figure."""
    for name, scene in drawn.pictures():
        yield f"{name}.svg", scene_svg(scene, drawn.style)
