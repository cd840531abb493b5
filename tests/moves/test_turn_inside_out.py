"""Doubled flaps that lie folded in come out, and the fold between their halves bends the other way."""

from __future__ import annotations

import re
from itertools import product
from pathlib import Path

import pytest

from foldscript.building.script import Script
from foldscript.folding.steps import Model
from foldscript.geometry.lines import Point
from foldscript.geometry.polygons import centroid
from foldscript.paper.signs import Arrow, PointSign
from foldscript.paper.state import State

from ..laws.images import IDENTITY, IMAGES, Image
from ..laws.outcomes import broken, unlike
from ..scripts import captions, folded, folds, lies, refused, refused_text

#: A diagonal fold, D on B, and the tip A pushed in between its own layers.
IN = (
    "mark P at 1/3 of A B; mark Q at 1/3 of A C",
    "valley D to B",
    "inside reverse A through P Q",
)
GOLDFISH = Path(__file__).resolve().parents[2] / "samples" / "goldfish.foldscript"


def test_what_was_pushed_in_comes_out_as_it_was() -> None:
    model = folded(*IN, "turn inside out A along line P Q")
    assert unlike(folded(*IN, "unfold").finished, model.finished, IDENTITY, over=False) == ""
    assert captions(model)[-1].startswith("Turn the flap with corner A inside out along line PQ:")


def test_no_crease_is_new_and_the_fold_stays_as_one() -> None:
    before, after = (
        step.after for step in folded(*IN, "turn inside out A along line P Q").steps[-2:]
    )
    assert len(after.creases) > len(before.creases)
    assert sum(j.folded for j in after.joints) < sum(j.folded for j in before.joints)


def test_the_tail_of_the_goldfish() -> None:
    """The body is a square of 75 / sqrt(2) mm that stands on a corner, the tail in it with its tip A at the
    top. Mirrored in the lower left side, A comes as far to the lower left as that side is long, twice."""
    steps = Script(GOLDFISH).model.steps
    turned = next(
        k for k, step in enumerate(steps) if "inside out" in str(step.wording[0].template)
    )
    before, after = steps[turned - 1].after, steps[turned].after
    top, tip = lies(before, "A"), lies(after, "A")
    assert (tip[0] - top[0], tip[1] - top[1]) == pytest.approx((-75, -75))
    front, back = ((0, 1e-3), (1e-3, 0))
    for at in (front, back):
        (here,) = after.facets_on_sheet(at)
        (there,) = before.facets_on_sheet(at)
        assert after.facets[here].shows_front != before.facets[there].shows_front


def test_a_flap_without_halves() -> None:
    found = refused(
        "mark P at 1/4 of A B; mark Q at 1/4 of D C",
        "valley bottom left corner to midpoint of A B",
        "turn inside out A along line P Q",
    )
    assert found.code == "no-halves"
    assert found.words == "A"


def test_a_line_that_is_no_fold() -> None:
    found = refused("turn inside out A along line B D")
    assert found.code == "no-fold-there"


def test_the_larger_part_is_no_flap() -> None:
    """C is on all of the sheet but its tip: about the line PQ that would turn round the tip, which stays."""
    found = refused(*IN, "turn inside out C along line P Q")
    assert found.code == "turns-most"
    assert found.words == "C"


def test_what_is_left_out_is_asked_for() -> None:
    assert refused(*IN, "turn inside out A").code == "turn-what"
    assert refused(*IN, "turn inside out P along line P Q").code == "point-on-line"


@pytest.mark.parametrize("image", [i for i in IMAGES if not i.over], ids=lambda image: image.name)
def test_an_image_is_turned_as_the_image(image: Image) -> None:
    statements = [line.strip() for step in IN for line in step.split(";")]
    assert broken([*statements, "turn inside out A along line P Q"], image) == ""


@pytest.mark.parametrize(
    "words", ["inside reverse A", "outside reverse A", "pull out A", "valley A", "mountain A"]
)
def test_words_for_other_moves_lead_here(words: str) -> None:
    """Nothing bends along a fold that is there: a reverse fold was once drawn there, and did not reverse. A
    valley fold there was once told to choose a line that crosses the flap."""
    found = refused(*IN, f"{words} along line P Q")
    assert any("turn inside out corner A along ..." in hint for hint in found.hints)


