"""Twist: pleats round a polygon close, the polygon turns, all else only comes nearer."""

from __future__ import annotations

import math

import pytest

from foldscript.folding.steps import Model
from foldscript.paper.signs import FoldLine, PointSign, Sense

from ..laws.images import IMAGES, Image, has_image
from ..laws.outcomes import broken
from ..scripts import captions, covered, creases, folded, lies, refused, spot

#: A square of 20 mm from corner to opposite corner amid 100 mm, its corners right, top, left and bottom.
SQUARE_AMID = (
    "mark O at centre; mark P at 1/5 of O midpoint of B C; mark Q at 1/5 of O midpoint of C D; "
    "mark R at 1/5 of O midpoint of D A; mark S at 1/5 of O midpoint of A B"
)
TWIST = "twist P Q R S, along line through P perpendicular to edge A B"
#: Names for the corners of a middle.
_NAMES = "PQRSTUVW"


def in_regular(n: int, degrees: float, *more: str) -> tuple[str, str]:
    """Steps that twist a small copy of a regular sheet in its middle; the pleats leave at an angle."""
    amid = "mark M at midpoint of A B; mark N at midpoint of B C; "
    amid += "crease through M perpendicular to edge A B, as m; "
    amid += "crease through N perpendicular to edge B C, as n; mark O where m meets n; "
    corners = _NAMES[:n]
    amid += "; ".join(f"mark {c} at 1/5 of O {chr(65 + k)}" for k, c in enumerate(corners))
    line = f"line through P at {180 - degrees} degrees to line P Q"
    return amid, " ".join((f"twist {' '.join(corners)}, along {line}", *more))


def drawn(model: Model) -> dict[Sense, float]:
    """Length of the creases drawn in the last step, in millimetres, by sense."""
    (panel,) = model.steps[-1].panels
    lines = [sign for sign in panel.signs if isinstance(sign, FoldLine)]
    return {s.sense: 100 * sum(math.dist(*seg) for _, seg in s.parts) for s in lines}


def circling(model: Model) -> list[tuple[str, tuple[int, int]]]:
    """Signs at points of the last step: their kinds and places, in millimetres."""
    (panel,) = model.steps[-1].panels
    found = [sign for sign in panel.signs if isinstance(sign, PointSign)]
    return [(s.kind, (round(100 * s.at[0]), round(100 * s.at[1]))) for s in found]


def test_a_square_twist() -> None:
    """Pleats of 10 mm on four sides: 100 mm less 2 pleats of twice 10 mm each way. Nine flat pieces: the
    middle, four pleats, four corners (common practice: the square twist)."""
    model = folded(SQUARE_AMID, TWIST)
    assert len(model.finished.plates) == 9
    assert covered(model) == pytest.approx(0.8**2)
    assert {lies(model, name) for name in "ABCD"} == {(10, 10), (90, 10), (90, 90), (10, 90)}
    sides = 4 * 10 * math.sqrt(2)
    assert drawn(model) == pytest.approx({Sense.MOUNTAIN: sides + 4 * 40, Sense.VALLEY: 4 * 50})
    assert captions(model)[-1] == (
        "Fold the pleats round points P, Q, R and S all at once, and turn the middle clockwise by 90 "
        "degrees, until everything lies flat."
    )
    assert circling(model) == [("twist-clockwise", (50, 50))]


def test_the_middle_turns_about_itself() -> None:
    """A quarter turn clockwise: what was right lies at the bottom."""
    model = folded(SQUARE_AMID, TWIST)
    assert spot(model, 60, 50) == (50, 40)
    assert spot(model, 50, 60) == (60, 50)
    top = model.finished.facets_at((0.5, 0.5))[0]
    assert model.finished.facets[top].shows_front


def test_behind_the_middle_lies_underneath() -> None:
    model = folded(SQUARE_AMID, f"{TWIST}, behind")
    sides = 4 * 10 * math.sqrt(2)
    assert drawn(model) == pytest.approx({Sense.VALLEY: sides + 4 * 40, Sense.MOUNTAIN: 4 * 50})
    under = model.finished.facets_at((0.5, 0.5 + 1e-3))[-1]
    assert model.finished.facets[under].shows_front
    assert spot(model, 60, 50) == (50, 40)


