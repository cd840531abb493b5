"""What other lines of a script say of a refused one comes first, and the script folds with it.

The scripts were made up for this list.
"""

from __future__ import annotations

import pytest

from foldscript.folding.fold import fold
from foldscript.folding.unread import read
from foldscript.source.diagnostics import FoldscriptError, Hint, Source

SQUARE = "sheet square 15 cm\n"
KITE = "sheet square 15 cm, corner A at the bottom\n"
QUARTERS = f"{SQUARE}step\n  mark O at the centre\n  valley bottom edge onto top edge\n"
FRONT = (
    f"{SQUARE}step\n  valley left edge onto right edge\n"
    'step "Fold the front layer back."\n'
    "  valley along line 3 cm from the left edge, {count}, moving A, as k\n"
    "step\n  turn over\nstep\n  valley along line 3 cm from the right edge, 1 layer, moving B, as m\n"
    "step\n  raise along k and m\n"
)

#: A script with one mistake, and what its first hint says.
CASES = {
    "never-marked": (
        f"{SQUARE}step\n  crease A to C\n  crease B to D\nstep\n  valley A to O\n  valley B to O\n",
        "mark it in a line before, with 'mark O at the centre': then this line folds, and what follows",
    ),
    "folded-away": (
        f"{KITE}step\n  valley C to A\nstep\n  valley left corner to bottom corner\n"
        "  valley right corner to bottom corner\nstep\n  valley right corner to top corner\n",
        "step 2 has folded the right corner away, which is corner B: say 'valley B to top corner'",
    ),
    "still-folded": (
        f'{SQUARE}step "Like a book."\n  valley left edge onto right edge as middle\nstep\n'
        "  valley left edge onto middle\nstep\n  valley right edge onto middle\n",
        "end line 3 with 'and unfold': then this line folds, and what follows",
    ),
    "bottom-layer": (
        f"{KITE}step\n  valley A to C\n  valley left corner to right corner\nstep\n"
        "  mark P at the right corner\n  mark Q at top layer at P\n  valley P to bottom left corner\n"
        "  mountain Q to bottom left corner\n",
        "in line 7 say 'bottom layer' for 'top layer': then this line folds",
    ),
    "front-alone": (
        FRONT.format(count="2 layers"),
        "in line 5 say '1 layer': then this line folds, and what follows",
    ),
    "goal-of-the-twin": (
        "sheet A4 portrait\nstep\n  crease left edge onto right edge as v\nstep\n"
        "  mark T at midpoint of C D\n  valley line D T onto v\n  valley line C T onto v\nstep\n"
        "  valley top left edge onto right edge\n  valley top right edge onto v\n",
        "in line 9 say 'valley top left edge onto v': then this line folds",
    ),
    "goal-of-a-named-edge": (
        f'{KITE}step\n  crease B to D as d\nstep "Both edges to the crease."\n'
        "  valley edge A B onto edge A D\n  valley edge A D onto d\n",
        "in line 5 say 'valley edge A B onto d': then this line folds",
    ),
    "marked-and-not-used": (
        "start from preliminary base\nstep\n  mark M at the left corner\n  mark N at the right corner\n"
        "  mark T at the bottom corner\n  crease line T M onto line T O, as k1\n"
        "  crease line T N onto line T O, as k2\n  mark P where k1 meets line O M\n"
        "  mark Q where k2 meets line O N\nstep\n  petal T through M N\n",
        "P and Q were marked and nothing goes there: say 'petal T through P Q'",
    ),
    "piece-with-a-mark": (
        f"{QUARTERS}  valley left edge onto right edge, all layers\nstep\n  mark P at 1/3 of left edge\n"
        "  mark Q at 1/3 of bottom edge\n  cut from P to Q, all layers\nstep\n  unfold to step 0\n",
        "add 'discarding O'",
    ),
    "ear-between-itself": (
        f"{KITE}step\n  crease B to D\nstep\n  rabbit ear B between B and D to C\n",
        "say 'rabbit ear B between A and C to C'",
    ),
    "sink-from-the-other-end": (
        "start from preliminary base\nstep\n"
        "  open sink C along line through 1/3 of C O perpendicular to line C O\n",
        "say 'open sink O along line through 1/3 of O C perpendicular to line O C'",
    ),
    "front-corner": (
        f"{KITE}step\n  valley C to A\nstep\n  valley A to 2 cm short of the top corner, 1 layer\n",
        "for '1 layer' name corner C, which lies there too: "
        "say 'valley C to 2 cm short of the midpoint of the top edge, 1 layer'",
    ),
    "two-changes": (
        f"{KITE}step\n  valley left corner to right corner\nstep\n"
        "  valley right corner onto left edge, both layers\n",
        "say 'valley right corner onto left edge, 2 layers, through bottom corner'",
    ),
    "what-rises": (
        f"{SQUARE}step\n  crease left edge onto centre line, as k\n"
        "  crease right edge onto centre line, as m\n"
        "step\n  raise the left edge and the right edge\n",
        "say 'raise along k'",
    ),
    "a-name-that-looks-like-a-word": (
        f"{SQUARE}step\n  crease left edge onto centre line, as wall\n"
        "  crease right edge onto centre line, as lid\n"
        "step\n  raise the left edge and the right edge\n",
        "say 'raise along wall'",
    ),
    "a-unit-that-lies-there": (
        "sheets 2\nsheet square 9 cm\nstep\n  mark P at 2/3 of A D\n  mark Q at 2/3 of B C\n"
        "  valley along line P Q, moving D\nassemble\nstep\n"
        "  place unit 2, A of unit 2 to Q of unit 1 and B of unit 2 to P of unit 3, under D of unit 1\n",
        "say 'place unit 2, A of unit 2 to Q of unit 1 and B of unit 2 to P of unit 1, under D of unit 1'",
    ),
    "in-half-where-it-is-alike": (
        f"{KITE}step\n  valley bottom left edge onto centre line\n"
        "  valley bottom right edge onto centre line\n"
        "step\n  valley top edge onto bottom edge\n",
        "say 'valley left corner to right corner'",
    ),
    "an-edge-that-opens": (
        "sheet rectangle 20 cm by 28 cm\nstep\n  valley top edge onto bottom edge\n"
        "  mark T at midpoint of the top edge\n"
        "  valley top left corner onto centre line, through T, all layers\n"
        "  valley top right corner onto centre line, through T, all layers\n"
        "step\n  open the top edge by 6 cm\n",
        "say 'open the bottom edge by 6 cm'",
    ),
    "goes-on": (
        "sheet square 15 cm, coloured side up, corner A at the bottom\nstep\n  crease A to C as d1\n"
        "  crease B to D as d2\n  turn over\n  crease edge A B onto edge C D, as h\n"
        "  crease edge B C onto edge D A, as v\nstep\n"
        "  collapse mountain d2, valley h, valley v\n    holding A\n",
        "end the line above with a comma",
    ),
}


def first_hint(text: str) -> Hint:
    """The first hint of the first mistake of a script."""
    source = Source("a.foldscript", text)
    with pytest.raises(FoldscriptError) as wrong:
        fold(read(source))
    return wrong.value.diagnostics[0].hints[0]


@pytest.mark.parametrize(("text", "wanted"), CASES.values(), ids=CASES.keys())
def test_the_first_hint_is_what_the_script_tells(text: str, wanted: str) -> None:
    first = first_hint(text)
    assert first.text.startswith(wanted)
    if first.edit is not None:
        fold(read(Source("a.foldscript", first.edit.applied(text))))


def test_one_layer_as_the_caption_says_is_right() -> None:
    fold(read(Source("a.foldscript", FRONT.format(count="1 layer"))))


@pytest.mark.parametrize(("language", "told"), [("en", True), ("de", False)])
def test_only_english_captions_are_read(language: str, told: bool) -> None:
    text = (
        f"language {language}\n{KITE}step\n  mark O at the centre\n  valley A to C\n"
        'step "Fold the front corner down."\n  mountain A to O\n'
    )
    hint = first_hint(text)
    assert hint.text.startswith("the caption says nothing of going behind") == told
