"""Several things that one statement names to be folded alike: one move each, made one after another.

In: the statement, as 'valley A, B, C and D to O'. Out: the same as from the statements 'valley A to O',
'valley B to O' and so on in this order. All words are looked up first: where one of them would stand for
something else once an earlier thing has moved, the statement is refused, and nothing of it is done.
"""

from __future__ import annotations

import re
from dataclasses import replace

from ..geometry.lines import distance, same_line
from ..geometry.tolerance import FOLDED
from ..moves.planning.request import LineValue, PointValue, Value
from ..moves.registry import moves
from ..paper.state import State
from ..source.diagnostics import Refusal, in_words
from ..syntax import nodes
from . import groups
from .performing.perform import Folding, perform, resolve
from .repeating.checkpoints import restore, save
from .resolving.resolved import ResolvedStatement

#: Words that say where a thing goes; with the others, paper that goes along has been folded as was said.
_GOALS = ("to", "onto")


#: What is wrong with a statement that says several moves at once, and would not be with each in its line.
GONE_ALONG, WORDS_MOVE, ONE_NAME = OF_EACH = "gone-along", "words-move", "one-name"


class EachRefusal(Refusal):
    """What a statement says of several things cannot be done with all, though with the first `done`."""

    done: int = 0


def one_each(statement: nodes.Statement) -> tuple[nodes.Statement, ...]:
    """The statements, one for each thing that is named at the head; none where it names a single one, or the
    move takes several by itself."""
    each = moves()[statement.verb].each if statement.verb in moves() else None
    phrases = statement.phrases
    if each is None or not phrases:
        return ()
    start = next((k for k, p in enumerate(phrases) if p.word in each.heads and p.operands), None)
    if start is None:
        return ()
    end, heads = _joined(phrases, start)
    if end == start + 1 or any(p.word in _GOALS for p in phrases[:start]):
        return ()
    rows: list[list[nodes.Phrase]] = [
        [*phrases[:start], nodes.Phrase(phrases[start].word, (head,), head.span)] for head in heads
    ]
    while end < len(phrases):
        here = end
        end, goals = _joined(phrases, here)
        dealt = phrases[here].word in each.dealt and end > here + 1 and len(goals) == len(heads)
        for k, row in enumerate(rows):
            if dealt:
                row.append(nodes.Phrase(phrases[here].word, (goals[k],), goals[k].span))
            else:
                row.extend(phrases[here:end])
    return tuple(replace(statement, phrases=tuple(row)) for row in rows)


def in_lines(statement: nodes.Statement, text: str) -> tuple[tuple[str, str], ...]:
    """The statements as one writes them, each in a line of its own, and how far each names what moves.

    `text` is that of the script.
    """
    parts = one_each(statement)
    rows = [
        [p.operands[0].span for p in one]
        for one in zip(*(s.phrases for s in parts), strict=True)
        if one[0] != one[1]
    ]
    lines: list[tuple[str, str]] = []
    for k in range(len(parts)):
        line, at, head = "", statement.span.start, ""
        for spans in rows:
            line += text[at : spans[0].start] + text[spans[k].start : spans[k].end]
            at = spans[-1].end
            head = head or line
        line += text[at : statement.span.end]
        lines.append((re.sub(r"\bas (\S+)", rf"as \g<1>{k + 1}", line) if k else line, head))
    return tuple(lines)


def _joined(phrases: tuple[nodes.Phrase, ...], start: int) -> tuple[int, tuple[nodes.Operand, ...]]:
    """Where the phrase ends with all that 'and' joins to it, and the operands of them all."""
    end = start + 1
    while end < len(phrases) and phrases[end].word == "and" and len(phrases[end].operands) == 1:
        end += 1
    return end, tuple(o for p in phrases[start:end] for o in p.operands)


def carry_each(folding: Folding, number: int, parts: tuple[nodes.Statement, ...]) -> groups.Done:
    """Makes the moves one after another. Raises Refusal, and leaves the paper as it was."""
    naming = next((p for p in parts[0].phrases if p.word == "as"), None)
    if naming is not None:
        raise EachRefusal(
            ONE_NAME,
            f"one name cannot be given to {len(parts)} folds",
            span=naming.span,
        )
    before = save(folding)
    done: groups.Done = []
    part = parts[0]
    try:
        first = [resolve(folding, part) for part in parts]
        for part, said in zip(parts, first, strict=True):
            if done and _gone_along(folding, said, resolve(folding, part), before.state):
                continue
            now = folding.state
            outcome = perform(folding, number, part)
            done.append((outcome.before or now, outcome))
    except EachRefusal:
        restore(folding, before)
        raise
    except Refusal as refusal:
        restore(folding, before)
        hints = in_words(refusal.hints)  # their changes would write one move in the place of all
        if done:
            later = EachRefusal(refusal.code, refusal.message, *hints, span=refusal.span)
            later.done = parts.index(part)
            raise later from None
        raise refusal.with_hints(*hints) from None
    return done


def _gone_along(
    folding: Folding, said: ResolvedStatement, now: ResolvedStatement, before: State
) -> bool:
    """Whether the thing has moved with one before it, about the line that was named for both.

    Raises Refusal where words stand for another place than they did.
    """
    if moves()[said.verb].whole_folds:
        return False  # a crease's name stands for it wherever it lies
    pairs = [
        (a, b)
        for c, d in zip(said.clauses, now.clauses, strict=True)
        for a, b in zip(c.values, d.values, strict=True)
    ]
    head = next(c for c in said.clauses if c.values).values
    shifted = [a for a, b in pairs if not _same_place(a, b)]
    what = head[0]
    words = what.words.render() if isinstance(what, PointValue | LineValue) else "this"
    if any(a in head for a in shifted) or any(_moved(folding.state, before, v) for v in head):
        if not any(c.word in _GOALS for c in said.clauses):
            return True
        raise EachRefusal(
            GONE_ALONG,
            f"{words} has moved along with what was named before it",
            span=what.span,
        )
    if not shifted:
        return False
    other = shifted[0]
    where = other.words.render() if isinstance(other, PointValue | LineValue) else "this"
    first = "crease it first, where it lies now, and say the name of the crease"
    raise EachRefusal(
        WORDS_MOVE,
        f"{where} is elsewhere once what was named before {words} has moved",
        *((first,) if isinstance(other, LineValue) else ()),
        span=other.span,
    )


def _same_place(a: Value, b: Value) -> bool:
    if isinstance(a, PointValue) and isinstance(b, PointValue):
        return distance(a.at, b.at) <= FOLDED
    if isinstance(a, LineValue) and isinstance(b, LineValue):
        return same_line(a.line, b.line)
    return True


def _moved(state: State, before: State, value: Value) -> bool:
    """Whether the paper of a point that the eye names has moved, and other paper lies there now."""
    if not isinstance(value, PointValue) or value.sheet is None:
        return False
    return distance(state.where(value.sheet), before.where(value.sheet)) > FOLDED
