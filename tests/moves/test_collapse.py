"""Collapse: which parts of the named creases fold, and what is said where they do not fold flat."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.building.script import Script
from foldscript.moves.planning.flatness import amiss
from foldscript.paper.signs import Arrow
from foldscript.paper.silhouette import centre
from foldscript.source.diagnostics import FoldscriptError, Severity

from ..scripts import captions, covered, folded, folds, lies, outcome, refused, script

BASES = Path(__file__).resolve().parents[2] / "samples" / "bases"
CROSS = "crease left edge onto right edge as v; crease bottom edge onto top edge as h"
HEXAGON = "sheet regular hexagon, side 8 cm\n"
HEXAGON_LINES = (
    "crease A to D as d1; crease B to E as d2; crease C to F as d3; mark O where d1 meets d2; "
    "crease bottom edge onto top edge as p1; "
    "crease edge B C onto edge E F as p2; crease edge C D onto edge F A as p3"
)
SIX = "collapse mountain d1 and d2 and d3, valley p1 and p2 and p3, holding A"
STRIP = "sheet strip 20 cm by 3 cm\n"


def creases_across(*tenths: float) -> str:
    """Creases square to the long edge of the strip, at so many tenths of it."""
    return "; ".join(
        f"crease through {tenth}/10 of A B perpendicular to edge A B, as p{k}"
        for k, tenth in enumerate(tenths, 1)
    )


#: Eight rays of four lines through a place off the middle, so that their halves differ in length.
OFF_CENTRE = (
    "mark O at where line through 2/5 of A B perpendicular to edge A B "
    "meets line through 1/4 of A D perpendicular to edge D A; "
    "crease along line through O at 45 degrees to edge A B, as d1; "
    "crease along line through O at 135 degrees to edge A B, as d2; "
    "crease through O perpendicular to edge A D, as h; crease through O perpendicular to edge A B, as v"
)
FOUR_LINES = "collapse valley d1 and d2, mountain h and v, holding C"


def test_parts_of_the_creases_stay_flat_where_the_paper_wants_it() -> None:
    """Maekawa: of two mountain and two valley lines through a point, the shorter half of two stays flat."""
    model = folded(OFF_CENTRE, FOUR_LINES)
    assert [w.code for w in model.warnings] == ["stays-flat"] * 2
    assert [w.message.partition(":")[0] for w in model.warnings] == [
        "'h' stays flat between a place 25 mm from corner A and point O",
        "'v' stays flat between a place 25 mm from point O and point O",
    ]


def test_what_stays_flat_is_told_beside_a_later_mistake() -> None:
    """A later step that fails because of it is the first that one would see."""
    text = script(OFF_CENTRE, FOUR_LINES, "valley A to A")
    with pytest.raises(FoldscriptError) as error:
        folds(text)
    assert [d.code for d in error.value.diagnostics] == ["cannot-reach", "stays-flat", "stays-flat"]
    assert [d.severity for d in error.value.diagnostics][1:] == [Severity.WARNING] * 2


def test_nothing_is_told_where_all_that_is_named_folds() -> None:
    said = SIX.replace("d1 and d2 and d3", "d1 and d2").replace("holding A", "holding 1/3 of A B")
    assert folded(HEXAGON_LINES, said, sheet=HEXAGON).warnings == ()


def test_every_named_crease_folds_or_the_move_is_refused() -> None:
    """A crease that had to stay flat was once passed over in silence."""
    found = refused(f"{CROSS}; collapse mountain v and h")
    assert found.code == "not-flat"
    assert "4 mountains and 0 valleys" in found.message
    assert any("leave out" in hint for hint in found.hints)


def test_a_grid_of_whole_lines_does_not_fold() -> None:
    lines = "; ".join(
        f"crease through {k}/8 of A B perpendicular to edge A B, as a{k}; "
        f"crease through {k}/8 of A D perpendicular to edge A D, as b{k}"
        for k in range(1, 8)
    )
    senses = ", ".join(
        f"{'valley' if k % 2 else 'mountain'} a{k}, {'valley' if k % 2 else 'mountain'} b{k}"
        for k in range(1, 8)
    )
    assert outcome(f"{lines}; collapse {senses}") == "not-flat"


def test_the_missing_angle_is_named() -> None:
    """Kawasaki: alternate angles sum to 180 degrees. Here O M leaves the upright line 18.4 degrees off."""
    found = refused(
        "mark O at the centre; mark M at 1/3 of C D; mark N at 1/3 of A B; "
        f"{CROSS}; crease along line O M; "
        "collapse mountain line O M, valley line O N, valley v"
    )
    assert found.code == "not-flat"
    assert "on point O" in found.message
    assert "36.9 degrees instead of 180: 143.1 degrees are missing" in found.message


@pytest.mark.parametrize(
    ("total", "told"),
    [
        (36.87, "36.9 degrees instead of 180: 143.1 degrees are missing"),
        (180.04, "180.040 degrees instead of 180: 0.040 degrees too many"),
        (179.999998, "179.9999980 degrees instead of 180: 0.0000020 degrees are missing"),
    ],
)
def test_a_sum_that_is_missed_by_a_hair_is_told_to_the_digit_that_shows_it(
    total: float, told: str
) -> None:
    assert amiss(total) == told


def test_an_odd_number_of_creases_at_a_point() -> None:
    found = refused(
        f"mark O at the centre; mark M at 1/3 of C D; {CROSS}; crease along line O M; "
        "collapse mountain line O M, valley v"
    )
    assert "3 creases come together" in found.message


@pytest.mark.parametrize(
    ("tenths", "senses"),
    [
        (
            (2, 3, 4),
            "valley p1, valley p2, valley p3",
        ),  # rolled inwards: the turns grow, not shrink
        ((4, 6), "valley p1, valley p2"),  # two doors wider than what is between them
        ((2, 4, 5, 8), "valley p1, mountain p2, mountain p3, valley p4"),
    ],
)
def test_layers_that_would_collide_are_named(tenths: tuple[int, ...], senses: str) -> None:
    found = refused(f"{creases_across(*tenths)}; collapse {senses}", sheet=STRIP)
    assert found.code == "layers-collide"
    assert found.message.count("the part ") >= 2
    assert not any(
        "name the parts" in hint for hint in found.hints
    )  # whatever is named has to fold


#: The creases of the windmill base, named whole.
WHOLE = (
    "crease A to C as d1; crease B to D as d2; "
    "crease left edge onto right edge as upright; crease bottom edge onto top edge as level; "
    "crease left edge onto upright as l1; crease right edge onto upright as l3; "
    "crease bottom edge onto level as h1; crease top edge onto level as h3; "
    "crease A to centre as c1; crease B to centre as c2; crease C to centre as c3; crease D to centre as c4"
)


def test_whole_creases_of_which_parts_are_meant() -> None:
    """Hundreds of choices satisfy every vertex; the windmill needs eight parts of them, said as such."""
    senses = "valley l1 and l3 and h1 and h3 and d1 and d2, mountain c1 and c2 and c3 and c4"
    found = refused(WHOLE, f"collapse {senses}, holding centre")
    assert found.code == "several-ways"
    assert found.hints == ("name only the parts that are to fold, as 'line P Q'",)


@pytest.mark.parametrize("names", ["A B C D E F", "D E F A B C"])
def test_which_parts_fold_is_asked_where_as_much_could_fold_otherwise(names: str) -> None:
    """Three mountain and three valley lines through the middle of a hexagon: any two halves stay flat."""
    found = refused(HEXAGON_LINES, SIX, sheet=HEXAGON.rstrip() + f", corners named {names}\n")
    assert found.code == "several-ways"
    assert "could stay flat, or" in found.message


FOUR_PANELS = "; ".join(
    f"crease through {k}/4 of A B perpendicular to edge A B, as p{k}" for k in (1, 2, 3)
)


def test_which_of_two_layers_lies_over_the_other_is_asked() -> None:
    """Four equal panels, mountain, valley, valley: the last goes in between, or over all."""
    rolled = "collapse mountain p1, valley p2 and p3, holding A"
    found = refused(FOUR_PANELS, rolled, sheet=STRIP)
    assert found.code == "which-lies-over"
    assert (
        found.message
        == "the layers with corner A and corner B could lie either way round (in step 2)"
    )
    assert found.hints == ("add 'with A over B'", "or add 'with B over A'")


@pytest.mark.parametrize(
    ("words", "top"),
    [("with A over B", "A"), ("with B over A", "B"), ("with A under B", "B")],
)
def test_which_of_two_layers_lies_over_the_other_is_said(words: str, top: str) -> None:
    rolled = "collapse mountain p1, valley p2 and p3, holding A"
    model = folded(FOUR_PANELS, f"{rolled}, {words}", sheet=STRIP)
    state = model.finished
    front = state.top_down(range(len(state.facets)))[0]
    assert front in state.facets_on_sheet(state.sheet.corner(top))


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ("with B over A", "cannot-lie-over"),
        ("with A over D", "cannot-lie-over"),
        ("with B", "over-what"),
        ("over B", "over-what"),
        ("with B over A, with A", "over-what"),
    ],
)
def test_what_cannot_lie_so_is_refused(words: str, code: str) -> None:
    found = refused(
        FOUR_PANELS, f"collapse mountain p1 and p3, valley p2, holding A, {words}", sheet=STRIP
    )
    assert found.code == code
    assert found.hints


def test_a_line_said_both_ways_is_refused() -> None:
    """The first of the two senses was once taken in silence."""
    found = refused(CROSS, "collapse mountain v, valley v")
    assert found.code == "both-ways"


DOUBLE_BOAT = (
    "crease left edge onto right edge{0} as v; crease bottom edge onto top edge{0} as h; "
    "crease left edge onto v{0} as l; crease right edge onto v{0} as r; "
    "crease bottom edge onto h{0} as b; crease top edge onto h{0} as t",
    "mark W at bottom left corner; mark X at bottom right corner; "
    "mark Y at top right corner; mark Z at top left corner; mark K at the centre; "
    "mark H at midpoint of left edge; mark F at midpoint of right edge; "
    "mark P where l meets b; mark Q where r meets b; mark R where r meets t; mark S where l meets t",
    "collapse valley line P Q, line Q R, line R S, line S P, valley line W P, line X Q, line Y R, "
    "line Z S, mountain line P H, line Q F, line R F, line S H, holding K{0}",
)
BLINTZ = (
    "mark M at the centre; valley A to M; valley B to M; valley C to M; valley D to M",
    "turn over",
)


def test_all_layers_of_a_blintzed_square_collapse_as_one_sheet_does() -> None:
    """The Chinese junk's first half is the double boat of a square whose corners lie at its centre."""
    blintzed = folded(
        *BLINTZ,
        *(words.format(", all layers") for words in DOUBLE_BOAT),
        sheet="sheet square 100 mm, corner A at the bottom\n",
    )
    plain = folded(*(words.format("") for words in DOUBLE_BOAT))
    # the blintz halves the area (shared/checks/values.md, section 5)
    assert covered(blintzed) == pytest.approx(covered(plain) / 2)
    held = blintzed.finished.where((0.5, 0.5))
    assert held == blintzed.steps[1].after.where((0.5, 0.5))


