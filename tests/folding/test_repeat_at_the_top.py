"""A repeat from the bottom to the top, and back: by the mirror image about the level centre line."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from ..laws.images import IMAGES, Image
from ..laws.outcomes import broken
from ..scripts import captions, folded, lies, refused

CORNER = "valley bottom left corner to 1/4 of A C"


def test_at_the_top() -> None:
    model = folded(CORNER, "repeat step 1 at the top")
    assert [lies(model, c) for c in "ABCD"] == [(25, 25), (100, 0), (100, 100), (25, 75)]
    assert captions(model)[-1] == "Repeat step 1 at the top."


def test_at_the_bottom() -> None:
    model = folded("valley C to 1/4 of C A", "repeat step 1 at the lower")
    assert [lies(model, c) for c in "ABCD"] == [(0, 0), (75, 25), (75, 75), (0, 100)]
    assert captions(model)[-1] == "Repeat step 1 at the bottom."


def test_then_on_the_right() -> None:
    model = folded(CORNER, "repeat step 1 at the top", "repeat steps 1 to 2 on the right")
    assert [lies(model, c) for c in "ABCD"] == [(25, 25), (75, 25), (75, 75), (25, 75)]


def test_behind_and_at_the_top() -> None:
    """Two flaps in front of the doubled sheet, the fold on the left: two behind follow, one at the top."""
    steps = (
        "valley left edge onto right edge",
        "valley bottom right corner to 1/4 of A D, 2 layers",
    )
    assert captions(folded(*steps, "repeat step 2 at the top, behind"))[-1] == (
        "Repeat step 2 at the top, behind."
    )


def test_what_lies_at_the_top_itself() -> None:
    fault = refused("valley D to 1/4 of D B", "repeat step 1 at the top")
    assert fault.code == "repeat-on-itself"
    assert fault.hints[0] == "say 'repeat step 1 at the bottom'"


def test_a_door_at_the_side_has_none_at_the_top() -> None:
    """The top edge lies like the left one did, but its corner has gone with the door."""
    fault = refused("valley left edge onto centre line", "repeat step 1 at the top")
    assert fault.code == "folded-since"


@pytest.mark.parametrize("words", ["at the top corner", "at top left"])
def test_a_corner_is_no_side(words: str) -> None:
    refused(CORNER, f"repeat step 1 {words}")


SAID: Sequence[Sequence[str]] = (
    (CORNER.replace("bottom left corner", "A"), "repeat step 1 at the top"),
    ("valley edge A B onto horizontal centre line", "repeat step 1 at the top"),
    ("valley left edge onto centre line", "repeat step 1 at the top"),
)


@pytest.mark.parametrize("statements", SAID, ids=lambda said: said[0])
@pytest.mark.parametrize("image", IMAGES, ids=lambda image: image.name)
def test_the_mirror_law(statements: Sequence[str], image: Image) -> None:
    assert not broken(statements, image)
