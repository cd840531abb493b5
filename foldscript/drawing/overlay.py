"""Signs and letters over the paper, each at a place where it hinders least.

In: the signs of a figure, its view, and what lies around. Out: groups of ink. Marks come
before the arrows that have to mind them; those that only help (equal angles and lengths, right
angles) are left out where there is no room for them. Letters come after all that their points bind less,
and before the signs of layers, which have a whole line to stand at. What each sign looks like is its
glyph's matter.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from ..geometry.lines import between
from ..languages.wording import ENGLISH, Language
from ..paper.signs import Arrow, PointSign, Sign
from ..paper.state import State
from .lettering import write_letters
from .placement import routes
from .placement.labels import place_value
from .placement.obstacles import Obstacles, near
from .scene.groups import Group, Sketch
from .scene.scene import Close, Path, Point
from .scene.strokes import along, polylines
from .scene.view import View
from .signs import families
from .signs.glyph import ArrowGlyph, LastGlyph, MarkGlyph, PointGlyph, Setting
from .signs.registry import glyph_for, glyphs_of
from .style.styles import Style

#: How near a head covers a mark (points).
_COVERED = 2.5


@dataclass(frozen=True)
class _Mark:
    """A mark, as drawn; ruled : whether it runs along an edge; needed : whether a fold is found by it."""

    group: Group
    key: str
    ruled: bool
    needed: bool

    @property
    def points(self) -> list[Point]:
        return along(item for item in self.group.items if isinstance(item, Path))


def draw_signs(
    signs: Sequence[Sign],
    view: View,
    state: State,
    style: Style,
    around: Obstacles,
    ink: Sketch,
    speech: Language = ENGLISH,
    names: Sequence[tuple[str, Point]] = (),
) -> None:
    """Everything that is drawn over the paper; `names` are written at points (`lettering.names_in`)."""
    points = [(s, glyph_for(s, PointGlyph, signs)) for s in signs if isinstance(s, PointSign)]
    arrows = [(s, glyph_for(s, ArrowGlyph, signs)) for s in signs if isinstance(s, Arrow)]
    around.marks.extend(view(s.at) for s, glyph in points if glyph.family is families.RING)
    parting = tuple(view(s.tail) for s, glyph in arrows if glyph.parting)
    lettered = tuple(p for _, p in names)
    setting = Setting(view, state, style, around, tuple(signs), parting, speech, lettered)
    before = len(around.arrows), len(around.ruled)
    marks = _marks(setting, ink)
    marked = len(around.arrows), len(around.ruled)
    for sign, glyph in points:
        for group in glyph.draw(sign, setting):
            ink.add(group.kind, group.items, glyph.key)
    start = len(ink.groups)
    _arrows(arrows, setting, ink)
    kept = _uncovered(marks, ink, start)
    if len(kept) < len(marks):  # room that is free again
        around.arrows[before[0] : marked[0]] = [p for m in kept for p in m.points]
        around.ruled[before[1] : marked[1]] = [p for m in kept if m.ruled for p in m.points]
    for one in around.unwritten:
        ink.add(families.MARK.kind, place_value(*one, around, style))
    around.creases.extend(
        p for g in ink.groups if g.kind == families.CREASE.kind for p in _points(g)
    )
    for after_letters in (False, True):
        if after_letters:
            write_letters(names, around, style, ink)
        for last in glyphs_of(LastGlyph):
            if last.after_letters == after_letters:
                for items in last.draw(setting):
                    ink.add(last.family.kind, items, last.key)


def _points(group: Group) -> list[Point]:
    """Points along straight lines, close to each other."""
    lines = polylines(item for item in group.items if isinstance(item, Path))
    return [
        between(p, q, k / n)
        for line in lines
        for p, q in pairwise(line)
        for n in [max(1, math.ceil(math.dist(p, q)))]
        for k in range(n + 1)
    ]


def _arrows(signs: Sequence[tuple[Arrow, ArrowGlyph]], setting: Setting, ink: Sketch) -> None:
    """Every arrow of a figure, in an order and from places that keep them apart."""
    view, around = setting.view, setting.around
    ways = routes.apart([(view(s.tail), view(s.head)) for s, _ in signs], around)
    around.landings.extend(head for _, head in ways)
    around.starts.extend(tail for tail, _ in ways)
    for k in routes.with_twins_first(ways):
        sign, glyph = signs[k]
        around.mouth, around.leaves = (
            None if side is None else (view(side[0]), view(side[1]))
            for side in (sign.mouth, sign.leaves)
        )
        ink.add(glyph.family.kind, glyph.draw(*ways[k], sign.under, around), glyph.key)


def _marks(setting: Setting, ink: Sketch) -> list[_Mark]:
    """Marks of what is equal, drawn into the ink."""
    out: list[_Mark] = []
    for glyph in glyphs_of(MarkGlyph):
        ruled = len(setting.around.ruled)
        for paths in glyph.draw(setting):
            ink.add(glyph.family.kind, paths, glyph.key)
            along_edge = len(setting.around.ruled) > ruled
            out.append(_Mark(ink.groups[-1], glyph.key, along_edge, glyph.needed))
    return out


def _uncovered(marks: Sequence[_Mark], ink: Sketch, start: int) -> list[_Mark]:
    """Takes marks away again that an arrow's head covers; a pair of equals goes as a whole.

    Those that stay.
    """
    heads = [
        p
        for group in ink.groups[start:]
        if group.kind == families.ARROW.kind
        for item in group.items
        if isinstance(item, Path) and item.role in ("arrow.head", "arrow.open")
        for p in _corners(item)
    ]
    kept = [m for m in marks if m.needed or not near(m.points, heads, _COVERED).any()]
    for mark in marks:
        if mark not in kept:
            ink.groups.remove(mark.group)
        if not any(k.key == mark.key for k in kept):
            ink.signs.discard(mark.key)
    return kept


def _corners(path: Path) -> list[Point]:
    return [s.to for s in path.segments if not isinstance(s, Close)]
