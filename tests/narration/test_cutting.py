"""Cuts for fingers: what the scissors go through is told where it is more than one layer."""

from __future__ import annotations

import pytest

from foldscript.languages.wording import sentences
from foldscript.narration.narrate import narrate
from foldscript.narration.narration import Paragraph

from ..scripts import folds, script

#: In half upward, the fold at the bottom; O is its middle, P a quarter of the sheet over it.
HALF = (
    "mark M at midpoint of A D; mark N at midpoint of B C; mark O at midpoint of M N; "
    "mark Q at midpoint of A B; mark P at midpoint of O Q; valley B to C",
)
CUT = "from O to P"


def told(*steps: str) -> str:
    """All that is told of a script."""
    blocks = [b for c in narrate(folds(script(*steps))).chapters for b in c.blocks]
    return " ".join(sentences(b.sentences) for b in blocks if isinstance(b, Paragraph))


@pytest.mark.parametrize(
    ("steps", "said", "through"),
    [
        ((*HALF, f"cut {CUT}, all layers"), "cut from", "through all two layers."),
        ((*HALF, f"cut {CUT}, 1 layer"), "cut from", "through the top layer only."),
        ((*HALF, "cut from M to O, all layers"), "cut the fold open from", ""),
        (
            (*HALF, "valley left edge onto right edge, all layers", f"cut {CUT}, all layers"),
            "cut open two folds that lie on each other, from",
            "",
        ),
        (
            ("valley A to midpoint of A C", "cut from A to C, all layers"),
            "cut from",
            "",
        ),
        (
            (
                "mark O at centre; valley A to 1/4 of A C",
                "cut from where line A C meets bottom left edge to O, all layers",
            ),
            "cut from",
            "through all the layers there, up to two of them.",
        ),
        (("cut from A to centre",), "cut from", ""),
    ],
)
def test_what_a_cut_goes_through(steps: tuple[str, ...], said: str, through: str) -> None:
    text = told(*steps)
    assert "Now the paper is cut with scissors." in text
    (found,) = [s + "." for s in text.split(". ") if s.lower().startswith(said)]
    assert found.rstrip(".").endswith(through.rstrip("."))
    assert through or "layer" not in found
