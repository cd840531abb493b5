"""Valley fold: every way to place it, which paper moves, and what is refused."""

from __future__ import annotations

import pytest

from foldscript.drawing.draw import draw
from foldscript.drawing.style.styles import load_style
from foldscript.geometry.lines import Point, distance
from foldscript.moves import valley
from foldscript.moves.registry import moves
from foldscript.paper.seams import remainder
from foldscript.paper.signs import Arrow, FoldLine

from ..sample_scripts import sample as of
from ..scripts import captions, covered, folded, layers_at, lies, outcome, refused, spot

# statement, a corner, where it lands (plane geometry on a square of 100 mm)
PLACED = [
    ("valley A to C", "A", (100, 100)),
    ("valley edge A B onto edge C D", "B", (100, 100)),
    ("valley bottom edge onto top edge", "A", (0, 100)),
    ("valley through B D, moving A", "A", (100, 100)),
    ("valley A through B D", "A", (100, 100)),
    ("mark P at 1/4 of A B; valley through P perpendicular to edge A B, moving A", "A", (50, 0)),
    ("crease left edge onto right edge as v; valley B onto v, through A", "B", (50, 86.602540)),
    (
        "crease left edge onto right edge as v; valley B onto v, perpendicular to edge A B",
        "B",
        (50, 0),
    ),
    ("crease A to C as d; valley along d, moving A", "A", (100, 100)),
    ("valley along line through B at 150 degrees to edge A B, moving A", "A", (50, 86.602540)),
]


@pytest.mark.parametrize(("line", "corner", "at"), PLACED, ids=[line for line, _, _ in PLACED])
def test_every_way_to_place_it(line: str, corner: str, at: Point) -> None:
    model = folded(line)
    assert lies(model, corner) == pytest.approx(at)
    assert len(model.finished.facets) == 2
    # the flap lies in front, its back to the reader
    flap = next(f for f in range(2) if not model.finished.facets[f].shows_front)
    assert model.finished.above(flap, 1 - flap)


def test_two_points_onto_two_lines() -> None:
    """Cube root of 2: the corner lands at 1 / (1 + 2 ** (1/3)) (P. Messer, 1986)."""
    model = folded(
        "mark P at 1/3 of A D; mark Q at 2/3 of A D; crease through Q perpendicular to edge A D, as q",
        "valley A onto edge B C and P onto q",
    )
    assert lies(model, "A") == pytest.approx((100, 44.2493334024))


def test_haga_s_first_theorem() -> None:
    """A corner to the middle of an edge: crease ends at 5/8 and 1/8; thirds (K. Haga, Origamics, 2008)."""
    model = folded("valley B to midpoint of C D")
    ends = [p for _, seg in model.finished.fold_segments for p in seg]
    assert sorted(ends) == [pytest.approx((0, 1 / 8)), pytest.approx((1, 5 / 8))]
    folded_on = folded(
        "valley B to midpoint of C D",
        "mark T at where line A B meets line D midpoint of A D",
    )
    assert folded_on.steps[-1].panels[0].labels == (("T", pytest.approx((0, 1 / 3))),)


@pytest.mark.parametrize("form", moves()["valley"].forms)
def test_each_form_that_messages_show_can_be_read(form: str) -> None:
    """On a plain square it folds, or the paper (not the words) does not allow it."""
    before = "crease A to C as k; mark P at 1/4 of A B; mark Q at 1/4 of D C"
    assert outcome(before, form) in ("", "cannot-reach", "several-folds")


DIAMOND = "mark O at centre; mark P at midpoint of A O; crease left edge onto right edge as v"


def test_several_folds_are_listed() -> None:
    found = refused(DIAMOND, "valley P onto v, through O")
    assert found.code == "several-folds"
    assert "2 folds fit these words" in found.message
    assert "the first" in found.message
    assert "the second" in found.message
    assert [hint[:11] for hint in found.hints] == ["add 'first'", "add 'second", "or add 'nea"]


