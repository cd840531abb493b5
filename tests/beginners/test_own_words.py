"""Lines in a stranger's own words, on papers where they are likely: what the first hint writes folds that.

The lines were made up for this list (common practice of teachers). What stands in `LINES` folds as it was
meant; where the words leave something open, the hints say so.
"""

from __future__ import annotations

import pytest

from foldscript.folding.fold import fold
from foldscript.folding.unread import read
from foldscript.source.diagnostics import Diagnostic, FoldscriptError, Severity, Source

from ..following import first_change

SQUARE = "sheet square 15 cm\nstep\n"
DIAMOND = "sheet square 15 cm, corner A at the bottom\nstep\n"
CUPBOARD = f"{SQUARE}  crease left edge onto right edge as v\n  crease bottom edge onto top edge as h\nstep\n"
DIAGONALS = f"{SQUARE}  crease A to C as d\n  crease B to D as e\nstep\n"
STAR = CUPBOARD.replace("step\n", "step\n  crease A to C as d\n  crease B to D as e\n", 1)
BOOK = f"{SQUARE}  valley bottom edge onto top edge\nstep\n"
ONE = f"{SQUARE}  valley A to centre\nstep\n"
TRIANGLE = f"{DIAMOND}  valley A to C\nstep\n"
TWO_LAYERS = f"{SQUARE}  valley A to C\nstep\n  mark P at 2/3 of A B\n"
WATERBOMB = "start from waterbomb base\nstep\n"
PRELIMINARY = "start from preliminary base\nstep\n"
#: A house, up to its roofs: the sheet in half, both sides to the middle.
HOUSE = (
    f"{SQUARE}  valley top edge onto bottom edge\nstep\n"
    "  valley left edge onto centre line\n  valley right edge onto centre line\nstep\n"
)
STANDING = f"{CUPBOARD}  raise along v\nstep\n"

