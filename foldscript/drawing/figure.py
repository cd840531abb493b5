"""One figure: the paper first, then lines, then signs, then letters.

In: a panel, its framing and a style. Out: items in the frame's coordinates, and the signs used.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial

from ..folding.steps import Model, Panel
from ..geometry.lines import between
from ..languages.wording import ENGLISH, Language
from ..paper.signs import Arrow, CutLine, FoldLine, GuideLine, PointSign, Sign
from ..paper.state import State
from ..pose.halfway import Halfway
from ..pose.pose import Pose
from .details.close_up_ink import put_together, silhouette_within, within_window
from .details.detail_ink import closer, place, settled
from .details.detail_part import RADII, DetailPart, divided, part_of
from .details.detail_view import DetailView, detail_view
from .framing.close_up import CloseUp
from .framing.framing import EDGE, Framing
from .framing.scale_places import looked_over
from .lettering import names_in
from .offsets.layers import spread
from .offsets.spreads import Spread
from .overlay import draw_signs
from .placement.obstacles import Obstacles
from .scene.groups import PAPER, Item, Sketch
from .scene.outlines import Box, item_box, polyline, union_box
from .scene.scene import Path, Point
from .scene.strokes import along
from .scene.view import SMALLEST, View, view_within
from .sheet.fold_lines import NONE, DrawnLines, fold_lines, stroke_points
from .sheet.ink_of_paper import creases, edges, fills
from .sheet.unit_numbers import unit_numbers
from .sheet.visible import Visible
from .signs.area_discarded import hatched
from .signs.glyph import LineGlyph, TurnGlyph
from .signs.paper_sides import role_on
from .signs.registry import glyph_for
from .signs.scale import scale_sign, scale_size
from .space.halfway import camera_of, ways_on
from .space.ink import pose_ink
from .space.moving import moves
from .space.seen import extent
from .space.views import chosen
from .style.styles import Style

#: How far letters keep off the circle of a detail view (points).
_OFF_CIRCLE = 1.2
#: How far a figure may be higher than its frame for the sake of a detail view (points).
_CIRCLE = 2.1 * max(RADII)


@dataclass(frozen=True)
class Look:
    """What figures of a model have in common: colours of the paper's sides, style, language of numbers."""

    front: str
    back: str
    style: Style
    speech: Language = ENGLISH


def compose(model: Model, panel: Panel, framing: Framing, style: Style) -> Sketch:
    """Everything of one figure."""
    view = framing.view
    look = Look(*_colours(model, panel.state), style, model.speech)
    if panel.pose is not None:
        return _finish(_standing(look, panel, panel.pose, framing), framing, style)
    if framing.close_up is not None:
        return _closer(look, panel, framing, framing.close_up)
    visible = Visible(_spread(panel.state, view, style), view)
    drawn = _fold_lines(visible, panel)
    ink = Sketch()
    _paper(look, visible, ink, drawn, panel.signs)
    for path in drawn.paths:
        ink.add("fold", (path,))
    ink.signs.update(drawn.signs)
    numbers = [] if panel.finished else _numbers(visible, drawn, panel, framing, style)
    part = part_of(panel, visible, drawn, style.enlarged)
    circled = part is not None and _with_detail(part, visible, drawn, look, panel, framing, ink)
    if not circled:
        discs = [box for one in numbers for box in map(item_box, one) if box is not None]
        around = _around(visible, drawn, framing.limits, (*framing.taken, *discs))
        names = names_in(panel, view)
        draw_signs(panel.signs, view, panel.state, style, around, ink, look.speech, names)
    for number in numbers:
        ink.add("unit", number, "unit.number")
    return _finish(ink, framing, style, circled)


def _closer(look: Look, panel: Panel, framing: Framing, one: CloseUp) -> Sketch:
    """A figure that shows the part where something is done larger, and the whole model small beside it."""
    near = Visible(_spread(panel.state, one.view, look.style), one.view)
    within_window(near, one)
    drawn = _fold_lines(near, panel)
    inner = Sketch()
    _paper(look, near, inner, drawn, panel.signs)
    for path in drawn.paths:
        inner.add("fold", (path,))
    inner.signs.update(drawn.signs)
    around = _around(near, drawn, one.window, ())
    around = replace(around, silhouette=silhouette_within(near, one))
    names = names_in(panel, one.view)
    draw_signs(panel.signs, one.view, panel.state, look.style, around, inner, look.speech, names)
    small = Visible(spread(panel.state, 0.0, 0.0), one.small)
    ink = put_together(inner, small, one, (look.front, look.back))
    ink.moved = framing.origin
    return ink


