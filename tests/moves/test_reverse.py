"""Inside and outside reverse folds: of two layers and of many, by line and by where the tip lands."""

from __future__ import annotations

import pytest

from foldscript.paper.signs import Arrow, FoldLine, Sense

from ..scripts import captions, folded, lies, outcome, refused
from .starts import DIAMOND, NARROWED, lines, signs

#: Square folded on the diagonal A C (front half in front), the spine along A C.
BIRD = "start from bird base\n"
HALF = "valley B to D; mark S at centre; mark P at 1/4 of B C; mark R at 3/4 of A D"


def test_inside_reverse_lands_where_derived() -> None:
    """Square folded on A C, crease S-(1, 1/4), S-(1/4, 1): tip C lands on (2/5, -1/5) when B stays
    (derived). Here D stays, and the plane is mirrored in A C: (-1/5, 2/5)."""
    model = folded(HALF, "inside reverse C through P S")
    assert lies(model, "C") == (-20, 40)
    assert lines(model) == {Sense.MOUNTAIN: 1, Sense.VALLEY: 1}
    (arrow,) = [s for s in signs(model) if isinstance(s, Arrow)]
    assert arrow.act == "inside-reverse"
    assert arrow.under
    assert "in between its own layers" in captions(model)[-1]


def test_inside_reverse_lies_between() -> None:
    """From the front: half, tip, tip, half; the spine between the tip's layers has turned."""
    state = folded(HALF, "inside reverse C through P S").finished
    where = (0.2, 0.6)
    stack = state.facets_at(where)
    assert len(stack) == 4
    shows = [state.facets[i].shows_front for i in stack]
    assert shows == [False, True, False, True]
    tip = [i for i in range(len(state.facets)) if (1.0, 1.0) in state.facets[i].outline]
    assert set(stack[1:3]) == set(tip)


def test_outside_reverse_lies_around() -> None:
    model = folded(HALF, "outside reverse C through R S")
    state = model.finished
    tip = {i for i in range(len(state.facets)) if (1.0, 1.0) in state.facets[i].outline}
    for i in tip:
        over = {state.above(i, j) for j in range(len(state.facets)) if j not in tip}
        assert len(over - {None}) == 1
    assert lines(model) == {Sense.MOUNTAIN: 1, Sense.VALLEY: 1}


def test_by_where_the_tip_lands() -> None:
    model = folded(HALF, "mark T at 1/3 of A S; inside reverse C to T")
    assert lies(model, "C") == pytest.approx((100 / 6, 100 / 6))


def test_of_many_layers() -> None:
    """Both lower points of a narrowed bird base, twelve layers each, become neck and tail."""
    neck = "inside reverse A along line through X at 12 degrees to horizontal centre line"
    tail = "inside reverse C along line through X at 168 degrees to horizontal centre line"
    before = folded(*NARROWED, sheet=DIAMOND)
    model = folded(*NARROWED, neck, tail, sheet=DIAMOND)
    assert lies(before, "A")[1] < lies(before, "D")[1]
    a, c = lies(model, "A"), lies(model, "C")
    assert a[1] == pytest.approx(c[1])
    assert a[1] > 0 > lies(before, "A")[1]
    assert a[0] + c[0] == pytest.approx(2 * 50)  # alike on both sides of the middle line
    assert len(model.finished.facets) > 40


def test_a_single_layer_is_refused() -> None:
    told = refused("mark P at 1/2 of A B; mark Q at 1/2 of A D", "inside reverse A through P Q")
    assert told.code == "one-layer"
    assert "one layer only" in told.message
    assert "use 'valley' or 'mountain' for a single layer" in told.hints


def test_locked_layers_are_refused() -> None:
    """Reversed outside along a line that leans inward, the tip's spine would cut the flap."""
    told = refused(HALF, "outside reverse C through P S")
    assert told.code == "locked-layers"
    assert told.message.startswith(
        "corner C cannot be wrapped around its own layers along this line"
    )
    assert "let the line lean the other way" in told.hints[0]
    assert told.hints[0].endswith("the tip has to go past the folded edge of the flap")
    assert told.hints[1].endswith("say 'inside reverse'")
    told = refused(HALF, "inside reverse C through R S")
    assert told.message.startswith("corner C cannot go in between its own layers along this line")
    assert "let the line lean the other way" in told.hints[0]
    assert told.hints[1].endswith("say 'outside reverse'")
    assert told.hints[0].endswith("the tip has to go toward the open edges of the flap")


#: The fish base folded in half behind: the flap with A has four layers, its folded edge along A C.
FISH_HALF = (
    "rotate quarter turn anticlockwise; mountain the top corner to the bottom corner, all layers"
)
#: A kite narrowed and folded in half: eight layers at its point, the folded edge at the bottom.
SWAN_HALF = (
    "turn over; mark E at the top corner; mark F at the bottom corner; "
    "valley bottom left edge onto line E F; valley bottom right edge onto line E F",
    "mountain left corner to right corner",
    "rotate quarter turn clockwise; mark P at 1/2 of line F E",
)