#: What stands before a line, the line, and the lines that the first hint writes in its place.
LINES = (
    # where to
    (SQUARE, "valley the bottom edge up to meet the top", "valley bottom edge onto top edge"),
    (SQUARE, "fold the paper in half from top to bottom", "valley top edge onto bottom edge"),
    (
        SQUARE,
        "valley fold lower right hand corner to upper left",
        "valley fold lower right corner to upper left corner",
    ),
    (SQUARE, "fold corner A in to the center point", "valley corner A to centre"),
    (
        CUPBOARD,
        "fold both sides in to meet at the middle crease",
        "valley left edge onto centre line|valley right edge onto centre line",
    ),
    (SQUARE, "valley B to 2cm below C", "valley B to 2 cm from C on edge C B"),
    (
        SQUARE,
        "fold over the top 3cm",
        "valley along line 3 cm from top edge, moving top edge",
    ),
    (
        SQUARE,
        "valley the right third over to the left",
        "valley along line through 2/3 of bottom edge parallel to right edge, moving right edge",
    ),
    (
        SQUARE,
        "valley left edge to 1/3 of the bottom edge",
        "valley left edge onto line through 1/3 of the bottom edge parallel to left edge",
    ),
    (
        TRIANGLE,
        "valley top corner to bottom edge",
        "valley top corner to midpoint of bottom edge",
    ),
    (
        DIAMOND,
        "valley bottom corner up 2 cm",
        "valley bottom corner to 2 cm from bottom corner on line bottom corner top corner",
    ),
    (
        TRIANGLE,
        "valley top corner down 3 cm",
        "valley top corner to 3 cm from top corner on line top corner midpoint of bottom edge",
    ),
    (
        SQUARE,
        "valley along line 2 cm from left edge",
        "valley along line 2 cm from left edge, moving left edge",
    ),
    (BOOK, "mountain fold the left half behind", "mountain left edge onto right edge"),
    (
        WATERBOMB,
        "mountain the bottom edge up behind",
        "mountain bottom edge onto line through top corner parallel to bottom edge",
    ),
    (SQUARE, "fold the bottom of the paper up to the top", "valley bottom edge up to top edge"),
    (
        DIAMOND,
        "fold the left and right corners to the center",
        "valley left corner to center|valley right corner to center",
    ),
    (BOOK, "fold top flap down to the bottom", "valley top edge to bottom edge"),
    (
        TRIANGLE,
        "valley both side corners to the top corner",
        "valley left corner to top corner|valley right corner to top corner",
    ),
    (
        SQUARE,
        "crease diagonals A C and B D",
        "crease along line A C|crease along line B D",
    ),
    (
        SQUARE,
        "valley left edge onto centre line valley right edge onto centre line",
        "valley left edge onto centre line|valley right edge onto centre line",
    ),
    (
        SQUARE,
        "crimp into 8 equal parts, moving the right edge",
        "pleat into 8 equal parts, moving the right edge",
    ),
    (SQUARE, "squash A to the centre", "valley A to the centre"),
    (SQUARE, "mark O = the centre", "mark O at centre"),
    (f"{SQUARE}  mark O at the centre\n", "valley B and D to 0", "valley B and D to O"),
    (f"{SQUARE}  mark O at the centre\n", "valley A, C, O", "valley A and C to O"),
    (
        SQUARE,
        "pleat 16 times equal, moving the right edge",
        "pleat into 16 equal parts, moving right edge",
    ),
    (SQUARE, "rotate clockwise by a quarter", "rotate 90 degrees clockwise"),
    (SQUARE, "turn the paper around to the back", "turn over"),
    (
        SQUARE,
        "crease left edge onto right edge is keel",
        "crease left edge onto right edge as keel",
    ),
    (SQUARE, "valley C to B make", "valley C to B"),
    (
        f"{BOOK}  mark M at midpoint of top edge\nstep\n",
        "valley through M perpendicular top edge, moving right edge",
        "valley through M perpendicular to top edge, moving right edge",
    ),
    (ONE, "repeat steps 1 on the other side", "repeat step 1 on other side"),
    (
        f"{BOOK}  mark M at midpoint of top edge\nstep\n",
        "cut from M 4 cm down, 1 layer",
        "cut from M to 4 cm from M on line through M perpendicular to bottom edge, 1 layer",
    ),
    (
        BOOK,
        "curl the top edge in front, round 12, by 3 cm",
        "curl the top edge in front, round 12 mm, by 3 cm",
    ),
    (
        SQUARE,
        "valley bottom edge a quarter of the way up",
        "valley bottom edge onto line through 1/4 of left edge parallel to bottom edge",
    ),
    (CUPBOARD, "valley left edge to crease v", "valley left edge to v"),
    (CUPBOARD, "valley A to where the creases cross", "valley A to where v meets h"),
    (
        PRELIMINARY,
        "fold the left and right edges of the front flap in to the centre line",
        "valley bottom left edge onto centre line|valley bottom right edge onto centre line",
    ),
    (
        SQUARE,
        "fold up a 2 cm hem along the bottom edge",
        "valley along line 2 cm from bottom edge, moving bottom edge",
    ),
    # several at once
    (SQUARE, "pleat like an accordion into 8", "pleat into 8 equal parts, moving right edge"),
    (SQUARE, "pleat into 8 parts", "pleat into 8 parts moving right edge"),
    (SQUARE, "make 16 pleats", "pleat into 16 equal parts, moving right edge"),
    (
        STAR,
        "collapse v and h valley, d mountain",
        "collapse valley v and h, mountain d, holding A",
    ),
    (
        STAR,
        "collapse mountains d, valleys h and v, hold A",
        "collapse mountain d, valley h and v, holding A",
    ),
    # squashes, and other moves of flaps that the eye sees
    (HOUSE, "squash the left flap", "squash top edge onto left edge"),
    (HOUSE, "squash top left corner", "squash top edge onto left edge"),
    (HOUSE, "squash D onto left edge", "squash top edge onto left edge"),
    (PRELIMINARY, "squash the right flap flat", "squash top right edge onto centre line"),
    (PRELIMINARY, "swing", "swing left corner to right corner"),
    (SQUARE, "rabbit ear fold on corner B", "rabbit ear B between C and A to C"),
    (CUPBOARD, "raise along v, 60°", "raise along v to 60 degrees"),
    (CUPBOARD, "raise flap to 60 degrees", "raise along v to 60 degrees"),
    (CUPBOARD, "raise the walls along h", "raise along h"),
    (CUPBOARD, "fold up along v to stand", "raise along v"),
    (CUPBOARD, "stand the left side up along v", "raise along v"),
    (STANDING, "stand it up", "stand on bottom edge"),
    (WATERBOMB, "open the bottom", "open bottom edge"),
    (WATERBOMB, "open the bottom edge 5cm wide", "open bottom edge by 5 cm"),
    # taken back
    (BOOK, "open it up", "unfold"),
    (ONE, "open the flap again", "unfold"),
    (ONE, "go back to the start", "unfold to step 0"),
    (ONE, "unfold to 0", "unfold to step 0"),
    # cuts
    (SQUARE, "cut from bottom to centre", "cut from midpoint of bottom edge to centre"),
    (SQUARE, "cut in half", "cut along centre line, discarding bottom right corner"),
    # again, and turned
    (ONE, "do the same to C", "repeat step 1 on C"),
    (ONE, "repeat step one on B", "repeat step 1 on B"),
    (ONE, "repeat step 1 x3", "repeat step 1 3 times"),
    (SQUARE, "turn model over to the other side", "turn over"),
    (SQUARE, "rotate a quarter", "rotate 90 degrees clockwise"),
    # names, numbers, parts
    (SQUARE, "mark centre O", "mark O at centre"),
    (SQUARE, "name the centre O", "mark O at centre"),
    (SQUARE, "mark M in between A and B", "mark M at midpoint of A B"),
    (SQUARE, "mark P half way up the left edge", "mark P at midpoint of left edge"),
    (SQUARE, "mark P at 5cm on A B", "mark P at 5 cm from A on line A B"),
    (SQUARE, "mark P 3 cm up from A", "mark P at 3 cm from A on edge A D"),
    (SQUARE, "mark P a third of the way along A B", "mark P at 1/3 of A B"),
    (SQUARE, "mark P at 1/3 from the right on the bottom edge", "mark P at 2/3 of bottom edge"),
    (
        SQUARE,
        "mark P at 2 and a half cm from A on edge A B",
        "mark P at 2 1/2 cm from A on edge A B",
    ),
    (DIAGONALS, "mark O at d and e", "mark O where d meets e"),
    (SQUARE, "crease A to C name it diag", "crease A to C, as diag"),
    (SQUARE, "valley A to C, as Fold 1", "valley A to C, as Fold-1"),
    (SQUARE, "valley A to C as 1", "valley A to C, as k1"),
    # creases
    (
        SQUARE,
        "crease horizontal and vertical",
        "crease bottom edge onto top edge|crease left edge onto right edge",
    ),
    (SQUARE, "crease diagonally both ways", "crease along line A C|crease along line B D"),
    (SQUARE, "crease both diagonals and unfold", "crease along line A C|crease along line B D"),
    (SQUARE, "crease middle line", "crease left edge onto right edge"),
    (SQUARE, "make a crease from A to C", "crease from A to C"),
    (
        SQUARE,
        "pinch the midpoint of the bottom edge",
        "pinch left edge onto right edge, at bottom edge",
    ),
    (
        SQUARE,
        "curl the right edge in front, wrapped on a pencil",
        "curl right edge in front round a pencil",
    ),
    (
        SQUARE,
        "roll the right edge in front round your finger",
        "curl right edge in front round a finger",
    ),
)


