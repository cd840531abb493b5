"""Cut: pieces that come off, what is left of the sheet, and what may be done with it."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from foldscript.drawing.sheet.true_sheet import finished_pattern, lines_of_steps
from foldscript.folding.fold import fold
from foldscript.folding.steps import Model
from foldscript.geometry.lines import distance
from foldscript.geometry.polygons import area
from foldscript.moves.registry import verbs
from foldscript.output.states import states
from foldscript.paper.creases import Kind, crease_pattern
from foldscript.paper.signs import Discarded
from foldscript.source.diagnostics import FoldscriptError, Source
from foldscript.syntax.parser import parse

from ..conftest import assert_sound
from ..laws.images import IMAGES, Image, has_image
from ..laws.outcomes import broken
from ..scripts import (
    SQUARE,
    captions,
    folded,
    folds,
    refused,
    script,
    sheet_area,
    spot,
)

BOOK = "valley bottom edge onto top edge"
A4 = "sheet A4 portrait\n"
STRIP = (
    "valley edge A B onto edge A D as slope; mark S where slope meets right edge",
    "cut from B to S, discarding D",
)
CORNER = "mark P at 1/4 of A B; mark Q at 1/4 of A D; cut from P to Q, discarding A"


def left(model: Model) -> float:
    """Area of the paper that is left, in square millimetres."""
    sheet = model.finished.sheet
    holes = sum(area(hole) for hole in sheet.holes)
    return (sheet_area(sheet) + holes) * sheet.unit_mm**2


def goes(*steps: str, sheet: str = "") -> float:
    """Area that the last figure shows as going, in square millimetres of the figure."""
    model = folded(*steps, sheet=sheet) if sheet else folded(*steps)
    signs = model.steps[-1].panels[-1].signs
    rings = [ring for s in signs if isinstance(s, Discarded) for ring in s.areas]
    return sum(area(ring) for ring in rings) * model.finished.sheet.unit_mm**2


def test_what_goes_is_told_and_nothing_of_what_stays() -> None:
    """A strip of 297 - 210 mm; a corner of 25 by 25 mm; of a slit nothing; each layer where it is seen."""
    assert goes(*STRIP, sheet=A4) == pytest.approx(210 * 87)
    assert goes(*CORNER.split("; ")) == pytest.approx(25 * 25 / 2)
    assert goes("mark P at midpoint of A B; cut from P to centre") == pytest.approx(0.0)
    across = "mark P at midpoint of the left edge; mark Q at midpoint of the right edge"
    kept = goes(BOOK, f"{across}; cut from P to Q, all layers, keeping A")
    assert kept == pytest.approx(100 * 25)


def test_a_square_from_a4() -> None:
    """297 - 210 mm of the sheet go; the names of the corners on the strip with them."""
    model = folded(*STRIP, "unfold", sheet=A4)
    assert left(model) == pytest.approx(210 * 210)
    sheet = model.finished.sheet
    corners = {(round(x * sheet.unit_mm, 6), round(y * sheet.unit_mm, 6)) for x, y in sheet.outline}
    assert corners == {(0, 0), (210, 0), (210, 210), (0, 210)}
    assert sheet.corner_names == ("A", "B")
    assert len(model.finished.facets) == 1
    assert model.sheet.shape == "A4 (210 x 297 mm)", "the head says what paper to take"
    assert captions(model)[1].startswith(
        "Cut from corner B to point S. The piece with corner D is not needed. Scissors"
    )


def test_which_piece_goes_is_asked() -> None:
    asked = refused(STRIP[0], "cut from B to S", sheet=A4)
    assert asked.code == "cuts-off"
    ways = [hint for hint in asked.hints if hint.startswith("add ")]
    assert ways == ["add 'discarding A'", "add 'discarding C'"]
    areas = [left(folded(STRIP[0], f"cut from B to S, {way[5:-1]}", sheet=A4)) for way in ways]
    assert areas == pytest.approx([210 * 87, 210 * 210])


def test_what_stays_may_be_said_instead() -> None:
    one = folded(CORNER)
    two = folded(CORNER.replace("discarding A", "keeping C"))
    assert one.finished.sheet == two.finished.sheet
    assert left(one) == pytest.approx(100 * 100 - 25 * 25 / 2)
    assert ". Keep the piece with corner C; the rest is not needed." in captions(two)[-1]


@pytest.mark.parametrize(
    ("steps", "code", "words"),
    [
        ((CORNER, "valley A to C"), "cut-off", "'A' was cut off in step 1"),
        ((f"{CORNER}; mark M at 1/8 of P B", "crease M to Q; crease A to B"), "cut-off", "step 1"),
        ((CORNER, "mark M at 1/3 of edge A B"), "cut-off", "'A' was cut off"),
        (("cut from A to midpoint of B D, discarding B",), "cuts-nothing-off", "hangs together"),
        ((CORNER.replace("discarding A", "discarding P"),), "cuts-off", "on the cut itself"),
        (
            (
                BOOK,
                "mark M at midpoint of A D; mark N at midpoint of B C",
                "cut from M to N, all layers",
            ),
            "cuts-off",
            "say which piece goes",
        ),
        (
            (
                BOOK,
                "mark P at midpoint of left edge; mark Q at midpoint of right edge",
                "cut from P to Q, all layers, keeping A",
            ),
            "",
            "",
        ),
        (
            (
                BOOK,
                "mark P at midpoint of left edge; mark Q at midpoint of right edge",
                "cut from P to Q, all layers, discarding midpoint of bottom edge",
            ),
            "rest-apart",
            "2 pieces",
        ),
        ((CORNER, "repeat step 1 on the other side"), "", ""),
    ],
)
def test_what_is_cut_off_is_told(steps: tuple[str, ...], code: str, words: str) -> None:
    if not code:
        folded(*steps)
        return
    found = refused(*steps)
    assert found.code == code, found.message
    assert words in found.message


def test_a_name_that_was_cut_off_may_be_given_anew() -> None:
    model = folded(CORNER, "mark A at midpoint of P Q", "valley A to C")
    assert spot(model, 12.5, 12.5) == (100, 100)


def test_a_hole_from_point_to_point() -> None:
    """A square of 50 mm on its point out of the middle, by three layers of a corner: 50 * 50 / 2."""
    model = folded(
        "mark O at centre; mark P at midpoint of A O; mark Q at midpoint of B O; "
        "mark R at midpoint of C O; mark S at midpoint of D O",
        "cut from P to Q to R to S to P, discarding O",
        BOOK,
        "unfold",
    )
    (hole,) = model.finished.sheet.holes
    assert -area(hole) == pytest.approx(0.25)
    assert left(model) == pytest.approx(7500)
    assert model.finished.sheet.corner_names == ("A", "B", "C", "D")
    assert sorted(round(p[0], 6) for seg in model.finished.creases for p in seg) == [
        0,
        0.25,
        0.75,
        1,
    ]


def test_a_notch_in_a_folded_edge_opens_to_a_hole() -> None:
    """The notch is a triangle of 20 by 15 mm on two layers, laid open a hole of twice that."""
    model = folded(
        f"{BOOK} as h; mark O at midpoint of h",
        "mark P at 2/5 of bottom edge; mark Q at 3/5 of bottom edge; "
        "mark N at midpoint of top edge; mark X at 3/10 of line O N",
        "cut from P to X to Q, all layers, discarding O",
        "unfold",
    )
    (hole,) = model.finished.sheet.holes
    assert -area(hole) * 100 * 100 == pytest.approx(2 * 20 * 15 / 2)


def test_a_star_by_one_cut() -> None:
    """Ten layers of 36 degrees, cut once, open to a star of five equal points."""
    model = folded(
        "valley top edge onto bottom edge; rotate half turn",
        "mark O at midpoint of bottom edge; mark R at bottom right corner; mark L at bottom left corner; "
        "mark P at where left edge meets line through O at 144 degrees to bottom edge; "
        "valley line O R onto line O P",
        "valley along line O P, moving L, all layers",
        "mountain along line O L, moving right corner, all layers",
        "mark T at 40 mm from O on line O P; mark V at 15 mm from O on line O L; "
        "cut from T to V, all layers, keeping O",
        "unfold to step 0",
    )
    outline = model.finished.sheet.outline
    middle = (0.5, 0.5)
    reach = sorted(round(distance(p, middle) * 100, 6) for p in outline)
    assert reach == [15] * 5 + [40] * 5
    assert left(model) == pytest.approx(10 * 40 * 15 * math.sin(math.radians(36)) / 2)
    assert model.finished.sheet.corner_names == ()


def test_a_cut_off_corner_is_repeated() -> None:
    """All four corners, each an isosceles triangle with legs of 25 mm."""
    model = folded(CORNER, "repeat step 1, 3 times", "valley left edge onto right edge")
    assert left(model) == pytest.approx(100 * 100 - 4 * 25 * 25 / 2)
    assert model.finished.sheet.corner_names == ()
    assert len(model.finished.sheet.outline) == 8


def test_a_symmetry_of_what_is_left_is_used() -> None:
    """The square out of A4 has four corners alike about its middle, where A4 has none."""
    model = folded(
        *STRIP, "unfold", "valley B to midpoint of A S", "repeat step 4, 3 times", sheet=A4
    )
    assert {spot(model, x, y) for x in (0, 210) for y in (0, 210)} == {(105, 105)}


def test_unfolding_reaches_back_over_what_is_cut_off() -> None:
    """The corner that hid the cut comes back to its place; the cut stays."""
    steps = ("valley A to 1/2 of A C", CORNER.replace("A B", "B A").replace("A D", "B C"))
    model = folded(steps[0], steps[1].replace("discarding A", "discarding B"), "unfold")
    assert spot(model, 0, 0) == (0, 0)
    assert model.finished.sheet.corner_names == ("A", "C", "D")
    again = folded(
        steps[0], steps[1].replace("discarding A", "discarding B"), "turn over", "unfold to step 0"
    )
    assert spot(again, 0, 0) == (100, 0)


def test_the_lines_of_a_cut_sheet() -> None:
    """Its edges are those of what is left; the cut stands among the lines of its step."""
    model = folded("crease B to D", CORNER)
    pattern = crease_pattern(model.finished)
    assert len(pattern.lines[Kind.EDGE]) == 5
    ((p, q),) = pattern.lines[Kind.CREASE]
    assert sorted((p, q)) == [pytest.approx((0.125, 0.125)), (1, 1)]
    made = lines_of_steps(model, 2, 2)
    assert [(line.kind, line.step) for line in made.lines] == [(Kind.CUT, 2)]
    assert len(made.outline) == 4
    assert len(finished_pattern(model).outline) == 5


def test_a_model_that_starts_from_a_cut_sheet(tmp_path: Path) -> None:
    (tmp_path / "first.foldscript").write_text(script(CORNER))
    text = 'start from "first.foldscript"\nsheet square 40 cm, corners named K L M N\n'
    text += "step\nvalley L to N\nstep\nunfold to step 0\n"
    path = tmp_path / "second.foldscript"
    path.write_text(text)
    model = fold(parse(Source(str(path), text), verbs()), path)
    assert_sound(model)
    assert model.sheet.unit_mm == pytest.approx(400)
    assert len(model.sheet.outline) == 4, "the sheet to take is whole"
    assert model.finished.sheet.corner_names == ("L", "M", "N")
    assert states(model)["states"][0].get("left") is None
    rest = states(model)["states"][1].get("left")
    assert rest is not None
    assert len(rest["outline"]) == 5


def test_in_a_group_what_is_cut_off_is_gone_outside_too() -> None:
    text = SQUARE + (
        "group trim P, Q, R\n  mark X at 1/4 of P Q\n  mark Y at 1/4 of P R\n"
        "  cut from X to Y, discarding P\nend\nstep\n  do trim A, B, D\nstep\n  crease A to C\n"
    )
    with pytest.raises(FoldscriptError) as error:
        folds(text)
    assert error.value.diagnostics[0].code == "cut-off"
    folds(text.replace("crease A to C", "crease B to D"))


@pytest.mark.parametrize("image", IMAGES, ids=lambda image: image.name)
@pytest.mark.parametrize(
    "statements",
    [
        "valley bottom edge onto top edge; mark P at 1/3 of A D; mark Q at 1/4 of D C; "
        "cut from P to Q, all layers, discarding D; unfold; valley B to midpoint of B C",
        "mark P at 1/4 of A C; mark Q at 1/3 of A B; valley C to P; "
        "cut from P to Q to A, all layers, keeping B; unfold",
        "valley A to C; mark P at 1/4 of B D; mark Q at 2/4 of B D; mark R at 1/4 of B C; "
        "cut from P to R to Q, all layers, keeping C; unfold; valley A to midpoint of A C",
        "mark P at 1/4 of A B; mark Q at 1/4 of A D; cut from P to Q; valley A to C",
    ],
    ids=("corner", "wedge", "notch", "asked"),
)
def test_the_mirror_law_of_cuts(statements: str, image: Image) -> None:
    if has_image(statements.split("; "), image):
        assert not broken(statements.split("; "), image)


EDGE = "cut along line P Q, all layers, keeping D"


def test_a_cut_along_an_edge_of_the_figure_is_told_of() -> None:
    with pytest.raises(FoldscriptError) as caught:
        folded(BOOK, "mark P at 1/3 of bottom edge; mark Q at 2/3 of bottom edge", EDGE)
    assert any("runs along an edge" in hint.text for hint in caught.value.diagnostics[0].hints)
