"""What the words of a statement may mean besides what they are taken for.

In: a statement that can be done, and the paper as it lies. Out: remarks, each with both readings and the
words for each. Two kinds of words have two readings: a part of the way between two points while an edge of
the sheet is folded between them, and a centre that the figure no longer has and that nothing shows.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator

from ...geometry import lines as geo
from ...geometry.tolerance import EPS, same_point
from ...moves.planning import called
from ...moves.planning.request import PointValue, Remark
from ...source.diagnostics import Hint, Span, write
from ...syntax import nodes
from .eye import by_eye
from .middles import middle_line
from .scope import Scope


def doubts(scope: Scope, statement: nodes.Statement) -> tuple[Remark, ...]:
    """What whoever wrote the statement should know of it, each once."""
    found: dict[Remark, None] = {}
    for node in operands(statement.phrases):
        match node:
            case nodes.Seen("centre"):
                remark = _centre_lost(scope)
            case nodes.Seen("centre line"):
                remark = _line_lost(scope, level="horizontal" in node.toward)
            case nodes.Fraction(way="") if not by_eye(scope, node):
                p, q = scope.point(node.start), scope.point(node.end)
                half = 2 * node.numerator == node.denominator
                said = "midpoint of" if half else f"{node.numerator}/{node.denominator} of"
                t = node.numerator / node.denominator
                remark = _two_places(scope, p, q, said, t, t, node.span)
            case nodes.FromEnd(bare=True, line=nodes.LineThrough() as way) if not by_eye(
                scope, way
            ):
                p, q = scope.point(way.start), scope.point(way.end)
                start, length = scope.point(node.start), node.length
                said = f"{length.number} {length.unit} from {start.letter or 'P'} on"
                if not same_point(start.at, p.at):
                    p, q = q, p
                away = length.mm / scope.state.sheet.unit_mm
                remark = _two_places(scope, p, q, said, *_parts(p, q, away), node.span)
            case _:
                continue
        if remark is not None:
            found[remark] = None
    return tuple(found)


def operands(node: object) -> Iterator[nodes.Operand]:
    """Every operand in a part of a statement, those inside others too."""
    if isinstance(node, tuple):
        for item in node:
            yield from operands(item)
    elif dataclasses.is_dataclass(node) and not isinstance(node, type | Span):
        if not isinstance(node, nodes.Phrase):
            yield node  # type: ignore[misc]
        for field in dataclasses.fields(node):
            inner = getattr(node, field.name)
            if not (
                isinstance(node, _BY_DIRECTION) and inner is node.to and _is_centre_line(inner)
            ):
                yield from operands(inner)


#: Lines that take no more from another one than which way it runs.
_BY_DIRECTION = (nodes.LineSquareTo, nodes.LineParallelTo, nodes.LineAtAngle)


def _is_centre_line(node: object) -> bool:
    """Which way a centre line runs does not depend on where it lies."""
    return isinstance(node, nodes.Seen) and node.kind == "centre line"


def _parts(p: PointValue, q: PointValue, length: float) -> tuple[float, float]:
    """Which part of the way a length is, on the sheet and straight from where p lies to q."""
    ways = (geo.distance(p.sheet or p.at, q.sheet or q.at), geo.distance(p.at, q.at))
    on_sheet, straight = (length / way if way > EPS else 0.0 for way in ways)
    return on_sheet, straight


def _no_way(p: PointValue, q: PointValue) -> Remark:
    """A part of the way between two points that lie on each other: it is where they are."""
    return Remark(
        "one-place",
        f"{p.words.render()} and {q.words.render()} lie on one place now, so this is that place",
        (
            Hint("name a point that lies elsewhere"),
            Hint("or mark this before the fold that brings the two together"),
        ),
    )


def _two_places(
    scope: Scope,
    p: PointValue,
    q: PointValue,
    said: str,
    on_sheet: float,
    straight: float,
    span: Span,
) -> Remark | None:
    """Measured round the folds of an edge where the straight way leads elsewhere (both: parts of the way)."""
    if p.sheet is None or q.sheet is None or not p.letter or not q.letter:
        return None
    if not scope.along_sheet(p, q, as_lies=False):
        return _no_way(p, q) if same_point(p.at, q.at) else None
    if scope.along_sheet(p, q, as_lies=True):
        return None
    if same_point(p.at, q.at):
        return None  # nobody means the way from a place to itself
    on_paper = scope.state.where(geo.between(p.sheet, q.sheet, on_sheet))
    apart = geo.distance(on_paper, geo.between(p.at, q.at, straight)) * scope.state.sheet.unit_mm
    edge = called.edge(p.letter, q.letter).render()
    on_edge, on_line = (f"{said} {kind} {p.letter} {q.letter}" for kind in ("edge", "line"))
    return Remark(
        "sheet-or-straight",
        f"{edge} is folded between {p.letter} and {q.letter}: this is measured along the edge, "
        f"round the fold, and lies {apart:.0f} mm from where the straight way between the two leads",
        (
            write(span, on_edge, f"say '{on_edge}' if the place on the edge is meant"),
            write(
                span, on_line, f"say '{on_line}' for the straight way between where they lie now"
            ),
        ),
    )


def _centre_lost(scope: Scope) -> Remark | None:
    upright, level = (
        middle_line(scope.state, scope.history, level=level) for level in (False, True)
    )
    if not upright.lost and not level.lost:
        return None
    now = geo.meet(upright.meant, level.meant)
    was = geo.meet(upright.before or upright.meant, level.before or level.meant)
    if now is None or was is None or same_point(now, was):
        return None
    apart = geo.distance(now, was) * scope.state.sheet.unit_mm
    return Remark(
        "centre-lost",
        f"'centre' is the middle of the figure as it lies now, {apart:.0f} mm from the centre that it had "
        "before: nothing on the paper shows that one",
        (
            "if the centre before is meant, crease both centre lines before the first of these folds",
            "if the middle now is meant, crease it and mark it, so that it can be seen",
        ),
    )


def _line_lost(scope: Scope, *, level: bool) -> Remark | None:
    line = middle_line(scope.state, scope.history, level=level)
    if line.before is None or not line.lost:
        return None
    on_meant = (line.meant.nx * line.meant.c, line.meant.ny * line.meant.c)
    apart = abs(geo.signed_distance(line.before, on_meant)) * scope.state.sheet.unit_mm
    across, onto = ("bottom", "top") if level else ("left", "right")
    return Remark(
        "centre-lost",
        f"'centre line' is the middle of the {'height' if level else 'width'} as the figure lies now, "
        f"{apart:.0f} mm from the centre line that it had before: nothing on the paper shows that one",
        (
            "if the centre line before is meant, crease it before the first of these folds: "
            f"'crease {across} edge onto {onto} edge, as k'",
            f"if the middle now is meant, crease it too ('crease {across} edge onto {onto} edge, all "
            "layers, as k'), so that it can be seen",
        ),
    )
