"""Hints about names that a statement wants: given further down, or to be given where the fold was made.

In: a refused statement and the program. Out: a hint, or None.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence

from ..source.diagnostics import Hint, Refusal, Span, write
from ..syntax import nodes
from ..syntax.craft_words import FREE_NAMES
from .resolving.doubts import operands

_FOLDS = frozenset(("valley", "mountain"))


def _given(statement: nodes.Statement) -> set[str]:
    """The names that a statement gives: that of `as`, or what is marked."""
    naming = [p for p in statement.phrases if p.word == "as"]
    if statement.verb == "mark":
        naming.extend(p for p in statement.phrases[:1] if not p.word)
    return {o.text for p in naming for o in p.operands if isinstance(o, nodes.Name)}


def unfolded_by_name(
    statement: nodes.Statement, before: Sequence[nodes.Statement], program: nodes.Program
) -> Hint | None:
    """The name to give to the earlier fold that 'unfold A' or 'unfold step 1' means; None for others."""
    source, span = program.source, statement.span
    said = re.fullmatch(
        r"unfold (?:the )?(?:step (\d+)|(?:corner |point )?(\w+))",
        source.text[span.start : span.end],
    )
    folds = [one for one in before if one.span.end <= span.start and one.verb in _FOLDS]
    if said is None or not folds:
        return None
    if said[1]:
        steps = program.steps[int(said[1]) - 1 : int(said[1])]
        meant = [one for step in steps for one in step.body if one in folds]
        meant = meant if len(meant) == 1 else []
    else:
        first = [source.text[one.span.start : one.span.end].split()[1:2] for one in folds]
        meant = [one for one, words in zip(folds, first, strict=True) if words == [said[2]]]
    if not meant or meant[-1] is folds[-1] or any(p.word == "as" for p in meant[-1].phrases):
        return None
    made = meant[-1]
    name = next(k for k in FREE_NAMES if not re.search(rf"\b{k}\b", source.text))
    line, _ = source.position(made.span.start)
    return write(
        Span(made.span.end, span.end),
        f", as {name}{source.text[made.span.end : span.start]}unfold {name}",
        f"give the fold a name where it is made, with ', as {name}' at the end of line {line}, "
        f"and say 'unfold {name}' here",
    )


def said_and_never_given(
    refusal: Refusal, statement: nodes.Statement, program: nodes.Program, known: Collection[str]
) -> Hint | None:
    """The name to give instead of one that is taken: the one that is said further down, and given nowhere."""
    if refusal.span is None:
        return None
    every = [one for step in program.steps for one in step.body]
    given = {*known, *(name for one in every for name in _given(one))}
    later = (one for one in every if one.span.start > statement.span.start)
    names = ((o, one) for one in later for o in operands(one.phrases) if isinstance(o, nodes.Name))
    said = {name.text: one for name, one in names if name.text not in given}
    if len(said) != 1:
        return None
    ((name, first),) = said.items()
    line, _ = program.source.position(first.span.start)
    return write(refusal.span, name, f"say '{name}': line {line} says it, and nothing is called so")


def named_later(
    refusal: Refusal, statement: nodes.Statement, number: int, program: nodes.Program
) -> Hint | None:
    """Where the name that is not known yet is given, if a line further down gives it."""
    at, source = refusal.span, program.source
    if refusal.code != "unknown-name" or at is None:
        return None
    name = source.text[at.start : at.end]
    for step in program.steps[number - 1 :]:
        for one in step.body:
            if one.span.start > statement.span.start and name in _given(one):
                line, _ = source.position(one.span.start)
                return Hint(f"line {line} gives this name: put that line above this one")
    return None