@pytest.mark.parametrize(
    ("choice", "height"),
    [
        ("first", None),
        ("second", None),
        ("near midpoint of C D", 85.355339),
        ("near midpoint of A B", 14.644661),
    ],
)
def test_choosing_among_folds(choice: str, height: float | None) -> None:
    """P is 35.36 mm from O, so it lands so far above or below O on the line through O."""
    x, y = spot(folded(DIAMOND, f"valley P onto v, through O, {choice}"), 25, 25)
    assert x == pytest.approx(50)
    assert y in (pytest.approx(85.355339), pytest.approx(14.644661))
    if height is not None:
        assert y == pytest.approx(height)


def test_first_and_second_differ() -> None:
    places = {
        spot(folded(DIAMOND, f"valley P onto v, through O, {word}"), 25, 25)
        for word in ("first", "second")
    }
    assert len(places) == 2


def test_a_choice_that_is_not_there() -> None:
    assert refused(DIAMOND, "valley P onto v, through O, third").code == "no-such-choice"


def test_a_fold_that_lands_on_the_goal_s_paper_goes_first() -> None:
    """Of the two bisectors only one brings the edge onto the other edge itself."""
    assert lies(folded("valley edge A B onto edge B C"), "A") == pytest.approx((100, 100))


TRIANGLE = "valley A to C"


@pytest.mark.parametrize(
    ("words", "a", "c"),
    [
        ("", (50, 50), (100, 100)),
        (", 1 layer", (50, 50), (100, 100)),
        (", 2 layers", (50, 50), (50, 50)),
        (", all layers", (50, 50), (50, 50)),
    ],
)
def test_layers(words: str, a: Point, c: Point) -> None:
    """On the triangle of two layers A lies on C; the fold brings the tip to the middle."""
    model = folded(TRIANGLE, f"valley top right corner to midpoint of B D{words}")
    assert lies(model, "A") == pytest.approx(a)
    assert lies(model, "C") == pytest.approx(c)


def test_more_layers_than_there_are() -> None:
    found = refused(TRIANGLE, "valley top right corner to midpoint of B D, 3 layers")
    assert found.code == "not-so-many-layers"
    assert "only 2 layers" in found.message


def test_blocked_names_both_layers() -> None:
    found = refused(TRIANGLE, "valley C to midpoint of B D")
    assert found.code == "blocked"
    assert "the layer with corner C cannot move" in found.message
    assert "it lies under the layer with corner A" in found.message
    assert "(in step 2)" in found.message
    assert any("mountain" in hint for hint in found.hints)
    assert any("all layers" in hint for hint in found.hints)


def test_a_flap_that_is_free_moves_alone() -> None:
    """The front layer's corner, two folds on: the layers below it stay."""
    model = folded(TRIANGLE, "valley A to midpoint of B D", "valley A to C")
    assert lies(model, "A") == pytest.approx((100, 100))
    assert covered(model) == pytest.approx(1 / 2)
    assert layers_at(model, 80, 80) == 2


def test_a_line_past_the_paper_misses_it() -> None:
    found = refused(TRIANGLE, "valley along line through A parallel to line B D, moving B")
    assert found.code == "fold-misses-flap"


def test_cannot_reach_says_how_much_is_missing() -> None:
    """M is 50 mm from A and 100 mm from the far edge."""
    found = refused("mark M at midpoint of A B", "valley A onto edge C D, through M")
    assert found.code == "cannot-reach"
    assert "corner A is 50 mm too short to reach edge CD" in found.message
    assert found.words == "edge C D"


