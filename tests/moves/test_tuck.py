"""Tuck: under a layer, between two, inside; or slipped there without a fold."""

from __future__ import annotations

import pytest

from foldscript.geometry import polygons
from foldscript.moves import tuck
from foldscript.paper.signs import Arrow, FoldLine, Sense
from foldscript.paper.state import State

from ..scripts import captions, folded, folds, layers_at, lies, refused, refused_text

BOOK = "valley bottom edge onto top edge"
CORNER = "mark P at 1/3 of A B; mark Q at 2/3 of A D"
DOORS = "valley A to 2/3 of A B; valley B to 1/3 of A B"


def stack(state: State, x: float, y: float) -> list[str]:
    """Names of the sheet's corners on the plates at a folded spot (mm), from the front."""
    unit = state.sheet.unit_mm
    found = []
    for i in state.facets_at((x / unit, y / unit)):
        plate = next(p for p in state.plates if i in p)
        names = [
            name
            for name, at in zip(state.sheet.corner_names, state.sheet.outline, strict=True)
            if set(state.facets_on_sheet(at)) & set(plate)
        ]
        found.append("".join(names))
    return found


def test_a_corner_goes_inside() -> None:
    """The front layer's corner lies between front and back: front, tip, back (derived)."""
    model = folded(BOOK, CORNER, "tuck A through P Q, inside")
    assert stack(model.finished, 30, 75) == ["B", "A", "CD"]
    arrow, line = (
        next(s for s in model.steps[-1].panels[0].signs if isinstance(s, kind))
        for kind in (Arrow, FoldLine)
    )
    assert isinstance(arrow, Arrow)
    assert (arrow.act, arrow.under) == ("tuck", True)
    assert isinstance(line, FoldLine)
    assert line.sense is Sense.MOUNTAIN
    assert captions(model)[-1] == (
        "Fold corner A over along the line through P and Q and tuck it inside."
    )


def test_the_back_corner_goes_inside_too() -> None:
    """From the back it is a valley fold."""
    model = folded(BOOK, CORNER, "tuck D through P Q, inside")
    assert stack(model.finished, 30, 75) == ["AB", "D", "C"]


def test_both_corners_inside() -> None:
    model = folded(BOOK, CORNER, "tuck A through P Q, inside", "tuck D through P Q, inside")
    assert layers_at(model, 30, 75) == 4
    assert stack(model.finished, 30, 75)[0] == "B"
    assert stack(model.finished, 30, 75)[3] == "C"


def test_under_a_layer() -> None:
    """A strip's end goes under the door that lies on the strip already."""
    model = folded("valley A to 2/3 of A B", "tuck B to 1/3 of A B, under A")
    assert stack(model.finished, 50, 50) == ["AD", "BC", ""]
    plain = folded("valley A to 2/3 of A B", "valley B to 1/3 of A B")
    assert stack(plain.finished, 50, 50) == ["BC", "AD", ""]


def test_between_two_layers() -> None:
    """Said by the two layers it goes between, the same as inside."""
    for line in (
        "tuck A through P Q, between B and C",
        "tuck A through P Q, between C and B",
        "tuck mountain A through P Q, between B and C",
        "tuck A through P Q, over C",
    ):
        model = folded(BOOK, CORNER, line)
        assert stack(model.finished, 30, 75) == ["B", "A", "CD"], line


def test_a_sense_that_is_said_is_kept() -> None:
    found = refused(BOOK, CORNER, "tuck valley A through P Q, between B and C")
    assert found.code == "layers-collide"


def test_slipped_under() -> None:
    """Without a fold line only the order changes."""
    model = folded(DOORS, "tuck B under A")
    assert stack(model.steps[0].after, 50, 50) == ["BC", "AD", ""]
    assert stack(model.finished, 50, 50) == ["AD", "BC", ""]
    assert captions(model)[-1] == "Tuck corner B under the layer with corner A."


