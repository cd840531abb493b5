"""Lines that fold and are hardly what was meant: a warning tells what is odd, and the right line has none.

The scripts were made up for this list.
"""

from __future__ import annotations

import pytest

from foldscript.folding.fold import fold
from foldscript.folding.unread import read
from foldscript.source.diagnostics import Source

CUP = "sheet square 15 cm, corner A at the bottom\nstep\n  valley A to C\n  mark G at 1/3 of A D\nstep"
MIDDLE = "sheet square 15 cm\nstep\n  crease left edge onto right edge as v\nstep\n"
STRIP = "sheet rectangle 12 cm by 4 cm\nstep"
SHUTTERS = (
    "sheet square 15 cm\nstep\n  mark M at midpoint of A D\n  mark O at the centre\n"
    "  mark T at 1/4 of the bottom edge\n  mark U at 1/4 of the top edge\n  cut from M to {end}\nstep\n"
    "  valley along line T U, moving A\n  valley along line T U, moving D\n"
)
SHELF = (
    "sheet rectangle 16 cm by 8 cm\nstep\n  crease along line 5 cm from the left edge as k\n"
    "  crease along line 10 cm from the left edge as m\n  mark Q at 3/4 of A B\nstep\n"
    "  raise along k to 120 degrees, along m until level with A, holding A{more}\n"
)

#: A script, the code of its warning; the same script put right.
CASES = {
    "other-side-than-the-caption": (
        f'{CUP} "Fold the right corner to the mark."\n  valley D to G\n',
        "caption-side",
        f'{CUP} "Fold the right corner to the mark."\n  valley B to G\n',
    ),
    "not-behind": (
        f'{STRIP} "Fold the right third behind."\n  valley along line 4 cm from the right edge, moving B\n',
        "caption-behind",
        f'{STRIP} "Fold the right third behind."\n  mountain along line 4 cm from the right edge, moving B\n',
    ),
    "beyond-the-line": (
        f"{MIDDLE}  valley B onto v, through D\n",
        "lands-beyond",
        f"{MIDDLE}  valley B onto v, through A\n",
    ),
    "opened-in-the-same-step": (
        SHUTTERS.format(end="1/4 of M O"),
        "opened-again",
        SHUTTERS.format(end="O"),
    ),
    "held-and-raised": (SHELF.format(more=" and Q"), "held-and-raised", SHELF.format(more="")),
}


def warned(text: str) -> list[str]:
    """The codes of a script's warnings."""
    return [one.code for one in fold(read(Source("a.foldscript", text))).warnings]


@pytest.mark.parametrize(("text", "code", "right"), CASES.values(), ids=CASES.keys())
def test_what_is_odd_is_told(text: str, code: str, right: str) -> None:
    assert code in warned(text)
    assert code not in warned(right)


@pytest.mark.parametrize(
    "caption",
    [
        "Fold the left corner to the mark.",
        "Fold the corner that lies behind.",
        "Fold the tip over, to the right.",
    ],
)
def test_captions_that_fit_are_not_told(caption: str) -> None:
    assert warned(f'{CUP} "{caption}"\n  valley D to G\n') == []
