"""Open out and pull apart: from hat to boat."""

from __future__ import annotations

import math

import pytest

from foldscript.paper.signs import Arrow, FoldLine, PointSign, Sense
from foldscript.paper.silhouette import extent
from foldscript.paper.state import State

from ..scripts import captions, covered, folded, refused, refused_text

SHEET = "sheet rectangle 200 mm by 280 mm\n"
HAT = (
    "valley top edge onto bottom edge; mark K at midpoint of A D; mark L at midpoint of B C; "
    "mark T at midpoint of K L; valley line K T onto centre line; valley line L T onto centre line",
    "valley through K perpendicular to centre line, moving C; "
    "mountain through K perpendicular to centre line, moving A",
    "mark E at bottom left corner; mark F at bottom right corner",
)
#: The hat's brim without its ends, so that its outline is a triangle.
TRIM = "tuck D along line T E, inside; tuck C along line T F, inside"
INSIDE = "tuck A along line T E, inside; tuck B along line T F, inside"
SQUARE = "open out E and F"
POINTS = "valley bottom corner to top corner; mountain bottom corner to top corner"
AGAIN = "open out left corner and right corner"


def spans(state: State) -> list[float]:
    """Sides of the silhouette in millimetres, sorted."""
    (ring,) = state.outlines
    unit = state.sheet.unit_mm
    sides = zip(ring, (*ring[1:], ring[0]), strict=True)
    return sorted(round(math.dist(p, q) * unit, 6) for p, q in sides)


def test_hat_becomes_a_square() -> None:
    """The hat's slopes, 100 sqrt 2 long, become the diagonal: a square of side 100 (derived)."""
    model = folded(*HAT, TRIM, INSIDE, SQUARE, sheet=SHEET)
    assert spans(model.steps[-1].before) == pytest.approx([100 * 2**0.5, 100 * 2**0.5, 200])
    assert spans(model.finished) == pytest.approx([100] * 4)
    unit = model.sheet.unit_mm
    assert [d * unit for d in extent(model.finished)] == pytest.approx([100 * 2**0.5] * 2)


def test_the_ends_meet_below_the_apex() -> None:
    """T is at the top of the square, E and F at its bottom."""
    model = folded(*HAT, TRIM, INSIDE, SQUARE, "valley E to T", sheet=SHEET)
    heights = [p[1] for ring in model.steps[-1].before.placed for p in ring]
    (arrow,) = [s for s in model.steps[-1].panels[0].signs if isinstance(s, Arrow)]
    assert arrow.tail[1] == pytest.approx(min(heights))
    assert arrow.head[1] == pytest.approx(max(heights))
    assert arrow.tail[0] == pytest.approx(arrow.head[0])


def test_brims_that_stick_out_come_along() -> None:
    """Without trimming, the ends of the brim stick out of the square on both sides of it."""
    model = folded(*HAT, SQUARE, sheet=SHEET)
    assert len(model.finished.facets) >= len(model.steps[-1].before.facets)


def test_brims_cross_with_that_of_the_front_outside() -> None:
    """A strip of the front brim lies before one of the back brim; on the other half, behind it (derived)."""
    after = folded(*HAT, SQUARE, sheet=SHEET).finished
    unit = after.sheet.unit_mm
    for x, towards in ((50, 1), (150, -1)):  # left and right of the middle line, seen on the sheet
        (front,) = after.facets_on_sheet((x / unit, 260 / unit))
        (back,) = after.facets_on_sheet((x / unit, 20 / unit))
        assert after.above(front, back) is (towards > 0)


def test_twice_and_pulled_apart() -> None:
    """A square of half the area, then a hull twice as wide at the top as at the bottom (derived)."""
    model = folded(*HAT, TRIM, INSIDE, SQUARE, POINTS, AGAIN, "pull apart E and F", sheet=SHEET)
    half = 100 / 2**0.5
    assert spans(model.steps[-2].after) == pytest.approx([half] * 4)
    assert spans(model.finished) == pytest.approx([half, half, 100, 200])
    width, height = (d * model.sheet.unit_mm for d in extent(model.finished))
    assert (width, height) == pytest.approx((200, 50))


def test_a_hat_without_a_brim() -> None:
    """A square sheet's hat has no brim, and opens as well."""
    model = folded(
        "valley top edge onto bottom edge; mark K at midpoint of A D; mark L at midpoint of B C; "
        "mark T at midpoint of K L; valley line K T onto centre line; "
        "valley line L T onto centre line",
        "open out left corner and right corner",
    )
    assert covered(model) == pytest.approx(1 / 4)
    assert spans(model.finished) == pytest.approx([50] * 4)