def test_the_top_layer_alone_cannot_collapse() -> None:
    """Its edges are folded to the layer behind it."""
    found = refused(
        *BLINTZ,
        *(words.format(", all layers") for words in DOUBLE_BOAT[:2]),
        DOUBLE_BOAT[2].format(""),
        sheet="sheet square 100 mm, corner A at the bottom\n",
    )
    assert found.code == "not-flat"
    assert any("all layers" in hint for hint in found.hints)


def test_a_named_crease_of_one_layer_through_all_layers() -> None:
    """The crease is on the flap in front; the corner behind it goes along only where that is said."""
    steps = ("valley A to C", "crease A to midpoint of B D, 1 layer as k")
    top = folded(*steps, "collapse valley k, holding B")
    both = folded(*steps, "collapse valley k, all layers, holding B")
    assert (lies(top, "A"), lies(top, "C")) == ((50, 50), (100, 100))
    assert (lies(both, "A"), lies(both, "C")) == ((50, 50), (50, 50))


def test_a_number_of_layers_is_refused() -> None:
    assert refused(f"{CROSS}; collapse mountain v, 2 layers").code == "collapse-layers"


def arrows(base: str) -> set[tuple[tuple[float, float], tuple[float, float]]]:
    """Tails and heads of the last collapse of a base, from a middle at (0, 0) in halves of a side."""
    model = Script(BASES / f"{base}-base.foldscript").model
    panel = next(
        p
        for s in reversed(model.steps)
        for p in s.panels
        if any(isinstance(x, Arrow) and x.act == "lift" for x in p.signs)
    )
    signs = [x for x in panel.signs if isinstance(x, Arrow)]
    x, y = centre(panel.state)
    ends = [p for placed in panel.state.placed for p in placed]
    half = max(abs(p[0] - x) for p in ends)
    return {
        (((t[0] - x) / half, (t[1] - y) / half), ((h[0] - x) / half, (h[1] - y) / half))
        for t, h in ((s.tail, s.head) for s in signs)
    }