@pytest.mark.parametrize(
    ("line", "code", "words"),
    [
        ("valley A to A", "cannot-reach", "A"),
        ("valley edge A B onto edge A B", "cannot-reach", "edge A B"),
        ("valley through B D", "which-side", None),
        ("valley A onto edge C D", "several-folds", "edge C D"),
        ("valley edge A B to C", "line-to-point", "C"),
        ("valley A", "unclear-fold", None),
        ("valley through B D, moving B", "on-the-line", "B"),
        ("valley A to C clockwise", "unexpected-words", "clockwise"),
        ("valley A to C, 2 mm layers", None, None),
        ("valley A to Q", "unknown-name", "Q"),
        ("valley A onto edge A B, through D", "cannot-reach", "edge A B"),
        ("valley 3 to C", "line-to-point", None),
    ],
)
def test_refusals_point_at_the_words(line: str, code: str | None, words: str | None) -> None:
    found = refused(line)
    assert code is None or found.code == code
    assert found.message
    assert found.hints or code is None
    if words is not None:
        assert found.words == words


def test_captions() -> None:
    texts = [
        w.render()
        for s in folded(TRIANGLE, "valley top right corner to midpoint of B D, all layers").steps
        for w in s.wording
    ]
    assert texts == [
        "Fold corner A over to corner C.",
        "Fold the top right corner over to the middle of line BD, all layers together.",
    ]


def test_a_fold_to_the_other_side_is_another_move() -> None:
    """'behind' was once passed over in silence, and the fold came to the front."""
    found = refused("valley A to C behind")
    assert found.code == "unexpected-words"
    assert "mountain" in found.hints[0]
    assert refused("mountain A to C in front").code == "unexpected-words"
    assert refused("crease A to C behind").code == "unexpected-words"
    assert lies(folded("mountain A behind to C"), "A") == pytest.approx((100, 100))


def test_a_bare_line_may_be_meant_as_the_fold_line() -> None:
    assert refused("crease line A C").hints == ("say 'crease along line A C'",)
    assert "put 'along' before the line" in refused("crease A to C as k", "pinch k").hints[0]


def test_moving_says_which_part_of_a_line_moves() -> None:
    """A line that its fold crosses in the middle: both halves could move. 'moving' was once not heard."""
    start = "crease bottom edge onto top edge as middle"
    assert refused(f"{start}; valley edge A D onto middle").code == "which-side"
    model = folded(
        f"{start}; valley edge A D onto middle, moving A; valley edge B C onto middle, moving C"
    )
    assert lies(model, "A") == pytest.approx((50, 50))
    assert lies(model, "C") == pytest.approx((50, 50))
    assert lies(model, "D") == pytest.approx((0, 100))


def test_moving_holds_beside_a_point_that_lands_somewhere() -> None:
    assert refused("valley A to C, moving C").code == "both-sides"
    assert refused("valley A to C, moving B").code == "on-the-line"
    assert lies(folded("valley A to midpoint of A C, moving A"), "A") == pytest.approx((50, 50))


def test_paper_that_only_the_flap_holds_rides_along() -> None:
    """A kite narrowed once more: its front flaps are folded along the middle line, and fold over with it."""
    kite = (
        "crease B to D as d; valley edge A B onto d; valley edge A D onto d; turn over; "
        "valley bottom left edge onto line A C; valley bottom right edge onto line A C"
    )
    sheet = "sheet square 100 mm, corner A at the bottom\n"
    for fold in (
        "valley left corner to right corner",
        "mountain along line A C, moving left corner",
    ):
        model = folded(f"{kite}; {fold}", sheet=sheet)
        assert len(model.finished.facets) == 8
        unit = model.sheet.unit_mm
        left = min(x for placed in model.finished.placed for x, _ in placed) * unit
        assert left == pytest.approx(lies(model, "A")[0])
    assert outcome(f"{kite}; valley left corner to right corner, 1 layer", sheet=sheet) == "blocked"