def _standing(look: Look, panel: Panel, pose: Pose, framing: Framing) -> Sketch:
    """A figure whose paper stands in space, and what is done to it."""
    view = framing.view
    scale = view.scale / panel.state.sheet.unit_mm
    drawn = pose_ink(
        pose, chosen(pose), scale, _roles(panel.state, (look.front, look.back)), look.style
    )
    ink = drawn.sketch
    folds = [s for s in panel.signs if isinstance(s, FoldLine) and not s.opens]
    strokes: list[tuple[Point, Point]] = []
    for sign in folds:
        lines = [(facet, (view(p), view(q))) for facet, (p, q) in sign.parts]
        for line in drawn.on_paper(lines):
            ink.add("fold", (Path(f"fold.{sign.sense.value}", polyline(line)),))
            ink.signs.add(glyph_for(sign, LineGlyph).key)
            strokes.append(line)
    around = Obstacles(
        drawn.silhouette,
        framing.limits,
        drawn.edges,
        stroke_points(strokes),
        arrows=[p for box in framing.taken for p in _grid(box)],
        strokes=strokes,
        taken=list(framing.taken),
    )
    signs, ways = panel.signs, []
    if panel.next_pose is not None:
        told = [view(s.at) for s in signs if isinstance(s, PointSign) and s.kind == "curl"]
        ways = moves(pose, panel.next_pose, drawn, chosen(pose), scale, told)
    if ways:  # they say it all
        signs = tuple(s for s in signs if not (isinstance(s, PointSign) and s.kind == "open-out"))
        ink.add("arrow", ways, "arrow.valley")
        around.arrows.extend(along(ways))
    names = names_in(panel, view)
    draw_signs(signs, view, panel.state, look.style, around, ink, look.speech, names)
    return ink


def half_way(
    model: Model, half: Halfway, panel: Panel, framing: Framing, moved: Point, style: Style
) -> Sketch:
    """A step half way, in the place of the step's own figure, which has been moved so in its frame."""
    view, unit = framing.view, panel.state.sheet.unit_mm
    scale = view.scale / unit
    about = (view.centre[0] * unit, view.centre[1] * unit)
    camera = camera_of(half)
    role = _roles(panel.state, _colours(model, panel.state))
    drawn = pose_ink(half.pose, camera, scale, role, style, about)
    ways = _with_room(ways_on(half, drawn, camera, scale, about), drawn.sketch, framing.limits)
    drawn.sketch.add("arrow", ways, *(["arrow.valley"] if ways else []))
    return _finish(drawn.sketch, replace(framing, origin=moved, turns=(), grown=None), style)


def _with_room(ways: Sequence[Path], ink: Sketch, limits: Box) -> list[Path]:
    """Arrows, shaft and head of each, without those that stick out where paper and arrows together are larger
    than the frame.
    """
    paper = [group.box for group in ink.groups]
    pairs = [list(ways[k : k + 2]) for k in range(0, len(ways), 2)]
    whole = union_box([*paper, *map(item_box, ways)])
    if whole is None or all(whole[k + 2] - whole[k] <= limits[k + 2] - limits[k] for k in range(2)):
        return list(ways)
    boxes = [union_box(map(item_box, pair)) for pair in pairs]
    within = [
        b is not None and all(b[k] >= limits[k] and b[k + 2] <= limits[k + 2] for k in range(2))
        for b in boxes
    ]
    return [path for pair, fits in zip(pairs, within, strict=True) if fits for path in pair]


def _finish(ink: Sketch, framing: Framing, style: Style, circled: bool = False) -> Sketch:
    """A figure at its place in the frame, with the signs between it and its neighbours.

    `circled` : whether a circle stands beside it, for which it may be higher than the frame
    """
    ink.shift(*framing.origin)
    _settle(ink, framing, _circle_room(framing.limits) if circled else framing.limits)
    if framing.grown is not None:
        at = _scale_corner(ink, framing, style)
        ink.add("scale", scale_sign(framing.view.factor, at, style), "scale")
    for sign, at in framing.turns:
        glyph = glyph_for(sign, TurnGlyph)
        ink.add(glyph.family.kind, glyph.draw(sign, at, style), glyph.key)
    return ink


