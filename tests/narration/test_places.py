"""Points are told by shares that one finds by folding first, by millimetres second."""

from __future__ import annotations

import re

import pytest

from foldscript.narration.narrate import narrate
from foldscript.output.words import words_text

from ..scripts import folded


def said(*moves: str) -> str:
    """All words for fingers, in one line."""
    return re.sub(r"\s+", " ", words_text(narrate(folded(*moves)), folded(*moves).speech).decode())


@pytest.mark.parametrize(
    ("share", "told"),
    [
        ("1/2", "halfway"),
        ("1/3", "a third of the way"),
        ("3/8", "three eighths of the way"),
        ("1/5", "a fifth of the way"),
    ],
)
def test_a_point_on_the_middle_line_is_told_by_its_share(share: str, told: str) -> None:
    """Of a sheet folded to a triangle: from its long edge to its tip."""
    words = said(
        "rotate 45 degrees clockwise",
        "valley bottom corner to top corner",
        f"mark P at {share} of midpoint of bottom edge top corner",
        "valley top corner to P",
    )
    assert re.search(rf"the middle line that is {told} \(\d+ mm\) from the [a-z ]+ to the", words)


def test_a_point_that_is_at_no_share_is_measured() -> None:
    words = said(
        "rotate 45 degrees clockwise",
        "valley bottom corner to top corner",
        "mark P at 7/24 of midpoint of bottom edge top corner",
        "valley top corner to P",
    )
    assert re.search(r"to the point on the middle line that is \d+ mm from the near edge", words)