def test_signs_and_captions() -> None:
    model = folded(*HAT, TRIM, INSIDE, SQUARE, POINTS, AGAIN, "pull apart E and F", sheet=SHEET)
    (panel,) = model.steps[5].panels
    spots = [s.kind for s in panel.signs if isinstance(s, PointSign)]
    assert spots == ["open-out", "push", "push"]
    assert {s.sense for s in panel.signs if isinstance(s, FoldLine)} == set(Sense)
    (last,) = model.steps[-1].panels
    assert [s.act for s in last.signs if isinstance(s, Arrow)] == ["pull-out"] * 2
    assert captions(model)[-1].startswith(
        "Hold points E and F and pull them apart as far as they go"
    )
    assert (
        "Open the pocket between points E and F, push these two points together, "
        "and press the model flat the other way." in captions(model)
    )


def test_a_book_opens_the_other_way() -> None:
    """Its one fold opens, and it is folded in half across (derived)."""
    model = folded("valley bottom edge onto top edge", "open out A and C")
    assert spans(model.finished) == pytest.approx([50, 50, 100, 100])
    assert len(model.finished.facets) == 2
    assert len(model.finished.creases) == 1


def test_unfolds_again() -> None:
    model = folded(*HAT, TRIM, INSIDE, SQUARE, "unfold", sheet=SHEET)
    assert spans(model.finished) == pytest.approx([100 * 2**0.5, 100 * 2**0.5, 200])
    assert model.finished.creases, "its creases stay"


@pytest.mark.parametrize(
    ("steps", "code"),
    [
        ((*HAT, "open out E"), "open-what"),
        ((*HAT, "open out E and E"), "same-point"),
        (("open out A and B",), "no-pocket"),
        (
            (
                "valley bottom edge onto top edge",
                "mark K at bottom left corner",
                "open out K and bottom right corner",
            ),
            "no-pocket",
        ),
        ((*HAT, "pull apart E"), "pull-what"),
        ((*HAT, "pull apart E and F"), "no-wings"),
        (("pull apart A and B",), "no-wings"),
    ],
)
def test_refusals(steps: tuple[str, ...], code: str) -> None:
    found = refused(*steps, sheet=SHEET)
    assert found.code == code, found.message
    assert found.hints


@pytest.mark.parametrize(
    ("steps", "told"),
    [
        (("open out A and C",), "no edge of the model lies midway between them"),
        (("open out bottom left corner and bottom right corner",), "a single layer lies there"),
        (
            ("valley A to C", "open out B and D"),
            "the layer with corner A and the layer with corner C are joined by a fold along that edge",
        ),
        (
            (
                "crease B to D as k; valley edge A B onto k; valley edge A D onto k",
                "open out bottom left corner and bottom right corner",
            ),
            "is shut: the layer with corner B is folded over its edge",
        ),
        (
            (
                "valley A to C",
                "mountain centre line onto bottom right edge, near D, 2 layers",
                "open out C and D",
            ),
            "its front, the bottom layer at corner D, and its back, the top layer at corner D, hold together "
            "50 mm from corner A too",
        ),
        (
            (
                "valley A to C",
                "outside reverse 1/3 of D B along horizontal centre line",
                "open out bottom left corner and bottom right corner",
            ),
            "the layer with corner A, the second layer at corner B and the layer with corner C would have to "
            "pass through each other at a fold",
        ),
    ],
)
def test_what_holds_the_pocket_is_named(steps: tuple[str, ...], told: str) -> None:
    found = refused(*steps)
    assert told in found.message, found.message
    assert found.hints


def test_two_sheets_on_each_other_are_no_pocket() -> None:
    found = refused_text(
        "sheets 2\nstep\ncrease A to C\nassemble\nstep\nplace unit 2, A of unit 2 to A of unit 1 "
        "and B of unit 2 to B of unit 1\nstep\nopen out bottom left corner and bottom right corner\n"
    )
    assert "the layers that part there are not held together" in found.message


def test_a_pocket_held_at_one_side_opens_whichever_end_is_named_first() -> None:
    ends = ("top left corner", "bottom left corner")
    one, other = (
        folded("valley top edge onto bottom edge", f"open out {a} and {b}").finished
        for a, b in (ends, ends[::-1])
    )
    assert spans(one) == spans(other) == pytest.approx([50, 50, 100, 100])


#: The back corner of a helmet, as `samples/goldfish.foldscript` has it, its brim left out.
HELMET = (
    "mark O at the centre; valley C to A; valley left corner to A; valley right corner to A",
    "valley D to O; valley B to O; mark L at the left corner; mark R at the right corner",
    "valley C to O",
)
ON_CORNER = "sheet square 100 mm, corner A at the bottom\n"


@pytest.mark.parametrize("way", ["tuck A along line L R, under C", "tuck A along line L R, inside"])
def test_a_corner_tucked_in_travels_with_the_layer_that_it_hangs_on(way: str) -> None:
    """A helmet with its last corner between front and back opens to a square whose side is the height of the
    helmet, a quarter of the sheet's diagonal (derived)."""
    model = folded(*HELMET, way, "open out L and R", sheet=ON_CORNER)
    assert spans(model.finished) == pytest.approx([100 * 2**0.5 / 4] * 4)


