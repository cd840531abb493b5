"""Places past a point or a line, or short of it, on the way of what goes there."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from ..laws.images import IMAGES, Image
from ..laws.outcomes import broken
from ..scripts import captions, folded, lies, refused, spot

DIAMOND = "sheet square 100 mm, corner A at the bottom\n"
HALF = 100 * 2**0.5 / 2  # from the middle of the diamond to its corners


def test_past_an_edge_square_to_it() -> None:
    model = folded("valley A to 2 cm beyond edge B C")
    assert lies(model, "A") == pytest.approx((120, 0))
    assert spot(model, 60, 50) == pytest.approx((60, 50))  # halfway between 0 and 120
    assert captions(model) == ["Fold corner A over to 2 cm beyond edge BC."]


def test_past_a_corner_straight_over_it() -> None:
    """From one corner of the diamond over the other, 15 mm on."""
    start = lies(folded("crease A to C", sheet=DIAMOND), "A")
    model = folded("valley A to 15 mm beyond C", sheet=DIAMOND)
    x, y = lies(model, "A")
    assert x == pytest.approx(start[0])
    assert y - start[1] == pytest.approx(2 * HALF + 15)
    assert captions(model) == ["Fold corner A up to 15 mm beyond corner C."]


def test_short_of_a_corner() -> None:
    start = lies(folded("crease A to C", sheet=DIAMOND), "A")
    model = folded("valley A to 1 cm short of top corner", sheet=DIAMOND)
    assert lies(model, "A")[1] - start[1] == pytest.approx(2 * HALF - 10)
    assert captions(model) == ["Fold corner A up to 1 cm short of the top corner."]


def test_short_of_an_edge_is_on_the_paper() -> None:
    model = folded("mountain D to 30 mm short of bottom edge")
    assert lies(model, "D") == pytest.approx((0, 30))


@pytest.mark.parametrize(
    ("words", "height"),
    [
        ("1 cm beyond the top edge", 110),
        ("1 cm short of the top edge", 90),
        ("1/2 inch beyond line D C", 112.7),
    ],
)
def test_an_edge_comes_to_lie_alongside(words: str, height: float) -> None:
    model = folded(f"valley bottom edge onto {words}")
    assert lies(model, "A") == pytest.approx((0, height))
    assert lies(model, "B") == pytest.approx((100, height))


def test_in_a_crease_and_with_other_moves() -> None:
    assert lies(folded("crease A to 2 cm beyond edge B C"), "A") == (0, 0)
    model = folded(
        "valley left corner to right corner",
        "inside reverse A to 1 cm short of C",
        sheet=DIAMOND,
    )
    start = lies(model.steps[0].after, "A")
    goal = lies(model.steps[0].after, "C")
    x, y = lies(model, "A")
    assert (x, y) == pytest.approx((start[0], goal[1] - 10))


def test_it_is_repeated() -> None:
    model = folded("valley B to 1 cm beyond edge A D", "unfold", "repeat steps 1 to 2 on A")
    assert lies(model, "B") == (100, 0)
    doors = folded("valley left edge onto 1 cm short of centre line", "repeat step 1 on the right")
    assert [lies(doors, c)[0] for c in "ABCD"] == pytest.approx([40, 60, 60, 40])


@pytest.mark.parametrize(
    ("statement", "code", "words"),
    [
        ("valley A to 2 cm beyond edge A B", "no-way-beyond", "2 cm beyond edge A B"),
        ("valley A to 2 cm beyond A", "no-way-beyond", "2 cm beyond A"),
        ("mark P at 2 cm beyond A", "no-way-beyond", "2 cm beyond A"),
        ("valley edge A B onto 2 cm beyond C", "unclear-fold", "2 cm beyond C"),
        ("valley A to 0 cm beyond C", "no-length", "0 cm"),
        ("valley A to 30 cm beyond C", "fold-misses-flap", ""),
    ],
)
def test_refused(statement: str, code: str, words: str) -> None:
    fault = refused(statement)
    assert fault.code == code
    assert not words or fault.words == words


SAID: Sequence[Sequence[str]] = (
    ("valley A to 12 mm beyond edge B C",),
    ("valley A to 12 mm short of C", "valley A to 5 mm beyond line A B"),
    ("mountain edge A B onto 7 mm beyond edge C D",),
)


@pytest.mark.parametrize("statements", SAID, ids=lambda said: said[-1])
@pytest.mark.parametrize("image", IMAGES, ids=lambda image: image.name)
def test_the_mirror_law(statements: Sequence[str], image: Image) -> None:
    assert not broken(statements, image)
