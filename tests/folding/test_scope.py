"""What the words for points and lines stand for, on flat paper and on folded."""

from __future__ import annotations

import pytest

from foldscript.folding.steps import Model
from foldscript.geometry.lines import Point

from ..scripts import creases, folded, lies, refused

MARKS = "mark P at 1/4 of A B; mark Q at 1/2 of C D; crease A to C as d; crease B to D as e"


def marked(point: str, *before: str, sheet: str = "sheet square 100 mm\n") -> Point:
    """The place on the sheet that `mark` names, in millimetres; read from a crease through it."""
    model = folded(*before, f"mark X at {point}", sheet=sheet)
    (label,) = model.steps[-1].panels[-1].labels
    assert label[0] == "X"
    unit = model.sheet.unit_mm
    return round(label[1][0] * unit, 6) + 0.0, round(label[1][1] * unit, 6) + 0.0


@pytest.mark.parametrize(
    ("words", "at"),
    [
        ("A", (0, 0)),
        ("corner C", (100, 100)),
        ("P", (25, 0)),
        ("point Q", (50, 100)),
        ("midpoint of A B", (50, 0)),
        ("1/3 of A D", (0, 33.333333)),
        ("2/3 of D A", (0, 33.333333)),
        ("1/4 of edge B C", (100, 25)),
        ("midpoint of P Q", (37.5, 50)),
        ("midpoint of the left edge", (0, 50)),
        ("1/4 of the top edge", (25, 100)),
        ("where d meets e", (50, 50)),
        ("where line P Q meets d", (40, 60)),  # 4 x - y = 100 and x + y = 100
        ("where line through P perpendicular to edge A B meets e", (25, 25)),
        ("centre", (50, 50)),
        ("the centre", (50, 50)),
        ("bottom left corner", (0, 0)),
        ("top right corner", (100, 100)),
        ("upper left corner", (0, 100)),
    ],
)
def test_points_on_flat_paper(words: str, at: Point) -> None:
    assert marked(words, MARKS) == pytest.approx(at)


@pytest.mark.parametrize(
    ("line", "ends"),
    [
        ("edge A B", None),
        ("line P Q", ((25, 0), (50, 100))),
        ("line through P and Q", ((25, 0), (50, 100))),
        ("line through P perpendicular to edge A B", ((25, 0), (25, 100))),
        ("line through P parallel to line A C", ((25, 0), (100, 75))),
        ("line through A at 45 degrees to edge A B", ((0, 0), (100, 100))),
        ("line through A at 30° to edge A B", ((0, 0), (100, 57.735027))),
        ("line through B at 150 degrees to edge B A", ((0, 57.735027), (100, 0))),
        ("line bisecting edge A B and edge C D", ((0, 50), (100, 50))),
        ("the centre line", ((50, 0), (50, 100))),
        ("vertical centre line", ((50, 0), (50, 100))),
        ("horizontal centre line", ((0, 50), (100, 50))),
    ],
)
def test_lines_on_flat_paper(line: str, ends: tuple[Point, Point] | None) -> None:
    setup = "mark P at 1/4 of A B; mark Q at 1/2 of C D"
    if ends is None:
        assert refused(setup, f"crease along {line}").code == "fold-misses-flap"
        return
    (found,) = creases(folded(setup, f"crease along {line}"))
    assert list(found) == [pytest.approx(p) for p in sorted(ends)]


def test_a_bisector_of_crossing_lines_needs_a_choice() -> None:
    assert refused("crease along line bisecting line A C and line B D").code == "several-folds"
    both = [
        creases(folded(f"crease along line bisecting line A C and line B D, {word}"))[0]
        for word in ("first", "second")
    ]
    assert sorted(both) == [((0, 50), (100, 50)), ((50, 0), (50, 100))]


def test_points_travel_with_their_paper() -> None:
    """A on C after the fold; a place on the sheet keeps its layer."""
    assert marked("A", "valley A to C") == pytest.approx((100, 100))
    assert marked("midpoint of A B", "valley A to C") == pytest.approx((100, 50))


def test_what_the_eye_sees_follows_the_folded_outline() -> None:
    """A kite: its edges are no edges of the sheet."""
    sheet = "sheet square 100 mm, corner A at the bottom\n"
    kite = ("crease B to D as d", "valley edge A B onto d; valley edge A D onto d")
    assert marked("bottom corner", *kite, sheet=sheet) == marked("A", *kite, sheet=sheet)
    assert folded(*kite, "mark X at midpoint of bottom left edge", sheet=sheet)
    found = refused(*kite, "mark X at midpoint of bottom edge", sheet=sheet)
    assert found.code == "no-such-edge"
    assert found.words == "bottom edge"


def test_several_edges_that_way() -> None:
    found = refused(
        "mark X at midpoint of bottom edge", sheet="sheet square 100 mm, corner A at the bottom\n"
    )
    assert found.code == "two-candidates"
    assert "2 edges face the bottom equally" in found.message
    assert found.words == "bottom edge"


def test_several_corners_that_way() -> None:
    found = refused("mark X at top corner")
    assert found.code == "two-candidates"
    assert "there are 2 top corners" in found.message
    assert "corner C" in found.message
    assert "corner D" in found.message
    assert found.words == "top corner"


def test_top_and_bottom_layer() -> None:
    """At C lie A's layer and C's own; each answers with its own place on the sheet."""
    for word, corner in (("top", "A"), ("bottom", "C")):
        model = folded("valley A to C", f"mark X at {word} layer at C", "unfold", "valley X to B")
        ends = {tuple(seg) for seg in creases(model)}
        assert ends
        moved = model.finished.where(model.sheet.corner(corner))
        assert moved == pytest.approx((1, 0))