@pytest.mark.parametrize(
    ("steps", "code"),
    [
        (("tuck A to C",), "tuck-where"),
        ((DOORS, "tuck inside"), "tuck-what"),
        ((DOORS, "tuck A inside"), "tuck-where"),
        ((DOORS, "tuck A under B"), "lies-there"),
        ((DOORS, "tuck A under D"), "same-layer"),
        ((DOORS, "tuck B under A, 2 layers"), "unexpected-words"),
        ((BOOK, CORNER, "tuck A through P Q, between C and D"), "same-layer"),
        (("tuck A to 1/4 of A C, inside",), "not-inside"),
        ((BOOK, CORNER, "tuck A through P Q, under C"), "layers-collide"),
        (("valley D to 1/4 of D B", "tuck B to 9/10 of A B, under D"), "tuck-misses"),
    ],
)
def test_refusals(steps: tuple[str, ...], code: str) -> None:
    found = refused(*steps)
    assert found.code == code, found.message
    assert found.hints or code in ("lies-there", "same-layer", "tuck-what", "tuck-misses")


def test_a_point_of_two_flaps_side_by_side_slips_nowhere() -> None:
    """The ears of a kite meet at the middle of the sheet."""
    found = refused(
        "crease B to D as k; valley edge A B onto k; valley edge A D onto k", "tuck centre under C"
    )
    assert found.code == "which-flap", found.message
    assert found.hints == ("name a point that lies on that flap alone",)


def test_flaps_that_do_not_reach_each_other() -> None:
    """Two small corners: the sheet on which B hangs lies under A, but B does not."""
    corners = "valley A to 1/4 of A C; valley B to 1/4 of B D"
    found = refused(corners, "tuck B under A")
    assert found.code == "tuck-misses"
    assert "the flap with corner B does not reach that layer" in found.message
    assert any("say where it is folded" in hint for hint in found.hints)


def test_the_refusal_names_what_is_in_the_way() -> None:
    """The front layer's corner cannot go under the back layer: they hang together at the fold."""
    found = refused(BOOK, CORNER, "tuck A through P Q, under C")
    assert found.message.startswith("the flap cannot be tucked under the layer with corner C")
    assert "the layer with corner A" in found.message


def test_a_flap_does_not_open_through_another_that_opens() -> None:
    """A preliminary base folded in half: two folds lie on each other where the flap would swing."""
    base = (
        "mark M at midpoint of B C; mark N at midpoint of D A; crease A to C as d1; crease B to D as d2; "
        "turn over; crease edge A B onto edge C D, as h; crease edge B C onto edge D A, as v",
        "collapse mountain d2, valley h, valley v, holding A",
        "valley bottom corner to top corner, all layers",
    )
    diamond = "sheet square 100 mm, coloured side up, corner A at the bottom\n"
    assert refused(*base, "tuck M to N, inside", sheet=diamond).code == "layers-collide"


def test_layers_are_counted_from_the_flap_named() -> None:
    """A flap of two layers, A's under D's, on two more; from the back A's would be the third.

    The flap from x = 100/3 to 200/3, its end folded behind at 50: A lands at 100/3 (derived).
    """
    doubled = (
        f"mark P at 1/2 of A B; mark N at 2/3 of A B; {BOOK}",
        "valley A to N, all layers",
    )
    model = folded(
        *doubled, "tuck mountain D along line through P perpendicular to top edge, 2 layers, over B"
    )
    assert lies(model, "A") == lies(model, "D") == pytest.approx((100 / 3, 100))
    assert stack(model.finished, 40, 75) == ["", "", "A", "D", "B", "C"]


