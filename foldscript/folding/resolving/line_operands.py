"""Operands that are lines: named creases, seen edges, edges of the sheet, lines drawn through points.

In: an operand node and the `Context` that it is looked up in. Out: a `LineValue`, or a `Refusal` with
the span of the word that does not fit.
"""

from __future__ import annotations

import math
from dataclasses import replace

from ...geometry import lines as geo
from ...geometry import polygons
from ...geometry.constructions import NoCrease, line_to_line
from ...geometry.isometries import map_segment, rotation
from ...geometry.lines import Segment
from ...geometry.tolerance import EPS, same, same_point
from ...languages.wording import Number, Phrase, phrase
from ...moves.planning import called
from ...moves.planning.called import Kind
from ...moves.planning.request import LineValue
from ...paper import silhouette
from ...paper.signs import GuideLine, Landmark, RightAngle
from ...source.diagnostics import Hint, Refusal, write
from ...syntax import nodes
from . import caption_names, landmarks, middles
from .context import Context
from .names import bent_edge
from .spans import by_line, hull
from .words_for import folds_facing, tell_edges


def crease(context: Context, node: nodes.Name, *, whole: bool = False) -> LineValue:
    """A crease by its name. With `whole` it may be bent now: the line is that of the most of it."""
    held, held_words = context.names.held_lines.get(node.text, (None, None))
    segments = held or context.names.creases.get(node.text)
    if segments is None:
        if node.text in context.names.points:
            raise Refusal(
                "not-a-line",
                f"'{node.text}' is a point; a line is needed here",
                f"say 'line {node.text} ...' with a second point",
                span=node.span,
            )
        raise context.unknown(node)
    placed: list[tuple[int, Segment]] = []
    for i, facet in enumerate(context.state.facets):
        for seg in segments:
            piece = polygons.clip_segment(facet.outline, seg)
            if piece is not None:
                placed.append((i, map_segment(facet.place, piece)))
    groups = by_line(placed)
    if len(groups) != 1 and not whole:
        shown = f"crease '{node.text}'"
        raise Refusal(
            "bent-crease",
            f"{held_words.render() if held_words else shown} does not lie along one line "
            f"now: it lies along {len(groups)}",
            "mark two points on the part you mean and say 'line P Q'",
            span=node.span,
        )
    line, members = max(groups, key=lambda group: round(_reach([seg for _, seg in group[1]]), 9))
    segment = hull([seg for _, seg in members])
    carriers = context.state.top_down({i for i, _ in members})
    words = held_words or caption_names.crease(
        context.state, context.names, node.text, line, segment or placed[0][1]
    )
    return LineValue(
        line,
        segment,
        carriers,
        words,
        node.span,
        name="" if held_words else node.text,
        creases=segments,
    )


def _reach(along: list[Segment]) -> float:
    """How long the part of a line is that segments on it reach over."""
    whole = hull(along)
    return geo.distance(*whole) if whole else 0.0


def seen_line(context: Context, node: nodes.Seen) -> LineValue:
    """'left edge', 'vertical centre line': what the eye sees now."""
    if node.kind == "centre line":
        return _centre_line(context, node)
    if node.kind != "edge":
        raise Refusal("not-a-line", "a line is needed here", span=node.span)
    found = silhouette.edges_toward(context.state, node.toward)
    words = " ".join(node.toward)
    if not found:
        raise Refusal(
            "no-such-edge",
            f"no edge of the model faces the {words} now",
            *folds_facing(context.state, context.names, node.toward, node.span),
            "name the edge by a corner direction, such as 'bottom left edge'",
            span=node.span,
        )
    if len(found) > 1:
        told = tell_edges(context.state, context.names, found, node.span)
        tip = silhouette.corners_toward(context.state, node.toward)
        folds = folds_facing(context.state, context.names, node.toward, node.span)
        folds = tuple(_or(hint) for hint in folds)
        corner = f"{words} corner"
        meant = write(node.span, corner, f"say '{corner}' for the place where they meet")
        first = [meant] if len(tip) == 1 else []  # the side of a sheet on its corner
        rest = (*told.hints, *folds) if not first else map(_or, (*told.hints, *folds))
        raise Refusal(
            "two-candidates",
            f"{len(found)} edges face the {words} equally: {told.shown}",
            *first,
            *rest,
            span=node.span,
        )
    segment = next(iter(found))
    carriers = [
        i
        for i, placed in enumerate(context.state.placed)
        if any(geo.overlap_of(segment, side) is not None for side in polygons.edges(placed))
    ]
    return LineValue(
        geo.line_through(*segment),
        segment,
        context.state.top_down(carriers),
        called.seen(Kind.EDGE, node.toward),
        node.span,
    )


def _centre_line(context: Context, node: nodes.Seen) -> LineValue:
    level = "horizontal" in node.toward
    line = middles.middle_line(context.state, context.history, level=level).meant
    words = Phrase("the horizontal centre line") if level else Phrase("the vertical centre line")
    guide = landmarks.middle_lines(context.state, [line], None)
    return replace(context.drawn(line, words, node.span), found=guide)


