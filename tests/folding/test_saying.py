"""What captions call the points and lines of the paper."""

from __future__ import annotations

import pytest

from ..scripts import SQUARE, captions, folded

HALF = "crease left edge onto right edge as v"
LEVEL = "crease bottom edge onto top edge as h"


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("mark M at midpoint of A B", "the middle of edge AB"),
        ("mark M at midpoint of A C", "the middle of line AC"),
        ("mark M at 1/3 of A C", "the point a third of the way from corner A to corner C"),
        ("mark M at 3/7 of A C", "the point 3/7 of the way from corner A to corner C"),
        ("mark M at midpoint of the left edge", "the middle of the left edge"),
        ("mark M at 1/4 of the left edge", "the point a quarter of the way up the left edge"),
        (
            "mark M at 2/3 of the top edge",
            "the point a third of the way along the top edge from its right end",
        ),
    ],
)
def test_points_between(line: str, words: str) -> None:
    place = line.removeprefix("mark M at ")
    assert captions(folded(f"hold {place}")) == [f"Hold the paper at {words}."]


@pytest.mark.parametrize(
    ("before", "line", "words"),
    [
        ((HALF,), "valley edge A D onto v", "the vertical crease"),
        ((LEVEL,), "valley edge A B onto h", "the horizontal crease"),
        (("crease A to C as d",), "valley A along d", "the diagonal crease"),
        (
            ("crease A to C as d", "crease B to D as e"),
            "valley A along d",
            "the diagonal crease from the top left to the bottom right",
        ),
        (
            (HALF, "crease left edge onto v as w", "crease right edge onto v as x"),
            "valley left edge onto x",
            "the right vertical crease",
        ),
        (
            (HALF, "crease left edge onto v as w", "crease right edge onto v as x"),
            "valley left edge onto v",
            "the middle vertical crease",
        ),
        (("valley A to C as f",), "hold f", "the bottom left edge"),
    ],
)
def test_creases_are_told_by_how_they_run(before: tuple[str, ...], line: str, words: str) -> None:
    last = captions(folded(*before, line))[-1]
    assert words in last, last


def test_only_creases_that_the_figure_shows_are_told_apart() -> None:
    """The second fold's crease is made while the figure still shows one."""
    both = folded(HALF, "crease left edge onto v as w; crease right edge onto v as x")
    assert [c.split(". ")[0] for c in captions(both)[1:]] == [
        "Fold the left edge over to the vertical crease",
        "Fold the right edge over to the vertical crease",
    ]


def test_names_that_a_script_gives_to_creases_are_not_said() -> None:
    model = folded("crease A to C as secret", "valley A along secret")
    assert not any("secret" in caption for caption in captions(model))


def test_a_pinch_is_no_crease() -> None:
    first = "pinch edge B A onto edge C D, at edge D A, as p"
    assert "to the pinch." in captions(folded(first, "valley bottom edge onto p"))[-1]
    both = captions(folded(first, "pinch A to B, at edge A B, as q", "valley left edge onto q"))
    assert "to the pinch made in step 2." in both[-1]


def test_creases_of_the_same_step_are_told_apart() -> None:
    (caption,) = captions(
        folded(
            "mark P at 1/4 of A D; mark Q at 1/2 of A D; "
            "crease through P perpendicular to edge A D, as low; "
            "crease through Q perpendicular to edge A D, as high; "
            "pleat along high and low, moving A"
        )
    )[-1:]
    assert "along the middle horizontal crease" in caption
    assert "along the bottom horizontal crease" in caption


def test_the_middle_crease_is_called_so_whatever_else_its_step_creases() -> None:
    told = captions(
        folded(
            "crease left edge onto right edge as v; crease left edge onto v; crease right edge onto v"
        )
    )
    assert told[1:] == [
        "Fold the left edge over to the middle vertical crease. Crease, and unfold.",
        "Fold the right edge over to the middle vertical crease. Crease, and unfold.",
    ]


@pytest.mark.parametrize(
    ("degrees", "seen"),
    [(25, 25), (335, 25), (155, 25), (205, 25), (90, 90), (270, 90), (22.5, 22.5)],
)
def test_an_angle_is_told_as_it_is_seen(degrees: float, seen: float) -> None:
    (told,) = captions(
        folded(
            f"mark M at midpoint of A B; crease along line through M at {degrees:g} degrees to edge A B"
        )
    )
    assert f" at {seen:g} degrees to edge AB" in told


def test_mirror_images_are_told_alike() -> None:
    left = captions(folded("valley D to 1/4 of the bottom edge"))
    right = captions(folded("valley C to 3/4 of the bottom edge"))
    assert [t.replace("D", "C").replace("left", "right") for t in left] == right


WATERBOMB = "start from waterbomb base\nsheet square 100 mm\n"


@pytest.mark.parametrize(
    ("steps", "words", "sheet"),
    [
        (("valley bottom left corner to top corner, 2 layers",), ", front flap only", WATERBOMB),
        (("mountain bottom left corner to top corner, 2 layers",), ", back flap only", WATERBOMB),
        (("valley A to C", "valley B to D, 2 layers"), ", all layers together", SQUARE),
        (
            ("valley A to C", "valley top right corner to midpoint of B D, 1 layer"),
            ", front layer only",
            SQUARE,
        ),
    ],
)
def test_layers_that_hang_together_are_a_flap(
    steps: tuple[str, ...], words: str, sheet: str
) -> None:
    assert captions(folded(*steps, sheet=sheet))[-1].endswith(f"{words}.")
