"""One figure: the paper first, then lines, then signs, then letters.

In: a panel, its framing and a style. Out: items in the frame's coordinates, and the signs used.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from ..folding.steps import Model, Panel
from ..paper.signs import (
    Arrow,
    CutLine,
    EqualAngles,
    EqualLengths,
    FoldLine,
    GuideLine,
    PointSign,
    RepeatSign,
    RightAngle,
    Sign,
)
from ..paper.state import State
from . import arrows, labels, lines, marks, paper, turns
from .framing import Framing
from .layers import Spread, spread
from .outlines import Box, item_box, shifted, union_box
from .scene import Path, Point, Text
from .styles import Style
from .surroundings import Surroundings
from .view import View, view_within
from .visible import Visible

Item = Path | Text


@dataclass
class Ink:
    """A figure while it is being drawn."""

    items: list[Item] = field(default_factory=list)
    signs: set[str] = field(default_factory=set)


def compose(model: Model, panel: Panel, framing: Framing, style: Style) -> Ink:
    """Everything of one figure but a change of scale."""
    view = framing.view
    visible = Visible(_spread(panel.state, view, style), view)
    drawn = lines.fold_lines(
        visible,
        [s for s in panel.signs if isinstance(s, FoldLine | CutLine | GuideLine)],
        [s for s in panel.signs if isinstance(s, Arrow)],
    )
    ink = Ink()
    _paper(model, visible, style, ink, _band(drawn.strokes))
    ink.items.extend(drawn.paths)
    ink.signs.update(drawn.signs)
    around = Surroundings(
        visible.silhouette,
        framing.limits,
        visible.rim,
        lines.stroke_points(drawn.strokes),
        arrows=[p for box in framing.taken for p in _grid(box)],
        strokes=list(drawn.strokes),
        taken=list(framing.taken),
    )
    _signs(panel.signs, visible, view, style, around, ink)
    names = [(name, view(p)) for name, p in panel.labels]
    ink.items.extend(labels.place_labels(names, around, style))
    _settle(ink, framing.origin, framing.limits)
    if framing.grown is not None:
        ink.items.extend(turns.scale_sign(view.factor, framing.grown, style))
        ink.signs.add("scale")
    for sign, at in framing.turns:
        ink.items.extend(turns.turn(sign, at, style))
        ink.signs.add(turns.turn_key(sign))
    return ink


def paper_alone(model: Model, state: State, style: Style, frame: tuple[float, float]) -> Ink:
    """A state without signs, as large as the frame allows."""
    edge = 4.0 + style.layer_spread / 2
    view = view_within(state, (frame[0] - 2 * edge, frame[1] - 2 * edge))
    ink = Ink()
    _paper(model, Visible(_spread(state, view, style), view), style, ink, None)
    ink.items[:] = [shifted(i, frame[0] / 2, frame[1] / 2) for i in ink.items]
    return ink


def _grid(box: Box) -> list[Point]:
    """Points all over a box."""
    x0, y0, x1, y1 = box
    return [(x0 + (x1 - x0) * i / 4, y0 + (y1 - y0) * j / 4) for i in range(5) for j in range(5)]


def _spread(state: State, view: View, style: Style) -> Spread:
    return spread(state, style.layer_gap / view.scale, style.layer_spread / view.scale)


def _paper(model: Model, visible: Visible, style: Style, ink: Ink, fresh: Any) -> None:
    """Areas, creases and edges."""
    areas = paper.fills(visible, model.front_colour, model.back_colour)
    creases = paper.creases(visible, style, fresh)
    ink.items.extend(areas)
    ink.items.extend(creases)
    ink.items.extend(paper.edges(visible))
    ink.signs.update(".".join(a.role.split(".")[:2]) for a in areas)
    if creases:
        ink.signs.add("crease")


def _band(strokes: Sequence[tuple[Point, Point]]) -> Any:
    """A narrow band about new lines: earlier creases are not drawn under them."""
    if not strokes:
        return None
    import shapely

    return shapely.buffer(shapely.multilinestrings(list(strokes)), 0.9, cap_style="flat")


def _signs(
    signs: Sequence[Sign],
    visible: Visible,
    view: View,
    style: Style,
    around: Surroundings,
    ink: Ink,
) -> None:
    """Everything that is drawn over the paper, marks before the arrows that have to mind them."""
    around.marks.extend(
        view(s.at) for s in signs if isinstance(s, PointSign) and marks.is_landmark(s)
    )
    angles = marks.equal_angles([s for s in signs if isinstance(s, EqualAngles)], view, around)
    if angles:
        ink.items.extend(angles)
        ink.signs.add("mark.equal-angles")
    for s in signs:
        if isinstance(s, EqualLengths):
            ink.items.extend(marks.equal_lengths(s, view, around))
            ink.signs.add("mark.equal-lengths")
        elif isinstance(s, RightAngle):
            ink.items.extend(marks.right_angle(s, view))
            ink.signs.add("mark.right-angle")
        elif isinstance(s, PointSign):
            ink.items.extend(marks.point_sign(s, view, around))
            ink.signs.add(f"point.{s.kind.value}")
    for s in signs:
        if isinstance(s, Arrow):
            ink.items.extend(arrows.arrow(s.act, view(s.tail), view(s.head), s.under, around))
            ink.signs.add(f"arrow.{s.act.value}")
    for s in signs:
        if isinstance(s, RepeatSign):
            tip, towards = _repeat_place(s, view, visible, around)
            ink.items.extend(turns.repeat_sign(s, tip, towards, style))
            ink.signs.add("repeat")


def _repeat_place(
    sign: RepeatSign, view: View, visible: Visible, around: Surroundings
) -> tuple[Point, Point]:
    """Tip and direction of a repeat sign: at its place from outside, or below the paper."""
    x0, _, x1, y1 = paper.silhouette_box(visible)
    if sign.at is None:
        return ((x0 + x1) / 2 + 16.0, min(y1 + 9.0, around.box[3] - 8.0)), (1.0, 0.0)
    p = view(sign.at)
    outward = (1.0, 0.0) if p[0] >= (x0 + x1) / 2 else (-1.0, 0.0)
    return (p[0] + 1.5 * outward[0], p[1]), (-outward[0], 0.0)


def _settle(ink: Ink, origin: Point, limits: Box) -> None:
    """Moves the figure into its frame: as planned, or aside where signs stand out."""
    box = union_box(item_box(i) for i in ink.items)
    dx = dy = 0.0
    if box is not None:
        dx = _nudge(box[0], box[2], limits[0], limits[2])
        dy = _nudge(box[1], box[3], limits[1], limits[3])
    ink.items[:] = [shifted(i, origin[0] + dx, origin[1] + dy) for i in ink.items]


def _nudge(lo: float, hi: float, least: float, most: float) -> float:
    """Shift that brings [lo, hi] into [least, most], or to its middle when it is too long."""
    if hi - lo > most - least:
        return (least + most - lo - hi) / 2
    return max(0.0, least - lo) - max(0.0, hi - most)
