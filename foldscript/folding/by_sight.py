"""Statements that name paper as the eye sees it, for one whose own words do not say which: for a trial.

In: how a move is written with holes, the paper as it lies, what was said. Out: lines, those first whose words
were said. Which of them folds is for whoever asks to find out.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import permutations

from ..geometry.lines import line_at, midpoint, on_line, parallel
from ..paper import silhouette
from ..paper.openings import opening_at
from ..paper.state import State
from ..paper.symmetry import mirror_line, symmetries
from ..source.diagnostics import Refusal
from ..syntax import nodes
from ..syntax.whole_lines import AGAINST
from .resolving.names import Names
from .resolving.scope import Scope

_HOLE = re.compile(r"\{(edge|corner|crease)\}")
_WAYS: tuple[tuple[str, ...], ...] = (
    *(("bottom",), ("top",), ("left",), ("right",)),
    *((height, side) for height in ("top", "bottom") for side in ("left", "right")),
)
_SIDES = re.compile(r"\b(?:top|bottom|left|right|upper|lower)\b")
#: Moves that open the model at an edge.
_OPENERS = frozenset(("open", "inflate"))
_ENDS = {"top": "upper", "bottom": "lower", "left": "left", "right": "right"}
_PLAIN = {"upper": "top", "lower": "bottom"}


def filled(templates: Sequence[str], state: State, names: Names, said: str) -> Iterator[list[str]]:
    """Lines with every hole filled: those first that keep most of the sides that were said."""
    things = {
        "edge": [
            f"{' '.join(w)} edge" for w in _WAYS if len(silhouette.edges_toward(state, w)) == 1
        ],
        "corner": [
            f"{' '.join(w)} corner" for w in _WAYS if len(silhouette.corners_toward(state, w)) == 1
        ],
        "crease": [name for name in names.creases if name not in names.inherited],
    }
    sides = sides_in(said)
    alike: dict[int, list[str]] = {}
    for template in templates:
        for line in _with_holes_filled(template, things):
            alike.setdefault(len(sides & sides_in(line)), []).append(line)
    yield from (alike[kept] for kept in sorted(alike, reverse=True))


def sides_in(said: str) -> set[str]:
    """The sides that words name: 'top' and 'left' for 'the upper left corner'."""
    found: list[str] = _SIDES.findall(said)
    return {_PLAIN.get(word, word) for word in found}


def _with_holes_filled(template: str, things: dict[str, list[str]]) -> Iterator[str]:
    """Every way to fill the holes, no two with the same; a hole's kind is one for all of them."""
    holes = _HOLE.findall(template)
    for row in permutations(things[holes[0]], len(holes)):
        words = iter(row)
        yield _HOLE.sub(lambda _, words=words: next(words), template)


#: One side brought onto another, of a figure that may have corners there.
_SIDE_ONTO_SIDE = re.compile(
    r"\b(left|right|top|bottom) edge (?:to|onto) ((?:the )?(?:left|right|top|bottom)) edge\b"
)


def corners_for_sides(statement: nodes.Statement, text: str) -> Iterator[str]:
    """A side brought onto another of a figure that stands on its corner: its corners instead."""
    said = text[statement.span.start : statement.span.end]
    corners = _SIDE_ONTO_SIDE.sub(r"\1 corner to \2 corner", said)
    if corners != said:
        yield corners
        if "layer" not in said:
            yield f"{corners}, all layers"


def open_edges(statement: nodes.Statement, text: str, state: State) -> Iterator[str]:
    """A statement that opens at an edge by sight, at each that is open, in the place of one that is not."""
    first = statement.phrases[0].operands[:1] if statement.phrases else ()
    edge = first[0] if first else None
    if statement.verb not in _OPENERS or not isinstance(edge, nodes.Seen) or edge.kind != "edge":
        return
    span, at = statement.span, edge.span
    for way in _WAYS:
        seen = list(silhouette.edges_toward(state, way))
        if len(seen) == 1 and opening_at(state, midpoint(*seen[0])) is not None:
            yield f"{text[span.start : at.start]}{' '.join(way)} edge{text[at.end : span.end]}"


