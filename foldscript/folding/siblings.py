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
from .earlier_lines import OPPOSITE, said_in_english

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
_MARK = re.compile(r"(mark [A-Z]\w? at (?:the )?)(.+)$")
_TOKEN = re.compile(r"[\w'/.-]+|[^\w\s]")
_POINT = re.compile(r"[A-Z]\w?'*$")
#: So many times one word stands for another where that is no chance.
_ENOUGH = 2
#: So many steps before and after one are looked at for its twin.
_NEAR = 3
#: A caption that tells two folds as one; a goal by its side; words for a line amid the paper.
_BOTH = re.compile(
    r"\b(?:both|top and bottom|bottom and top|left and right|right and left|doors)\b"
    r"|\b(?:sides|edges|corners|tips|ends|points|halves)\b[^.;:]* (?:to|onto) ",
    re.IGNORECASE,
)
#: A caption that folds several things at one height.
_SEVERAL_THERE = re.compile(r"\b(upper|lower|top|bottom) (edges|corners|tips)\b", re.IGNORECASE)
_HEIGHTS = {"upper": "top", "lower": "bottom", "top": "top", "bottom": "bottom"}
_SAME = {"top": "upper", "bottom": "lower"}
_SIDE_OF_ALL = re.compile(r"\b(?:left|right|top|bottom)\b")
_MIDDLE = re.compile(r"\b(?:crease|creases|middle|centre|center|line|fold)\b", re.IGNORECASE)
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


def opposite(words: str) -> str:
    """The words with each side for the one across."""
    return re.sub(r"\b(?:left|right|top|bottom|upper|lower)\b", lambda m: OPPOSITE[m[0]], words)


def fallen_out(step: nodes.Step, number: int, program: nodes.Program) -> Diagnostic | None:
    """The warning for a fold that is not as the others of its step are; None where there is none."""
    text = program.source.text
    caption = said_in_english(step, program)
    row = [
        *beside_what_is_said_of_both(step.body, text, caption),
        *at_the_other_height(step.body, text, caption),
        *out_of_the_row(step.body, text),
        *not_to_its_twins_goal(step.body, text),
        *of_twin_steps(step, program.steps, text),
    ]
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
    kinds = {kind_of(mover) for _, mover, *_ in rows}
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


def beside_what_is_said_of_both(
    body: Sequence[nodes.Statement], text: str, caption: str
) -> Iterator[Odd]:
    """Of two folds in a row that the caption tells as one the fold whose goal it does not speak of, where it
    does of the other's.
    """
    if not _BOTH.search(caption):
        return
    for one, other in pairwise(one for one in body if one.verb != "mark"):
        first, second = _parted(one, text), _parted(other, text)
        if one.verb not in _STAY or first[0] != second[0] or not (first[2] and second[2]):
            continue
        if kind_of(first[1]) != kind_of(second[1]) or second[2] in (first[2], mirrored(first[2])):
            continue
        told = [_speaks_of(goal, caption) for goal in (first[2], second[2])]
        if told == [True, False]:
            yield _as_both(other, second, first[2])
        elif told == [False, True]:
            yield _as_both(one, first, second[2])


def at_the_other_height(body: Sequence[nodes.Statement], text: str, caption: str) -> Iterator[Odd]:
    """Folds of what lies at the top, where the caption speaks of several below alone; and round about."""
    said = _SEVERAL_THERE.search(caption)
    if said is None:
        return
    there = _HEIGHTS[said[1].lower()]
    not_there = OPPOSITE[there]
    if re.search(rf"\b(?:{not_there}|{_SAME[not_there]})\b", caption, re.IGNORECASE):
        return
    for one in body:
        verb, mover, goal, name = _parted(one, text)
        if verb in _FOLDS and re.search(rf"\b{not_there}\b.*\b{said[2][:-1].lower()}\b", mover):
            line = f"{verb} {re.sub(rf'{not_there}', there, mover)} {goal}{name}"
            yield Odd(one, line, f"the caption speaks of the {said[0].lower()}")


def _as_both(node: nodes.Statement, said: tuple[str, str, str, str], goal: str) -> Odd:
    why = f"the caption tells both alike, and the other fold goes '{goal}'"
    return Odd(node, f"{said[0]} {said[1]} {goal}{said[3]}", why)


def _speaks_of(goal: str, caption: str) -> bool | None:
    """Whether a caption speaks of where a fold goes: a side by its word, a crease or the middle by such one;
    None where the goal is a point, of which it may speak otherwise.
    """
    sides = _SIDE_OF_ALL.findall(goal)
    if sides:
        return all(re.search(rf"\b{side}\b", _goal_in(caption), re.IGNORECASE) for side in sides)
    if _POINT.match(goal.split()[-1]) and not goal.startswith("onto line "):
        return None
    return _MIDDLE.search(_goal_in(caption)) is not None


