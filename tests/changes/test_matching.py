"""Which step became which."""

from __future__ import annotations

import pytest

from foldscript.changes.matching import WrittenStep, matched, said
from foldscript.moves.registry import verbs
from foldscript.source.diagnostics import Source
from foldscript.syntax.parser import parse

from .made import CARD, HEAD


def steps(*texts: str) -> list[WrittenStep]:
    """'moves|caption' for each step."""
    return [WrittenStep(*(text.split("|") if "|" in text else (text, ""))) for text in texts]


A, B, C, D = "valley A to B", "turn over", "squash flap at top corner", "mountain C to D"


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ([A, B], [A, B], [(0, 0), (1, 1)]),
        ([A, B], [A, C, B], [(0, 0), (None, 1), (1, 2)]),
        ([A, C, B], [A, B], [(0, 0), (1, None), (2, 1)]),
        ([A, B, A, B], [A, B, A, B, A, B], None),
        ([A, C, B], [A, "squash flap at bottom corner", B], [(0, 0), (1, 1), (2, 2)]),
        ([f"{A}|Fold it up."], [f"{D}|Fold it up."], [(0, 0)]),
        ([A], [C], [(0, None), (None, 0)]),
        ([], [A], [(None, 0)]),
        (["|Look."], ["|Look."], [(0, 0)]),
    ],
)
def test_pairs(old: list[str], new: list[str], expected: list[tuple[int, int]] | None) -> None:
    found = matched(steps(*old), steps(*new))
    if expected is not None:
        assert found == expected
    assert [i for i, _ in found if i is not None] == list(range(len(old)))
    assert [j for _, j in found if j is not None] == list(range(len(new)))


def test_two_rewritten_steps_with_one_between_them() -> None:
    old = steps("valley A to B|Fold in half.", "mountain C to D|And behind.")
    new = steps("valley A to C|Fold in half.", "turn over|Turn it.", "mountain C to B|And behind.")
    assert matched(old, new) == [(0, 0), (None, 1), (1, 2)]


def test_many_rewritten_steps_take_no_time() -> None:
    old = steps(*(f"valley A{k} to B" for k in range(400)))
    new = steps(*(f"mountain C{k} to D" for k in range(400)))
    assert len(matched(old, new)) == 800


def test_steps_as_written() -> None:
    text = CARD.replace("valley bottom edge", "valley  the bottom edge  ")
    found = said(parse(Source("card.foldscript", text), verbs()))
    assert found[0] == WrittenStep("crease left edge onto right edge as middle", "One.")
    assert found[1] == WrittenStep("valley the bottom edge onto top edge", "Two.")
    assert [one.key for one in found] == [one.moves for one in found]
    alone = said(parse(Source("card.foldscript", HEAD + 'step "Look."\n'), verbs()))
    assert alone[0].key == "says Look."
