"""Squash folds: triangular and rectangular flaps, hinges elsewhere, and spines that cannot land."""

from __future__ import annotations

import math

import pytest

from foldscript.paper.signs import Arrow, EqualAngles, Sense
from foldscript.paper.vertices import alternate_sum

from ..scripts import captions, covered, folded, lies, refused, refused_text, spot
from .starts import DIAMOND, PRELIMINARY, UPRIGHT, WATERBOMB, lines, rays_at, signs

#: Half a sheet, folded edge at the top, both sides brought to the middle, two layers each. T is the
#: top left corner, X the middle of the top edge, U the bottom left corner.
DOORS = (
    "mark L at midpoint of A D; mark N at midpoint of B C; mark T at 1/4 of L N; mark X at 1/2 of L N; "
    "mark U at 1/4 of A B; mark S at 3/4 of L N; mark V at 3/4 of A B; crease A to B as v; "
    "mountain top edge onto bottom edge",
    "valley left edge onto v, 2 layers; valley right edge onto v, 2 layers",
)


def test_of_a_triangular_flap() -> None:
    """The left flap of a preliminary base: M, 50 mm from O, lands on the middle line (derived)."""
    model = folded(*PRELIMINARY, "squash line O M onto centre line", sheet=DIAMOND)
    assert spot(model, 50, 0) == pytest.approx((50, 0))
    assert spot(model, 50, 50) == pytest.approx((50, 50))
    assert lines(model) == {Sense.VALLEY: 2, Sense.MOUNTAIN: 1}
    (arrow,) = [s for s in signs(model) if isinstance(s, Arrow)]
    assert arrow.act == "squash"
    assert math.dist(arrow.head, (0.5, 0.0)) == pytest.approx(0, abs=1e-9)
    assert any(isinstance(s, EqualAngles) for s in signs(model))
    assert captions(model)[-1].startswith(
        "Squash fold: lift the flap upright, open its layers and press it flat"
    )


def test_by_a_point_of_the_spine() -> None:
    one = folded(*PRELIMINARY, "squash line O M onto centre line", sheet=DIAMOND)
    two = folded(*PRELIMINARY, "squash M onto centre line", sheet=DIAMOND)
    for x, y in ((50, 0), (0, 0), (100, 0), (100, 50), (30, 10)):
        assert spot(one, x, y) == pytest.approx(spot(two, x, y), abs=1e-4)


def test_onto_another_edge() -> None:
    """The whole front layer is hinged along O N, and opens there: the spine lands on that edge."""
    model = folded(*PRELIMINARY, "squash line O M onto line O N", sheet=DIAMOND)
    assert spot(model, 50, 0) == pytest.approx(spot(model, 100, 50))
    # half of the front square more, to the right of its edge (derived)
    assert covered(model) == pytest.approx(1 / 4 + 1 / 8)


def test_hinged_along_another_line() -> None:
    """The spine lands where named, the near layer bends along the hinge and once more (Kawasaki)."""
    model = folded(
        *PRELIMINARY,
        "squash line O M onto centre line, along line through O at 80 degrees to horizontal centre line",
        sheet=DIAMOND,
    )
    assert spot(model, 50, 0) == pytest.approx((50, 0))
    rays = rays_at(model, 50, 50)
    assert len(rays) == 8
    assert alternate_sum(rays) == pytest.approx(180)


def test_of_a_waterbomb_flap() -> None:
    """A side point of a waterbomb base: its tip lands on the middle line, below the base (derived)."""
    model = folded(*WATERBOMB, "squash line O C onto centre line", sheet=UPRIGHT)
    assert lies(model, "C") == pytest.approx((50, 50 - 50 * math.sqrt(2)))