def test_a_corner_folded_over_the_front_shuts_it() -> None:
    """Front and back are one bundle then: the corner has to come out first."""
    found = refused(*HELMET, "valley A to O", "open out L and R", sheet=ON_CORNER)
    assert "the layer with corner A is folded over its edge" in found.message
    assert found.hints[0].startswith("unfold that flap first, or pull it out")


#: On each side of the waterbomb base a gusset of two layers lies between front and back.
WATERBOMB = (
    "crease bottom edge onto top edge as k1; turn over",
    "crease A to C as k2; crease B to D as k3",
    "collapse mountain k1, valley k2, valley k3, holding A",
)


def test_a_waterbomb_has_two_pockets_and_is_asked_which() -> None:
    """Front and back pocket open alike. Between the gussets' halves it cannot open: the front would be folded
    about its middle with layers between that go on flat across that very line (derived)."""
    found = refused(*WATERBOMB, "open out bottom left corner and bottom right corner")
    assert found.code == "which-pocket"
    assert "say 'open out B and A'" in found.hints
    assert "say 'open out C and D'" in found.hints


@pytest.mark.parametrize(("ends", "single"), [("A and B", "D"), ("C and D", "B")])
def test_a_waterbomb_opens_at_the_pocket_named(ends: str, single: str) -> None:
    """A square of 50 mm: the triangle of the wall that opens, and beyond its slope the rest (derived). The
    pocket's own wall is two layers thick, all else lies in the other half, six layers."""
    after = folded(*WATERBOMB, f"open out {ends}").finished
    assert spans(after) == pytest.approx([50] * 4)
    middles = dict.fromkeys("AB", (0.3, 0.02)) | dict.fromkeys("CD", (0.3, 0.98))
    unit = after.sheet.unit_mm
    assert [d * unit for d in extent(after)] == pytest.approx([50 * 2**0.5] * 2)
    walls = {name: len(after.facets_at(after.where(spot))) for name, spot in middles.items()}
    assert walls[ends[0]] == 2
    assert walls[single] == 6


def test_a_square_of_corners_folded_in_is_no_pocket() -> None:
    """Four corners to the middle three times over, as for the kimono: its small squares open at slits amid
    the paper ('open pocket'), and front and back hold together at every edge."""
    corners = ("bottom", "right", "top", "left")
    slanting = ("bottom left", "bottom right", "top right", "top left")
    found = refused(
        "mark O at the centre; " + "; ".join(f"valley {p} to O" for p in "ABCD"),
        "turn over",
        "; ".join(f"valley {way} corner to O" for way in corners),
        "turn over",
        "; ".join(f"valley {way} corner to O" for way in slanting),
        "turn over",
        "open out left corner and right corner",
    )
    assert found.code == "no-pocket"


def test_where_nothing_opens_what_holds_the_flaps_is_told() -> None:
    """A double boat from a blintz, folded in half: the flaps of B and D lie along its edge already."""
    found = refused(
        "mark O at the centre; valley A to O; valley B to O; valley C to O; valley D to O",
        "turn over",
        "mark P at the bottom left corner; "
        "crease bottom edge onto top edge, all layers, as level; "
        "crease left edge onto right edge, all layers, as upright",
        "valley left edge onto upright, all layers, as l; valley right edge onto upright, all layers",
        "valley bottom edge onto level, all layers; valley top edge onto level, all layers",
        "pull out P along l",
        "repeat step 6, 3 times",
        "turn over",
        "valley B to the right corner; valley D to the left corner",
        "valley top edge onto bottom edge, all layers",
        "pull apart B and D",
        sheet="sheet square 100 mm, corner A at the bottom\n",
    )
    assert found.code == "nothing-moves"
    assert found.hints[0].startswith("what holds their flaps: the fold from ")


@pytest.mark.parametrize(
    ("layer", "wall"), [("top", "C"), ("second", "C"), ("third", "A"), ("bottom", "A")]
)
def test_the_layer_that_is_said_chooses_the_pocket(layer: str, wall: str) -> None:
    """Corners C and D lie on top, A and B undermost; the wall that opens is two layers thick."""
    ends = (f"{layer} layer at bottom {side} corner" for side in ("left", "right"))
    after = folded(*WATERBOMB, f"open out {' and '.join(ends)}").finished
    spots = {"A": (0.3, 0.02), "C": (0.3, 0.98)}
    thick = {name: len(after.facets_at(after.where(spot))) for name, spot in spots.items()}
    assert [name for name, count in thick.items() if count == 2] == [wall]


def test_a_layer_beside_which_nothing_opens_is_told() -> None:
    """The hat opens under the brim in front, not over it."""
    found = refused(*HAT, "open out top layer at E and top layer at F", sheet=SHEET)
    assert found.code == "beside-no-pocket"
    assert found.hints[0].startswith("leave out which layer")