#: A paper cap up to its lower flap: a band of two layers in front, folded together at its upper edge, and
#: before it a flap with E whose sides hang together as well.
CAP_SHEET = "sheet rectangle 280 mm by 400 mm, coloured side down\n"
CAP = (
    "mark G at midpoint of A D; valley top edge onto bottom edge",
    "crease left edge onto right edge as mid",
    "mark U at midpoint of the top edge; valley top left corner onto mid, through U; "
    "valley top right corner onto mid, through U",
    "mark K at where the left edge meets the top left edge; mark F at 1/4 of K G; "
    "mark L at where the right edge meets the top right edge; "
    "valley bottom edge onto line K L, 1 layer as rim; mark S where rim meets mid; "
    "valley along line K L, moving S",
    "turn over",
    "valley left edge onto mid; valley right edge onto mid",
    "mark P at bottom left corner; mark Q at bottom right corner; "
    "mark J where line through K perpendicular to mid meets the left edge; "
    "mark J2 where line through K perpendicular to mid meets the right edge; "
    "valley P onto line J J2, through J; valley Q onto line J J2, through J2",
    "mark E at midpoint of the bottom edge; mark H where line through S perpendicular to mid meets mid; "
    "mark N at midpoint of J H; mark N2 at midpoint of H J2",
)


def test_slipping_moves_no_other_paper() -> None:
    """The end of the cap's flap hangs on its sides: only the rest could be laid over it, and is not."""
    ended = (
        *CAP,
        "valley bottom edge onto line J J2, all layers; "
        "valley along line J J2, moving midpoint of the bottom edge, all layers",
    )
    for under in ("under N", "under N and N2"):
        found = refused(*ended, f"tuck E, {under}", sheet=CAP_SHEET)
        assert found.code == "layers-collide"
        assert found.message.startswith("the flap cannot be tucked under the layer with point N")


def test_a_flap_goes_under_two_layers_side_by_side() -> None:
    """The end of the cap's flap goes behind both halves of the band, and these stay as they lie.

    At the middle line two of its layers lie on each other.
    """
    before = folded(*CAP, "valley along line J J2, moving E, all layers", sheet=CAP_SHEET)
    fold = "tuck mountain E along line through S perpendicular to mid, 3 layers, under N and N2"
    model = folded(*CAP, "valley along line J J2, moving E, all layers", fold, sheet=CAP_SHEET)
    state, spot = model.finished, (137 / 400, 85 / 400)
    e = set(state.facets_on_sheet((140 / 400, 0.0)))
    pile = state.facets_at(spot)
    assert len(pile) == len(before.finished.facets_at(spot)) + 2
    band = [i for i in pile if polygons.centroid(state.facets[i].outline)[1] > 340 / 400][:2]
    assert pile[4:6][-1] in e  # flap, its side, band, band, side, end
    assert pile[2:4] == tuple(band)
    assert captions(model)[-1].endswith(
        "under the layer with point N and under the layer with point N2."
    )


def test_layers_without_a_line_and_inside_of_something() -> None:
    told = refused(DOORS, "tuck B, 1 layer, under A")
    assert told.code == "unexpected-words"
    assert "goes with a fold line" in told.message
    told = refused(BOOK, CORNER, "tuck A through P Q, inside C")
    assert told.code == "unexpected-words"
    assert "'inside' stands alone" in told.message


@pytest.mark.parametrize(
    ("before", "line", "instead"),
    [
        (
            "valley A to 2/3 of A B; valley B to 1/3 of A B",
            "tuck B inside",
            "tuck B under A",
        ),
        (
            "mark P at 1/3 of A B; mark Q at 2/3 of A D; valley bottom edge onto top edge",
            "tuck A through P Q, into the pocket",
            "tuck A through P Q, inside",
        ),
    ],
)
def test_the_layer_that_takes_the_flap_is_told(before: str, line: str, instead: str) -> None:
    assert refused(before, line).hints[0] == f"say '{instead}'"
    folded(before, instead)


def test_where_no_layer_takes_the_flap_none_is_told() -> None:
    found = refused("valley A to C", "tuck A inside")
    assert not any("'tuck" in hint or "tuck A under" in hint for hint in found.hints)


