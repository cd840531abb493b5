"""Lines that leave something out, and what their first hint writes; what it writes folds on the paper there.

The lines were made up for this list, after what teachers write on boards and in letters (common practice).
"""

from __future__ import annotations

import pytest

from foldscript.folding.unread import read
from foldscript.source.diagnostics import FoldscriptError, Source

from ..following import first_change
from .test_beginners import told

SQUARE = "sheet square 15 cm\nstep\n"
ONE = f"{SQUARE}  valley A to centre\nstep\n"
DIAMOND = "sheet square 15 cm, corner A at the bottom\nstep\n"
HALF = f"{SQUARE}  valley A to C\nstep\n"

#: What stands before a line, the line, and the lines that the first hint writes in its place.
LINES = {
    "corners-with-comma": (
        SQUARE,
        "valley corners A, B to centre",
        "valley A to centre|valley B to centre",
    ),
    "diagonal-by-ends": (
        SQUARE,
        "valley along diagonal A C, moving B",
        "valley along line A C, moving B",
    ),
    "corner-left-out": (
        SQUARE,
        "valley bottom left to top right",
        "valley bottom left corner to top right corner",
    ),
    "top-half": (SQUARE, "valley top half down", "valley top edge onto bottom edge"),
    "top-down": (SQUARE, "valley top down", "valley top edge onto bottom edge"),
    "left-half": (SQUARE, "fold left half over", "valley left edge onto right edge"),
    "horizontally": (SQUARE, "crease horizontally", "crease bottom edge onto top edge"),
    "vertically": (SQUARE, "fold vertically", "valley left edge onto right edge"),
    "so-far-up": (
        SQUARE,
        "valley lower left corner 3 cm up",
        "valley lower left corner to 3 cm from lower left corner on left edge",
    ),
    "so-far": (SQUARE, "valley A 5 cm", "valley A to 5 cm from A on edge A B"),
    "mark-so-far": (SQUARE, "mark P 5 cm from A", "mark P at 5 cm from A on edge A B"),
    "mark-at-so-far": (SQUARE, "mark P at 5 cm from C", "mark P at 5 cm from C on edge C D"),
    "in-the-middle-of": (SQUARE, "mark P in the middle of A B", "mark P at midpoint of A B"),
    "rounded-third": (SQUARE, "mark P at 0.33 of A B", "mark P at 1/3 of A B"),
    "rounded-eighth": (SQUARE, "mark P at 0.125 of A B", "mark P at 1/8 of A B"),
    "no-simple-part": (SQUARE, "mark P at 0.47 of A B", "mark P at 47/100 of A B"),
    "layers-first": (
        HALF,
        "valley both layers left corner to bottom right corner",
        "valley left corner to bottom right corner, 2 layers",
    ),
    "left-to-right": (SQUARE, "turn over left to right", "turn over side to side"),
    "four-letters": (SQUARE, "crease A C B D", "crease along line A C|crease along line B D"),
    "two-creases": (SQUARE, "crease A to C and B to D", "crease A to C|crease B to D"),
    "on-three": (ONE, "repeat with B, C and D", "repeat step 1 on B, C and D"),
    "on-all-corners": (ONE, "repeat step 1 on all corners", "repeat step 1, 3 times"),
    "centre-of-the-model": (
        SQUARE,
        "valley C down to the center of the model",
        "valley C down to centre",
    ),
    "centre-point": (SQUARE, "mark O at center point", "mark O at centre"),
    "edge-to-a-point": (SQUARE, "valley edge A B to C", "valley A to C"),
    "third-from-the-left": (
        SQUARE,
        "valley along line 1/3 from the left edge",
        "valley along line through 1/3 of bottom edge parallel to left edge, moving left edge",
    ),
    "third-from-the-right": (
        SQUARE,
        "valley along line 1/3 from the right edge",
        "valley along line through 2/3 of bottom edge parallel to right edge, moving right edge",
    ),
    "from-the-edge": (
        SQUARE,
        "crease 3 cm from left edge",
        "crease along line 3 cm from left edge",
    ),
    "line-from-the-edge": (
        SQUARE,
        "valley line 3 cm from top edge",
        "valley along line 3 cm from top edge, moving top edge",
    ),
    "other-middle": (
        SQUARE,
        "valley bottom edge onto centre line",
        "valley bottom edge onto horizontal centre line",
    ),
    "itself": (SQUARE, "valley left edge onto left edge", "valley left edge onto right edge"),
    "two-marks": (SQUARE, "mark M, N at 1/3 of A B", "mark M at 1/3 of A B|mark N at 2/3 of A B"),
    "where-diagonals-meet": (
        SQUARE,
        "mark P where the diagonals meet",
        "mark P where line A C meets line B D",
    ),
    "from-to": (SQUARE, "mark P at 1/3 from A to B", "mark P at 1/3 of A B"),
    "on-the-edge": (SQUARE, "mark P on edge A B, 3 cm from A", "mark P at 3 cm from A on edge A B"),
    "above": (SQUARE, "valley A to 3 cm above A", "valley A to 3 cm from A on edge A D"),
    "opposite": (SQUARE, "valley B to the opposite corner", "valley B to D"),
    "crease-by-ends": (
        f"{SQUARE}  crease B to D\n",
        "valley edge A B to crease A C",
        "valley edge A B onto line A C",
    ),
    "two-edges": (
        f"{SQUARE}  crease B to D as d\n",
        "valley edges A B and A D onto d",
        "valley edge A B onto d|valley edge A D onto d",
    ),
    "called": (SQUARE, "crease A to C called d", "crease A to C, as d"),
    "name-first": (SQUARE, "d = crease A to C", "crease A to C, as d"),
    "name-and-colon": (SQUARE, "crease d: A to C", "crease A to C, as d"),
    "edge-to-a-third": (
        SQUARE,
        "valley bottom edge to 1/3",
        "valley bottom edge onto line through 1/3 of left edge parallel to bottom edge",
    ),
    "by-a-third": (
        SQUARE,
        "valley right edge over by one third",
        "valley along line through 2/3 of bottom edge parallel to right edge, moving right edge",
    ),
    "leaving": (
        SQUARE,
        "valley bottom edge up, leaving 2 cm",
        "valley bottom edge onto 2 cm short of top edge",
    ),
    "over-by": (SQUARE, "valley A over the centre by 1 cm", "valley A to 1 cm beyond centre"),
    "turn-over-the-paper": (SQUARE, "turn over the paper", "turn over"),
    "then": (SQUARE, "turn over, then valley A to C", "turn over|valley A to C"),
    "two-moves": (SQUARE, "valley A to C and turn over", "valley A to C|turn over"),
    "two-moves-in-own-words": (
        SQUARE,
        "crease A to C, then fold in half",
        "crease A to C|valley bottom edge onto top edge",
    ),
    "turn-left": (SQUARE, "rotate quarter turn left", "rotate 90 degrees anticlockwise"),
    "taken": (
        SQUARE,
        "mark P at centre\n  mark P at midpoint of A B",
        "mark P2 at midpoint of A B",
    ),
    "from-way-to-way": (SQUARE, "valley from right to left", "valley right edge onto left edge"),
    "way-over-way": (SQUARE, "valley right over left", "valley right edge onto left edge"),
    "edge-from-edge": (
        SQUARE,
        "crease from bottom edge to top edge",
        "crease bottom edge onto top edge",
    ),
    "part-of-an-edge": (
        SQUARE,
        "crease at 1/3 of the left edge",
        "crease through 1/3 of left edge perpendicular to left edge",
    ),
    "smaller-piece": (
        SQUARE,
        "valley at 2/3 of the top edge",
        "valley through 2/3 of top edge perpendicular to top edge, moving right edge",
    ),
    "up-on-a-diamond": (DIAMOND, "valley A up 5 cm", "valley A to 5 cm from A on line A C"),
    "up-on-a-square": (SQUARE, "valley B up 5 cm", "valley B to 5 cm from B on edge B C"),
    "equal-parts": (
        SQUARE,
        "crease into 4 equal parts",
        "crease through 1/4 of A B perpendicular to edge A B"
        "|crease through 1/2 of A B perpendicular to edge A B"
        "|crease through 3/4 of A B perpendicular to edge A B",
    ),
    "half-of-an-edge": (
        SQUARE,
        "valley left half of the top edge onto centre line",
        "valley top left corner onto centre line through midpoint of top edge",
    ),
    "before-a-line": (
        SQUARE,
        "valley left edge to 1 cm before centre line",
        "valley left edge onto 1 cm short of centre line",
    ),
    "behind-to": (SQUARE, "fold A behind to C", "mountain A to C"),
    "mountain-crease": (SQUARE, "mountain crease A to C", "crease mountain A to C"),
    "valley-crease": (SQUARE, "valley crease A to C", "crease A to C"),
    "pleat-in-thirds": (
        SQUARE,
        "pleat into thirds",
        "pleat into 3 equal parts, moving right edge",
    ),
    "let": (SQUARE, "let M = midpoint of A B", "mark M at midpoint of A B"),
    "point-is": (SQUARE, "P = midpoint of A B", "mark P at midpoint of A B"),
    "bullet": (SQUARE, "- valley A to C", "valley A to C"),
    "both-ways": (
        SQUARE,
        "crease in half both ways",
        "crease bottom edge onto top edge|crease left edge onto right edge",
    ),
    "fold-back": (HALF, "fold back", "unfold"),
    "on-all-sides": (ONE, "repeat step 1 on all sides", "repeat step 1, 3 times"),
    "repeat-all": (ONE, "repeat all", "repeat step 1, 3 times"),
    "tips": (DIAMOND, "valley bottom tip to top tip", "valley bottom corner to top corner"),
    "bottom-third": (
        SQUARE,
        "valley bottom third up",
        "valley along line through 1/3 of left edge parallel to bottom edge, moving bottom edge",
    ),
    "layer-of": (
        DIAMOND,
        "valley only the top layer of the top corner to bottom corner",
        "valley top corner to bottom corner, 1 layer",
    ),
    "page-without-a-way": (
        "start from preliminary base\nstep\n",
        "turn page",
        "swing right corner to left corner",
    ),
    "as-before": (ONE, "as before on C", "repeat step 1 on C"),
    "again": (ONE, "again", "repeat step 1 on the other side"),
    "parallel-to-a-way": (
        SQUARE,
        "crease through centre parallel to the bottom",
        "crease along line through centre parallel to bottom edge",
    ),
    "name-in-the-middle": (SQUARE, "valley as k A to C", "valley A to C, as k"),
    "part-between": (SQUARE, "mark P at 1/3 between A and B", "mark P at 1/3 of A B"),
    "remark": (SQUARE, "valley A to C // sharply", "valley A to C  # sharply"),
    "group-without-do": (
        "sheet square 15 cm\ngroup ear P, Q\n  valley P to Q\nend\nstep\n",
        "ear A, C",
        "do ear A, C",
    ),
}


