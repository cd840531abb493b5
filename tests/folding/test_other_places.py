"""A repeat that is refused is told where the same steps fold; what it is told is tried on the paper."""

from __future__ import annotations

import pytest

from ..beginners.test_beginners import followed, told

SQUARE = "sheet square 15 cm\nstep\n"


@pytest.mark.parametrize(
    ("before", "repeat", "said"),
    [
        # what was folded on the left lies on the right once the model is turned over
        ("  valley left edge onto centre line\nstep\n  turn over\n", "on the right", "on the left"),
        ("  valley left edge onto centre line\nstep\n  turn over\n", "on the other side", "behind"),
        ("  valley A to centre\nstep\n  turn over\n", "on the right", "on the left"),
        # behind a square folded in half lies the other half of the same fold
        ("  valley bottom edge onto top edge\n", "behind", "again"),
        ("  valley bottom edge onto top edge\n", "on the other side", "again"),
        ("  valley A to centre\n", "6 times", ", 3 times"),
    ],
)
def test_the_first_hint_is_a_repeat_that_folds(before: str, repeat: str, said: str) -> None:
    comma = "," if repeat[0].isdigit() else ""
    text = f"{SQUARE}{before}step\n  repeat step 1{comma} {repeat}\n"
    (found,) = told(text)
    first = found.hints[0]
    assert first.edit is not None
    assert first.edit.text == f"repeat step 1{'' if said[0] == ',' else ' '}{said}"
    assert followed(text)[1] == []


def test_hints_of_another_step_are_not_told() -> None:
    """'Choose a line that crosses the flap' is about a line that the repeat does not say."""
    text = f"{SQUARE}  valley bottom edge onto top edge\nstep\n  repeat step 1 at the top\n"
    (found,) = told(text)
    assert "misses the flap" in found.message
    assert not any("line" in hint.text for hint in found.hints)


def test_a_step_that_cannot_be_repeated_anywhere_has_no_repeat_as_hint() -> None:
    text = (
        "sheet polygon 0 0, 20 0, 23 9, 12 13, 2 8 cm\nstep\n  mark P at 1/3 of A C\n  valley A to P\n"
        "step\n  repeat step 1 on the right\n"
    )
    (found,) = told(text)
    assert found.hints
    assert all("repeat step" not in hint.text or "again" in hint.text for hint in found.hints)