@pytest.mark.parametrize("hinge", ["", ", along line T U"])
def test_of_a_rectangular_flap(hinge: str) -> None:
    """The roof of a house: the door's folded top edge lands on its hinge, which opens (derived)."""
    model = folded(*DOORS, f"squash line T X onto line T U{hinge}", sheet=UPRIGHT)
    before = model.steps[-2].after
    assert covered(before) == pytest.approx(1 / 4)
    # a strip of 25 by 25 mm and half of a square of 25 mm more, on the left
    assert covered(model) == pytest.approx(1 / 4 + 3 / 2 / 16)
    assert spot(model, 0, 50) == pytest.approx((25, 25))
    assert spot(model, 0, 100) == pytest.approx((0, 0))
    roof = [f for f in model.finished.facets if len(f.outline) == 3]
    assert len(roof) == 1


def test_either_door_and_both() -> None:
    """Either door alone, and both one after the other."""
    left, right = "squash line T X onto line T U", "squash line S X onto line S V"
    for steps in ((left,), (right,), (left, right), (right, left)):
        model = folded(*DOORS, *steps, sheet=UPRIGHT)
        assert covered(model) == pytest.approx(1 / 4 + len(steps) * 3 / 2 / 16)
        for sign in signs(model):
            if isinstance(sign, Arrow):
                assert math.dist(sign.tail, (0.5, 0.5)) == pytest.approx(0, abs=1e-9)


def test_nested_folds_open_together() -> None:
    """Paper folded to a quarter, and a pair of layers inside the flap: all of them open (derived)."""
    model = folded(
        "mark O at centre; mark M at midpoint of A D; mark N at midpoint of C D; "
        "valley bottom edge onto top edge; valley left edge onto right edge",
        "squash line O M onto line O N",
    )
    assert spot(model, 0, 50) == pytest.approx(spot(model, 50, 100))


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ("squash line M A onto line M O", "no-spine"),
        ("squash line O M onto line O M", "spine-lies-there"),
        ("squash line 1/3 of O B M onto line O B", "no-spine"),
        ("squash M onto line M B", "no-spine"),
        ("squash line O M onto line through B parallel to line O M", "never-meet"),
        ("squash line O M onto line O B, along line M B", "hinge-elsewhere"),
        ("squash line O M", "squash-what"),
        ("squash line O B onto line O M", "blocked"),
        ("squash line O M with centre line", "unexpected-words"),
    ],
)
def test_refused(words: str, code: str) -> None:
    told = refused(*PRELIMINARY, words, sheet=DIAMOND)
    assert told.code == code
    assert told.hints


def test_a_spine_that_cannot_land() -> None:
    """From the middle of O M, level: the line ends at another folded edge, which holds the layer."""
    words = "squash line H M onto line through H parallel to horizontal centre line"
    told = refused(*PRELIMINARY, f"mark H at 1/2 of O M; {words}", sheet=DIAMOND)
    assert told.code == "blocked"
    assert "this flap hangs together with" in told.message


#: Corners folded to the middle three times, turned over each time: four flaps meet in the middle.
THREE_BLINTZES = (
    "mark O at centre; mark S at midpoint of A B; mark E at midpoint of B C; "
    "mark N at midpoint of C D; mark W at midpoint of D A",
    "mark Sw at 1/4 of S W; mark Se at 1/4 of S E; mark Es at 1/4 of E S; mark En at 1/4 of E N; "
    "mark Ne at 1/4 of N E; mark Nw at 1/4 of N W; mark Wn at 1/4 of W N; mark Ws at 1/4 of W S",
    "valley A to O; valley B to O; valley C to O; valley D to O; turn over",
    "valley bottom corner to centre; valley right corner to centre; "
    "valley top corner to centre; valley left corner to centre; turn over",
    "valley bottom left corner to centre; valley bottom right corner to centre; "
    "valley top right corner to centre; valley top left corner to centre; turn over",
)


