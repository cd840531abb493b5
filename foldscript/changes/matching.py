"""Which step of one version became which step of the other, when steps came, went or were rewritten.

In: both versions' steps as text. Out: pairs of step indices, None for a step that is in one only.
Steps with the same moves belong together; of those between, the ones that say nearly the same do.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher

from ..syntax.nodes import Program

#: Steps that are less alike than this are different steps.
_ALIKE = 0.45
#: Steps between two that are the same, up to which they are compared each with each.
_MOST = 40


@dataclass(frozen=True)
class WrittenStep:
    """A step as written: its moves, and its caption."""

    moves: str
    caption: str

    @property
    def key(self) -> str:
        """What makes it the same step: the moves; the caption where nothing moves."""
        return self.moves or f"says {self.caption}"


def said(program: Program) -> list[WrittenStep]:
    """The steps of a script, spaces evened out."""
    text = program.source.text
    return [
        WrittenStep(
            "\n".join(" ".join(text[s.span.start : s.span.end].split()) for s in step.body),
            " ".join(c.text for c in step.captions),
        )
        for step in program.steps
    ]


def matched(
    old: Sequence[WrittenStep], new: Sequence[WrittenStep]
) -> list[tuple[int | None, int | None]]:
    """Pairs in the order of the new steps; those that have gone stand where they were."""
    found: list[tuple[int | None, int | None]] = []
    keys = [step.key for step in old], [step.key for step in new]
    opcodes = SequenceMatcher(None, *keys, autojunk=False).get_opcodes()
    for kind, i0, i1, j0, j1 in opcodes:
        if kind == "equal":
            found += zip(range(i0, i1), range(j0, j1), strict=True)
        else:
            found += _between(old, new, range(i0, i1), range(j0, j1))
    return found


def _between(
    old: Sequence[WrittenStep], new: Sequence[WrittenStep], before: range, after: range
) -> list[tuple[int | None, int | None]]:
    """The best way to pair steps that have been rewritten, in order."""
    if len(before) > _MOST or len(after) > _MOST:
        return [*((i, None) for i in before), *((None, j) for j in after)]
    best: list[list[float]] = [[0.0] * (len(after) + 1) for _ in range(len(before) + 1)]
    score = [[_alike(old[i], new[j]) for j in after] for i in before]
    for a in reversed(range(len(before))):
        for b in reversed(range(len(after))):
            pair = score[a][b] + best[a + 1][b + 1] if score[a][b] >= _ALIKE else 0.0
            best[a][b] = max(pair, best[a + 1][b], best[a][b + 1])
    found: list[tuple[int | None, int | None]] = []
    a = b = 0
    while a < len(before) and b < len(after):
        if score[a][b] >= _ALIKE and best[a][b] <= score[a][b] + best[a + 1][b + 1] + 1e-9:
            found.append((before[a], after[b]))
            a, b = a + 1, b + 1
        elif best[a + 1][b] >= best[a][b + 1]:
            found.append((before[a], None))
            a += 1
        else:
            found.append((None, after[b]))
            b += 1
    return [*found, *((i, None) for i in before[a:]), *((None, j) for j in after[b:])]


def _alike(one: WrittenStep, other: WrittenStep) -> float:
    """How alike two steps are, 0 to 1: what is done counts more than what is said."""
    moves = SequenceMatcher(None, one.moves, other.moves, autojunk=False).ratio()
    if not one.caption or not other.caption:
        return moves
    words = SequenceMatcher(None, one.caption, other.caption, autojunk=False).ratio()
    return max(0.6 * moves + 0.4 * words, words if words > 0.9 else 0.0)