def _goal_in(caption: str) -> str:
    """What a caption says from its last 'to' on."""
    return caption[max(caption.rfind(" to "), caption.rfind(" onto "), 0) :]


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


def marks_alike(body: Sequence[nodes.Statement], text: str) -> Iterator[Odd]:
    """Of two marks in a row, each as the other side has it: where they name one place, the first on the left;
    or where they are each other's mirror image but for one word.
    """
    for one, other in pairwise(body):
        said = [_MARK.match(_words(statement, text)) for statement in (one, other)]
        if said[0] is None or said[1] is None:
            continue
        head, first = said[0].groups()
        its_head, second = said[1].groups()
        if first == second != mirrored(first):
            rows = [(one, head, "left", "right"), (other, its_head, "right", "left")]
            for node, start, side, across in rows:
                line = start + re.sub(rf"\b{across}\b", side, first)
                if line != start + first:
                    yield Odd(
                        node,
                        line,
                        f"the mark {'after' if node is one else 'before'} it names that place",
                    )
        elif mirrored(first) != first and _heights_apart(mirrored(first), second):
            yield Odd(other, its_head + mirrored(first), "the mark before it lies so on its side")
            yield Odd(one, head + mirrored(second), "the mark after it lies so on its side")


def beside_its_twin_step(step: nodes.Step, twin: nodes.Step, text: str) -> Odd | None:
    """Of two steps that say the same of other points the one word that does not fit; None where all do.

    Each point of the twin stands for one of the step: what stands for it twice or more is right where it
    stands for another once.
    """
    shorter = min(len(step.body), len(twin.body))  # one of them may mark more at its beginning
    if shorter < _ENOUGH or shorter < max(len(step.body), len(twin.body)) - 1:
        return None
    rows = [
        (one, _tokens(one, text), _tokens(its, text))
        for one, its in zip(step.body[-shorter:], twin.body[-shorter:], strict=True)
    ]
    if any(len(mine) != len(its) for _, mine, its in rows):
        return None
    stands: dict[str, Counter[str]] = {}
    for _, mine, its in rows:
        for a, b in zip(its, mine, strict=True):
            stands.setdefault(a, Counter())[b] += 1
    usual = {a: found.most_common(1)[0] for a, found in stands.items()}
    if all(a == b for a, (b, _) in usual.items()):
        return None
    odd: list[Odd] = []
    for one, mine, its in rows:
        for k, (a, b) in enumerate(zip(its, mine, strict=True)):
            word, often = usual[a]
            if b == word:
                if a != b and not (_POINT.match(a) and _POINT.match(b)) and a not in OPPOSITE:
                    return None
                continue
            if often < _ENOUGH:
                return None
            line = _said_with(_words(one, text), k, word)
            odd.append(
                Odd(
                    one,
                    line,
                    f"the step that goes alike has '{a}' there, for which '{word}' stands",
                )
            )
    return odd[0] if len(odd) == 1 else None


def of_twin_steps(step: nodes.Step, steps: Sequence[nodes.Step], text: str) -> Iterator[Odd]:
    """What does not fit in a step beside those before and after it that say the same of other points."""
    at = next((k for k, one in enumerate(steps) if one.span == step.span), None)
    if at is None:
        return
    for twin in (*reversed(steps[max(0, at - _NEAR) : at]), *steps[at + 1 : at + 1 + _NEAR]):
        odd = beside_its_twin_step(step, twin, text)
        if odd is not None:
            yield odd


def _heights_apart(one: str, other: str) -> bool:
    """Whether two lines differ by 'top' for 'bottom' in one place alone."""
    rows = [pair for pair in zip(one.split(), other.split(), strict=False) if pair[0] != pair[1]]
    same = len(one.split()) == len(other.split())
    return same and len(rows) == 1 and {*rows[0]} == {"top", "bottom"}


def _tokens(statement: nodes.Statement, text: str) -> list[str]:
    return [m[0] for m in _TOKEN.finditer(_words(statement, text))]


def _said_with(words: str, number: int, other: str) -> str:
    """The words with another one in the place of the one with this number."""
    at = [*_TOKEN.finditer(words)][number]
    return words[: at.start()] + other + words[at.end() :]


def parted(verb: str, line: str) -> tuple[str, str, str, str]:
    """The verb of a line, what moves, what comes from the goal on, and what gives a name."""
    words, name = unnamed(line)
    rest = words[len(verb) :].strip()
    goal = _GOAL.search(rest)
    at = len(rest) if goal is None else goal.start()
    return verb, rest[:at].strip(), rest[at:].strip(), name


def _parted(statement: nodes.Statement, text: str) -> tuple[str, str, str, str]:
    return parted(statement.verb, _words(statement, text))


def _sides(words: str) -> list[str]:
    return _SIDE.findall(words)


def kind_of(mover: str) -> str:
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