def test_a_bent_edge_names_where_it_turns() -> None:
    found = refused("valley A to midpoint of A B", "valley edge A B onto edge C D")
    assert found.code == "bent-edge"
    assert "edge A B turns at 25 mm from corner A" in found.message
    assert found.words == "edge A B"
    named = refused(
        "mark M at 1/4 of A B", "valley A to midpoint of A B", "valley edge A B onto edge C D"
    )
    assert "edge A B turns at M" in named.message
    assert any("'line A M'" in hint for hint in named.hints)


def test_a_bent_crease_is_no_line() -> None:
    found = refused(
        "crease A to C as d", "valley left edge onto right edge", "valley along d, moving A"
    )
    assert found.code == "bent-crease"
    assert "crease 'd'" in found.message
    assert "2" in found.message
    assert found.words == "d"


@pytest.mark.parametrize(
    ("line", "code", "words"),
    [
        ("valley Z to C", "unknown-name", "Z"),
        ("valley A to d", "several-folds", "d"),
        ("valley through d B, moving A", "not-a-point", "d"),
        ("valley along P, moving A", "not-a-line", "P"),
        ("mark X at where edge A B meets edge C D", "lines-never-meet", None),
        ("mark X at where line A A meets d", "same-point", "line A A"),
        ("crease along edge A Q", "not-an-edge", "edge A Q"),
        ("mark X at where line bisecting d and e meets edge A B", "several-lines", None),
        ("crease along line bisecting d and d", "same-line", "line bisecting d and d"),
    ],
)
def test_words_that_stand_for_nothing(line: str, code: str, words: str | None) -> None:
    found = refused(MARKS, line)
    assert found.code == code
    assert found.message.endswith("(in step 2)")
    if words is not None:
        assert found.words == words


def test_a_misspelt_name_gets_a_suggestion() -> None:
    found = refused("mark Middle at midpoint of A B", "valley Midle to C")
    assert found.code == "unknown-name"
    assert found.hints == ("say 'valley Middle to C'",)
    plain = refused("valley X to C")
    assert plain.hints[0].startswith("a new point gets its name first: 'mark X at ...'")
    assert plain.hints[1] == "names known here: A, B, C, D"


SLOPE = "start from waterbomb base\nsheet square 100 mm\n"


def test_between_two_corners_as_the_eye_sees_them() -> None:
    """The middle of the slope, though the sheet's edge from one to the other is bent."""
    up = "valley left corner to top corner, 2 layers"
    assert marked("midpoint of bottom left corner top corner", up, sheet=SLOPE) == (25, 25)
    across = "valley right corner to midpoint of bottom left corner top corner, 2 layers"
    model = folded(up, across, sheet=SLOPE)
    assert lies(model, "D") == (25, 25)
    assert not asked(model)


BENT = "valley A to 1/3 of A B"


@pytest.mark.parametrize(
    ("words", "x"),
    [
        ("midpoint of edge A B", 50),
        ("midpoint of line A B", 200 / 3),
        ("midpoint of bottom left corner B", 175 / 3),
        ("1/4 of line B A", 250 / 3),
        ("1/4 of line A B", 50),
        ("1/4 of edge A B", 25),
        ("1 cm from B on line A B", 90),
        ("1 cm from A on line A B", 130 / 3),
        ("1 cm from A on edge A B", 70 / 3),
    ],
)
def test_on_a_bent_edge_the_words_say_how_it_is_measured(words: str, x: float) -> None:
    """A lies 100/3 mm from where it was, the fold runs 50/3 mm from there."""
    assert marked(words, BENT) == pytest.approx((x, 0))
    assert folded(BENT, f"mark X at {words}").warnings == ()


@pytest.mark.parametrize(
    ("words", "mm"),
    [
        ("midpoint of A B", 17),
        ("1/4 of A B", 25),
        ("1 cm from A along A B", 20),
    ],
)
def test_a_bent_edge_is_asked_about_and_the_hints_settle_it(words: str, mm: int) -> None:
    model = folded(BENT, f"mark X at {words}")
    (warning,) = model.warnings
    assert warning.code == "sheet-or-straight"
    assert f"{mm} mm from" in warning.message
    for hint in warning.hints:
        said = hint.text.split("'")[1]
        assert folded(BENT, f"mark X at {said}").warnings == ()


@pytest.mark.parametrize(
    ("fold", "words", "told"),
    [
        ("valley A to C", "midpoint of A C", ["one-place"]),
        ("valley A to C", "1/3 of A C", ["one-place"]),
        ("valley A to C", "midpoint of A B", []),
        ("valley A to B", "midpoint of A B", []),
    ],
)
def test_a_part_of_no_way_is_told(fold: str, words: str, told: list[str]) -> None:
    """Along an edge of the sheet it is measured round the fold."""
    codes = [note.code for note in folded(fold, f"mark X at {words}").warnings]
    assert [code for code in codes if code == "one-place"] == told


def asked(model: Model) -> list[str]:
    """Whether the script is asked how something is measured."""
    return [note.message for note in model.warnings if note.code == "sheet-or-straight"]


def test_nothing_is_asked_where_one_way_only_can_be_meant() -> None:
    """Where both are one, and where the ends lie on each other."""
    assert not asked(folded("valley A to D", "mark X at midpoint of A D"))
    assert not asked(folded("mark X at midpoint of A B; valley C to 1/3 of A B"))
    half = folded("valley A to C", "mark X at midpoint of A B; valley C to X, 2 layers")
    assert not asked(half)
