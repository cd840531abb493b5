"""Looks operands up: what the script's words stand for on the paper as it lies now.

In: operand nodes and a state. Out: the values that moves work with, or a `Refusal` with the word's
span. Points are places on the sheet, so a name given early still works late. Which kind of operand is
read by which function is said here, and nowhere else.
"""

from __future__ import annotations

from dataclasses import dataclass

from ...moves.planning.request import LineValue, PointValue, Quantity, Steps, Value
from ...source.diagnostics import Refusal
from ...syntax import nodes
from . import line_operands as lines
from . import measures
from . import point_operands as points
from .beyond import beyond
from .context import Context


@dataclass(frozen=True)
class Scope(Context):
    """Looks operands up on one state; `history` is how it came to lie so."""

    def value(
        self, node: nodes.Operand, *, whole: bool = False, mover: Value | None = None
    ) -> Value:
        """The operand's value, a point or a line or an amount.

        With `whole`, a named crease need not lie along one line; `mover` is what goes to the operand, if any.
        """
        match node:
            case nodes.Beyond():
                return beyond(self, node, self.value(node.to), mover)
            case nodes.Amount():
                return Quantity(node.value, node.unit, node.span)
            case nodes.StepRange():
                return Steps(node.first, node.last, node.span)
            case nodes.Name():
                if node.text in self.names.creases or node.text in self.names.held_lines:
                    return lines.crease(self, node, whole=whole)
                return self.point(node)
            case nodes.Seen():
                return self.point(node) if node.kind in ("corner", "centre") else self.line(node)
            case (
                nodes.Fraction()
                | nodes.FractionOfLine()
                | nodes.EndOf()
                | nodes.FromEnd()
                | nodes.Meeting()
                | nodes.OuterLayerAt()
                | nodes.CountedLayerAt()
            ):
                return self.point(node)
            case _:
                return self.line(node)

    def point(self, node: nodes.Operand) -> PointValue:
        """The operand as a point. Raises Refusal."""
        match node:
            case nodes.Name():
                return points.named_point(self, node)
            case nodes.Seen():
                return points.seen_point(self, node)
            case nodes.Fraction():
                return points.part_of_way(self, node)
            case nodes.FractionOfLine():
                return measures.part_of_line(self, node)
            case nodes.EndOf():
                return measures.end_of_line(self, node)
            case nodes.FromEnd():
                return measures.from_end(self, node)
            case nodes.Meeting():
                return points.meeting(self, node)
            case nodes.OuterLayerAt():
                return points.layer(self, self.point(node.point), node.span, top=node.top)
            case nodes.CountedLayerAt():
                return points.counted_layer(self, self.point(node.point), node)
            case _:
                raise Refusal("not-a-point", "a point is needed here", span=node.span)

    def line(self, node: nodes.Operand) -> LineValue:
        """The operand as a line. Raises Refusal."""
        match node:
            case nodes.Name():
                return lines.crease(self, node)
            case nodes.Seen():
                return lines.seen_line(self, node)
            case nodes.EdgeOf():
                return lines.edge(self, node)
            case nodes.LineThrough():
                return lines.line_through(self, node)
            case nodes.LineSquareTo():
                return lines.line_square_to(self, node)
            case nodes.LineParallelTo():
                return lines.line_parallel_to(self, node)
            case nodes.LineAtAngle():
                return lines.line_at_angle(self, node)
            case nodes.LineBisecting():
                return lines.bisector(self, node)
            case nodes.LineApart():
                return measures.line_apart(self, node)
            case _:
                raise Refusal("not-a-line", "a line is needed here", span=node.span)
