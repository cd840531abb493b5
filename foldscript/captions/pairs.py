"""Moves of one step that differ only in what they move, told in one sentence.

In: the automatic captions of a step, one a move. Out: 'Fold the left and right corners over to ...' for two
that say the same of one corner each.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ..languages.wording import Phrase
from ..moves.planning.called import together

#: The hole that may differ.
_HOLE = "what"


def combined(phrases: Sequence[Phrase]) -> tuple[Phrase, ...]:
    """The sentences, runs of like ones as one; a sentence that explains a term stays alone."""
    out: list[Phrase] = []
    start = 0
    while start < len(phrases):
        runs = (range(start, end) for end in range(len(phrases), start + 1, -1))
        found = next(
            ((one, run.stop) for run in runs if (one := _one(phrases[start : run.stop]))), None
        )
        one, start = found or (phrases[start], start + 1)
        out.append(one)
    return tuple(out)


def _one(run: Sequence[Phrase]) -> Phrase | None:
    if run[0].again is not None:
        return None
    alike = [words.alike for words in run]
    plain = [words for words in alike if words is not None]
    return _joined(run) or (
        _joined(plain) if len(plain) == len(run) and any(map(_says_as_much, run, plain)) else None
    )


def _says_as_much(words: Phrase, plain: Phrase) -> bool:
    """Whether a sentence says no more of where the paper goes than its plain form."""
    return dict(words.parts).get("where") == dict(plain.parts).get("where")


def _joined(run: Sequence[Phrase]) -> Phrase | None:
    first = run[0]
    if any(_frame(other) != _frame(first) for other in run):
        return None
    moved = [dict(other.parts).get(_HOLE) for other in run]
    named = [part for part in moved if isinstance(part, Phrase)]
    what = together(named) if len(named) == len(run) else None
    if what is None:
        return None
    parts = tuple((key, what if key == _HOLE else part) for key, part in first.parts)
    return replace(first, parts=parts)


def _frame(words: Phrase) -> object:
    """Everything of a sentence but what it moves."""
    rest = tuple((key, part) for key, part in words.parts if key != _HOLE)
    return words.template, words.many, words.count, rest
