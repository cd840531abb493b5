"""The search for hints that mislead tells right from wrong."""

from __future__ import annotations

import random

import pytest

from .night import outcome, wrong_lines

HEAD = "sheet square 15 cm, corner A at the bottom\nstep\n"


@pytest.mark.parametrize(
    ("wrong", "meant", "came"),
    [
        ("  valley A to C\n", "  valley A to C\n", "same"),
        ("  valley C to A\n", "  valley A to C\n", "unseen"),
        (
            "  crease left corner to left corner\n",
            "  crease left corner to right corner\n",
            "right",
        ),
        (
            "  crease left corner to left corner\n",
            "  crease top corner to bottom corner\n",
            "wrong",
        ),
        ("  valley A to Q\n", "  valley A to C\n", "none"),
    ],
)
def test_what_came_of_it(wrong: str, meant: str, came: str) -> None:
    assert outcome(HEAD + wrong, HEAD + meant, "boat")[0] == came


def test_one_word_is_changed() -> None:
    found = dict(wrong_lines("valley A to left corner, 1 layer, moving B", random.Random(1)))
    assert {"corner", "move", "side", "layers", "moving"} <= {*found}
    assert found["move"] == "mountain A to left corner, 1 layer, moving B"
    assert found["side"] == "valley A to right corner, 1 layer, moving B"