def test_the_arrow_knows_the_edge_that_the_flap_goes_under() -> None:
    """The front layer hangs down to the middle: its raw edge is the mouth, not the fold line (derived)."""
    model = folded("valley D to 1/2 of A D", "tuck A to 5/8 of A D, under D")
    (arrow,) = (s for s in model.steps[-1].panels[0].signs if isinstance(s, Arrow))
    assert arrow.mouth is not None
    assert sorted(arrow.mouth) == [
        (pytest.approx(0.0), pytest.approx(0.5)),
        (pytest.approx(1.0), pytest.approx(0.5)),
    ]


def test_an_arrow_in_front_of_everything_goes_under_nothing() -> None:
    model = folded("valley D to 1/2 of A D", "valley A to 5/8 of A D")
    (arrow,) = (s for s in model.steps[-1].panels[0].signs if isinstance(s, Arrow))
    assert arrow.mouth is None


#: Folded in half, its open edges below: the fold above cannot go under the front layer from in front.
SHUT_ABOVE = "valley top edge onto bottom edge"


def test_a_tuck_that_only_goes_behind_is_not_folded_behind_unasked() -> None:
    """A tuck folds like a valley fold. What is proposed instead says 'mountain', and folds behind."""
    found = refused(
        SHUT_ABOVE, "tuck top edge onto 1 cm short of the bottom edge, all layers, under C"
    )
    assert found.hints[-1] == "or, to fold it behind, say 'tuck mountain'"
    behind = folded(
        SHUT_ABOVE, "tuck mountain top edge onto 1 cm short of the bottom edge, all layers, under C"
    )
    assert layers_at(behind, 50, 20) == 4
    assert "CD" in stack(behind.finished, 50, 20)[0]


def test_a_tuck_that_goes_nowhere_is_told_of_no_other_way() -> None:
    found = refused(BOOK, CORNER, "tuck A through P Q, under C")
    assert not any("mountain" in hint for hint in found.hints)


#: A cross. On its middle lie: an arm from above with a wing folded back over it at the left, an arm from
#: below that the wing covers, and over all of them an arm from the right whose end is folded back at the
#: left too.
_CROSS = (
    "mark a1 at 21/29 of A D; mark a2 at 21/29 of B C; mark b1 at 9/29 of A D; mark b2 at 9/29 of B C",
    "mark T1 at 5/13 of D C; mark T2 at 5/13 of A B; mark L1 at 7/26 of A B; mark L2 at 7/26 of D C",
    "mark N1 at 11/26 of A B; mark N2 at 11/26 of D C; mark R1 at 15/26 of A B; mark R2 at 15/26 of D C",
    "mark M1 at 23/26 of A B; mark M2 at 23/26 of D C; mark E2 where line a1 a2 meets line T1 T2",
    "mark E1 where line a1 a2 meets line L1 L2; mark F1 where line b1 b2 meets line N1 N2",
    "mark F2 where line b1 b2 meets line R1 R2; mark G where line a1 a2 meets line R1 R2",
    "mark V1 where line b1 b2 meets line M1 M2; mark V2 where line a1 a2 meets line M1 M2",
    "mark Y at midpoint of F2 V2; mark W at midpoint of F1 R1; mark K at midpoint of E1 T1",
    "cut from T1 to E2 to a2, discarding C; cut from b1 to F1 to N1, discarding A",
    "cut from R1 to F2 to b2, discarding B; cut from a1 to E1",
    *("valley through E1 E2, moving T1", "valley through F1 F2, moving R1"),
    *("valley through E1 L2, moving D, 1 layer", "valley through F2 G, moving b2"),
    "valley through V1 V2, moving b2, 1 layer",
)
_CROSS_SHEET = "sheet rectangle 260 mm by 145 mm\n"


