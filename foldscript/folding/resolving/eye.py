"""What the eye names, and what names of the paper name: which of the two a place is measured by.

In: an operand with two ends, as written. Out: whether one of them is said by where the eye sees it now,
as 'bottom left corner' is, and not by a name, which stays with the paper.
"""

from __future__ import annotations

from ...syntax import nodes
from .context import Context


def by_eye(context: Context, way: nodes.Fraction | nodes.LineThrough) -> bool:
    """Whether the eye names an end of a way."""
    return any(_seen(context, end) for end in (way.start, way.end))


def _seen(context: Context, node: nodes.Operand) -> bool:
    match node:
        case nodes.Seen() | nodes.EndOf():
            return True
        case nodes.Name():  # what a group has been given as the eye saw it
            return node.text in context.names.held_points
        case nodes.FractionOfLine() | nodes.FromEnd():
            return _seen(context, node.line)
        case nodes.Fraction() | nodes.LineThrough():
            return by_eye(context, node)
        case _:
            return False
