"""One word that is easily taken for another is found where the rest of the script, or the line itself, tells.

The scripts were made up for this list.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.folding.fold import fold
from foldscript.folding.unread import read
from foldscript.source.diagnostics import FoldscriptError, Source

from .hinted import comes_first_and_folds, hints_of

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
    "one-of-both": (
        f"{SQUARE}step\n  valley top edge onto bottom edge\n"
        'step "Fold both sides to the middle."\n  valley right edge onto centre line, all layers\n'
        "step\n  mark T at the top left corner\n  mark S at the bottom left corner\n"
        "  mark K at midpoint of A D\n  squash line T K onto line T S\n",
        "line 5 folds one of both: write 'valley left edge onto centre line, all layers' below it",
    ),
    "a-pleat-of-two-mountains": (
        f"{SQUARE}step\n  crease along line 4 cm from the left edge, as p\n"
        "  crease along line 6 cm from the left edge, as q\nstep\n  pleat mountain p, mountain q, moving A\n",
        "say 'pleat mountain p, valley q, moving A'",
    ),
    "a-mountain-that-its-caption-does-not-know": (
        f'{KITE}step "Fold the corner A up to C."\n  mark O at the centre\n  mountain A to C\n'
        'step "Fold the front corner down."\n  valley A to O\n',
        "in line 4 say 'valley'",
    ),
    "a-name-spelt-otherwise": (
        f"{KITE}step\n  crease left corner to right corner as midle\n"
        "step\n  valley bottom left edge onto middle\n  valley bottom right edge onto middle\n",
        "line 3 calls it 'midle': say 'middle' there",
    ),
    "a-corner-on-the-side-of-the-caption": (
        f'{KITE}step\n  crease through A C as d\nstep "Fold the left half over."\n'
        "  valley along d, moving A\n",
        "corner D lies on the left, which the caption folds: say 'valley along d, moving D'",
    ),
    "a-sink-of-the-open-end": (
        "start from preliminary base\nstep\n"
        "  open sink C along line through 1/3 of O C perpendicular to line O C\n",
        "say 'open sink O along line through 1/3 of O C perpendicular to line O C'",
    ),
    "a-cut-through-too-few": (
        f"{SQUARE}step\n  valley bottom edge onto top edge\n  valley left edge onto right edge, all layers\n"
        "step\n  mark P at 1/3 of the left edge\n  mark Q at 1/3 of the bottom edge\n"
        "  cut from P to Q, 1 layer, discarding bottom left corner\n",
        "say 'all layers': the paper below hangs together still",
    ),
    "whose-points": (
        "sheets 2\nsheet square 9 cm\nstep\n  mark P at 2/3 of A D\n  mark Q at 2/3 of B C\n"
        "  valley along line P Q, moving D\nassemble\nstep\n"
        "  place unit 2, A to Q of unit 1 and B to P of unit 1, under D of unit 1\n",
        "say 'place unit 2, A of unit 2 to Q of unit 1 and B of unit 2 to P of unit 1, under D of unit 1'",
    ),
    "what-moves": (
        f"{MADE}step\n  valley bottom edge onto h, all layers bottom left corner\n",
        "if that is what moves, say 'valley bottom edge onto h, all layers, moving bottom left corner'",
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_it_comes_first_and_folds(name: str) -> None:
    comes_first_and_folds(*CASES[name])


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            f"{MADE}step\n  valley left edge onto v\nstep\n  repeat step 2 on right side\n",
            "say 'repeat step 2 on right'",
        ),
        (
            f"{MADE}step\n  valley left edge onto v\nstep\n  repeat steps 2 behind\n",
            "say 'repeat step 2 behind'",
        ),
        (f"{SQUARE}step\n  valley C down on A\n", "say 'valley C to A'"),
        (f"{SQUARE}step\n  valley C tp A\n", "say 'valley C to A'"),
        (
            f"{MADE}step\n  valley left edge onto v\nstep\n  repeat step 2 for the left\n",
            "say 'repeat step 2 on left'",
        ),
        (
            f"{SQUARE}step\n  pleat 12 equal parts, moving the right edge\n",
            "say 'pleat into 12 equal parts, moving right edge'",
        ),
        (f"{MADE}step\n  valley bottom-left corner to D\n", "say 'valley bottom left corner to D'"),
        (
            f"{MADE}step\n  valley right edge at centre line\n",
            "say 'valley right edge onto centre line'",
        ),
        (
            f"{SQUARE}step\n  mark M at midpoint of C D\n  crease left edge onto right edge as v\n"
            "step\n  valley both top corners onto v, through M\n",
            "say 'valley top left corner onto v, through M', and in the next line "
            "'valley top right corner onto v, through M'",
        ),
        (
            f"{SQUARE}step\n  valley top edge onto bottom edge\nstep\n  mark P at 1/3 of bottom edge\n"
            "  mark Q at 1/3 of left edge\n  cut off the corner A through P Q, all layers\n",
            "say 'cut from P to Q, all layers, discarding A'",
        ),
        (
            "sheet square 15 cm, coloured side below\nstep\n  valley C to A\n",
            "say 'sheet square 15 cm, coloured side down'",
        ),
    ],
)
def test_words_of_every_day_and_slips(text: str, said: str) -> None:
    assert hints_of(text)[0].text == said


def test_a_flap_is_not_level_with_itself() -> None:
    head = f"{SQUARE}step\n  crease along line 5 cm from the left edge as k\n"
    head += "  crease along line 10 cm from the left edge as m\n  mark Q at 3/4 of A B\nstep\n"
    line = "  raise along k to 120 degrees, along m until level with Q, holding A\n"
    with pytest.raises(FoldscriptError) as caught:
        fold(read(Source("x.foldscript", f"{head}{line}")))
    assert caught.value.diagnostics[0].code == "level-with-itself"
    fold(read(Source("x.foldscript", head + line.replace("with Q", "with A"))))


def test_so_many_that_fit_tell_nothing() -> None:
    text = f"{SQUARE}step\n  crease A to C as d\n  crease A to C\nstep\n  valley B to D\nstep\n  turn over\n"
    assert not any(hint.text.startswith("say 'crease B") for hint in hints_of(text))
