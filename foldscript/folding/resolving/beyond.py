"""Places past a point or a line, or short of it, on the way of what goes there.

In: `2 cm beyond edge B C` as an operand, what moves, and what the length is measured from. Out: the point
where a point lands, or the line where a line lands; or a `Refusal` where the words leave the way open.
"""

from __future__ import annotations

from dataclasses import replace

from ...geometry import lines as geo
from ...geometry.lines import Line, Point
from ...geometry.tolerance import EPS, same_point
from ...languages.wording import Phrase, Template, phrase
from ...moves.planning.request import LineValue, PointValue, Value
from ...source.diagnostics import Refusal
from ...syntax import nodes
from . import landmarks
from .context import Context
from .measures import said_length

_PAST: Template = "{length} beyond {goal}"
_SHORT: Template = "{length} short of {goal}"


def beyond(
    context: Context, node: nodes.Beyond, goal: Value, mover: Value | None
) -> PointValue | LineValue:
    """Where `mover` lands: so far past the goal as seen from where it lies, or so far before it.

    A point goes straight over a point, or square to a line; a line comes to lie alongside a line. Raises
    Refusal when nothing moves there, when mover and goal touch, or for a line that should go to a point.
    """
    if not isinstance(goal, PointValue | LineValue):
        raise _nothing_moves(node)
    away = node.length.mm / context.state.sheet.unit_mm * (-1 if node.short else 1)
    words = phrase(
        _SHORT if node.short else _PAST, length=said_length(node.length), goal=goal.words
    )
    match mover, goal:
        case PointValue(), PointValue():
            start, spot = goal.at, _over_a_point(node, mover, goal, away)
        case PointValue(), LineValue():
            start, way = _way_to(node, mover.words, mover.at, goal)
            spot = geo.add(start, geo.scale(way, away))
        case LineValue(), LineValue() if mover.segment is not None:
            return _alongside(context, node, mover, goal, away, words)
        case LineValue(), PointValue():
            raise Refusal(
                "unclear-fold",
                "a line cannot be folded to a point",
                "fold a point to it, or the line 'onto' a line",
                span=node.span,
            )
        case _:
            raise _nothing_moves(node)
    told = landmarks.measure(start, spot, node.length)
    return replace(context.at(spot, words, node.span), found=(told, *goal.found))


def _over_a_point(node: nodes.Beyond, mover: PointValue, goal: PointValue, away: float) -> Point:
    if same_point(mover.at, goal.at):
        raise _touching(node, mover.words, goal.words)
    way = geo.scale(geo.subtract(goal.at, mover.at), 1 / geo.distance(mover.at, goal.at))
    return geo.add(goal.at, geo.scale(way, away))


def _way_to(node: nodes.Beyond, words: Phrase, at: Point, goal: LineValue) -> tuple[Point, Point]:
    """The foot of a point on the goal's line, and the unit vector from the point across that line."""
    height = geo.signed_distance(goal.line, at)
    if abs(height) <= EPS:
        raise _touching(node, words, goal.words)
    foot = geo.foot(goal.line, at)
    return foot, geo.scale(geo.subtract(foot, at), 1 / abs(height))


def _alongside(
    context: Context,
    node: nodes.Beyond,
    mover: LineValue,
    goal: LineValue,
    away: float,
    words: Phrase,
) -> LineValue:
    assert mover.segment is not None
    _, way = _way_to(node, mover.words, geo.midpoint(*mover.segment), goal)
    side = 1.0 if geo.dot(way, (goal.line.nx, goal.line.ny)) > 0 else -1.0
    line = Line(goal.line.nx, goal.line.ny, goal.line.c + side * away)
    start, _ = _way_to(node, mover.words, geo.midpoint(*mover.segment), goal)
    told = landmarks.measure(start, geo.foot(line, start), node.length)
    return replace(context.drawn(line, words, node.span), found=(told, *goal.found))


def _touching(node: nodes.Beyond, words: Phrase, goal: Phrase) -> Refusal:
    return Refusal(
        "no-way-beyond",
        f"{words.render()} lies on {goal.render()} already, so nothing says which way lies beyond",
        "name another point or line that it passes",
        span=node.span,
    )


def _nothing_moves(node: nodes.Beyond) -> Refusal:
    said = "short of" if node.short else "beyond"
    return Refusal(
        "no-way-beyond",
        f"'{said}' is measured on the way of what goes there, and nothing goes there here",
        f"write it after 'to' and what moves: 'valley A to 2 cm {said} edge B C'",
        "for a point that is there already say '2 cm from A on edge A B'",
        span=node.span,
    )
