"""What the statements of a script give names to, and which names stand in an operand.

In: nodes of the syntax. Out: names, each with what it stands for (`Kind`), and which parameters of a group
are names that it gives. Nothing is looked up on the paper.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from typing import Any

from ..moves.registry import moves
from ..source.diagnostics import Span
from ..syntax import nodes

#: The statement that does a group.
DO = "do"


class Kind(Enum):
    """What a name may stand for."""

    CORNER = "corner"
    POINT = "point"
    CREASE = "crease"
    GROUP = "group"
    PARAMETER = "parameter"
    BEGUN_WITH = "name from what the script starts from"


def names_in(node: Any) -> Iterator[nodes.Name]:
    """All names in an operand, in the order of its fields."""
    if isinstance(node, nodes.Name):
        yield node
    elif isinstance(node, tuple):
        for part in node:
            yield from names_in(part)
    elif is_dataclass(node) and not isinstance(node, Span):
        for one in fields(node):
            yield from names_in(getattr(node, one.name))


def gives(groups: Mapping[str, nodes.Group], name: str, depth: int = 20) -> dict[int, Kind]:
    """Which of a group's parameters are given by its moves, or by those of groups that it does."""
    group = groups.get(name)
    if group is None or depth == 0:
        return {}
    at = {parameter.text: k for k, parameter in enumerate(group.parameters)}
    found: dict[int, Kind] = {}
    for statement in group.body:
        for kind, given in _given_by(groups, statement, depth):
            if given in at:
                found[at[given]] = kind
    return found


def _given_by(
    groups: Mapping[str, nodes.Group], statement: nodes.Statement, depth: int
) -> Iterable[tuple[Kind, str]]:
    if statement.verb == DO:
        operands = [o for phrase in statement.phrases for o in phrase.operands]
        if operands and isinstance(operands[0], nodes.Name):
            inner = gives(groups, operands[0].text, depth - 1)
            for k, operand in enumerate(operands[1:]):
                if k in inner and isinstance(operand, nodes.Name):
                    yield inner[k], operand.text
        return
    move = moves().get(statement.verb)
    for k, phrase in enumerate(statement.phrases):
        leading = k == 0 and move is not None and move.names_first
        if (phrase.word == "as" or leading) and phrase.operands:
            first = phrase.operands[0]
            if isinstance(first, nodes.Name):
                yield Kind.CREASE if phrase.word == "as" else Kind.POINT, first.text
