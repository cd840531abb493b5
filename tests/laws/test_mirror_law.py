"""The mirror law: the outcome of an image (mirrored, turned, renamed) is the image of the outcome.

Random scripts over all moves, and refusals too: what is refused is refused in the image, for the same
reason. `night.py` tries as many seeds as there is time for.
"""

from __future__ import annotations

from collections.abc import Iterable

import pytest

from .cases import CASES, choices, mirrored, sheet_of
from .images import IMAGES, Image

EACH = CASES // len(IMAGES)


def none(faults: Iterable[str]) -> None:
    """Fails with the first faults, each after its seed."""
    found = list(faults)
    assert not found, f"{len(found)} faults\n" + "\n".join(found[:5])


@pytest.mark.parametrize("image", IMAGES, ids=lambda image: image.name)
def test_the_outcome_of_an_image_is_the_image_of_the_outcome(image: Image) -> None:
    none(f"seed {seed}, {fault}" for seed in range(EACH) for fault in mirrored(seed, image))


@pytest.mark.parametrize("image", IMAGES, ids=lambda image: image.name)
def test_on_sheets_of_every_shape(image: Image) -> None:
    none(
        f"seed {seed}, {fault}"
        for seed in range(EACH // 3)
        for fault in mirrored(seed, image, sheet_of(seed))
    )


@pytest.mark.parametrize("image", IMAGES, ids=lambda image: image.name)
def test_the_choices_of_an_image_are_the_images_of_the_choices(image: Image) -> None:
    none(f"seed {seed}, {fault}" for seed in range(EACH // 2) for fault in choices(seed, image))