def test_layers_that_hang_together_are_counted_in_the_caption() -> None:
    """Sixteen layers, the corners closed in fours and eights: fewer than hang together cannot move."""
    halved = (
        "valley bottom edge onto top edge; valley left edge onto right edge; "
        "valley bottom edge onto top edge; valley left edge onto right edge"
    )
    corner, other = (
        "valley bottom right corner to top left corner",
        "valley top left corner to bottom right corner",
    )
    assert refused(halved, f"{corner}, 4 layers").hints[0] == f"say '{corner}, 8 layers'"
    eight = folded(halved, f"{corner}, 8 layers")
    assert len(eight.finished.facets) == 16 + 8
    assert captions(eight)[-1].endswith(", the 8 layers in front together.")
    assert refused(halved, f"{other}, 4 layers").hints[0].endswith(", all layers'")
    every = folded(halved, f"{other}, 16 layers")
    assert len(every.finished.facets) == 2 * 16
    assert captions(every)[-1].endswith(", all layers together.")


@pytest.mark.parametrize(
    ("back", "opens"),
    [
        ("valley A along the bottom edge", True),  # back to where it was
        ("valley A to midpoint of the bottom edge", False),  # a new fold
    ],
)
def test_a_flap_folded_back_along_its_own_fold_is_unfolded(back: str, opens: bool) -> None:
    """Craft practice: a movement arrow with an open head, and no fold line."""
    model = folded(
        "mark O at the centre; valley A to O",
        back,
        sheet="sheet square 100 mm, corner A at the bottom\n",
    )
    (panel,) = model.steps[1].panels
    (line,) = [s for s in panel.signs if isinstance(s, FoldLine)]
    (arrow,) = [s for s in panel.signs if isinstance(s, Arrow)]
    assert line.opens is opens
    assert arrow.act is ("unfold" if opens else "valley")
    scene = draw(model, load_style(), (150.0, 150.0))[1].scene
    assert ("fold.valley" in scene.signs) is not opens


def test_a_fold_counts_as_opening_only_where_none_is_made() -> None:
    """Of every valley fold in the samples: unfolded is what opens folds and makes no other."""
    for sample in ("masu", "cup", "helmet", "frame"):
        model = of(sample).model
        for record in (d for step in model.steps for d in step.records if d.move is valley.MOVE):
            (line,) = [s for s in record.signs if isinstance(s, FoldLine)]
            was, now = (
                [j.segment for j in state.joints if j.folded]
                for state in (record.before, record.after)
            )
            made = sum(distance(*s) for s in remainder(now, was))
            assert line.opens is (made < 1e-6), sample


PENTAGON = (
    "mark M at 1/2 of E A; mark N at 1/2 of A B; mark F at 1/2 of B C; mark G at 1/2 of C D; "
    "mark W at 3/5 of C B; mark U at 3/5 of F C; mark V at 3/5 of E G",
    "valley line E M onto line E W",
)


def test_a_line_moves_where_it_lies_on_the_paper_that_moves() -> None:
    """The end of A V beyond the fold is on another layer than the rest of it: that layer has to be free."""
    told = refused(
        *PENTAGON,
        "valley line A V onto line through N parallel to line G U, first, 1 layer",
        sheet="sheet regular pentagon, side 8 cm\n",
    )
    assert told.code == "blocked"


def test_layers_are_counted_on_the_paper_that_moves() -> None:
    """The end of the line that lies farthest from the fold is on other paper than the flap."""
    found = refused(
        "mark e0x2 at 2/4 of A B; mark e1x2 at 2/4 of B C; mark e1x3 at 3/4 of B C; mark e2x2 at 2/4 of C D; "
        "mark e3x3 at 3/4 of D A; mark w2 at 2/5 of e2x2 e0x2; mark w3 at 2/5 of e3x3 A; "
        "mark w4 at 1/5 of e1x3 e2x2; mark w6 at 3/5 of C B",
        "valley through e1x2 e2x2, moving B; swivel A along line w3 w4",
        "mountain line e0x2 w6 onto line through e2x2 perpendicular to line e1x2 w2, first, 1 layer",
    )
    assert found.code == "more-layers"
    assert found.hints[0].endswith(", all layers'")
