"""Every arrow of every sample: its tail on the paper that moves, its head where that paper lands."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from foldscript.drawing import overlay
from foldscript.drawing.placement.obstacles import Obstacles
from foldscript.drawing.scene.scene import Path as Line
from foldscript.drawing.scene.scene import Point
from foldscript.drawing.scene.strokes import along
from foldscript.drawing.signs.glyph import ArrowGlyph
from foldscript.drawing.signs.registry import glyph_for
from foldscript.drawing.style.styles import load_style
from foldscript.geometry import polygons
from foldscript.geometry.isometries import inverse
from foldscript.geometry.lines import distance, line_through, mirrored
from foldscript.geometry.tolerance import FOLDED
from foldscript.paper.signs import Arrow, FoldLine
from foldscript.paper.state import State

from ..sample_scripts import SCRIPTS, sample
from .composed import composed

#: How far ink may stay off the points that an arrow speaks of: a ring, and half as much again (points).
_OFF = 6.0
#: The same for a point that is drawn to two sides: the arrows begin beside it, so that it is seen.
_PARTED = 8.0


def lands(before: State, after: State, arrow: Arrow) -> bool:
    """Whether paper that lies at the tail comes to the head."""
    places = (
        after.where(inverse(before.facets[i].place)(arrow.tail))
        for i in before.facets_at(arrow.tail)
    )
    return any(distance(at, arrow.head) <= 10 * FOLDED for at in places)


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda p: p.stem)
def test_paper_at_the_tail_comes_to_the_head(path: Path) -> None:
    """Worked out from the paper before and after. A crease that is opened again is a mirror meanwhile."""
    wrong: list[tuple[int, Arrow]] = []
    for step in sample(path.stem).model.steps:
        for record in step.records:
            arrows = [s for s in record.signs if isinstance(s, Arrow)]
            lines = [
                line_through(*seg)
                for s in record.signs
                if isinstance(s, FoldLine)
                for _, seg in s.parts
            ]
            for arrow in arrows:
                if arrow.act == "fold-unfold":
                    fine = any(
                        distance(mirrored(k, arrow.tail), arrow.head) <= FOLDED for k in lines
                    )
                elif record.solid is not None or (
                    record.move and record.move.verb == "turn inside out"
                ):
                    continue  # it goes into space, or its inner side out
                else:
                    fine = lands(record.before, record.after, arrow)
                on_edge = any(
                    polygons.depth(record.before.placed[i], arrow.tail) <= 10 * FOLDED
                    for i in record.before.facets_at(arrow.tail)
                )
                if not fine or not on_edge:
                    wrong.append((step.number, arrow))
    assert not wrong


#: A broad arrow along an edge stands beside it by so much.
_BESIDE = 6.6


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda p: p.stem)
def test_ink_begins_at_the_tail_and_ends_at_the_head(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """And a slit is drawn on the edge that the paper goes under."""
    off: list[tuple[str, str, float]] = []

    class Measured:
        """A glyph that measures what it draws."""

        def __init__(self, glyph: ArrowGlyph) -> None:
            self.key, self.family, self.parting = glyph.key, glyph.family, glyph.parting
            self.glyph = glyph

        def draw(self, tail: Point, head: Point, under: bool, around: Obstacles) -> list[Line]:
            paths = self.glyph.draw(tail, head, under, around)
            ink = along(paths)
            if self.glyph.on_line and not any(around.covers(ink)):
                return paths  # a pleat of many folds: it stands beside the paper
            together = sum(math.dist(p, tail) < 1.0 for p in around.starts) > 1
            beside = (
                _BESIDE if self.key == "arrow.pull-out" else 0.0
            )  # not on the edge that it runs along
            for end, least in ((tail, _PARTED if together else _OFF), (head, 1.7 * _OFF)):
                most = max(least, beside)
                far = min(math.dist(p, end) for p in ink)
                if far > most:
                    off.append((self.key, "tail" if end is tail else "head", far))
            if around.mouth is not None:
                slits = [p for p in paths if p.role == "arrow.open"]
                (ax, ay), (bx, by) = around.mouth
                for slit in slits if self.key in ("arrow.tuck", "arrow.valley") else ():
                    dots = along([slit])
                    x, y = (sum(c) / len(dots) for c in zip(*dots, strict=True))
                    far = abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / math.dist(
                        (ax, ay), (bx, by)
                    )
                    if far > 1.0:
                        off.append((self.key, "mouth", far))
            return paths

    def measured(sign: object, kind: type, *more: object) -> object:
        glyph = glyph_for(sign, kind, *more)  # type: ignore[arg-type]
        return Measured(glyph) if isinstance(glyph, ArrowGlyph) else glyph

    monkeypatch.setattr(overlay, "glyph_for", measured)
    figures = composed(sample(path.stem).model, load_style("colour"), (140.0, 140.0))
    assert figures
    assert not off
