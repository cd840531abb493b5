"""How a model is taught, step by step: when each step comes, which are hard, and where the class waits.

In: the moves of every step. Out: a `StepPlan` a step. All of it follows rules of thumb (common practice, not
measured): the minutes are those of `planning`; a step is hard where it has a move of the model's own level,
unless that is simple; the class waits before hard steps, at the end, and so often that nobody is left behind
for long.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from ..languages.levels import Level
from ..moves.planning.request import Move

#: Minutes that a move of each level takes to fold.
MINUTES = {
    Level.SIMPLE: 1.0,
    Level.LOW_INTERMEDIATE: 1.5,
    Level.INTERMEDIATE: 2.0,
    Level.HIGH_INTERMEDIATE: 3.0,
    Level.COMPLEX: 4.0,
}
#: Teaching a group, against folding alone (common practice).
TEACHING = 3
#: Longest that a class is taught without waiting for everyone, in minutes (this project's own rule of thumb).
LONGEST = 15


@dataclass(frozen=True, slots=True)
class StepPlan:
    """A step as it is taught.

    Attributes
    ----------
    starts : minutes from the beginning of the model
    hard : verbs of its moves that make it hard; () where it is not
    waits : whether everyone should have done it before the class goes on
    """

    number: int
    starts: int
    hard: tuple[str, ...]
    waits: bool


def folding_minutes(moves: Iterable[Move]) -> float:
    """How long moves take to fold."""
    return sum(MINUTES[move.level] for move in moves if move.folds)


def lesson(
    steps: Sequence[tuple[int, Sequence[Move], float]], level: Level
) -> tuple[StepPlan, ...]:
    """The steps as they are taught: number, moves, and minutes of folding that come before each of them.

    `level` is the model's own.
    """
    out: list[StepPlan] = []
    at = since = 0.0
    hard = [verbs_of(moves, level) for _, moves, _ in steps]
    for k, (number, moves, before) in enumerate(steps):
        at += TEACHING * before
        starts = round(at)
        at += TEACHING * folding_minutes(moves)
        last = k == len(steps) - 1
        next_one = 0.0 if last else TEACHING * (steps[k + 1][2] + folding_minutes(steps[k + 1][1]))
        turns_hard = not last and bool(hard[k + 1]) and not hard[k]
        waits = last or turns_hard or at + next_one - since > LONGEST
        since = at if waits else since
        out.append(StepPlan(number, starts, hard[k], waits))
    return tuple(out)


def verbs_of(moves: Iterable[Move], level: Level) -> tuple[str, ...]:
    """The hard folds: moves of this level, each once; none where all is simple."""
    if level is Level.SIMPLE:
        return ()
    return tuple(dict.fromkeys(move.verb for move in moves if move.level is level))
