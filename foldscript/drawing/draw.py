"""The drawing stage: every panel of a model becomes a Scene.

In: a folded `Model`, a style, and the frame a figure has on the page (width and height in points).
Out: a `DrawnFigure` for each panel; all scenes have the frame's size. The paper is painted first,
then lines, then signs, then letters.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from ..folding.steps import Model, Panel, Step
from ..geometry.tolerance import same
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
    Rotate,
    Sign,
    TurnOver,
)
from ..paper.state import State
from . import arrows, labels, lines, marks, paper, turns
from .layers import Spread, spread
from .outlines import Box, item_box, shifted, union_box
from .routes import Surroundings
from .scene import Path, Point, Scene, Text
from .styles import Style
from .view import View, views
from .visible import Visible

Item = Path | Text


@dataclass(frozen=True)
class DrawnFigure:
    """One numbered figure: label '3', or '3a', '3b' where a step has several."""

    label: str
    step: int
    caption: str
    scene: Scene


@dataclass
class _Ink:
    """A figure while it is being drawn; (0, 0) is the middle of the paper."""

    items: list[Item] = field(default_factory=list)
    signs: set[str] = field(default_factory=set)


def draw(model: Model, style: Style, frame: tuple[float, float]) -> tuple[DrawnFigure, ...]:
    """Draws every panel of a model; `frame` is a figure's width and height in points."""
    plan = [(step, k, panel) for step in model.steps for k, panel in enumerate(step.panels)]
    out: list[DrawnFigure] = []
    factor = 1.0
    for (step, k, panel), (room, view) in zip(plan, _plan_views(model, frame), strict=False):
        label = f"{step.number}{_letter(k)}" if len(step.panels) > 1 else f"{step.number}"
        ink = _figure(model, panel, view, style, room, frame)
        if not same(view.factor, factor):
            _declare_scale(view.factor, frame, style, ink)
        factor = view.factor
        scene = Scene(
            frame[0],
            frame[1],
            tuple(ink.items),
            title=f"Step {label}",
            description=f"Step {label}. {_whole_caption(step)}".strip(),
            language=model.language,
            signs=frozenset(ink.signs),
        )
        out.append(DrawnFigure(label, step.number, _caption(step, k), scene))
    return tuple(out)


def finished_figure(model: Model, style: Style, frame: tuple[float, float]) -> Scene:
    """The finished model as the last figure of the row: no signs, the scale of the steps."""
    seen = _plan_views(model, frame)
    room, view = seen[-1]
    before = seen[-2][1].factor if len(seen) > 1 else 1.0
    finish = _finish(model)
    ink = _figure(model, Panel(model.finished, ()), view, style, room, frame)
    if not same(view.factor, before):
        _declare_scale(view.factor, frame, style, ink)
    return Scene(
        frame[0], frame[1], tuple(ink.items), finish, finish, model.language, frozenset(ink.signs)
    )


def portrait(model: Model, style: Style, frame: tuple[float, float]) -> Scene:
    """The finished model as large as the frame allows, for the head of a page."""
    edge = 4.0 + style.layer_spread / 2
    view = views([model.finished], [(frame[0] - 2 * edge, frame[1] - 2 * edge)])[0]
    ink = _Ink()
    _paper(model, Visible(_spread(model.finished, view, style), view), style, ink, None)
    items = tuple(shifted(i, frame[0] / 2, frame[1] / 2) for i in ink.items)
    words = _finish(model)
    return Scene(frame[0], frame[1], items, words, words, model.language, frozenset(ink.signs))


def _finish(model: Model) -> str:
    return f"Finished: {model.title or model.name}"


def _plan_views(model: Model, frame: tuple[float, float]) -> list[tuple[Box, View]]:
    """Room and view of every panel, and of the finished model after them."""
    panels = [panel for step in model.steps for panel in step.panels]
    panels.append(Panel(model.finished, ()))
    rooms = [_room(panel, frame) for panel in panels]
    seen = views([p.state for p in panels], [(r[2] - r[0], r[3] - r[1]) for r in rooms])
    return list(zip(rooms, seen, strict=True))


def _letter(k: int) -> str:
    return "abcdefghijklmnopqrstuvwxyz"[k] if k < 26 else f".{k + 1}"


def _whole_caption(step: Step) -> str:
    return step.caption or " ".join(w.render() for w in step.wording)


def _caption(step: Step, k: int) -> str:
    """Words under a figure: a step's own caption stands under its first."""
    if not step.caption and len(step.wording) == len(step.panels):
        return step.wording[k].render()
    return _whole_caption(step) if k == 0 else ""