@pytest.mark.parametrize(
    ("sheet", "steps", "move"),
    [
        (
            "start from fish base\n",
            (FISH_HALF, "mark Q at 1/3 of A C"),
            "outside reverse A along line through Q at 120 degrees to line A C",
        ),
        (
            "start from kite base\n",
            SWAN_HALF,
            "outside reverse F along line through P at 70 degrees to line F E",
        ),
    ],
)
def test_a_strip_of_the_flap_is_not_wrapped_for_the_whole(
    sheet: str, steps: tuple[str, ...], move: str
) -> None:
    """Toward the open edges the flap cannot be wrapped round; inside it goes, and so does the other lean."""
    told = refused(*steps, move, sheet=sheet)
    assert told.code == "locked-layers"
    assert "let the line lean the other way" in told.hints[0]
    assert told.hints[1].endswith("say 'inside reverse'")
    folded(*steps, move.replace("outside", "inside"), sheet=sheet)
    angle = next(word for word in move.split() if word.isdigit())
    model = folded(*steps, move.replace(angle, str(180 - int(angle))), sheet=sheet)
    moved = {s for sign in signs(model) if isinstance(sign, FoldLine) for s in sign.parts}
    assert len(moved) == len({i for i, _ in moved}) in (4, 8)  # every layer of the flap
    assert set(lines(model).values()) == {len(moved) // 2}  # as many in front as behind


def test_the_tip_must_lie_beyond_the_line() -> None:
    told = refused(HALF, "inside reverse C through P C")
    assert told.code == "on-the-line"
    assert told.words == "C"


def test_without_a_tip() -> None:
    told = refused(HALF, "inside reverse along line P S")
    assert told.code == "which-tip"
    assert told.hints[0].startswith("say 'inside reverse ")
    assert told.hints[0].endswith(" along line P S'")


def test_a_flap_does_not_swing_through_a_fold_on_its_line() -> None:
    """A quarter of a waterbomb base: inner layers about the line on which outer layers are folded.

    Opened flat, the inner ones would run through the outer fold, whose own layers never moved.
    """
    base = (
        "mark O at the centre; mark M at midpoint of A B; crease left edge onto right edge; "
        "crease bottom edge onto top edge as level; turn over; "
        "crease A to C as falling; crease B to D as rising",
        "collapse valley rising and falling, mountain level, holding midpoint of A B",
        "valley bottom left corner to bottom right corner, all layers",
    )
    told = refused(*base, "inside reverse D along line M O")
    assert told.code == "locked-layers"
    assert "would have to pass through a fold" in told.message


#: Before the square is folded in half, A is folded in toward C: its doubled point lies between C's layers.
FILLED = (
    "mark S at centre; mark P at 1/4 of B C; mark R at 3/4 of A D;",
    "valley A to 3/4 of A C",
    "valley B to D",
)


def test_what_lies_between_the_layers_stays_when_they_are_wrapped_round() -> None:
    """C's two layers alone hang together beyond the line; A's have a number said that reaches them."""
    before = folded(*FILLED)
    assert lies(before, "A") == pytest.approx((75, 75))
    for count in ("", ", 2 layers"):
        model = folded(*FILLED, f"outside reverse C through R S{count}")
        assert lies(model, "A") == lies(before, "A")
        assert lies(model, "C") == lies(folded(HALF, "outside reverse C through R S"), "C")
        assert sum(lines(model).values()) == 2
    for count in (", 3 layers", ", 4 layers", ", all layers"):
        model = folded(*FILLED, f"outside reverse C through R S{count}")
        assert lies(model, "A") != lies(before, "A")
        assert sum(lines(model).values()) == 4


def test_a_number_of_layers_that_the_flap_has_not_is_refused() -> None:
    for move in ("outside reverse C through R S", "inside reverse C through P S"):
        told = refused(HALF, f"{move}, 3 layers")
        assert told.code == "not-so-many-layers"
        assert "has only 2 layers" in told.message
    assert outcome(HALF, "inside reverse C through P S, 2 layers") == ""


@pytest.mark.parametrize("tip", ["bottom corner", "bottom left corner"])
def test_legs_beside_each_other_are_asked_for(tip: str) -> None:
    """Both lower points of a bird base end at the bottom: neither goes in unasked, nor both."""
    told = refused(f"inside reverse {tip} to left corner", sheet=BIRD)
    assert told.code == "which-flap"
    assert told.words == tip
    assert told.hints == ("say 'B'",)  # the leg with D would go in the other way round only
    model = folded("inside reverse B to left corner", sheet=BIRD)
    assert lies(model, "D") == lies(model.start, "D")
    assert lies(model, "B") != lies(model.start, "B")
