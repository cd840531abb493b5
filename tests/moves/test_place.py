"""Units put to others: where they lie, between which layers, and what does not fit."""

from __future__ import annotations

import pytest

from foldscript.folding.steps import Model
from foldscript.geometry.polygons import area
from foldscript.paper.signs import Arrow, Opening
from foldscript.paper.state import State

from ..conftest import assert_sound
from ..scripts import captions, folds, refused_text

#: A strip of 90 x 60 mm: the top third of a square is folded to the front, so that there is a pocket between
#: D C and the paper behind it, 30 mm deep, closed at the top.
POCKET = """
sheets 3
sheet square 90 mm, coloured side down
step
  mark P at 2/3 of A D
  mark Q at 2/3 of B C
  mark L at 1/3 of A D
  mark R at 1/3 of B C
  valley along line P Q, moving D
assemble
"""


def assembled(*steps: str, unit: str = POCKET) -> Model:
    """The units put together, every state found sound by the validator."""
    model = folds(unit + "".join(f"step\n{step}\n" for step in steps))
    assert_sound(model)
    return model


def refusal(*steps: str, unit: str = POCKET) -> tuple[str, str]:
    """Code and message of what does not fit."""
    found = refused_text(unit + "".join(f"step\n{step}\n" for step in steps))
    return found.code, found.message


def at(state: State, name: str, unit: int) -> tuple[float, float]:
    """Where a corner of a unit lies, in mm."""
    x, y = state.where(state.sheet.corner(f"{name} of unit {unit}"))
    return round(x * 90, 6) + 0.0, round(y * 90, 6) + 0.0


def stack(state: State, x: float, y: float) -> list[int]:
    """The units of the layers at a point (mm), topmost first."""
    return [state.sheets[i] + 1 for i in state.facets_at((x / 90, y / 90))]


def test_a_unit_is_carried_as_it_lies() -> None:
    state = assembled("place unit 2, A of unit 2 to R of unit 1").finished
    assert at(state, "A", 2) == (90, 30)
    assert at(state, "B", 2) == (180, 30)
    assert at(state, "A", 1) == (0, 0)


def test_two_points_turn_it() -> None:
    """A goes to Q and B to P: half a turn, so that its pocket lies below y = 60."""
    state = assembled(
        "place unit 2, A of unit 2 to Q of unit 1 and B of unit 2 to P of unit 1"
    ).finished
    assert at(state, "A", 2) == (90, 60)
    assert at(state, "B", 2) == (0, 60)
    assert at(state, "D", 2) == (90, 30)


def test_turned_over() -> None:
    """Turned over from side to side: what was at its right is at its left, and its back shows."""
    state = assembled("place unit 2, B of unit 2 to A of unit 1, turned over").finished
    assert at(state, "B", 2) == (0, 0)
    assert at(state, "A", 2) == (90, 0)
    mine = [f for f, k in zip(state.facets, state.sheets, strict=True) if k == 1]
    assert sorted((area(f.outline), f.shows_front) for f in mine) == [
        (pytest.approx(1 / 3), True),
        (pytest.approx(2 / 3), False),
    ]


@pytest.mark.parametrize(("where", "order"), [("", [2, 1]), (", behind", [1, 2])])
def test_in_front_and_behind(where: str, order: list[int]) -> None:
    state = assembled(f"place unit 2, A of unit 2 to A of unit 1{where}").finished
    assert stack(state, 45, 15) == order


def test_a_tab_in_a_pocket() -> None:
    """Unit 2, half a turn round, reaches with A B up to the closed edge: flap, tab, paper behind."""
    model = assembled(
        "place unit 2, A of unit 2 to Q of unit 1 and B of unit 2 to P of unit 1, under D of unit 1"
    )
    assert stack(model.finished, 45, 45) == [1, 2, 1]
    assert stack(model.finished, 45, 15) == [2, 2, 1]
    assert captions(model)[-1].startswith("Slide unit 2 in under the layer with corner D of unit 1")


def test_the_figure_shows_it_beside_the_paper() -> None:
    """It comes from below, where the pocket is open, and nothing lies on anything else before."""
    model = assembled(
        "place unit 2, A of unit 2 to Q of unit 1 and B of unit 2 to P of unit 1, under D of unit 1"
    )
    (panel,) = model.steps[-1].panels
    sheets = panel.state.sheets
    assert all(sheets[i] == sheets[j] for i, j in panel.state.order)
    (arrow,) = (s for s in panel.signs if isinstance(s, Arrow))
    assert arrow.act == "tuck"
    assert arrow.tail[0] == pytest.approx(arrow.head[0])
    assert arrow.tail[1] < 0 < arrow.head[1]


