"""What the lines beside a refused one tell, and words of other trades: the first hint, with which all folds.

The scripts were made up for this list.
"""

from __future__ import annotations

import pytest

from .hinted import comes_first_and_folds, hints_of

SQUARE = "sheet square 15 cm\n"
KITE = "sheet square 15 cm, corner A at the bottom\n"
CROSS = f"{SQUARE}step\n  crease left edge onto right edge as v\n  crease bottom edge onto top edge as h\n"
HALVED = f"{KITE}step\n  valley left corner to right corner\nstep\n"

PLEAT = "along line 2 cm from the right edge, moving the right edge, all layers"

#: A script with one mistake, and what its first hint says.
CASES = {
    "the-corner-left": (
        f"{SQUARE}step\n  mark O at the centre\n  valley A to O\n  valley B to O\n  valley C to O\n"
        "step\n  valley A to O\n",
        "corner D alone has not gone there yet: say 'valley D to O'",
    ),
    "the-goal-of-its-twin": (
        f"{CROSS}step\n  valley left edge onto right edge as l\n  valley right edge onto v as r\n"
        "  valley bottom edge onto h, all layers\nstep\n  pull out A along l\n",
        "in line 6 say 'valley left edge onto v as l'",
    ),
    "gone-along": (
        "sheet rectangle 20 cm by 28 cm\nstep\n  mark K at midpoint of A D\n  mark L at midpoint of B C\n"
        "  mark T at midpoint of K L\n  valley top edge onto bottom edge\n"
        "  valley line K T onto centre line\n  valley line L T onto centre line\nstep\n"
        "  valley through K perpendicular to centre line, moving C\n"
        "  mountain through K perpendicular to centre line, moving D\n",
        "corner D has gone along with the fold before: say 'mountain through K",
    ),
    "the-goal-of-its-neighbour": (
        "start from waterbomb base\n"
        'step "Fold the two front corners up to the top."\n  mark L at the left corner\n'
        "  mark R at the right corner\n  valley L to R\n  valley R to O\n",
        "in line 5 say 'valley L to O'",
    ),
    "another-crease": (
        f"{CROSS}step\n  valley left edge onto v as l\n  valley right edge onto v as r\n"
        "  valley bottom edge onto h, all layers\nstep\n  pull out A along r\n",
        "'l' crosses that flap: say 'pull out A along l'",
    ),
    "turned-over": (
        f"{SQUARE}step\n  mark O at the centre\n  valley A to O\nstep\n  turn over\n"
        "step\n  valley bottom right corner to O\n",
        "turning the model over has changed its sides about: say 'valley bottom left corner to O'",
    ),
    "a-caption-that-was-warned-of": (
        f'{SQUARE}step "Fold in half and unfold."\n  valley left edge onto right edge as v\nstep\n'
        "  mark T at midpoint of top edge\n  valley top left corner onto v, through T\n"
        "  valley top right corner onto v, through T\n",
        "end line 3 with 'and unfold'",
    ),
    "again-so-many-times": (
        f"sheet strip 18 cm by 6 cm\nstep\n  valley {PLEAT}\nstep\n  mountain {PLEAT}\n"
        "step\n  repeat steps 1 to 2 behind, 3 times\n",
        "say 'repeat steps 1 to 2 again, 3 times'",
    ),
    "a-shorter-cut": (
        f"{SQUARE}step\n  mark M at midpoint of bottom edge\n  mark N at midpoint of top edge\n"
        "  mark O at the centre\n  mark K at midpoint of A D\n  cut from M to N\n"
        "step\n  valley along line K O, moving A\n",
        "say 'cut from M to O'",
    ),
    "a-cut-that-goes-on": (
        f"{SQUARE}step\n  mark O at the centre\n  valley bottom edge onto top edge\n"
        "  valley left edge onto right edge, all layers\nstep\n  mark P at 1/3 of left edge\n"
        "  mark Q at 1/3 of bottom edge\n  mark X at 1/4 of line O C\n"
        "  cut from P to X, all layers, discarding O\n",
        "Q was marked and nothing goes there: say 'cut from P to X to Q, all layers, discarding O'",
    ),
    "the-front-alone": (
        'start from bird base\nstep "Fold the edge of the front flap to the middle."\n'
        "  mark E at the left corner\n  mark F at the bottom corner\n"
        "  valley line F E onto line F O, 9 layers\n",
        "the caption speaks of the front alone",
    ),
    "millimetres": (
        f"{SQUARE}step\n  valley along line 20 cm from the top edge, moving the top edge\n",
        "if millimetres are meant, say 'valley along line 20 mm from the top edge",
    ),
    "a-name-that-is-said-further-down": (
        f"{SQUARE}step\n  crease left edge onto right edge as v\n  crease bottom edge onto top edge as v\n"
        "step\n  valley bottom edge onto h\nstep\n  repeat step 2 at the top\n",
        "say 'h': line 6 says it, and nothing is called so",
    ),
    "renamed-in-one-place": (
        f"{SQUARE}step\n  crease left edge onto right edge, as mid\nstep\n  valley left edge onto v\n"
        "  valley right edge onto v\n",
        "line 3 calls a crease 'mid', of which nothing speaks: say 'v' there",
    ),
    "a-hood": (
        f"{HALVED}  mark P at 2/3 of C B\n  mark Q at 1/4 of C A\n  hood fold C through P Q\n",
        "say 'outside reverse C through P Q'",
    ),
    "parts-equal": (
        "sheet rectangle 24 cm by 12 cm\nstep\n  pleat in 8 parts equal, moving the right edge\n",
        "say 'pleat into 8 equal parts, moving right edge'",
    ),
    "with-all-layers": (
        f"{SQUARE}step\n  valley bottom edge onto top edge\n"
        "  valley left edge onto right edge with all layers\n",
        "say 'valley left edge onto right edge, all layers'",
    ),
    "in-a-triangle": (f"{KITE}step\n  fold in triangle C to A\n", "say 'valley C to A'"),
    "up-a-corner": (f"{KITE}step\n  valley A up top corner\n", "say 'valley A to top corner'"),
    "parts-behind": (
        "sheet strip 24 cm by 10 cm\nstep\n  pleat into equal parts 8, moving the right edge\n",
        "say 'pleat into 8 equal parts, moving right edge'",
    ),
    "likewise": (
        f"{KITE}step\n  valley A to C\n  valley right corner to C\n  valley left corner likewise\n",
        "the fold before it goes so: say 'valley left corner to C'",
    ),
    "from-to": (
        f"{SQUARE}step\n  mark O at the centre\n  valley the line from A to B onto line D C\n",
        "say 'valley line A B onto line D C'",
    ),
    "behind-a-corner": (
        f"{KITE}step\n  mountain fold left corner behind right corner\n",
        "say 'mountain fold left corner to right corner'",
    ),
    "meet": (
        f"{CROSS}  mark O where v meet h\n",
        "say 'mark O where v meets h'",
    ),
    "under-an-edge": (
        f"{SQUARE}step\n  mountain along line 1 cm under the top edge, moving the top edge\n",
        "say 'mountain along line 1 cm from top edge, moving top edge'",
    ),
    "at-a-point": (
        "start from preliminary base\nstep\n  crease O to the centre, all layers\n  flatten at O\n",
        "say 'flatten O'",
    ),
    "a-closed-point": (
        "start from waterbomb base\nstep\n  mark K at midpoint of C D\n"
        "  open sink A along line through 1/3 of O K perpendicular to line O K\n",
        "say 'open sink O along line",
    ),
    "round-the-back": (
        f"{SQUARE}step\n  crease along line 4 cm from the top edge as k\n"
        "step\n  raise along k to 230 degrees\n",
        "if it is counted round the back, say 'to 130 degrees'",
    ),
    "loose-corners": (
        "start from preliminary base\nstep\n  spread O\n",
        "to spread the loose corners evenly, say 'spread A, B, C and D'",
    ),
    "no-angle": (
        f"{SQUARE}step\n  crease along line 4 cm from the top edge as k\n"
        "step\n  raise along k to -90 degrees\n",
        "say 'to 90 degrees'",
    ),
    "the-point-across": (
        "sheet rectangle 20 cm by 28 cm\nstep\n  mark K at midpoint of A D\n  mark L at midpoint of B C\n"
        "  mark T at midpoint of K L\n  valley top edge onto bottom edge\n"
        "  valley line K T onto centre line\n  valley line R T onto centre line\n",
        "L lies across from K: say 'valley line L T onto centre line'",
    ),
    "a-copy-by-its-number": (
        f"{SQUARE}step\n  mark O at the centre\nstep\n  valley A to O as flap\n"
        "step\n  repeat step 2, 3 times\nstep\n  unfold flap-2\n",
        "a repeat gives names a stroke, 'flap' of the first time, 'flap'' of the next: say 'unfold flap'''",
    ),
    "the-tip-of-both-edges": (
        f"{KITE}step\n  valley left corner to right corner\nstep\n  mark P at 2/3 of A B\n"
        "  mark Q at 1/4 of A C\n  outside reverse C through P Q\n",
        "P and Q lie on two edges of the tip A: say 'outside reverse A through P Q'",
    ),
    "a-cut-of-half-a-crease": (
        f'{SQUARE}step\n  crease left edge onto right edge as v\nstep "Cut the lower half of it."\n'
        "  cut along v\nstep\n  valley A to 2/3 of A D\n",
        "the caption cuts a part of it: say 'cut from lower end of v to the centre'",
    ),
    "as-the-caption-goes": (
        f'{KITE}step "Fold the left corner to the right corner."\n  valley right corner to right corner\n',
        "the caption says it: say 'valley left corner to right corner'",
    ),
    "a-mark-of-the-same-corner": (
        f"{HALVED}  unfold\nstep\n  mark L at the right corner\n  mark R at the right corner\n"
        "step\n  crease along line L R\n",
        "in line 7 say 'mark L at the left corner'",
    ),
    "a-mark-that-is-not-across": (
        f"{SQUARE}step\n  mark R at top right corner\n  mark L at bottom left corner\n"
        "step\n  crease edge L R onto edge D C\n",
        "in line 3 say 'mark R at bottom right corner', as the mark after it lies so on its side",
    ),
    "a-name-that-says-the-other-side": (
        "sheet rectangle 20 cm by 28 cm\nstep\n  crease left edge onto right edge as middle\n"
        'step "Fold the top left corner to the middle."\n  mark T at midpoint of top edge\n'
        "  valley line D T onto middle as right-slope\n"
        'step "Fold the top right corner to the middle."\n  valley line C T onto middle as right-slope\n',
        "in line 6 say 'valley line D T onto middle as left-slope', as its step speaks of it",
    ),
    "the-goal-of-the-fold-before": (
        "start from blintz base\nstep\n  valley left corner to O\n  valley right corner to O\nstep\n"
        "  valley top corner to O\n  valley bottom corner to top corner\n",
        "the fold before it goes 'to O': say 'valley bottom corner to O'",
    ),
    "which-side-of-another-line": (
        f"{SQUARE}step\n  crease bottom edge onto top edge as h\nstep\n  valley bottom edge onto h\n"
        "  valley top edge onto h\nstep\n  valley left edge onto centre line, all layers\n"
        "  valley right edge onto h, all layers\n",
        "the fold before it goes 'onto centre line, all layers': say",
    ),
    "the-goal-of-a-line-before": (
        "sheet rectangle 20 cm by 28 cm\nstep\n  valley top edge onto bottom edge\n"
        "  mark K at midpoint of A D\n  mark L at midpoint of B C\n  mark T at midpoint of K L\nstep\n"
        "  valley line K T onto horizontal centre line\n  valley line L T onto centre line\n",
        "in line 8 say 'valley line K T onto centre line'",
    ),
    "goals-changed-about": (
        f"{SQUARE}step\n  mark O at the centre\n  valley A, B, C and D to O\nstep\n"
        "  mark P at midpoint of bottom left edge\n  mark R at midpoint of top right edge\n"
        "  valley A and C to R and P\n",
        "each to the place on its own side: say 'valley A and C to P and R'",
    ),
    "a-corner-left-out": (
        f'{KITE}step "Fold all corners to the centre."\n  mark O at the centre\n  valley A, B and C to O\n'
        "step\n  turn over\nstep\n  valley left edge onto centre line, all layers\n"
        "  valley right edge onto centre line, all layers\nstep\n"
        "  mountain top edge onto bottom edge, all layers\n",
        "in line 4 say 'valley A, B, C and D to O', as its step speaks of all corners",
    ),
    "both-wings": (
        f"{SQUARE}step\n  valley left edge onto right edge\nstep\n"
        "  valley along line 3 cm from the left edge, 1 layer, moving A, as k\nstep\n"
        '  repeat step 2 behind\nstep "Raise the wings level."\n  raise along k until level\n',
        "the caption raises several, and k' is the same fold behind: say 'raise along k and k''",
    ),
    "a-mark-in-a-step-that-goes-alike": (
        f"{SQUARE}step\n  mark O at the centre\n  valley left edge onto centre line\n"
        "  valley right edge onto centre line\nstep\n  mark F at midpoint of bottom edge\n"
        "  valley bottom left corner onto centre line, through F, all layers\n"
        "  valley bottom right corner onto centre line, through F, all layers\nstep\n"
        "  mark G at midpoint of left edge\n"
        "  valley top left corner onto centre line, through G, all layers\n"
        "  valley top right corner onto centre line, through G, all layers\n",
        "in line 11 say 'mark G at midpoint of top edge', as the step that goes alike has 'bottom' there",
    ),
    "the-goal-of-the-fold-after": (
        f"{CROSS}step\n  valley left edge onto h as l\n  valley right edge onto v as r\n"
        "step\n  valley bottom edge onto h, all layers\nstep\n  pull out A along l\n",
        "the fold after it goes 'onto v': say 'valley left edge onto v as l'",
    ),
    "one-layer-of-the-caption": (
        "sheet rectangle 20 cm by 28 cm\nstep\n  valley top edge onto bottom edge\n"
        "  mark K at midpoint of A D\n  mark L at midpoint of B C\n  mark T at midpoint of K L\nstep\n"
        "  valley line K T onto centre line\n  valley line L T onto centre line\n"
        'step "Front brim up, one layer."\n'
        "  valley through K perpendicular to centre line, moving C, all layers\nstep\n"
        "  mountain through K perpendicular to centre line, moving A\nstep\n  turn over\n",
        "in line 11 say '1 layer'",
    ),
    "a-reverse-with-a-hyphen": (
        f"{HALVED}  mark P at 2/3 of A B\n  mark Q at 1/4 of A C\n  outside-reverse fold of A through P Q\n",
        "say 'outside reverse A through P Q'",
    ),
    "moving-at-the-end": (
        f"{SQUARE}step\n  pleat in 12 equal parts, the right edge moving\n",
        "say 'pleat into 12 equal parts, moving right edge'",
    ),
    "opened-at": (
        f"{SQUARE}step\n  mark O at the centre\n  valley left edge onto centre line as l\n"
        "  valley right edge onto centre line as r\nstep\n  raise along l and r, opened at O\n",
        "say 'raise along l and r opening O'",
    ),
    "open-the-fold": (
        f"{SQUARE}step\n  valley A to C\nstep\n  open the fold again\n",
        "say 'unfold'",
    ),
    "short-behind-its-place": (
        f"{KITE}step\n  valley C to A\nstep\n  valley B and D to A\n"
        "step\n  valley B to the top corner 2 cm short\n",
        "say 'valley B to 2 cm short of top corner'",
    ),
    "the-edge-across": (
        f"{SQUARE}step\n  crease bottom edge onto top edge as h\nstep\n  valley left edge onto h\n"
        "  valley top edge onto h\nstep\n  turn over\n"
        "step\n  valley left edge onto centre line, all layers\n",
        "the fold after it comes from the other side there: say 'valley bottom edge onto h'",
    ),
    "a-hyphen": (
        f"{SQUARE}step\n  valley left edge onto center-line\n",
        "say 'valley left edge onto centre line'",
    ),
    "every-layer": (
        f"{SQUARE}step\n  valley A to C\nstep\n  valley D to B, every layers\n",
        "say 'valley D to B, all layers'",
    ),
    "the-second-step": (
        "start from blintz base\nstep\n  turn over\nstep\n  valley top corner to the centre, all layers\n"
        "step\n  repeat the 2nd step, 3 times\n",
        "say 'repeat step 2 3 times'",
    ),
    "meets": (
        f"{SQUARE}step\n  valley the top edge meets the bottom edge\n",
        "say 'valley top edge onto bottom edge'",
    ),
    "a-name-behind-its-place": (
        "start from bird base\nstep\n  mark the bottom corner F\n",
        "say 'mark F at bottom corner'",
    ),
    "pages": (
        "start from waterbomb base\nstep\n"
        "  swing the right page to the left page and the left page to the right page behind\n",
        "say 'swing right corner to left corner and left corner to right corner behind'",
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_it_comes_first_and_folds(name: str) -> None:
    comes_first_and_folds(*CASES[name])


def test_a_ratio() -> None:
    text = "sheet ratio 2 by 3, long side 21 cm\nstep\n  valley A to C\n"
    assert hints_of(text)[0].text == "say 'sheet ratio 2 to 3, long side 21 cm'"


def test_so_few_sheets() -> None:
    text = "sheet 2\nsheet square 9 cm\nstep\n  valley A to C\n"
    assert hints_of(text)[0].text == "say 'sheets 2'"


def test_what_later_lines_fold_is_not_offered_to_the_scissors() -> None:
    text = f"{SQUARE}step\n  crease left edge onto right edge as v\n  cut along v\nstep\n  valley A to D\n"
    assert hints_of(text)[0].text == "add 'discarding B'"


def test_a_rectangle_without_by() -> None:
    text = (
        "sheet rectangle 13 cm 7 cm, coloured side down\nstep\n  valley right edge onto left edge\n"
    )
    assert hints_of(text)[0].text == "say 'sheet rectangle 13 cm by 7 cm, coloured side down'"
