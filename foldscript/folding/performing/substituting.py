"""Names in a statement exchanged: for the operands of a group's call, or for the names a repeat gives.

In: a statement and what its names stand for. Out: the statement with them put in; spans stay those of
the place where the name stood, so that a caret points there.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any, TypeVar

from ...moves.registry import moves
from ...source.diagnostics import Span
from ...syntax import nodes

T = TypeVar("T")


def substituted(statement: nodes.Statement, stand: Mapping[str, nodes.Operand]) -> nodes.Statement:
    """The statement with names replaced by operands."""
    return replace(statement, phrases=tuple(_put(p, stand) for p in statement.phrases))


def renamed(
    statement: nodes.Statement, new_names: Mapping[str, str], so_far: Mapping[str, str]
) -> tuple[nodes.Statement, dict[str, str]]:
    """The statement with the names it gives called anew, and those given before it likewise.

    `new_names` holds the new name for each name given; `so_far` those that have been given anew. Out:
    the statement, and `so_far` with what this one gives.
    """
    now = dict(so_far)
    phrases: list[nodes.Phrase] = []
    leading = statement.verb in moves() and moves()[statement.verb].names_first
    for k, phrase in enumerate(statement.phrases):
        operands = list(phrase.operands)
        new: list[nodes.Operand] = []
        for j, operand in enumerate(operands):
            gives = phrase.word == "as" or (leading and k == 0 and j == 0)
            if gives and isinstance(operand, nodes.Name) and operand.text in new_names:
                now[operand.text] = new_names[operand.text]
                new.append(replace(operand, text=new_names[operand.text]))
            else:
                named = {old: nodes.Name(text, operand.span) for old, text in so_far.items()}
                new.append(_put(operand, named))
        phrases.append(replace(phrase, operands=tuple(new)))
    return replace(statement, phrases=tuple(phrases)), now


def _put(node: T, stand: Mapping[str, nodes.Operand]) -> T:
    """A node with every name below it replaced; what is put in takes the name's span."""
    if isinstance(node, nodes.Name):
        operand = stand.get(node.text)
        return node if operand is None else _at(operand, node.span)  # type: ignore[return-value]
    if isinstance(node, tuple):
        return tuple(_put(item, stand) for item in node)  # type: ignore[return-value]
    if not dataclasses.is_dataclass(node) or isinstance(node, type | Span):
        return node
    return rebuilt(node, lambda value: _put(value, stand))


def _at(node: Any, span: Span) -> Any:
    """A node as if it stood at a span, with everything in it."""
    if isinstance(node, Span):
        return span
    if dataclasses.is_dataclass(node) and not isinstance(node, type):
        return rebuilt(node, lambda value: _at(value, span))
    return node


def rebuilt(node: Any, change: Callable[[Any], Any]) -> Any:
    """A frozen node with every field changed."""
    fields = {f.name: change(getattr(node, f.name)) for f in dataclasses.fields(node)}
    return type(node)(**fields)
