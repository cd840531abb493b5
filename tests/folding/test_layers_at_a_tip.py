"""Several layers that end in one tip: each is named by its place in the stack."""

from __future__ import annotations

import pytest

from foldscript.source.diagnostics import Severity

from ..scripts import folded, folds, lies, refused, script

#: Four layers; at the top right corner they carry, from the top, the corners D, A, B and C of the sheet.
QUARTER = ("valley bottom edge onto top edge", "valley left edge onto right edge")
TIP = "top right corner"


def corner_of(words: str) -> str:
    """The corner of the sheet that a mark there has named."""
    model = folded(*QUARTER, f"mark P at {words}", "unfold to step 0", "crease P to centre")
    ((x, y),) = [at for name, at in model.steps[2].named if name == "P"]
    return {(0, 0): "A", (1, 0): "B", (1, 1): "C", (0, 1): "D"}[round(x), round(y)]


def test_each_layer_has_its_corner() -> None:
    """The left half, A on D, comes upside down onto the right half, B on C."""
    found = [corner_of(f"{word} layer at {TIP}") for word in ("top", "second", "third", "bottom")]
    assert found == ["D", "A", "B", "C"]
    assert corner_of(f"first layer at {TIP}") == corner_of(TIP) == "D"


def test_two_tips_move_on_their_own() -> None:
    model = folded(
        *QUARTER,
        f"mark P at {TIP}; mark Q at bottom layer at P",
        "valley P to bottom left corner; mountain Q to bottom left corner",
    )
    assert lies(model, "D") == lies(model, "C") == pytest.approx((50, 50))
    assert lies(model, "A") == lies(model, "B") == pytest.approx((100, 100))


def test_there_are_not_so_many() -> None:
    fault = refused("valley A to C", "mark P at third layer at C")
    assert fault.code == "off-the-paper"
    assert fault.message.startswith("only 2 layers lie at corner C")
    assert "only 1 layer lies" in refused("mark P at second layer at C").message


def test_second_alone_still_chooses() -> None:
    """'Second' after a part of a way is no layer."""
    steps = (
        "mark O at the centre; mark P at midpoint of A O; crease left edge onto right edge as v",
    )
    line = "valley P onto v, through midpoint of A C, second"
    assert lies(folded(*steps, line), "A") == lies(
        folded(*steps, line.replace("midpoint of A C", "O")), "A"
    )


def test_the_same_tip_named_twice_by_eye() -> None:
    model = folds(script(*QUARTER, f"mark P at {TIP}; mark Q at {TIP}"))
    (warning,) = model.warnings
    assert warning.severity is Severity.WARNING
    assert warning.code == "same-place"
    hints = " ".join(hint.text for hint in warning.hints)
    assert "'mark Q at second layer at P'" in hints


@pytest.mark.parametrize(
    "marks",
    [
        f"mark P at {TIP}; mark Q at bottom layer at {TIP}",
        f"mark P at {TIP}; mark Q at P",
        "mark P at bottom left corner; mark Q at bottom right corner",
    ],
)
def test_no_warning_where_it_is_said(marks: str) -> None:
    assert folds(script(*QUARTER, marks)).warnings == ()
