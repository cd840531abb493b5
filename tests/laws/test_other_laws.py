"""The numbering law: the outcome does not follow from the order in which facets are kept. The mirror law of
units put together. And the independent checker on all that the laws' scripts come to.
"""

from __future__ import annotations

import pytest

from .cases import (
    CASES,
    assembled,
    numbered_otherwise,
    random_assembly,
    random_script,
    sheet_of,
    unsound,
)
from .images import IMAGES, Image
from .test_mirror_law import none


def test_facets_numbered_otherwise_fold_alike() -> None:
    none(f"seed {seed}: {f}" for seed in range(CASES // 10) for f in numbered_otherwise(seed))


@pytest.mark.parametrize("image", IMAGES[:-1], ids=lambda image: image.name)
def test_units_put_together_in_the_image(image: Image) -> None:
    none(f"seed {seed}: {f}" for seed in range(CASES // 20) for f in assembled(seed, image))


def test_what_is_accepted_is_sound() -> None:
    none(
        f"seed {seed}: {fault}"
        for seed in range(CASES // 10)
        for fault in unsound(random_script(seed)[-1])
    )


def test_what_is_accepted_is_sound_on_other_sheets() -> None:
    none(
        f"seed {seed}: {fault}"
        for seed in range(CASES // 30)
        for fault in unsound(random_script(seed, sheet_of(seed))[-1], sheet_of(seed))
    )


def test_units_put_together_are_sound() -> None:
    none(
        f"seed {seed}: {fault}"
        for seed in range(CASES // 10)
        for fault in unsound(random_assembly(seed)[-1])
    )