def test_a_flap_that_can_go_under_in_two_ways_is_asked_about() -> None:
    """Under the arm from below, the arm from the right lies all inside the wing and what that hangs on, or
    with its end around both of them: over as much paper either way. Said between which, it goes there.
    """
    found = refused(*_CROSS, "tuck Y under W", sheet=_CROSS_SHEET)
    assert found.code == "which-lies-over"
    assert "more than one way" in found.message
    assert any("'between'" in hint for hint in found.hints)
    folded(*_CROSS, "tuck Y between W and K", sheet=_CROSS_SHEET)


@pytest.mark.parametrize(
    ("before", "line", "said"),
    [
        (DOORS, "tuck B under C", "tuck B under A"),
        (f"{BOOK}; {CORNER}", "tuck A through P Q, between C and D", "tuck A through P Q, inside"),
    ],
)
def test_a_tuck_under_its_own_layer_is_told_where_it_goes(
    before: str, line: str, said: str
) -> None:
    told = refused(*before.split("; "), line)
    assert f"say '{said}'" in told.hints


def test_only_layers_that_the_flap_comes_to_lie_on_are_tried(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Many points have names; one layer lies where the flap does."""
    marks = "; ".join(f"mark P{n} at {n}/20 of C D" for n in range(1, 20))
    tries: list[object] = []
    made = tuck._put

    def counted(*asked: object) -> object:
        tries.append(asked)
        return made(*asked)  # type: ignore[arg-type]

    monkeypatch.setattr(tuck, "_put", counted)
    told = refused(marks, DOORS, "tuck B inside")
    assert told.hints[0] == "say 'tuck B under A'"
    assert len(tries) <= 16


def test_a_flap_that_meets_the_fold_above_it_is_to_end_before_that() -> None:
    told = refused_text(
        "sheet rectangle 10 cm by 20 cm\nstep\n  crease left edge onto right edge as middle\n"
        "  valley left edge onto middle\n  valley right edge onto middle\n"
        "  mountain along line 15 mm from the top edge, moving D, all layers\nstep\n"
        "  mark M where middle meets the top edge\n  mark L at the top left corner\n"
        "  mark R at the top right corner\n  mark P where line 40 mm from the top edge meets left edge\n"
        "  mark Q where line 40 mm from the top edge meets right edge\n  mark U at midpoint of M P\n"
        "  valley through M P, moving L, all layers\n  valley through M Q, moving R, all layers\n"
        "step\n  tuck bottom edge onto line through U parallel to bottom edge, all layers, under L and R\n"
    )
    assert told.code == "layers-collide"
    assert told.hints[0].startswith(
        "let the flap end before the fold that holds what it goes under"
    )
    assert not any("more layers" in hint for hint in told.hints)


def test_the_arrow_ends_where_the_edge_goes_in_and_not_between_two_flaps() -> None:
    """The middle of a shirt's hem comes between the tips of the collar, its sides go under them."""
    model = folds(
        "sheet rectangle 10 cm by 20 cm\nstep\n  crease left edge onto right edge as middle\n"
        "  valley left edge onto middle\n  valley right edge onto middle\n"
        "  mountain along line 15 mm from the top edge, moving D, all layers\nstep\n"
        "  mark M where middle meets the top edge\n  mark L at the top left corner\n"
        "  mark R at the top right corner\n  mark P where line 15 mm from the top edge meets left edge\n"
        "  mark Q where line 15 mm from the top edge meets right edge\n"
        "  mark U at 17 mm from M on line M A\n"
        "  valley through M P, moving L, all layers\n  valley through M Q, moving R, all layers\n"
        "step\n  tuck bottom edge onto line through U parallel to bottom edge, all layers, under L and R\n"
    )
    (arrow,) = (s for s in model.steps[-1].records[-1].signs if isinstance(s, Arrow))
    assert arrow.mouth is not None
    assert arrow.head[0] != pytest.approx(0.25, abs=0.01)