def edge(context: Context, node: nodes.EdgeOf) -> LineValue:
    """'edge A B': an edge of the sheet that lies in one line now."""
    p, q = context.point(node.start), context.point(node.end)
    rim = context.rim_of(p, q, node.span)
    if same_point(*rim):
        raise Refusal("same-point", "an edge needs two different points", span=node.span)
    if not same(geo.distance(p.at, q.at), geo.distance(*rim)):
        raise bent_edge(context.state, context.names, p, q, node.span)
    carriers = [i for i, seg in context.state.raw_edges if geo.overlap_of(rim, seg) is not None]
    letters = tuple((v.letter, v.at) for v in (p, q) if v.letter)
    words = caption_names.edge(p, q)
    return LineValue(
        geo.line_through(p.at, q.at),
        (p.at, q.at),
        context.state.top_down(set(carriers)),
        words,
        node.span,
        letters,
    )


def line_through(context: Context, node: nodes.LineThrough) -> LineValue:
    """'line A B': the line through two points, on paper that carries both where there is some."""
    p, q = context.point(node.start), context.point(node.end)
    if same_point(p.at, q.at):
        raise Refusal(
            "same-point",
            f"{p.words.render()} and {q.words.render()} lie on each other now, so they fix no line",
            "name two points that lie apart",
            span=node.span,
        )
    common = tuple(f for f in p.facets if f in q.facets)
    letters = tuple((v.letter, v.at) for v in (p, q) if v.letter)
    words = caption_names.through(p, q)
    carriers = common if common else context.state.top_down({*p.facets, *q.facets})
    return LineValue(
        geo.line_through(p.at, q.at),
        (p.at, q.at),
        carriers,
        words,
        node.span,
        letters,
        found=(*p.found, *q.found),
    )


def line_square_to(context: Context, node: nodes.LineSquareTo) -> LineValue:
    """The line through a point, square to another line."""
    p, to = context.point(node.through), context.line(node.to)
    words = phrase("the line through {p} at a right angle to {line}", p=p.words, line=to.words)
    drawn = context.drawn(geo.perpendicular_at(to.line, p.at), words, node.span, p)
    foot = geo.foot(to.line, p.at)
    ends = [max(s, key=lambda q: geo.distance(q, foot)) for s in (to.segment, drawn.segment) if s]
    square = (RightAngle(foot, *ends),) if len(ends) == 2 else ()
    return replace(drawn, found=(*square, *p.found, *_but_guides(to)))


def line_parallel_to(context: Context, node: nodes.LineParallelTo) -> LineValue:
    """The line through a point, parallel to another line."""
    p, to = context.point(node.through), context.line(node.to)
    words = phrase("the line through {p} parallel to {line}", p=p.words, line=to.words)
    drawn = context.drawn(geo.parallel_at(to.line, p.at), words, node.span, p)
    return replace(drawn, found=(*p.found, *_but_guides(to)))


def _but_guides(to: LineValue) -> tuple[Landmark, ...]:
    """How a line is found that only gives a direction: it need not be drawn for that."""
    return tuple(sign for sign in to.found if not isinstance(sign, GuideLine))


def line_at_angle(context: Context, node: nodes.LineAtAngle) -> LineValue:
    """The line through a point, turned anticlockwise from another line that runs rightwards."""
    p, to = context.point(node.through), context.line(node.to)
    base = to.line.direction
    if base[0] < -EPS or (abs(base[0]) <= EPS and base[1] < 0):
        base = (-base[0], -base[1])
    turned = rotation(math.radians(node.degrees))(base)
    words = phrase(
        "the line through {p} at {n} degrees to {line}",
        p=p.words,
        n=Number(f"{_between_lines(node.degrees):g}"),
        line=to.words,
    )
    drawn = context.drawn(geo.line_at(p.at, turned), words, node.span, p)
    degrees = _between_lines(node.degrees)
    signs = landmarks.angle(p.at, to, drawn.line, drawn.segment, degrees)
    return replace(drawn, found=(*signs, *p.found, *to.found))


def _between_lines(degrees: float) -> float:
    """The angle that a reader sees between two lines: 25 for a turn of 335 degrees, or of 155."""
    turned = round(degrees % 180, 9)
    return min(turned, round(180 - turned, 9))


def bisector(context: Context, node: nodes.LineBisecting) -> LineValue:
    """The bisector of two lines; `others` holds the second one, which a choosing phrase may pick."""
    a, b = context.line(node.first), context.line(node.second)
    words = phrase("the line halfway between {a} and {b}", a=a.words, b=b.words)
    try:
        found = line_to_line(a.line, b.line)
    except NoCrease:
        raise Refusal("same-line", "the two lines are one", span=node.span) from None
    drawn = context.drawn(found[0].line, words, node.span)
    return LineValue(
        drawn.line,
        drawn.segment,
        drawn.facets,
        words,
        node.span,
        (*a.letters, *b.letters),
        tuple(c.line for c in found[1:]),
        found=(*a.found, *b.found),
    )


def _or(hint: Hint) -> Hint:
    return hint if hint.text.startswith("or ") else Hint(f"or {hint.text}", edit=hint.edit)