def finished_alone(model: Model, style: Style, frame: tuple[float, float]) -> Sketch:
    """The finished model without signs, as large as the frame allows."""
    edge = 4.0 + style.layer_spread / 2
    if model.standing is not None:
        return _standing_alone(model, model.standing, style, frame)
    view = view_within(model.finished, (frame[0] - 2 * edge, frame[1] - 2 * edge))
    ink = Sketch()
    look = Look(*_colours(model, model.finished), style)
    _paper(look, Visible(_spread(model.finished, view, style), view), ink)
    ink.shift(frame[0] / 2, frame[1] / 2)
    return ink


def _standing_alone(model: Model, pose: Pose, style: Style, frame: tuple[float, float]) -> Sketch:
    wide, high = extent(pose, chosen(pose))
    scale = min((frame[0] - 8.0) / max(wide, 1e-6), (frame[1] - 8.0) / max(high, 1e-6))
    scale = max(scale, SMALLEST / model.finished.sheet.unit_mm)
    role = _roles(model.finished, _colours(model, model.finished))
    drawn = pose_ink(pose, chosen(pose), scale, role, style)
    drawn.sketch.shift(frame[0] / 2, frame[1] / 2)
    return drawn.sketch


def _colours(model: Model, state: State) -> tuple[str, str]:
    """Front and back of the paper of one sheet: its own colours, where a part has given it some."""
    front, back = ("", "") if state.sheet.others else state.sheet.colours
    return front or model.front_colour, back or model.back_colour


def _roles(state: State, colours: tuple[str, str]) -> Callable[[int, bool], str]:
    """The role of each side of a facet."""
    return partial(role_on, state, colours)


def _fold_lines(visible: Visible, panel: Panel) -> DrawnLines:
    return fold_lines(
        visible,
        [
            s
            for s in panel.signs
            if isinstance(s, FoldLine | CutLine | GuideLine)
            and not (isinstance(s, FoldLine) and s.opens)
        ],
        [s for s in panel.signs if isinstance(s, Arrow)],
    )


def _around(visible: Visible, drawn: DrawnLines, limits: Box, taken: Sequence[Box]) -> Obstacles:
    taken = [*taken, *drawn.boxes]
    return Obstacles(
        visible.silhouette,
        limits,
        visible.edge_lines,
        stroke_points(drawn.strokes),
        arrows=[p for box in taken for p in _grid(box)],
        strokes=list(drawn.strokes),
        taken=taken,
    )


def _with_detail(
    part: DetailPart,
    visible: Visible,
    drawn: DrawnLines,
    look: Look,
    panel: Panel,
    framing: Framing,
    ink: Sketch,
) -> bool:
    """Signs of a figure whose small part is drawn larger beside it; False, and no ink, without room."""
    view = framing.view
    outer, inner = divided(panel.signs, part, view)
    around = _around(visible, drawn, framing.limits, framing.taken)
    around.arrows.extend(part.outline)
    trial = Sketch()
    names = [n for n in names_in(panel, view) if not part.holds(n[1])]
    draw_signs(outer, view, panel.state, look.style, around, trial, look.speech, names)
    around = replace(around, box=_circle_room(framing.limits))
    detail = detail_view(part, view, trial, around, look.style.label, fixed=bool(framing.turns))
    if detail is None:
        return False
    ink.groups += trial.groups
    ink.signs |= trial.signs
    _detail(detail, look, panel, inner, visible, ink)
    ink.shift(*detail.shift)
    return True


def _circle_room(limits: Box) -> Box:
    """Where ink may go, with room for a circle above or below."""
    return (limits[0], limits[1] - _CIRCLE, limits[2], limits[3] + _CIRCLE)