#: The doors of a cupboard, shut, and all four corners folded in to where they meet: a hull, its slit upright.
HULL = (
    "mark O at the centre",
    "valley left edge onto centre line as l",
    "valley right edge onto centre line as r",
    "mark F at midpoint of bottom edge; mark G at midpoint of top edge",
    "valley bottom left corner onto centre line, through F, all layers",
    "valley bottom right corner onto centre line, through F, all layers",
    "valley top left corner onto centre line, through G, all layers",
    "valley top right corner onto centre line, through G, all layers",
)
STRIPS = (
    "mark M at midpoint of A B",
    "valley along line 65 mm from the bottom edge, moving A, as bow",
    "turn over",
)
#: Places on the tips of a strip that is narrow: name, mm from an end of edge A B.
TIPS = (("J", 50, "B"), ("K", 30, "B"), ("V", 50, "A"), ("W", 30, "A"))
A4 = "sheet A4 portrait, coloured side down\n"


def front(state: State, at: Point) -> Point:
    """The middle, on the sheet, of the uppermost piece of paper at a place of the folded plane."""
    return centroid(state.facets[state.facets_at(at)[0]].outline)


def test_a_hull_is_turned_through_its_slit() -> None:
    """All paper stays where it lies. Behind the slit lay the floor, the middle of the sheet; now it lies in
    front of all, the doors behind it, and the corners between them as they lay."""
    model = folded(*HULL, "turn inside out through O")
    before, after = model.steps[-2].after, model.finished
    for x, y in product((0.11, 0.31, 0.42, 0.64, 0.87), repeat=2):
        assert before.where((x, y)) == pytest.approx(after.where((x, y)))
    beside = (0.4, 0.52)
    floor = 0.5, 0.5
    assert front(before, beside) != pytest.approx(floor)
    assert front(after, beside) == pytest.approx(floor)
    low = (0.4, 0.2)  # where the bottom left corner lies: door and floor, with that corner of both
    stack = [centroid(before.facets[i].outline) for i in before.facets_at(low)]
    turned = [centroid(after.facets[i].outline) for i in after.facets_at(low)]
    assert len(stack) == 4
    assert turned == [stack[-1], *(pytest.approx(p) for p in stack[:-1])]


def out_of_the_slit(model: Model) -> list[tuple[Point, Point]]:
    """The arrows of the last step, tail and head, in millimetres from the middle of the sheet."""
    step = model.steps[-1]
    unit = step.after.sheet.unit_mm
    x, y = step.after.where((step.after.sheet.outline[1][0] / 2, 0.5))

    def at(p: Point) -> Point:
        return round(unit * (p[0] - x), 6) + 0.0, round(unit * (p[1] - y), 6) + 0.0

    arrows = (sign for sign in step.records[-1].signs if isinstance(sign, Arrow))
    return sorted((at(s.tail), at(s.head)) for s in arrows if s.act == "pull-out" and s.mouth)


def test_the_floor_comes_from_both_sides_to_the_slit() -> None:
    """Of a square of 100 mm the floor is 50 mm wide, an arrow begins at four fifths of the way to its side,
    half-way from O to the end of the slit, which is 25 mm away.
    """
    model = folded(*HULL, "turn inside out through O")
    assert out_of_the_slit(model) == [((-20, -12.5), (0, -12.5)), ((20, -12.5), (0, -12.5))]
    (slit,) = (s for s in model.steps[-1].records[-1].signs if isinstance(s, PointSign))
    assert slit.kind == "slit"
    assert slit.opens is not None


def test_turned_twice_it_lies_as_before() -> None:
    once = (*HULL, "turn inside out through O", "turn over")
    twice = folded(*once, "turn inside out through O", "turn over").finished
    assert unlike(folded(*HULL).finished, twice, IDENTITY, over=False) == ""


def test_it_is_unfolded_again() -> None:
    model = folded(*HULL, "turn inside out through O", "unfold")
    assert unlike(folded(*HULL).finished, model.finished, IDENTITY, over=False) == ""


def test_strips_behind_the_floor_go_through_with_it() -> None:
    """The strip hung outside, behind the floor; afterwards it lines the hull."""
    model = folded(*STRIPS, *HULL, "turn inside out through O", "turn over", sheet=A4)
    state = model.finished
    at = state.where((0.5 * 210 / 297, 0.01))
    stack = [centroid(state.facets[i].outline) for i in state.facets_at((at[0] + 0.02, at[1]))]
    # from the front: the wall's strip inside the wall, then the floor's strip, and the floor below it
    assert [round(y < 65 / 297) for _, y in stack] == [0, 1, 1, 0]


