"""Where else steps might be repeated: a repeat that was refused in, the same with other places out.

What comes out is to be tried on the paper: only what folds there is told.
"""

from __future__ import annotations

from collections.abc import Iterator

from ...paper.silhouette import ACROSS
from ...source.diagnostics import Refusal
from ...syntax import nodes
from .repeat_statement import SIDES, RepeatStatement, read_repeat

#: Repetitions at places like the first, at most: of the eight of a square one is the first.
_MOST_ALIKE = 7


def elsewhere(statement: nodes.Statement) -> Iterator[tuple[str, str]]:
    """Statements, each with the hint to say it, those first that are likest to what was said."""
    try:
        asked = read_repeat(statement)
    except Refusal:
        return
    assert asked.steps is not None
    first, last = asked.steps.first, asked.steps.last
    steps = f"step {first}" if first == last else f"steps {first} to {last}"
    name = f", as {asked.new_name}" if asked.new_name else ""
    for where in _places(asked):
        words = f"repeat {steps}{where}{name}"
        yield words, f"say '{words}'"
    again = f"repeat {steps} again"
    if not asked.again:
        yield again, f"for the same words on the paper as it lies now say '{again}'"


def _places(asked: RepeatStatement) -> Iterator[str]:
    if asked.points:
        return  # other paper than what was named is not what is meant
    if asked.times is not None:
        yield from (f", {n} times" for n in range(_MOST_ALIKE, 1, -1) if n != asked.times)
    across = ACROSS.get(asked.side)
    if across:
        yield f" {SIDES[across]}{', behind' if asked.behind else ''}"
    if asked.side != "other":
        yield f" {SIDES['other']}{', behind' if asked.behind else ''}"
    yield f" {SIDES['other']}" if asked.behind else " behind"