def _detail(
    detail: DetailView,
    look: Look,
    panel: Panel,
    signs: Sequence[Sign],
    visible: Visible,
    ink: Sketch,
) -> None:
    """The part where little happens, drawn larger in a circle beside the paper."""
    near = closer(visible, detail)
    drawn = _fold_lines(near, panel)
    inner = Sketch()
    _paper(look, near, inner, drawn, panel.signs)
    for path in drawn.paths:
        inner.add("fold", (path,))
    around = replace(_around(near, drawn, detail.limits, ()), radius=detail.radius - _OFF_CIRCLE)
    signs = [settled(s, detail) for s in signs]
    at = dict(zip(names_in(panel, visible.view), names_in(panel, detail.view), strict=True))
    names = [inside for name, inside in at.items() if detail.part.holds(name[1])]
    draw_signs(signs, near.view, panel.state, look.style, around, inner, look.speech, names)
    place(detail, inner, ink)


def _numbers(
    visible: Visible, drawn: DrawnLines, panel: Panel, framing: Framing, style: Style
) -> list[list[Item]]:
    """Numbers of units, clear of fold lines and of where the arrows run that would be drawn without them."""
    if not panel.state.sheet.others:
        return []
    around = _around(visible, drawn, framing.limits, framing.taken)
    draw_signs(panel.signs, framing.view, panel.state, style, around, Sketch())
    points = [framing.view(s.at) for s in panel.signs if isinstance(s, PointSign)]
    lines = [s.segment for s in panel.signs if isinstance(s, GuideLine)]
    guides = [framing.view(between(*seg, k / 16)) for seg in lines for k in range(17)]
    ways = [*guides, *around.folds, *around.arrows]
    return unit_numbers(visible, style, [*points, *around.marks], ways)


def _grid(box: Box) -> list[Point]:
    """Points all over a box."""
    x0, y0, x1, y1 = box
    return [(x0 + (x1 - x0) * i / 4, y0 + (y1 - y0) * j / 4) for i in range(5) for j in range(5)]


def _spread(state: State, view: View, style: Style) -> Spread:
    return spread(state, style.layer_gap / view.scale, style.layer_spread / view.scale)


def _paper(
    look: Look,
    visible: Visible,
    ink: Sketch,
    drawn: DrawnLines = NONE,
    signs: Sequence[Sign] = (),
) -> None:
    """Areas, what of them goes, creases and edges; none where new lines are, or stand for them."""
    areas = fills(visible, look.front, look.back)
    ink.add("paper", areas, *(".".join(a.role.split(".")[:2]) for a in areas))
    if gone := hatched(signs, visible.view):
        ink.add("crease", gone, "area.discarded")
    ink.add("crease", creases(visible, look.style, drawn.strokes), "crease")
    ink.add("edge", edges(visible, drawn.instead))


def _scale_corner(ink: Sketch, framing: Framing, style: Style) -> Point:
    """Where the scale sign stands: as planned, or elsewhere where something else came to be."""
    assert framing.grown is not None
    (x, y), (left, top, right, bottom) = framing.origin, framing.limits
    others = [(b[0] + x, b[1] + y, b[2] + x, b[3] + y) for b in framing.taken[:-1]]
    high = ink.box or (0.0, 0.0, 0.0, 0.0)  # higher than the frame, with a circle above or below
    room = (
        x + left - EDGE,
        min(y + top - EDGE, high[1]),
        x + right + EDGE,
        max(y + bottom + EDGE, high[3]),
    )
    size = scale_size(framing.view.factor, style)
    return looked_over(framing.grown, ink, others, size, room)


def _settle(ink: Sketch, framing: Framing, limits: Box) -> None:
    """Moves a figure aside whose signs stand out of its room, and no farther than its paper may go."""
    for left_out in (PAPER, ()):
        box = union_box(group.box for group in ink.groups if group.kind not in left_out)
        if box is None:
            return
        x, y = framing.origin
        dx = _nudge(box[0] - x, box[2] - x, limits[0], limits[2])
        dy = _nudge(box[1] - y, box[3] - y, limits[1], limits[3])
        if dx or dy:
            ink.shift(dx, dy)


def _nudge(lo: float, hi: float, least: float, most: float) -> float:
    """Shift that brings [lo, hi] into [least, most], or to its middle when it is too long."""
    if hi - lo > most - least:
        return (least + most - lo - hi) / 2
    return max(0.0, least - lo) - max(0.0, hi - most)