def test_a_band_is_turned_out_of_the_hull() -> None:
    """The same place: strip over strip, in front of the wall, and these over the floor. Nothing has moved."""
    steps = (*STRIPS, *HULL, "turn inside out through O", "turn over")
    before = folded(*steps, sheet=A4).finished
    after = folded(*steps, "turn inside out M along bow", sheet=A4).finished
    middle = (0.5 * 210 / 297, 0.01)
    assert before.where(middle) == pytest.approx(after.where(middle))
    x, y = after.where(middle)
    stack = [centroid(after.facets[i].outline) for i in after.facets_at((x + 0.02, y))]
    assert [round(v < 65 / 297) for _, v in stack] == [1, 1, 0, 0]
    assert stack[0][0] == pytest.approx(middle[0])


def test_a_band_comes_out_of_the_slit_that_it_lies_behind() -> None:
    steps = (
        *STRIPS,
        *HULL,
        "turn inside out through O",
        "turn over",
        "turn inside out M along bow",
    )
    left, right = out_of_the_slit(folded(*steps, sheet=A4))
    assert left[1] == right[1]
    assert left[0][0] == pytest.approx(-right[0][0])
    assert left[0][0] < left[1][0] < right[0][0]


def narrow(*extra: str) -> tuple[str, ...]:
    """A hull with a lining of 45 mm, less than the corners take of the edge."""
    marks = (f"mark {p} at {mm} mm from {end} on edge A B" for p, mm, end in TIPS)
    strip = STRIPS[1].replace("65", "45")
    first = "; ".join((STRIPS[0], *marks))
    return (first, strip, STRIPS[2], *HULL, *extra, "turn inside out through O", "turn over")


def test_the_loose_tips_of_a_narrow_band_come_out_in_front() -> None:
    """They lay behind the walls; hands draw them out with the rest, and they lie on the walls, under its
    middle. The band about a corner that is folded in comes to lie inside that corner."""
    state = folded(*narrow(), "turn inside out M along bow", sheet=A4).finished
    for x in (5, 20, 60, 150, 195):
        at = state.where((x / 297, 15 / 297))
        stack = [centroid(state.facets[i].outline)[1] < 45 / 297 for i in state.facets_at(at)]
        assert [round(strip) for strip in stack] == [1, 1, 0, 0, 1, 1, 0, 0]


def test_layers_that_could_lie_either_way_are_said() -> None:
    """The walls are folded in once more, and the tips of the band with them."""
    walls = narrow(
        "valley left edge onto centre line, all layers",
        "valley right edge onto centre line, all layers",
    )
    out = "turn inside out M along bow"
    found = refused(*walls, out, sheet=A4)
    assert found.code == "which-lies-over"
    assert found.hints == ("add 'with J over K'", "or add 'with K over J'")
    orders: list[bool | None] = []
    for said in ("with J over K, with V over W", "with K over J, with W over V"):
        state = folded(*walls, f"{out}, {said}", sheet=A4).finished
        one, other = (state.facets_on_sheet((x / 297, 0))[0] for x in (160, 180))
        orders.append(state.above(one, other))
    assert orders == [True, False]


def test_words_that_the_paper_does_not_meet_are_refused() -> None:
    found = refused(*narrow(), "turn inside out M along bow, with O over M", sheet=A4)
    assert found.code == "cannot-lie-over"
    assert refused(*IN, "turn inside out A along line P Q, with B over A").code == "cannot-lie-over"


@pytest.mark.parametrize(
    ("steps", "hint"),
    [
        ((), "a slit is where"),
        ((*HULL[1:], "turn over"), "say 'turn over' first"),
        (("valley A to O",), "a slit is where"),
    ],
    ids=["flat sheet", "slit behind", "one flap"],
)
def test_where_there_is_no_slit(steps: tuple[str, ...], hint: str) -> None:
    found = refused("mark O at midpoint of A C", *steps, "turn inside out through O")
    assert found.code == "no-slit"
    assert any(hint in each for each in found.hints)


def test_a_door_of_two_halves_on_one_line_has_no_inside() -> None:
    found = refused(
        "mark P at midpoint of A D; mark R at 1/4 of P midpoint of B C; "
        "mark Q at 1/3 of P midpoint of B C",
        "cut from P to R",
        "valley along line through R perpendicular to edge A B, moving A",
        "valley along line through R perpendicular to edge C D, moving D",
        "turn inside out through Q",
    )
    assert found.code == "no-inside"
    assert found.words == "Q"


