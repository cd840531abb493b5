"""One word that is easily taken for another is found where the rest of the script, or the line itself, tells.

The scripts were made up for this list.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.folding.fold import fold
from foldscript.folding.unread import read
from foldscript.source.diagnostics import FoldscriptError, Hint, Source

SAMPLES = Path(__file__).parents[2] / "samples"
SQUARE = "sheet square 15 cm\n"
KITE = "sheet square 15 cm, corner A at the bottom\n"
MADE = f"{SQUARE}step\n  crease left edge onto right edge as v\n  crease bottom edge onto top edge as h\n"


def sample(name: str, right: str, wrong: str) -> str:
    """A sample with other words in one place."""
    text = (SAMPLES / f"{name}.foldscript").read_text("utf-8")
    assert text.count(right) == 1
    return text.replace(right, wrong)


#: A script with one wrong word, and what its first hint says.
CASES = {
    "a-side-said-twice": (
        f"{KITE}step\n  crease the right corner to the right corner\n",
        "say 'crease the right corner to the left corner'",
    ),
    "no-edge": (
        f"{MADE}step\n  valley edge A C onto v\nstep\n  valley edge B C onto v\n",
        "say 'valley edge A D onto v'",
    ),
    "a-side-in-a-line-before": (
        sample("waterbomb", "top right corner as falling", "bottom right corner as falling"),
        "in line 21 say 'crease the bottom left corner to the top right corner as falling'",
    ),
    "a-petal-fold-for-a-squash": (
        sample("lily", "petal M along hinge", "squash M along hinge"),
        "if a petal fold is meant, say 'petal M along hinge'",
    ),
    "the-step-of-a-repeat": (
        sample(
            "box-with-a-collar",
            "repeat step 4 on the other side",
            "repeat step 3 on the other side",
        ),
        "say 'repeat step 4 on the other side'",
    ),
    "nothing-of-behind": (
        sample("helmet", "valley through M and P, moving D", "mountain through M and P, moving D"),
        "the caption says nothing of going behind: say 'valley through M and P, moving D'",
    ),
    "what-moves": (
        f"{MADE}step\n  valley bottom edge onto h, all layers bottom left corner\n",
        "if that is what moves, say 'valley bottom edge onto h, all layers, moving bottom left corner'",
    ),
}


def hints_of(text: str) -> tuple[Hint, ...]:
    with pytest.raises(FoldscriptError) as caught:
        fold(read(Source("x.foldscript", text)))
    return caught.value.diagnostics[0].hints


@pytest.mark.parametrize("name", CASES)
def test_it_comes_first_and_folds(name: str) -> None:
    text, said = CASES[name]
    first = hints_of(text)[0]
    assert first.text.startswith(said), hints_of(text)
    assert first.edit is not None
    fold(read(Source("x.foldscript", first.edit.applied(text))))