def told(text: str) -> list[Diagnostic]:
    """What is wrong in a script, as `check` tells it; nothing when it folds."""
    try:
        fold(read(Source("test.foldscript", text)))
    except FoldscriptError as error:
        return [d for d in error.diagnostics if d.severity is Severity.ERROR]
    return []


@pytest.mark.parametrize(("before", "line", "said"), LINES, ids=[line for _, line, _ in LINES])
def test_the_first_hint_folds_what_was_meant(before: str, line: str, said: str) -> None:
    text = f"{before}  {line}\n"
    mended = first_change(text, told).applied(text)
    assert [one.strip() for one in mended.splitlines()][-len(said.split("|")) :] == said.split("|")


@pytest.mark.parametrize(
    ("before", "line", "words"),
    [
        (TWO_LAYERS, "inside reverse B through P", "a second point"),
        (TWO_LAYERS, "inside reverse D to midpoint", "midpoint of A B"),
        (BOOK, "tuck A into B", "'inside' to fold it in"),
        (BOOK, "tuck the corner inside", "say which: 'top left corner'"),
        (SQUARE, 'valley A to C "fold up"', 'step "fold up"'),
        (SQUARE, "cut a hole in the middle", "fold until its place is a corner"),
        (PRELIMINARY, "petal bottom corner to top corner", "on the folded edges"),
        (DIAGONALS, "collapse all creases", "of each crease by its name"),
        (DIAGONALS, "collapse into a preliminary base", "start from preliminary base"),
        (ONE, "mark O where they cross", "where L meets M"),
        (TRIANGLE, "cut a small triangle off the corner", "discarding A"),
        (
            TWO_LAYERS,
            "mark Q at midpoint of B D\n  turn inside out B along line P Q",
            "fold it in first",
        ),
        (ONE, "back to", "unfold to step 1"),
    ],
)
def test_what_is_left_open_is_asked(before: str, line: str, words: str) -> None:
    (found,) = told(f"{before}  {line}\n")
    assert words in " ".join(hint.text for hint in found.hints)