@pytest.mark.parametrize(("before", "line", "said"), LINES.values(), ids=LINES)
def test_the_first_hint_folds(before: str, line: str, said: str) -> None:
    text = f"{before}  {line}\n"
    mended = first_change(text, told).applied(text)
    assert [one.strip() for one in mended.splitlines()][-len(said.split("|")) :] == said.split("|")


@pytest.mark.parametrize(
    ("script", "words"),
    [
        (f"{SQUARE}  turn over and rotate\n", "each move in a line of its own"),
        (f"{SQUARE}  cut along the dotted line\n", "'line P Q' through two points"),
        ("sheet 8.5 x 11\nstep\n  valley left edge onto right edge\n", "8.5 inches by 11 inches"),
        ('model "Cup" by me\nstep\n  valley A to C\n', 'credit "me"'),
        ("difficulty easy\nstep\n  valley A to C\n", "level simple"),
        (f"{SQUARE}  pleat every 2 cm\n", "into 8 equal parts"),
        (f"{SQUARE}  cut 2 cm slit at A\n", "cut from P to Q"),
        (f"{SQUARE}  blow it up\n", "inflate at A"),
        (f"{SQUARE}  raise wings\n", "raise along k"),
        (f"{SQUARE}  valley A to C;\n", "in a line of its own"),
        (f"{SQUARE}  valley A -> C\n", "'to' before a point"),
        (f"{SQUARE}  valley A to C (crease well)\n", "after '#'"),
        (f"{SQUARE}  valley point A to edge\n", "'bottom edge'"),
        (f"{SQUARE}  collapse into waterbomb base\n", "start from waterbomb base"),
        (f'{SQUARE}  "Fold it nicely"\n', 'step "Fold it nicely"'),
        (f"{SQUARE}  valley A to gizmo\n", "if 'gizmo' is not meant as a name"),
        ("sheet square 15 cm, corner at bottom\nstep\n  valley A to C\n", "corner A at the bottom"),
    ],
)
def test_what_nobody_can_guess_is_told(script: str, words: str) -> None:
    (found,) = told(script)
    assert words in " ".join(hint.text for hint in found.hints)