def _turns(panel: Panel) -> tuple[list[TurnOver | Rotate], list[TurnOver | Rotate]]:
    """Signs between figures: those before this one, those after it."""
    before = [s for s in panel.before_turns if isinstance(s, TurnOver | Rotate)]
    after = [s for s in (*panel.signs, *panel.after_turns) if isinstance(s, TurnOver | Rotate)]
    return before, after


def _room(panel: Panel, frame: tuple[float, float]) -> Box:
    """Where the paper may go (points, from the frame's top left corner)."""
    before, after = _turns(panel)
    margin = max(10.0, 0.095 * min(frame))
    strip = min(turns.STRIP, 0.3 * frame[0])
    return (
        margin + (strip if before else 0.0),
        margin,
        frame[0] - margin - (strip if after else 0.0),
        frame[1] - margin,
    )


def _spread(state: State, view: View, style: Style) -> Spread:
    return spread(state, style.layer_gap / view.scale, style.layer_spread / view.scale)


def _paper(model: Model, visible: Visible, style: Style, ink: _Ink, fresh: Any) -> None:
    """Areas, creases and edges."""
    areas = paper.fills(visible, model.front_colour, model.back_colour)
    creases = paper.creases(visible, style, fresh)
    ink.items.extend(areas)
    ink.items.extend(creases)
    ink.items.extend(paper.edges(visible))
    ink.signs.update(".".join(a.role.split(".")[:2]) for a in areas)
    if creases:
        ink.signs.add("crease")


def _figure(
    model: Model,
    panel: Panel,
    view: View,
    style: Style,
    room: Box,
    frame: tuple[float, float],
) -> _Ink:
    visible = Visible(_spread(panel.state, view, style), view)
    origin = ((room[0] + room[2]) / 2, (room[1] + room[3]) / 2)
    before, after = _turns(panel)
    strip = turns.STRIP if before or after else 0.0
    limits = (
        -origin[0] + 2 + (strip if before else 0),
        -origin[1] + 2,
        frame[0] - origin[0] - 2 - (strip if after else 0),
        frame[1] - origin[1] - 2,
    )
    drawn = lines.fold_lines(
        visible, [s for s in panel.signs if isinstance(s, FoldLine | CutLine | GuideLine)]
    )
    around = Surroundings(visible.silhouette, limits, lines.stroke_points(drawn.strokes))
    ink = _Ink()
    _paper(model, visible, style, ink, _band(drawn.strokes))
    ink.items.extend(drawn.paths)
    ink.signs.update(drawn.signs)
    _signs(panel.signs, visible, view, style, around, ink)
    names = [(name, view(p)) for name, p in panel.labels]
    ink.items.extend(labels.place_labels(names, around, style))
    _settle(ink, origin, limits)
    _between(before, 0.0, frame, style, ink)
    _between(after, frame[0], frame, style, ink)
    return ink


def _declare_scale(factor: float, frame: tuple[float, float], style: Style, ink: _Ink) -> None:
    """The scale sign, in the corner of the frame where it covers least."""
    taken = [item_box(i) for i in ink.items]
    best: tuple[float, list[Item]] | None = None
    for y in (0.0, frame[1] - 10.0):
        for x in (frame[0] - 1.0, 36.0):
            sign = turns.scale_sign(factor, (x, y), style)
            box = union_box(item_box(i) for i in sign)
            cover = sum(_common(box, t) for t in taken)
            if best is None or cover < best[0] - 1e-6:
                best = (cover, sign)
    assert best is not None
    ink.items.extend(best[1])
    ink.signs.add("scale")


def _common(a: Box | None, b: Box | None) -> float:
    """Area that two boxes share."""
    if a is None or b is None:
        return 0.0
    wide, high = min(a[2], b[2]) - max(a[0], b[0]), min(a[3], b[3]) - max(a[1], b[1])
    return max(0.0, wide) * max(0.0, high)


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
    ink: _Ink,
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


def _settle(ink: _Ink, origin: Point, limits: Box) -> None:
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


def _between(
    signs: Sequence[TurnOver | Rotate],
    side: float,
    frame: tuple[float, float],
    style: Style,
    ink: _Ink,
) -> None:
    """Signs between figures, stacked beside this one at the middle of its height."""
    gap = 8.0
    total = sum(turns.turn_size(s)[1] for s in signs) + gap * (len(signs) - 1)
    y = frame[1] / 2 - total / 2
    for s in signs:
        wide, high = turns.turn_size(s)
        x = side + wide / 2 + 1 if side <= 0 else side - wide / 2 - 1
        ink.items.extend(turns.turn(s, (x, y + high / 2), style))
        ink.signs.add(turns.turn_key(s))
        y += high + gap