def rounded(found: set[tuple[tuple[float, float], tuple[float, float]]]) -> set[tuple[float, ...]]:
    return {tuple(round(c, 6) for p in way for c in p) for way in found}


def test_arrows_lead_the_corners_to_where_they_land() -> None:
    """The windmill: each corner goes along a side to its middle, all four the same way round."""
    found = rounded(arrows("windmill"))
    assert len(found) == 4
    for tx, ty, hx, hy in found:
        assert abs(tx) == abs(ty) == 1
        assert sorted((abs(hx), abs(hy))) == [0, 1]
    turns = {tx * hy - ty * hx > 0 for tx, ty, hx, hy in found}
    assert len(turns) == 1


def test_three_corners_go_to_the_fourth() -> None:
    """The preliminary base."""
    found = rounded(arrows("preliminary"))
    assert len(found) == 3
    assert len({(hx, hy) for _, _, hx, hy in found}) == 1


def test_the_caption_tells_which_corners_come_where() -> None:
    """All on the one that is held; two and two; and with the short words of a second collapse too."""
    diagonals = "crease A to C as d1; crease B to D as d2"
    middles = "crease edge A B onto edge C D, as h; crease edge B C onto edge D A, as v"
    model = folded(
        diagonals, "turn over", middles, "collapse mountain d2, valley h, valley v, holding A"
    )
    assert captions(model)[-1].endswith("So corners B, C and D come to lie on corner A.")
    assert {name for name, _ in model.steps[-1].panels[-1].labels} == set("ABCD")
    waterbomb = folded(
        diagonals, "turn over", middles, "collapse valley d1, valley d2, mountain h, holding A"
    )
    told = waterbomb.steps[-1].wording[-1]
    assert told.again is not None
    for words in (told, told.again):
        assert words.render().endswith(
            "So corner D comes to lie on corner A. So corner C comes to lie on corner B."
        )


