"""Named groups of moves: `group ear P Q ... end` before the steps, `do ear A B` in them.

In: a call and the groups of the script. Out: the moves of the group carried out one by one, with the
call's points and lines in the place of its parameters. What the eye sees ('top corner') is looked up
once, at the call, and means the same paper in every move of the group. Names given inside a group stay
inside, unless they are parameters themselves.
"""

from __future__ import annotations

import difflib
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from ..geometry.isometries import inverse, map_segment
from ..geometry.lines import Segment
from ..geometry.polygons import clip_segment
from ..moves.planning.request import LineValue, Outcome
from ..moves.registry import moves
from ..paper.seams import remainder
from ..paper.state import State
from ..source.diagnostics import Diagnostic, FoldscriptError, Hint, Refusal, Span, in_words
from ..syntax import nodes
from .performing.perform import MOVE_LIMIT, Folding
from .performing.substituting import rebuilt, substituted
from .resolving.landmarks import kept
from .resolving.names import Names
from .resolving.scope import Scope

VERB = "do"
FORMS = ("do ear A B", "do ear top corner, line P Q")

Done = list[tuple[State, Outcome]]
#: Carries any statement out (repeats and calls of groups too).
Carry = Callable[[nodes.Statement], Done]


class CalledRefusal(Refusal):
    """A refusal inside a group; `calls` are the statements that led there, innermost first."""

    def __init__(self, inner: Refusal, statement: nodes.Statement, call: nodes.Statement) -> None:
        super().__init__(
            inner.code, inner.message, *in_words(inner.hints), span=inner.span or statement.span
        )
        earlier = inner.calls if isinstance(inner, CalledRefusal) else ()
        self.calls: tuple[nodes.Statement, ...] = (*earlier, call)


def read_groups(program: nodes.Program) -> Mapping[str, nodes.Group]:
    """The groups of a script by name. Raises FoldscriptError where one is defined twice."""
    found: dict[str, nodes.Group] = {}
    faults: list[Diagnostic] = []
    for group in program.groups:
        name = group.name
        if name.text in found:
            first = Hint("the first one is here", found[name.text].name.span)
            faults.append(
                Diagnostic(
                    "group-twice",
                    f"there is a group '{name.text}' already",
                    name.span,
                    (first,),
                    source=program.source,
                )
            )
        found.setdefault(name.text, group)
        seen: set[str] = set()
        for parameter in group.parameters:
            if parameter.text in seen:
                faults.append(
                    Diagnostic(
                        "parameter-twice",
                        f"'{parameter.text}' stands twice in the head of group '{name.text}'",
                        parameter.span,
                        source=program.source,
                    )
                )
            seen.add(parameter.text)
    if faults:
        raise FoldscriptError(*faults)
    return found


def call(folding: Folding, statement: nodes.Statement, carry: Carry) -> Done:
    """Carries a group out. Raises Refusal, with the span of the move inside the group."""
    group, operands = _read(folding.groups, statement)
    folding.calls += 1
    if folding.calls > MOVE_LIMIT:
        raise Refusal("too-many-moves", f"more than {MOVE_LIMIT} calls of groups")
    calling = folding.call_stack.groups
    if group.name.text in calling:
        row = [*calling[calling.index(group.name.text) :], group.name.text]
        raise Refusal(
            "group-calls-itself",
            f"a group cannot be done inside itself: {' does '.join(row)}",
            "write the moves out, or use 'repeat'",
            span=statement.span,
        )
    outside = folding.names
    inner = outside.copy()
    own = _given(group) - {p.text for p in group.parameters}
    scope = Scope(folding.state, inner, folding.history)
    stand = {
        parameter.text: _settled(scope, operand, own)
        for parameter, operand in zip(group.parameters, operands, strict=True)
    }
    passed = {o.text for o in stand.values() if isinstance(o, nodes.Name)}
    for name in own:  # a name of the group's own hides one from outside
        inner.points.pop(name, None)
        inner.creases.pop(name, None)
    known = set(inner.points) | set(inner.creases)
    start = len(folding.history)
    folding.names = inner
    outer = folding.call_stack
    folding.call_stack = outer.inside(statement.span, group.name.text)
    done: Done = []
    try:
        for one in group.body:
            try:
                done.extend(carry(substituted(one, stand)))
            except Refusal as refusal:
                raise CalledRefusal(refusal, one, statement) from None
    finally:
        folding.call_stack = outer
    _leave(folding, outside, passed, known, start)
    return done


