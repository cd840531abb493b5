"""The lines of one step beside each other: the one that falls out of their row, and as it would fit.

In: the statements of a step. Out: a statement, the line that the others speak for, and why. Folds of one step
are mostly alike: the same on both sides, all corners to one point (common practice).
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from ..source.diagnostics import Diagnostic, Edit, Hint, Severity
from ..syntax import nodes
from .earlier_lines import said_in_english

_STAY = frozenset(("valley", "mountain"))
_FOLDS = _STAY | {"crease", "pinch"}
_SIDE = re.compile(r"\b(?:left|right)\b")
_ACROSS = {"left": "right", "right": "left"}
#: A caption that does the same more than once.
_AGAIN = re.compile(r"\b(?:again|twice|times|over and over|once more|roll)\b", re.IGNORECASE)
_GIVES_A_NAME = re.compile(r",? as [\w-]+$")
_GOAL = re.compile(r"\b(?:to|onto)\b")
#: A goal that the eye finds, and no name.
_BY_SIGHT = re.compile(
    r"(?:to|onto) (?:the )?(?:(?:(?:top|bottom)(?: (?:left|right))?|left|right) (?:corner|edge)"
    r"|cent(?:re|er)(?: line)?)$"
)
#: So many lines make a row, of which all but one are alike.
_ROW = 3


@dataclass(frozen=True)
class Odd:
    """A statement, the line that would fit the others, and what they say."""

    node: nodes.Statement
    line: str
    why: str


def mirrored(words: str) -> str:
    """The words with left and right changed about."""
    return _SIDE.sub(lambda m: _ACROSS[m[0]], words)


def fallen_out(step: nodes.Step, number: int, program: nodes.Program) -> Diagnostic | None:
    """The warning for a fold that is not as the others of its step are; None where there is none."""
    text = program.source.text
    row = [*out_of_the_row(step.body, text), *not_to_its_twins_goal(step.body, text)]
    caption = said_in_english(step, program)
    if not _AGAIN.search(caption) and (caption or not step.captions):
        row += said_twice(step.body, text)
    if not row:
        return None
    (odd, *_) = row
    return Diagnostic(
        "not-as-the-others",
        f"{odd.why}: is this one meant otherwise? (in step {number})",
        odd.node.span,
        (
            Hint(f"say '{odd.line}'", edit=Edit(odd.node.span, odd.line)),
            Hint("or give it a step of its own, where it is meant as it stands"),
        ),
        Severity.WARNING,
        program.source,
    )


def said_twice(body: Sequence[nodes.Statement], text: str) -> Iterator[Odd]:
    """The second of two folds in a row that are word for word the same, with the other side."""
    for one, other in pairwise(one for one in body if one.verb != "mark"):
        words, name = unnamed(_words(other, text))
        same = one.verb in _FOLDS and words == unnamed(_words(one, text))[0]
        if same and mirrored(words) != words:
            yield Odd(other, mirrored(words) + name, "the fold before it says the same")


def out_of_the_row(body: Sequence[nodes.Statement], text: str) -> Iterator[Odd]:
    """Of three or more folds that stay the one whose verb or goal differs from that of all others."""
    folds = [one for one in body if one.verb in _STAY]
    rows = [_parted(one, text) for one in folds]
    kinds = {_kind(mover) for _, mover, *_ in rows}
    if len(rows) < _ROW or len(kinds) > 1 or not all(goal for _, _, goal, _ in rows):
        return  # edges from the side and from above go to lines of their own
    apart: list[tuple[int, str, str]] = []
    for words in ([verb for verb, *_ in rows], [goal for _, _, goal, _ in rows]):
        (usual, often), *others = Counter(words).most_common()
        if others and often < len(rows) - 1:
            return
        if others:
            odd = next(k for k, word in enumerate(words) if word != usual)
            apart.append((odd, words[odd], usual))
    if len(apart) != 1:
        return
    ((odd, was, usual),) = apart
    verb, mover, goal, name = rows[odd]
    line = f"{usual} {mover} {goal}" if was == verb else f"{verb} {mover} {usual}"
    yield Odd(folds[odd], line + name, f"the other folds of the step say '{usual}'")


def not_to_its_twins_goal(body: Sequence[nodes.Statement], text: str) -> Iterator[Odd]:
    """Of two folds from opposite sides that go to places by sight unlike each other, each with the other's:
    first the one that does not go to the middle.
    """
    for one, other in pairwise(one for one in body if one.verb != "mark"):
        first, second = _parted(one, text), _parted(other, text)
        if one.verb not in _FOLDS or first[0] != second[0] or mirrored(first[1]) != second[1]:
            continue
        goals = first[2], second[2]
        if first[1] == second[1] or goals[1] in (goals[0], mirrored(goals[0])):
            continue
        if all(map(_BY_SIGHT.match, goals)):
            pair = [(one, first, goals[1]), (other, second, goals[0])]
            for node, (verb, mover, goal, name), its in sorted(
                pair, key=lambda row: "centre" in row[1][2]
            ):
                line = f"{verb} {mover} {mirrored(its)}{name}"
                yield Odd(node, line, f"the other side goes '{its}', and this one '{goal}'")


def beside_its_twin(body: Sequence[nodes.Statement], text: str) -> Iterator[Odd]:
    """Of two folds in a row that are each other's mirror image but for one word, each as the other has it."""
    for one, other in pairwise(body):
        if one.verb not in _FOLDS or other.verb not in _FOLDS:
            continue
        for odd, twin, why in (
            (other, one, "the fold before it goes so on its side"),
            (one, other, "the fold after it goes so on its side"),
        ):
            words, name = unnamed(_words(odd, text))
            line = mirrored(unnamed(_words(twin, text))[0])
            if (
                line != mirrored(line)
                and _apart(line, words) == 1
                and _sides(line) == _sides(words)
            ):
                yield Odd(odd, line + name, why)


def _parted(statement: nodes.Statement, text: str) -> tuple[str, str, str, str]:
    """Its verb, what moves, what comes from the goal on, and what gives a name."""
    words, name = unnamed(_words(statement, text))
    rest = words[len(statement.verb) :].strip()
    goal = _GOAL.search(rest)
    at = len(rest) if goal is None else goal.start()
    return statement.verb, rest[:at].strip(), rest[at:].strip(), name


def _sides(words: str) -> list[str]:
    return _SIDE.findall(words)


def _kind(mover: str) -> str:
    """What moves: an edge from the side or from above, a corner by sight, or what has a name."""
    words = mover.split()
    if "edge" in words:
        return "upright edge" if _SIDE.search(mover) else "level edge"
    return next((word for word in ("corner", "line") if word in words), "name")


def _apart(one: str, other: str) -> int:
    first, second = one.split(), other.split()
    if len(first) != len(second):
        return len(first) + len(second)
    return sum(a != b for a, b in zip(first, second, strict=True))


def unnamed(words: str) -> tuple[str, str]:
    """A line without the name that it gives, and that with its 'as'."""
    named = _GIVES_A_NAME.search(words)
    return (words, "") if named is None else (words[: named.start()], named[0])


def _words(statement: nodes.Statement, text: str) -> str:
    return text[statement.span.start : statement.span.end]
