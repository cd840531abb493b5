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
#: Lines whose words are no points and creases: sides, groups.
_SAY_OTHER_NAMES = frozenset(("repeat", "do"))


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
    later = [
        one for step in program.steps for one in step.body if one.span.start > statement.span.start
    ]
    given, said = {*known}, dict[str, nodes.Statement]()
    for one in later:  # a name may be given anew further down, for another sheet
        for name in (o for o in operands(one.phrases) if isinstance(o, nodes.Name)):
            if one.verb not in _SAY_OTHER_NAMES and name.text not in given | _given(one):
                said.setdefault(name.text, one)
        given |= _given(one)
    if len(said) != 1:
        return None
    ((name, first),) = said.items()
    source = program.source
    line, _ = source.position(first.span.start)
    at, why = refusal.span, f"line {line} says it, and nothing is called so"
    earlier = _where_given(source.text[at.start : at.end], statement, program)
    if earlier is not None:
        words = (
            source.text[earlier.start : earlier.end],
            source.text[statement.span.start : at.start],
        )
        mine, other = (
            sum(part in line.split() for part in name.split("-")) for line in reversed(words)
        )
        if other > mine:
            before, _ = source.position(earlier.start)
            where = Span(earlier.end - (at.end - at.start), earlier.end)
            return write(where, name, f"in line {before} say '{name}': {why}")
    return write(at, name, f"say '{name}': {why}")


def _where_given(name: str, statement: nodes.Statement, program: nodes.Program) -> Span | None:
    """From the start of the earlier line that gives the name up to its end."""
    for one in (one for step in program.steps for one in step.body):
        naming = next((o for p in one.phrases if p.word == "as" for o in p.operands), None)
        known = isinstance(naming, nodes.Name) and naming.text == name
        if naming is not None and known and one.span.end <= statement.span.start:
            return Span(one.span.start, naming.span.end)
    return None


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