def _read(
    groups: Mapping[str, nodes.Group], statement: nodes.Statement
) -> tuple[nodes.Group, tuple[nodes.Operand, ...]]:
    operands: list[nodes.Operand] = []
    for phrase in statement.phrases:
        if phrase.word not in ("", "and", "with", "on"):
            raise Refusal(
                "unexpected-words",
                f"'do' does not know what to do with '{phrase.word}'",
                *(f"write it like: {form}" for form in FORMS),
                span=phrase.span,
            )
        operands.extend(phrase.operands)
    name = operands[0] if operands else None
    if not isinstance(name, nodes.Name):
        raise Refusal(
            "do-what",
            "say which group of moves to do",
            *(f"write it like: {form}" for form in FORMS),
            span=statement.span,
        )
    given = operands[1:]
    group = groups.get(name.text)
    if group is None:
        near = difflib.get_close_matches(name.text, list(groups), 1, 0.6)
        known = ", ".join(sorted(groups)[:20])
        hint = f"did you mean '{near[0]}'?" if near else f"groups in this script: {known}"
        raise Refusal(
            "unknown-group",
            f"there is no group '{name.text}'",
            hint if groups else "define it before the first step: group ... end",
            span=name.span,
        )
    if len(given) != len(group.parameters):
        wanted = " ".join(p.text for p in group.parameters)
        raise Refusal(
            "wrong-number",
            f"group '{name.text}' takes {len(group.parameters)} thing"
            f"{'' if len(group.parameters) == 1 else 's'}, and {len(given)} "
            f"{'is' if len(given) == 1 else 'are'} given",
            f"write it like: do {name.text} {wanted}".strip(),
            span=statement.span,
        )
    return group, tuple(given)


def _given(group: nodes.Group) -> set[str]:
    """Names that the moves of a group give."""
    found: set[str] = set()
    for statement in group.body:
        for k, phrase in enumerate(statement.phrases):
            move = moves().get(statement.verb)
            leading = k == 0 and move is not None and move.names_first
            if (phrase.word == "as" or leading) and phrase.operands:
                first = phrase.operands[0]
                if isinstance(first, nodes.Name):
                    found.add(first.text)
    return found


def _leave(folding: Folding, outside: Names, passed: set[str], known: set[str], start: int) -> None:
    """Only names that came in as parameters go out again."""
    inner = folding.names
    names = outside.copy()
    for name in sorted(passed - known):
        if name in inner.points:
            names.name_point(name, inner.points[name])
        if name in inner.creases:
            names.name_crease(name, inner.creases[name], inner.made.get(name, 0))
    if folding.history:
        names.cut_off(folding.state, folding.history[-1].step)
    folding.names = names
    for k in range(start, len(folding.history)):
        if folding.statements[k].new_name and folding.statements[k].new_name not in passed:
            folding.statements[k] = replace(folding.statements[k], local=True)
            folding.history[k] = replace(folding.history[k], name="")


# --- what the eye sees, held on to -------------------------------------------------------------


def _settled(scope: Scope, operand: Any, own: set[str]) -> Any:
    """An operand in which what the eye sees now is tied to the paper there.

    So are names that the group gives to something of its own.
    """
    names = scope.names
    if isinstance(operand, nodes.Seen | nodes.EndOf):
        return _hold(scope, operand)
    if isinstance(operand, nodes.Name):
        hidden = operand.text in own and (
            operand.text in names.points or operand.text in names.creases
        )
        return _hold(scope, operand) if hidden else operand
    if isinstance(operand, Span | str | int | float | tuple):
        return operand
    return rebuilt(operand, lambda value: _settled(scope, value, own))


def _hold(scope: Scope, node: nodes.Seen | nodes.EndOf | nodes.Name) -> nodes.Operand:
    value = scope.value(node)
    names = scope.names
    key = f"{value.span.start} {len(names.held_points) + len(names.held_lines)}"
    if isinstance(value, LineValue):
        segments = _on_sheet(scope.state, value)
        if not segments:
            return node
        names.held_lines[key] = (segments, value.words)
    else:
        point = scope.point(node)
        if point.sheet is None:
            return node
        names.held_points[key] = (point.sheet, point.words, kept(point, scope.state))
    return nodes.Name(key, node.span)


def _on_sheet(state: State, value: LineValue) -> tuple[Segment, ...]:
    """The uppermost paper along a line, as segments of the sheet."""
    if value.segment is None:
        return ()
    seen: list[Segment] = []
    found: list[Segment] = []
    for f in value.facets:
        part = clip_segment(state.placed[f], value.segment)
        for piece in remainder([part] if part is not None else [], seen):
            found.append(map_segment(inverse(state.facets[f].place), piece))
        if part is not None:
            seen.append(part)
    return tuple(found)