def test_names_of_one_line_are_told_since_when() -> None:
    script = (
        "sheet square 15 cm\nstep\n  crease left edge onto right edge as v\nstep\n  valley edge A D onto v\n"
        "step\n  crease edge A D onto v\n"
    )
    (found,) = told(script)
    assert found.message.startswith("edge AD and 'v' are the same line as the paper lies")
    assert found.hints[0].text.startswith("step 2 has brought it there")


def test_a_line_over_several_facets_is_told_too() -> None:
    """The centre line of a fish base whose flap is reversed: none of its facets has both its ends."""
    script = (
        "start from fish base\nstep\n  inside reverse left corner along line A C\n"
        "step\n  crease centre line onto bottom left edge\n"
    )
    (found,) = told(script)
    assert "are the same line as the paper lies" in found.message


def read_and_told(text: str) -> tuple[str, ...]:
    with pytest.raises(FoldscriptError) as error:
        read(Source("test.foldscript", text))
    return tuple(hint.text for hint in error.value.diagnostics[0].hints)


def test_hints_for_a_line_that_cannot_be_read_are_tried_on_the_paper() -> None:
    """'The top flap down' may be a corner or an edge; the triangle has no top corner, for two lie there."""
    script = f"{SQUARE}  valley A to C\n  valley the top flap down\n"
    (diagnostic,) = told(script)
    assert len(diagnostic.hints) == 3
    assert read_and_told(script) == ("say 'valley top edge to bottom edge'",)