def test_the_other_way_round() -> None:
    """The pleat at the side from P to S runs straight up from P: the mirror image turns the other way."""
    model = folded(SQUARE_AMID, TWIST.replace("P Q R S", "P S R Q"))
    assert spot(model, 60, 50) == (50, 60)
    assert "anticlockwise by 90 degrees" in captions(model)[-1]


@pytest.mark.parametrize("n", [3, 4, 5, 6])
def test_regular_middles_fold_up_to_half_their_angle(n: int) -> None:
    """At half the angle of the corner the pleats meet in the middle underneath; beyond, in a ring.

    A middle of n sides has n pleats and n parts between them.
    """
    half = 90 * (n - 2) / n
    sheet = f"sheet regular {n}-gon, side 10 cm\n"
    for degrees in (half / 2, half):
        model = folded(*in_regular(n, degrees), sheet=sheet)
        assert len(model.finished.plates) == 2 * n + 1
        assert f"{2 * degrees:.4g} degrees" in captions(model)[-1]
    assert refused(*in_regular(n, half + 3), sheet=sheet).code == "twist-collides"


def test_a_middle_of_unequal_sides() -> None:
    """A trapezium: the same angle at all sides, whatever the polygon."""
    model = folded(
        "mark P at 2/5 of A C; mark R at 3/5 of A C; mark Q at 2/5 of B D; mark S at 3/5 of B D",
        "mark T at midpoint of R S; twist P Q R T, along line through P at 160 degrees to line P Q",
    )
    assert len(model.finished.plates) == 9
    assert "by 40 degrees" in captions(model)[-1]


def test_it_unfolds() -> None:
    model = folded(SQUARE_AMID, f"{TWIST}, as t", "unfold")
    assert covered(model) == pytest.approx(1)
    assert lies(model, "A") == (0, 0)
    whole = sum(math.dist(p, q) for p, q in creases(model))
    assert whole == pytest.approx(4 * 10 * math.sqrt(2) + 4 * (40 + 50), rel=1e-6)


@pytest.mark.parametrize(
    ("steps", "code"),
    [
        ((SQUARE_AMID, "twist P Q, along line P B"), "twist-what"),
        ((SQUARE_AMID, "twist P Q R S"), "twist-what"),
        ((SQUARE_AMID, "twist P R Q S, along line P B"), "twist-what"),
        ((f"{SQUARE_AMID}; mark T at P", "twist P Q R T, along line P B"), "twist-what"),
        ((SQUARE_AMID, "twist P Q R S, along edge A B"), "off-the-line"),
        ((SQUARE_AMID, "twist P Q R S, along line P Q"), "twist-along-side"),
        (
            (SQUARE_AMID, "twist P Q R S, along line through P perpendicular to line P Q"),
            "twist-either-way",
        ),
        (
            (SQUARE_AMID, "twist P Q R S, along line through P at 120 degrees to line P Q"),
            "twist-collides",
        ),
        (
            (SQUARE_AMID, "valley C to midpoint of A C", "twist P Q R S, along line P B"),
            "twist-held",
        ),
        (
            (SQUARE_AMID, "valley B to 1/5 of B C", TWIST),
            "twist-held",
        ),
    ],
)
def test_refusals(steps: tuple[str, ...], code: str) -> None:
    found = refused(*steps)
    assert found.code == code, found.message
    assert found.hints


def test_a_middle_as_wide_as_the_paper() -> None:
    """Beyond the side from D to A the paper ends in a point, amid a pleat; at the corners there is none."""
    sheet = "sheet polygon 0 0, 200 0, 240 120, 110 170, 40 140 mm\n"
    found = refused("twist D C B A, along line through D at 22.5 degrees to line D C", sheet=sheet)
    assert found.code == "twist-at-the-edge"


@pytest.mark.parametrize("image", IMAGES, ids=lambda image: image.name)
@pytest.mark.parametrize("last", ["", ", behind"])
def test_the_mirror_law_of_twists(image: Image, last: str) -> None:
    statements = [
        *SQUARE_AMID.split("; "),
        "crease through P perpendicular to edge A B, as k",
        f"twist P Q R S, along k{last}",
        "valley A to O",
    ]
    if has_image(statements, image):
        assert not broken(statements, image)