@pytest.mark.parametrize(
    ("before", "line", "never"),
    [
        (TWO_LAYERS, "inside reverse B through P", "inside reverse B to P"),
        (SQUARE, "mark point P on A B", "mark point P at A B"),
        (DIAGONALS, "collapse into a preliminary base", "did you mean 'A'"),
        (HOUSE, "squash the left flap", "onto right edge"),
        (TRIANGLE, "cut a small triangle off the corner", "cut a all"),
        (PRELIMINARY, "swing right corner to the right", "swing left corner"),
    ],
)
def test_no_hint_says_other_than_was_said(before: str, line: str, never: str) -> None:
    (found,) = told(f"{before}  {line}\n")
    edits = [hint.edit.text for hint in found.hints if hint.edit is not None]
    assert not any(never in text for text in (*edits, *(hint.text for hint in found.hints)))


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("sheet A4, long edge at the bottom", "sheet A4, landscape"),
        ("sheet square 15", "sheet square 15 cm"),
        ("sheet square 150", "sheet square 150 mm"),
        ("sheets 2 of A5", "sheets 2\nsheet A5"),
        ("sheet square 15 cm blue", "sheet square 15 cm\ncolours blue and white"),
        ("sheet square 15 cm, corner A at the bottom left", "sheet square 15 cm"),
        (
            "sheet square 15 cm, corner A at the top left",
            "sheet square 15 cm, corners named B C D A",
        ),
    ],
)
def test_no_word_of_the_sheet_is_lost(line: str, said: str) -> None:
    text = f"{line}\nstep\n  valley left edge onto right edge\n"
    (found, *_) = told(text)
    assert found.hints[0].edit is not None
    assert found.hints[0].edit.applied(text).startswith(f"{said}\n")
    assert told(found.hints[0].edit.applied(text)) == []


def test_a_unit_that_could_not_be_placed_is_not_there_yet() -> None:
    """What is tried instead is tried on the paper as it lay before the refused line."""
    text = (
        "sheets 2\nsheet square 15 cm\nstep\n  valley A to C\nassemble\nstep\n"
        "  place unit 2, A of unit 2 to A of unit 1 near B of unit 1\n"
    )
    (found,) = told(text)
    assert found.hints[0].edit is not None
    assert told(found.hints[0].edit.applied(text)) == []