def in_half(statement: nodes.Statement, text: str, state: State) -> Iterator[str]:
    """A side brought onto the side across of a figure that has no such edges, and is alike on both sides of
    an axis: its corners that lie on each other then.
    """
    said = text[statement.span.start : statement.span.end]
    sides = _SIDE_ONTO_SIDE.search(said)
    if sides is None or AGAINST.get(sides[1]) != sides[2].split()[-1]:
        return
    pairs = (("left", "right"), ("bottom", "top"))
    axes = [mirror_line(one.motion) for one in symmetries(state) if not one.is_identity]
    for start, end in pairs if sides[1] in pairs[0] else pairs[::-1]:
        crosses = line_at((0.0, 0.0), (0.0, 1.0) if start == "left" else (1.0, 0.0))
        if any(axis is not None and parallel(axis, crosses) for axis in axes):
            if sides[1] == end:
                start, end = end, start
            yield _SIDE_ONTO_SIDE.sub(f"{start} corner to {end} corner", said)


def landings(statement: nodes.Statement, text: str, scope: Scope) -> Iterator[str]:
    """A point that comes onto a line: to the middle of it, about a corner on it or an end of it, or straight
    across.

    Of something that comes onto a line all of it is meant, more likely than its middle.
    """
    goal = next((p for p in statement.phrases if p.word in ("to", "onto")), None)
    if goal is None or len(goal.operands) != 1:
        return
    span, at = statement.span, goal.operands[0].span
    line = text[at.start : at.end]
    said = text[span.start : span.end]
    corners = _corners_on(goal.operands[0], scope, said)
    sides = sides_in(said)
    ends = sorted(_ENDS, key=lambda side: side not in sides)
    through = [
        *(f"{said}, through {corner}" for corner in corners),
        *(f"{said}, through {_ENDS[side]} end of {line}" for side in ends),
    ]
    before = re.sub(r"\bonto$", "to", text[span.start : at.start].rstrip())
    middle = f"{before} midpoint of {line}{text[at.end : span.end]}"
    if _is_on(statement, scope):  # it lies on the line: only along it is there a way
        yield middle
        return
    yield from (*through, middle) if goal.word == "onto" else (middle, *through)
    yield f"{text[span.start : span.end]}, perpendicular to {line}"


def _is_on(statement: nodes.Statement, scope: Scope) -> bool:
    """Whether the corner that is to move lies on the line already that it should come onto."""
    who = statement.phrases[0].operands[:1] if statement.phrases else ()
    name = who[0].text if who and isinstance(who[0], nodes.Name) else ""
    return name in on_goal(statement, scope)


def _corners_on(node: nodes.Operand, scope: Scope, said: str) -> Iterator[str]:
    """Corners of the figure on a line, called as the statement calls others: by letter or by sight."""
    try:
        line = scope.line(node).line
    except Refusal:
        return
    state = scope.state
    if "corner" in said:
        for toward in _WAYS:
            found = silhouette.corners_toward(state, toward)
            if len(found) == 1 and on_line(line, found[0]):
                yield f"{' '.join(toward)} corner"
        return
    for name in state.sheet.corner_names:
        if on_line(line, state.where(state.sheet.corner(name))) and name not in said.split():
            yield name


def on_goal(statement: nodes.Statement, scope: Scope) -> set[str]:
    """The corners of the sheet that lie on the line already that a statement brings something onto."""
    goals = [p.operands[0] for p in statement.phrases if p.word in ("to", "onto") and p.operands]
    try:
        line = scope.line(goals[0]).line if goals else None
    except Refusal:
        return set()
    state = scope.state
    corners = ((name, state.where(state.sheet.corner(name))) for name in state.sheet.corner_names)
    return {name for name, at in corners if line is not None and on_line(line, at)}


def edges_of_side(statement: nodes.Statement, text: str, state: State) -> Iterator[str]:
    """The edges by sight on the side of one that was named: 'top left edge' for 'left edge'."""
    first = statement.phrases[0].operands[:1] if statement.phrases else ()
    edge = first[0] if first else None
    if not isinstance(edge, nodes.Seen) or edge.kind != "edge":
        return
    span, at = statement.span, edge.span
    sides = sides_in(text[at.start : at.end])
    for way in _WAYS:
        if sides < set(way) and len(silhouette.edges_toward(state, way)) == 1:
            yield f"{text[span.start : at.start]}{' '.join(way)} edge{text[at.end : span.end]}"


def with_edge_moving(statement: nodes.Statement, text: str) -> Iterator[str]:
    """A fold at a line that is measured from an edge: the edge is what moves."""
    span = statement.span
    for phrase in statement.phrases:
        for line in phrase.operands:
            if isinstance(line, nodes.LineApart):
                edge = text[line.to.span.start : line.to.span.end]
                yield f"{text[span.start : span.end]}, moving {edge}"
