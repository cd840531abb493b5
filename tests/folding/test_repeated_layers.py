"""A repeat puts what it moves between the same layers as the original, or is refused."""

from __future__ import annotations

import pytest

from foldscript.folding.repeating.destinations import apart
from foldscript.folding.repeating.lying import other_way_round
from foldscript.folding.repeating.traces import moved_paper
from foldscript.folding.steps import Model
from foldscript.geometry.isometries import IDENTITY

from ..scripts import folded

DIAMOND = "sheet square 100 mm, coloured side down, corner A at the bottom\n"
CUP = (
    "valley A to C as base; pinch edge B A onto base, at edge D A, as guide",
    "mark G where guide meets edge D A; valley B to G; mark H at the right corner",
    "valley D to H; mark M at midpoint of G H",
)


def cup(upper: str, lower: str) -> Model:
    """The front flap between two layers of the stack."""
    between = f"between {upper} layer at M and {lower} layer at M"
    return folded(*CUP, f"tuck A through G H, {between}", sheet=DIAMOND)


@pytest.mark.parametrize("other", [("third", "fourth"), ("fourth", "fifth")])
def test_another_pocket_is_not_the_same(other: tuple[str, str]) -> None:
    """The corner lies in the same place in the plane each time; only its layer tells the pockets apart."""
    record = cup("top", "second").steps[-1].records[-1]
    pieces = moved_paper(record.before, record.after)
    same, elsewhere = cup("top", "second").finished, cup(*other).finished
    assert other_way_round(record, same, IDENTITY, IDENTITY, pieces) is None
    place = other_way_round(record, elsewhere, IDENTITY, IDENTITY, pieces)
    assert place is not None
    assert place[0] + place[1] < 0.5  # on the corner that moved, A


def test_places_with_the_same_words_are_told_apart_by_their_sides() -> None:
    assert apart((0.0, 1.0), (3.0, 2.0)) == ("at the left", "at the right")
    assert apart((3.0, 0.0), (0.0, 0.0)) == ("at the right", "at the left")
    assert apart((0.0, 0.0), (1.0, 2.0)) == ("lower down", "farther up")