@pytest.mark.parametrize("said", ["valley", "mountain"])
def test_a_fold_that_is_there_already_keeps_its_way(said: str) -> None:
    """The small corner lies in front, a valley fold: the other word is told, and changes nothing."""
    model = folded(
        "crease left edge onto right edge, as v; valley A to 1/8 of A C as k",
        f"collapse valley v, {said} k, holding C",
    )
    assert lies(model, "A") == (87.5, 12.5)
    told = [w for w in model.warnings if w.code == "folded-the-other-way"]
    assert len(told) == (said == "mountain")
    assert all("'k' is folded already, as a valley fold" in w.message for w in told)


def test_a_fold_seen_from_its_other_side_is_the_other_fold() -> None:
    """Turned over, the small corner lies behind: a mountain fold."""
    model = folded(
        "crease left edge onto right edge, as v; valley A to 1/8 of A C as k",
        "turn over",
        "collapse valley v, mountain k, holding C",
    )
    assert not model.warnings


def test_either_word_does_for_a_fold_of_halves() -> None:
    """Of two equal halves neither is the flap."""
    model = folded(
        "crease left edge onto right edge, as v; valley bottom edge onto top edge, as h",
        "collapse valley v, mountain h, holding C, all layers",
    )
    assert not [w for w in model.warnings if w.code == "folded-the-other-way"]


def test_no_layer_lies_over_itself() -> None:
    told = refused(
        "crease A to C, as k1; crease B to D, as k2; turn over",
        "crease bottom edge onto top edge, as k3; crease left edge onto right edge, as k4",
        "collapse mountain k2, valley k3, valley k4, holding A, with A over A",
    )
    assert told.code == "cannot-lie-over"
    assert "lie on one layer" in told.message