def test_over_a_layer_of_a_pocket() -> None:
    """Named by the layer below it: just on top of the paper with A, so under the flap with D."""
    state = assembled(
        "place unit 2, A of unit 2 to Q of unit 1 and B of unit 2 to P of unit 1, over A of unit 1"
    ).finished
    assert stack(state, 45, 45) == [1, 2, 1]


def test_between_two_layers() -> None:
    state = assembled(
        "place unit 2, A of unit 2 to Q of unit 1 and B of unit 2 to P of unit 1, "
        "between D of unit 1 and A of unit 1"
    ).finished
    assert stack(state, 45, 45) == [1, 2, 1]


def test_too_deep_is_told_by_how_much() -> None:
    """Carried 30 mm further, its tab would pass the fold that closes the pocket by 30 mm."""
    code, message = refusal(
        "place unit 2, R of unit 2 to P of unit 1 and L of unit 2 to Q of unit 1, under D of unit 1"
    )
    assert code == "tab-too-large"
    assert "30.0 mm past a fold" in message


def test_lengths_that_differ() -> None:
    """A B is 90 mm long, A P 60 mm."""
    code, message = refusal(
        "place unit 2, A of unit 2 to A of unit 1 and B of unit 2 to P of unit 1"
    )
    assert code == "does-not-fit"
    assert "90.0 mm apart" in message
    assert "60.0 mm" in message


def test_a_pocket_that_is_closed_all_round() -> None:
    """A sheet folded shut about what would have to lie in it: its edges are folded over to the middle."""
    envelope = """
sheets 2
sheet square 90 mm, coloured side down
step
  valley A to the centre
  valley B to the centre
  valley C to the centre
  valley D to the centre
assemble
"""
    code, _ = refusal(
        "place unit 2, A of unit 2 to A of unit 1, "
        "under A of unit 1 and B of unit 1 and C of unit 1 and D of unit 1",
        unit=envelope,
    )
    assert code == "no-way-in"


@pytest.mark.parametrize(
    ("statement", "code"),
    [
        ("place", "which-unit"),
        ("place unit 4, A of unit 1 to B of unit 1", "no-such-unit"),
        ("place unit 1, A of unit 1 to B of unit 1", "unit-there"),
        ("place unit 2", "two-points"),
        ("place unit 2, A of unit 1 to A of unit 2", "not-of-the-unit"),
        ("place unit 2, A of unit 2 to B of unit 2", "on-the-unit-itself"),
        ("place unit 2, A of unit 2 to A of unit 1, under B of unit 2", "same-layer"),
        ("place unit 2, A of unit 2 to A of unit 1 and A of unit 2 to B of unit 1", "one-point"),
        ("place unit 2, A of unit 2 to P of unit 1, under D of unit 1", "tuck-misses"),
        ("place unit 2, A of unit 2 to A of unit 1 near B of unit 1", "unexpected-words"),
    ],
)
def test_what_cannot_be_placed(statement: str, code: str) -> None:
    assert refusal(statement)[0] == code


def test_only_once() -> None:
    twice = "place unit 2, A of unit 2 to A of unit 1"
    assert refusal(twice, twice)[0] == "unit-there"


def test_no_units_without_assemble() -> None:
    found = refused_text("step\nplace unit 2, A to B\n")
    assert found.code == "no-units"


def test_units_of_cut_paper() -> None:
    """Of each only the half that is left is put together; `assembled` finds all of it sound."""
    half = POCKET.replace("valley along line P Q, moving D", "cut from P to Q, discarding D")
    state = assembled("place unit 2, A of unit 2 to P of unit 1", unit=half).finished
    assert sum(area(ring) for ring in state.outlines) == pytest.approx(2 * 2 / 3)


def test_units_of_another_size() -> None:
    """A part in inches and one in centimetres: lengths are those of the paper, not of the sheet."""
    text = """
part "Large"
sheet square 120 mm
step
  crease A to C
part "Small"
sheet square 60 mm
step
  crease A to C
assemble
step
  place unit 2, A of unit 2 to C of unit 1
"""
    model = folds(text)
    assert_sound(model)
    x, y = model.finished.where(model.finished.sheet.corner("C of unit 2"))
    assert (x * 120, y * 120) == pytest.approx((180, 180))