def test_a_strip_that_is_not_folded_is_no_band() -> None:
    found = refused(*STRIPS[:2], "turn inside out M along bow", sheet=A4)
    assert found.code == "no-halves"


@pytest.mark.parametrize("image", [i for i in IMAGES if not i.over], ids=lambda image: image.name)
def test_an_image_of_a_hull_is_turned_as_the_image(image: Image) -> None:
    statements = [line.strip() for step in HULL for line in step.split(";")]
    assert broken([*statements, "turn inside out through O"], image) == ""


def test_at_the_end_of_a_slit_another_point_of_it_is_told() -> None:
    found = refused(*HULL, "turn inside out through F")
    assert (found.code, found.words) == ("slit-ends", "F")
    assert found.hints == ("say 'O'",)
    nameless = refused(*HULL[1:], "turn inside out through F")
    assert "between its two ends" in nameless.hints[0]


def test_at_corners_that_meet_on_the_slit_another_point_is_asked_for() -> None:
    """The tips of both sides lie at the middle of the slit; beside them it is open."""
    doors = (
        "mark O at the centre; mark F at midpoint of A B; mark G at midpoint of C D",
        "valley the left edge onto the centre line; valley the right edge onto the centre line",
        *(
            f"valley {side} corner onto the centre line, through {end}, all layers"
            for side, end in (("bottom left", "F"), ("bottom right", "F"))
        ),
        *(
            f"valley {side} corner onto the centre line, through {end}, all layers"
            for side, end in (("top left", "G"), ("top right", "G"))
        ),
        *(
            f"valley {end} end of the {side} edge onto the centre line, through {point}, all layers"
            for end, point in (("lower", "F"), ("upper", "G"))
            for side in ("left", "right")
        ),
        "valley left corner to O, all layers; valley right corner to O, all layers",
    )
    found = refused(*doors, "turn inside out through O")
    assert found.code == "slit-covered"
    assert found.hints == ("mark a point of the slit a little way from there, and name that",)


#: A hull of which the sides were narrowed once more before it was turned inside out, and turned over.
NARROW_HULL = """sheet square 20 cm, coloured side down
step
  mark O at the centre
  mark M at midpoint of A B
  valley along line 3 cm from the bottom edge, moving A, as bow
  valley along line 3 cm from the top edge, moving D
step
  turn over
step
  valley left edge onto centre line, all layers
  valley right edge onto centre line, all layers
step
  mark F at midpoint of the bottom edge
  mark G at midpoint of the top edge
  valley bottom left corner onto centre line, through F, all layers
  valley bottom right corner onto centre line, through F, all layers
  valley top left corner onto centre line, through G, all layers
  valley top right corner onto centre line, through G, all layers
step
  valley left edge onto centre line, all layers
  valley right edge onto centre line, all layers
step
  turn inside out through O
step
  turn over
step
"""


def test_marks_are_written_for_layers_that_have_no_name() -> None:
    """On either side of the bow two layers can lie either way round, and no point that was marked is on them.
    What the hint says is written, and with 'over' added it folds: the sides are alike."""
    text = f"{NARROW_HULL}  turn inside out M along bow, with M over O\n"
    found = refused_text(text)
    assert found.code == "which-lies-over"
    (hint,) = found.hints
    assert "add 'with P over Q'" in hint
    first, second = re.findall(r"'(mark [^']+)'", hint)
    text = text.replace("  turn inside out M", f"  {first}\n  {second}\n  turn inside out M")
    folds(f"{text.rstrip()}, with P over Q\n")


def test_what_is_said_on_one_side_goes_for_the_other_that_is_alike() -> None:
    """The other side may still be said otherwise."""
    walls = narrow(
        "valley left edge onto centre line, all layers",
        "valley right edge onto centre line, all layers",
    )
    out = "turn inside out M along bow, with J over K"
    for said, other in (("", True), (", with V over W", True), (", with W over V", False)):
        state = folded(*walls, f"{out}{said}", sheet=A4).finished
        rows = [
            [state.facets_on_sheet((x / 297, 0))[0] for x in pair]
            for pair in ((160, 180), (50, 30))
        ]
        assert [state.above(*row) for row in rows] == [True, other]