@pytest.mark.parametrize("tip", ["Sw", "Se", "Es", "En", "Ne", "Nw", "Wn", "Ws"])
def test_the_eight_pockets_of_four_flaps_are_alike(tip: str) -> None:
    """Two flaps are folded along each slit, one on either side of it: that towards the target opens."""
    corner = {"S": "bottom", "E": "left", "N": "top", "W": "right"}[tip[0]]
    model = folded(*THREE_BLINTZES, f"squash line {tip[0]} {tip} onto line {tip} {corner} corner")
    before, after = model.steps[-1].before, model.finished
    named = {"S": (0.5, 0.0), "E": (1.0, 0.5), "N": (0.5, 1.0), "W": (0.0, 0.5)}[tip[0]]
    assert len(after.facets) == len(before.facets) + 1
    assert math.dist(before.where(named), after.where(named)) == pytest.approx(1 / 4)


TURNED_TRIANGLE = ("valley A to C", "turn over")


def test_the_hinge_is_not_the_edge_that_opens() -> None:
    told = refused(*TURNED_TRIANGLE, "squash line D B onto centre line, along line B D")
    assert told.code == "which-half"
    told = refused(
        *TURNED_TRIANGLE,
        "mark M at midpoint of B D",
        "squash line M B onto line M C, along line M B",
    )
    assert told.code == "hinge-elsewhere"
    assert "cannot be the hinge of its own top layer" in told.message


def test_an_edge_with_two_halves_alike_is_asked_for() -> None:
    """The line meets the folded edge in its middle: either half could come to lie on it."""
    told = refused("valley bottom edge onto top edge", "squash bottom edge onto centre line")
    assert told.code == "which-half"
    assert told.words == "bottom edge"


def test_a_point_on_several_edges_tells_none_from_the_others() -> None:
    """Four flaps meet at the corners of a square: two of their edges run on from the one that is named."""
    two = "valley bottom corner to centre; valley right corner to centre; "
    two += "valley top corner to centre; valley left corner to centre; turn over; turn over"
    told = refused(*THREE_BLINTZES[:3], two, "squash bottom left corner onto right edge")
    assert told.code == "which-edge"


def test_layers_that_hold_together_elsewhere_do_not_open() -> None:
    """The ear of a fish base hangs on its other half, too."""
    found = refused_text("start from fish base\nstep\nsquash top left edge onto centre line\n")
    assert found.code == "not-a-flap"
    assert "hold together elsewhere too" in found.message


@pytest.mark.parametrize("target", ["centre line", "right edge"])
def test_a_flap_that_nothing_holds_is_no_flap(target: str) -> None:
    """Beside the folded edge the paper ends where it would bend: the whole sheet would turn instead."""
    said = refused(
        "mark P at 1/4 of centre midpoint of B C; mark Q at 1/4 of centre midpoint of A B",
        "cut from 1/3 of A D to midpoint of Q P",
        "tuck mountain centre to where left edge meets bottom edge, under midpoint of C P; "
        f"turn over top to bottom; squash bottom right edge onto {target}",
        sheet="sheet square 15 cm\n",
    )
    assert said.code == "not-a-flap"
    assert "nothing holds it" in said.message


def test_flaps_that_cross_over_the_spine_are_asked_about() -> None:
    """A strip folded lengthwise, both its edges folded out again and past the spine, at the end that opens.

    Opened, either of the two comes to cross the other, over or under it: 14 mm of each are beyond the spine,
    and the paper is 28 mm wide on either side, so that neither comes to the other's fold.
    """
    found = refused(
        "mark U at 11/70 of A D; mark V at 3/10 of B C; mark W at 59/70 of A D; mark Z at 7/10 of B C",
        "mark M at midpoint of C D; mark P at midpoint of A D; mark Q at midpoint of B C",
        "mark O at centre; mark X at 1/2 of O M",
        "valley bottom edge onto top edge",
        "valley through U V, moving A, 1 layer",
        "mountain through W Z, moving D, 1 layer",
        "valley Q to P, all layers",
        "squash line O Q onto line O X",
        sheet="sheet rectangle 20 cm by 14 cm\n",
    )
    assert found.code == "which-lies-over"
    assert found.message.startswith("layers inside this flap could come to lie either way round")
    assert any("'with P over Q'" in hint for hint in found.hints)