def test_folds_go_on_with_the_units_put_together() -> None:
    """A flap of one unit folded over the other lies on it; the other stays where it was."""
    state = assembled(
        "place unit 2, A of unit 2 to R of unit 1",
        "valley B of unit 2 to A of unit 2, all layers",
    ).finished
    assert at(state, "A", 2) == (90, 30)
    assert at(state, "B", 2) == (90, 30)
    assert at(state, "A", 1) == (0, 0)


def test_unfolding_past_a_unit_is_refused() -> None:
    code, _ = refusal(
        "valley B of unit 1 to A of unit 1, all layers",
        "place unit 2, A of unit 2 to A of unit 1",
        "unfold",
    )
    assert code == "placed-since"


MIRRORED = """
sheets 2
sheet square 90 mm, coloured side down
step
  mark P at 2/3 of {A} {D}
  mark Q at 2/3 of {B} {C}
  valley along line P Q, moving {D}
assemble
step
  place unit 2, {A} of unit 2 to Q of unit 1 and {B} of unit 2 to P of unit 1, {where} {D} of unit 1
"""


@pytest.mark.parametrize("where", ["under", "over"])
def test_the_mirrored_script_gives_the_mirrored_paper(where: str) -> None:
    """With the corners named from right to left everything lies as in a mirror."""
    one = folds(MIRRORED.format(A="A", B="B", C="C", D="D", where=where)).finished
    other = folds(MIRRORED.format(A="B", B="A", C="D", D="C", where=where)).finished
    for name, twin in zip("ABCD", "BADC", strict=True):
        for unit in (1, 2):
            x, y = one.where(one.sheet.corner(f"{name} of unit {unit}"))
            u, v = other.where(other.sheet.corner(f"{twin} of unit {unit}"))
            assert (1 - x, y) == pytest.approx((u, v), abs=1e-9)
    for x, y in ((30, 45), (60, 15), (20, 50)):
        assert stack(one, x, y) == stack(other, 90 - x, y)


#: All four corners lie on each other, and are cut off.
WITHOUT_CORNERS = """sheet square 90 mm
step
  valley bottom edge onto top edge
  valley left edge onto right edge
  cut along centre line, all layers, discarding 1/3 of B C
"""


def test_a_corner_that_the_unit_has_lost_is_called_cut_off() -> None:
    unit = f"sheets 2\n{WITHOUT_CORNERS}assemble\n"
    code, message = refusal("place unit 2, A of unit 2 to B of unit 1", unit=unit)
    assert code == "cut-off"
    assert message.startswith("'A of unit 2' was cut off in step 1")


def test_where_nothing_has_a_name_none_are_listed() -> None:
    found = refused_text(f"{WITHOUT_CORNERS}step\n  valley F to top edge\n")
    assert found.code == "unknown-name"
    assert not any("known here" in hint for hint in found.hints)


#: A square in a zigzag of thirds: the front third hangs from the top, the rear third rises from the bottom.
ZIGZAG = """
sheets 2
sheet square 90 mm, coloured side down
step
  mark P at 1/3 of A D
  mark Q at 2/3 of A D
  mark R at 1/3 of B C
  mark S at 2/3 of B C
  valley along line Q S, moving D
  mountain along line P R, moving A
  mark K at 1/3 of P R
  mark L at 2/3 of P R
  mark M at 1/3 of Q S
  mark N at 2/3 of Q S
assemble
"""


@pytest.mark.parametrize(
    ("where", "above", "below", "folds"),
    [
        # from below, between front and middle: those two hang together above, where it ends
        (
            "P of unit 2 to M of unit 1 and Q of unit 2 to N of unit 1, under D of unit 1",
            1,
            2,
            (0, 1),
        ),
        # from above, between middle and rear: those two hang together below, where it ends
        (
            "P of unit 2 to L of unit 1 and Q of unit 2 to K of unit 1, over A of unit 1",
            2,
            1,
            (1, 2),
        ),
    ],
)
def test_which_of_two_openings_is_told(
    where: str, above: int, below: int, folds: tuple[int, int]
) -> None:
    signs = assembled(f"place unit 2, {where}", unit=ZIGZAG).steps[-1].panels[-1].signs
    (sign,) = (s for s in signs if isinstance(s, Opening))
    assert (sign.above, sign.below) == (above, below)
    one, other = (0, 1), (1, 2)
    assert set(sign.folds) == {(*one, one != folds), (*other, other != folds)}


def test_of_one_opening_nothing_more_is_told() -> None:
    model = assembled(
        "place unit 2, A of unit 2 to Q of unit 1 and B of unit 2 to P of unit 1, under D of unit 1"
    )
    assert not any(isinstance(s, Opening) for s in model.steps[-1].panels[-1].signs)
