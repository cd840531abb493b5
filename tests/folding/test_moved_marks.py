"""A mark that has gone along with the top layer and is used as if it were still there: told once."""

from __future__ import annotations

import pytest

from ..scripts import folded

DIAMOND = "sheet square 100 mm, corner A at the bottom\n"
#: T lies on A, in front of C; then A is folded down again.
GONE = ("valley A to C", "mark T at top corner", "valley top corner to midpoint of B D, 1 layer")


@pytest.mark.parametrize("use", ["valley left corner to T", "crease through C and T"])
def test_where_it_was_and_where_it_is(use: str) -> None:
    model = folded(*GONE, use, sheet=DIAMOND)
    (warning,) = model.warnings
    assert warning.code == "mark-moved"
    assert "step 2 marked it on corner C, and it lies on corner A now, 71 mm" in warning.message
    assert len(warning.hints) == 2


def test_told_once() -> None:
    model = folded(*GONE, "valley left corner to T", "valley right corner to T", sheet=DIAMOND)
    assert len(model.warnings) == 1


@pytest.mark.parametrize(
    "steps",
    [
        (*GONE, "valley T to C"),  # the flap is named
        (*GONE, "unfold", "valley left corner to T"),  # back where it was
        (GONE[0], "mark T at A", GONE[2], "valley left corner to T"),  # the paper was named
        (GONE[0], "mark T at top layer at top corner", GONE[2], "valley left corner to T"),
        (GONE[0], "mark T at bottom layer at top corner", GONE[2], "valley left corner to T"),
        ("mark T at the bottom corner", "valley A to C", "valley left corner to T"),  # one layer
        (
            GONE[0],
            GONE[1],
            "valley T to left corner, all layers",
            "valley B to T",
        ),  # all went along
        (GONE[0], GONE[1], "turn over", "rotate 45 degrees clockwise", "valley left corner to T"),
    ],
)
def test_quiet(steps: tuple[str, ...]) -> None:
    assert [w.code for w in folded(*steps, sheet=DIAMOND).warnings] == []
