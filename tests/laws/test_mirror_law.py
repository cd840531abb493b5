"""The mirror law: the outcome of an image (mirrored, turned, renamed) is the image of the outcome.

Random scripts over all moves, and refusals too: what is refused is refused in the image, for the same
reason. The number of scripts is set by FOLDSCRIPT_LAW_CASES, for a nightly run (20,000) beside the
normal one.
"""

from __future__ import annotations

import os
import random

import pytest

from .images import IMAGES, Image, has_image
from .outcomes import broken, outcome
from .random_scripts import BEGINNINGS, Words

CASES = int(os.environ.get("FOLDSCRIPT_LAW_CASES", "300"))
_SQUARE = "sheet square 100 mm, coloured side down, corners named A B C D\n"


def random_script(seed: int) -> list[list[str]]:
    """Scripts that end in an accepted or a refused statement, each an extension of the one before."""
    rnd = random.Random(seed)
    words = Words(rnd)
    done = list(rnd.choice(BEGINNINGS))
    for statement in done:
        words.accept(statement)
    found: list[list[str]] = []
    for _ in range(rnd.randrange(3, 9)):
        statement = words.statement()
        refused = outcome([*done, statement], _SQUARE).refused
        if refused:
            found.append([*done, statement])
            continue
        done.append(statement)
        words.accept(statement)
    return [*found, done]


@pytest.mark.parametrize("image", IMAGES, ids=lambda image: image.name)
def test_the_outcome_of_an_image_is_the_image_of_the_outcome(image: Image) -> None:
    faults = []
    for seed in range(CASES // len(IMAGES)):
        for statements in random_script(seed):
            if has_image(statements, image) and (fault := broken(statements, image)):
                faults.append(f"seed {seed}, {fault}")
    assert not faults, f"{len(faults)} faults\n" + "\n".join(faults[:5])
