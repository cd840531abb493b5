"""png: each step as a picture of dots, for programs that take no SVG."""

from __future__ import annotations

from collections.abc import Iterator

from ..drawn import Drawn
from ..png import scene_png

SUMMARY = "a picture of each step, 200 dots an inch"
DOTS_PER_INCH = 200


def files(drawn: Drawn) -> Iterator[tuple[str, bytes]]:
    """One PNG a figure. Raises FoldscriptError when the system has no cairo library."""
    for name, scene in drawn.pictures():
        yield f"{name}.png", scene_png(scene, drawn.style, DOTS_PER_INCH)
