"""Chains of what lies over each other: a pile, two piles side by side, a ring on a base."""

from __future__ import annotations

import random

import pytest

from foldscript.paper.depths import chains


def turned(over: list[set[int]]) -> list[set[int]]:
    """What lies under each, from what lies over each."""
    return [{m for m, above in enumerate(over) if k in above} for k in range(len(over))]


@pytest.mark.parametrize(
    ("over", "lengths", "ringed"),
    [
        ([set(), {0}, {0, 1}], [0, 1, 2], False),
        ([set(), {0}, set(), {2}, {1, 2, 3}], [0, 1, 0, 1, 2], False),
        # four flaps tucked under each other, what lies on one of them, and what they lie on
        ([{3}, {0}, {1}, {2, 5}, {0, 1, 2, 3}, set()], [1, 1, 1, 1, 2, 0], True),
    ],
)
def test_lengths(over: list[set[int]], lengths: list[int], ringed: bool) -> None:
    assert chains(over, turned(over)) == (lengths, ringed)


def test_numbers_have_no_say() -> None:
    over = [{3}, {0}, {1}, {2, 5}, {0, 1, 2, 3}, set(), {4}, {8}, {7}]
    lengths, _ = chains(over, turned(over))
    for seed in range(20):
        number = list(range(len(over)))
        random.Random(seed).shuffle(number)
        other: list[set[int]] = [set() for _ in over]
        for k, above in enumerate(over):
            other[number[k]] = {number[m] for m in above}
        found, _ = chains(other, turned(other))
        assert [found[number[k]] for k in range(len(over))] == lengths
