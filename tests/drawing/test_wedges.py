"""Edges that truly coincide are drawn as one line, not as a wedge that opens from one end to the other."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise

import pytest

from foldscript.drawing.draw import draw
from foldscript.drawing.scene.scene import Path, Point, Scene
from foldscript.drawing.scene.strokes import polylines
from foldscript.drawing.style.styles import load_style
from foldscript.pages.grid import figure_frame
from foldscript.pages.sizes import page_size

from ..sample_scripts import sample

#: pt; ends that are one, ends between which a line is seen to grow thicker, but no paper, and how long lines
#: are that the eye follows.
ONE, TWO, LONG = 0.1, (0.6, 1.0), 20.0


def edges(scene: Scene) -> Iterator[tuple[Point, Point]]:
    for item in scene.items:
        if isinstance(item, Path) and item.role in ("edge.folded", "edge.raw"):
            for line in polylines([item]):
                yield from (e for e in pairwise(line) if math.dist(*e) > LONG)


def wedges(lines: Sequence[tuple[Point, Point]]) -> Iterator[tuple[Point, Point]]:
    """The open ends of lines that leave one point side by side."""
    for one, two in combinations(lines, 2):
        ways = ((one, two), (one, two[::-1]), (one[::-1], two), (one[::-1], two[::-1]))
        for (a, b), (c, d) in ways:
            alike = math.dist(a, c) < ONE and abs(math.dist(a, b) - math.dist(c, d)) < TWO[1]
            if alike and TWO[0] < math.dist(b, d) < TWO[1]:
                yield b, d


@pytest.mark.parametrize(
    ("name", "labels"), [("helmet", ("6", "7", "8", "9")), ("goldfish", ("5", "6"))]
)
def test_a_flap_folded_up_leaves_no_wedge_along_its_fold(
    name: str, labels: tuple[str, ...]
) -> None:
    """Its inner fold would come out at the end where the layers under it are drawn apart."""
    figures = draw(sample(name).model, load_style("colour"), figure_frame(page_size("A4")))
    shown = {f.label: list(wedges(list(edges(f.scene)))) for f in figures if f.label in labels}
    assert sorted(shown) == sorted(labels)
    assert not any(shown.values()), shown
