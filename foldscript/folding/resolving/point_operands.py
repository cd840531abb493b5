"""Operands that are points: named, seen, a part of the way between two, where lines meet, a layer.

In: an operand node and the `Context` that it is looked up in. Out: a `PointValue`, or a `Refusal` with
the span of the word that does not fit.
"""

from __future__ import annotations

from dataclasses import replace

from ...geometry import lines as geo
from ...geometry.isometries import inverse
from ...geometry.tolerance import same_point
from ...languages.wording import Phrase, Template, phrase
from ...moves.planning import called
from ...moves.planning.called import Kind
from ...moves.planning.request import PointValue
from ...paper import silhouette
from ...source.diagnostics import Refusal, Span
from ...syntax import nodes
from . import caption_names, landmarks, middles
from .context import Context
from .eye import by_eye
from .words_for import tell_corners


def named_point(context: Context, node: nodes.Name) -> PointValue:
    """A point or corner by its name: its place on the sheet, as that lies now."""
    if node.text in context.names.held_points:
        place, words, kept = context.names.held_points[node.text]
        found = () if kept is None else kept.now(context.state)
        return replace(context.on_sheet(place, words, node.span), found=found)
    sheet = context.names.points.get(node.text)
    if sheet is None:
        if node.text in context.names.creases:
            raise Refusal(
                "not-a-point",
                f"'{node.text}' is a crease; a point is needed here",
                "mark a point on it first",
                span=node.span,
            )
        raise context.unknown(node)
    corner = context.state.sheet.is_corner(node.text)
    words = called.corner(node.text) if corner else called.point(node.text)
    kept = context.names.found.get(node.text)
    point = context.on_sheet(sheet, words, node.span, node.text)
    found = (
        landmarks.measured_anew(context.state, point.at)
        if kept is None
        else kept.now(context.state)
    )
    return replace(point, found=found)


def seen_point(context: Context, node: nodes.Seen) -> PointValue:
    """'top corner', 'centre': what the eye sees now, on the paper that lies topmost there."""
    if node.kind == "centre":
        lines = middles.middle_lines(context.state, context.history)
        spot = middles.middle(context.state, lines)
        found = context.at(spot, Phrase("the centre"), node.span)
        return replace(found, found=landmarks.middle_lines(context.state, lines, spot))
    if node.kind != "corner":
        raise Refusal("not-a-point", "a point is needed here", span=node.span)
    corners = silhouette.corners_toward(context.state, node.toward)
    words = " ".join(node.toward)
    if len(corners) > 1:
        told = tell_corners(context.state, context.names, node.toward, corners, node.span)
        raise Refusal(
            "two-candidates",
            f"there are {len(corners)} {words} corners, equally far that way: {told.shown}",
            *told.hints,
            span=node.span,
        )
    caption = called.seen(Kind.CORNER, node.toward)
    return replace(context.at(next(iter(corners)), caption, node.span), seen=True)


def part_of_way(context: Context, node: nodes.Fraction) -> PointValue:
    """'1/3 of A B': a part of the way between two points.

    It is measured on the sheet where it can be, and where the two lie now if the eye names one of them.
    """
    p, q = context.point(node.start), context.point(node.end)
    if node.way == "edge":
        context.rim_of(p, q, node.start.span.cover(node.end.span), whole=False)
    t = node.numerator / node.denominator
    as_lies = node.way == "line" or (not node.way and by_eye(context, node))
    rim = context.on_rim(p, q) and context.along_sheet(p, q, as_lies=as_lies)
    words = caption_names.between(p, q, node.numerator, node.denominator, rim=rim)
    found = context.on_way(p, q, t, words, node.span, as_lies=as_lies)
    unit_mm = context.state.sheet.unit_mm
    if same_point(found.at, geo.between(p.at, q.at, t)):
        parts = (node.numerator, node.denominator)
        signs = landmarks.part(p.at, q.at, found.at, *parts, unit_mm)
    else:
        signs = landmarks.from_either(p, q, found, unit_mm)
    return replace(found, found=(*signs, *p.found, *q.found))


def meeting(context: Context, node: nodes.Meeting) -> PointValue:
    """Where two lines meet: on paper that carries both, or else one of them."""
    a, b = context.line(node.first), context.line(node.second)
    for value in (a, b):
        if value.others:
            raise Refusal(
                "several-lines",
                "two lines fit these words: say which one first",
                "crease it, name the crease with 'as', and use that name",
                span=value.span,
            )
    spot = geo.meet(a.line, b.line)
    if spot is None:
        raise Refusal(
            "lines-never-meet",
            "these two lines run side by side and never meet",
            "name a line that crosses one of them, or an edge, as in 'where k meets the left edge'",
            span=node.span,
        )
    words = phrase("where {a} meets {b}", a=a.words, b=b.words)
    here = context.state.facets_at(spot)
    both = tuple(i for i in here if i in a.facets and i in b.facets)
    either = tuple(i for i in here if i in a.facets or i in b.facets)
    at = context.at(spot, words, node.span, both if both else either)
    guides = landmarks.up_to((a, b), spot)
    return replace(at, found=(*guides, *a.found, *b.found))


_COUNTED: tuple[Template, ...] = (
    "the top layer at {p}",
    "the second layer at {p}",
    "the third layer at {p}",
    "the fourth layer at {p}",
    "the fifth layer at {p}",
    "the sixth layer at {p}",
    "the seventh layer at {p}",
    "the eighth layer at {p}",
    "the ninth layer at {p}",
    "the tenth layer at {p}",
)


def layer(context: Context, p: PointValue, span: Span, *, top: bool) -> PointValue:
    """The topmost or the undermost paper at a point, for moves that ask which layer."""
    stack = context.state.facets_at(p.at)
    if not stack:
        raise Refusal("off-the-paper", f"there is no paper at {p.words.render()}", span=span)
    ordered = stack if top else stack[::-1]
    words = phrase("the top layer at {p}" if top else "the bottom layer at {p}", p=p.words)
    return _on_layers(context, p, ordered, words, span)


def counted_layer(context: Context, p: PointValue, node: nodes.CountedLayerAt) -> PointValue:
    """The second layer at a point, or a later one, from the top: each flat piece of paper counts once."""
    stack = context.state.facets_at(p.at)
    plates = list(dict.fromkeys(context.state.plate_of[i] for i in stack))
    if len(plates) < node.number:
        lie = "1 layer lies" if len(plates) == 1 else f"{len(plates)} layers lie"
        raise Refusal(
            "off-the-paper",
            f"only {lie} at {p.words.render()}",
            f"the lowest is 'bottom layer at {p.letter or 'P'}', the uppermost 'top layer'",
            span=node.span,
        )
    over = set(plates[: node.number - 1])
    ordered = tuple(i for i in stack if context.state.plate_of[i] not in over)
    words = phrase(_COUNTED[node.number - 1], p=p.words)
    return _on_layers(context, p, ordered, words, node.span)


def _on_layers(
    context: Context, p: PointValue, stack: tuple[int, ...], words: Phrase, span: Span
) -> PointValue:
    """A point on the first of some layers that lie there."""
    sheet = inverse(context.state.facets[stack[0]].place)(p.at)
    return PointValue(p.at, stack, sheet, words, span, p.letter, found=p.found, layer=True)
