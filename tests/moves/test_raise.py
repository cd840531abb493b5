"""Raising about a line without a crease: the crease is made first, with a name."""

from __future__ import annotations

import pytest

from ..beginners.test_beginners import followed, told


@pytest.mark.parametrize(
    ("line", "made"),
    [
        ("line 6 cm from the left edge", "crease along line 6 cm from the left edge, as k"),
        ("line A C", "crease along line A C, as k"),
    ],
)
def test_the_crease_is_made_in_the_line_before(line: str, made: str) -> None:
    text = f"sheet square 15 cm\nstep\n  turn over\nstep\n  raise along {line} to 60 degrees\n"
    (found,) = told(text)
    assert found.code == "no-crease"
    mended, left = followed(text)
    assert left == []
    assert [row.strip() for row in mended.splitlines()[-2:]] == [
        made,
        "raise along k to 60 degrees",
    ]
