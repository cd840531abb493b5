"""What is written at the points of a figure: letters, and how often something is done there.

In: a panel and its view, and what already stands in the figure. Out: texts and leaders, added to its ink.
"""

from __future__ import annotations

from collections.abc import Sequence

from ..folding.steps import Panel
from ..geometry.tolerance import same_point
from ..languages.unit_names import letter_of
from ..paper.signs import PointSign
from .placement.labels import place_labels
from .placement.obstacles import Obstacles
from .scene.groups import PAPER, Group, Sketch
from .scene.scene import Point
from .scene.view import View
from .style.styles import Style

#: What a number of times ends with.
_TIMES = "×"


def names_in(panel: Panel, view: View) -> list[tuple[str, Point]]:
    """What is written at points: their letters, and how often something is done there."""
    counts = [
        (f"{s.count}{_TIMES}", s.at)
        for s in panel.signs
        if isinstance(s, PointSign)
        and s.count > max(1, sum(same_point(s.at, p) for _, p in panel.letters))
    ]
    return [(letter_of(name), view(p)) for name, p in (*panel.letters, *counts)]


def write_letters(
    names: Sequence[tuple[str, Point]],
    around: Obstacles,
    style: Style,
    ink: Sketch,
) -> None:
    """Letters at points, and the fine lines that lead to those that stand far off.

    What is cleared for them on the paper lies under all signs, so that no ring is broken by it.
    """
    start = next(
        (k for k, g in enumerate(ink.groups) if g.kind not in (*PAPER, "fold")), len(ink.groups)
    )
    counts = {name for name, _ in names if name.endswith(_TIMES)}
    for items in place_labels(names, around, style, counts):
        ink.add("leader", (i for i in items if i.role == "leader"))
        ink.add("label", (i for i in items if i.role == "text.label"))
        halos = tuple(i for i in items if i.role == "text.halo")
        if halos:
            ink.groups.insert(start, Group("halo", halos))