def test_where_nothing_folds_the_hints_stay() -> None:
    script = f"{SQUARE}  valley A to gizmo\n  valley the top flap down\n"
    (diagnostic,) = told(script)
    assert len(diagnostic.hints) == 3
    assert read_and_told(script) == tuple(hint.text for hint in diagnostic.hints)


def test_a_line_that_goes_on_is_tried_as_one() -> None:
    assert read_and_told(f"{SQUARE}  valley corners A,\n    B to the middle point\n")[0].startswith(
        "say"
    )


@pytest.mark.parametrize(
    ("script", "last"),
    [
        ('sheet square 5 7/8"\nstep\n  valley A to C\n', "sheet square 5 7/8 inches"),
        (
            "sheet square 15 cm, red side up\nstep\n  valley A to C\n",
            "sheet square 15 cm, coloured side up\ncolours red and white",
        ),
        (f"{ONE}  valley B to centre\nstep\n  unfold A\n", "  valley A to centre, as k"),
        (f"{ONE}  valley B to centre\nstep\n  unfold step 1\n", "  unfold k"),
    ],
)
def test_a_first_hint_that_keeps_what_was_said(script: str, last: str) -> None:
    (found,) = told(script)
    assert found.hints[0].edit is not None
    mended = found.hints[0].edit.applied(script)
    assert f"{last}\n" in mended
    assert told(mended) == []


def test_the_last_fold_needs_no_name_to_be_undone() -> None:
    (found,) = told(f"{ONE}  valley B to centre\nstep\n  unfold B\n")
    assert found.hints[0].text == "say 'unfold'"


@pytest.mark.parametrize(
    ("before", "line", "never"),
    [
        (DIAMOND, "fold up the bottom corner", "valley up bottom corner"),
        (SQUARE, "valley left and right edges onto centre line", "bottom left edge"),
        (f"{SQUARE}  crease A to C as d\n", "collapse valley d, valley h", "collapse valley d'"),
    ],
)
def test_what_does_not_fold_as_the_first_line_of_a_step_is_not_said(
    before: str, line: str, never: str
) -> None:
    said = read_and_told(f"{before}  {line}\n") if never[0] != "c" else ()
    said = said or tuple(hint.text for one in told(f"{before}  {line}\n") for hint in one.hints)
    assert said
    assert not any(never in text for text in said)


def test_a_repeat_is_told_the_step_that_was_said() -> None:
    (found,) = told(f"{ONE}  repeat step 1 on the other corners\n")
    assert "'repeat step 1, 3 times'" in found.hints[0].text


def test_a_third_in_one_sign_stays_a_third() -> None:
    (found,) = told(f"{SQUARE}  mark P at ⅓ of A B\n")
    assert found.hints[0].text.endswith("1/3")


def test_the_front_layer_of_a_square_is_its_edge() -> None:
    said = read_and_told(f"{SQUARE}  valley front layer down\n")
    assert said == ("say 'valley top edge onto bottom edge, 1 layer'",)
