"""The mirror law: the outcome of an image (mirrored, turned, renamed) is the image of the outcome.

Random scripts over all moves, and refusals too: what is refused is refused in the image, for the same
reason. A nightly run of this and the other laws, beside the normal one:

    FOLDSCRIPT_LAW_CASES=20000 .venv/bin/pytest tests/laws
"""

from __future__ import annotations

import os
import random

import pytest

from .images import AS_IT_IS, IMAGES, SHEETS, SQUARE, Image, Sheet, has_image, image_of
from .outcomes import broken, differing, outcome, told
from .random_scripts import BEGINNINGS, Words

CASES = int(os.environ.get("FOLDSCRIPT_LAW_CASES", "300"))


def random_script(seed: int, sheet: Sheet = SQUARE) -> list[list[str]]:
    """Scripts that end in an accepted or a refused statement, each an extension of the one before."""
    rnd = random.Random(seed)
    words = Words(rnd, sheet.names)
    done = list(rnd.choice(BEGINNINGS)) if sheet is SQUARE else []
    for statement in done:
        words.accept(statement)
    found: list[list[str]] = []
    for _ in range(rnd.randrange(3, 9)):
        statement = words.statement()
        refused = outcome([*done, statement], sheet.line(AS_IT_IS)).refused
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


@pytest.mark.parametrize("image", IMAGES, ids=lambda image: image.name)
def test_on_sheets_of_every_shape(image: Image) -> None:
    faults = []
    for seed in range(CASES // len(IMAGES) // 3):
        sheet = SHEETS[seed % len(SHEETS)]
        for statements in random_script(seed, sheet):
            if has_image(statements, image) and (fault := broken(statements, image, sheet)):
                faults.append(f"seed {seed}, {fault}")
    assert not faults, f"{len(faults)} faults\n" + "\n".join(faults[:5])


#: Words that several folds fit, and so 'first', 'second' and 'third', which are read from left to right.
_SEVERAL = (
    *("valley {L} onto {L}", "crease {L} onto {L}, as k{#}", "mountain {L} onto {L}"),
    *("valley {P} onto {L}, through {P}", "crease {P} onto {L} and {P} onto {L}, as k{#}"),
    "valley {P} onto {L} and {P} onto {L}",
)


def choices_broken(seed: int, image: Image) -> str:
    """Of the folds that fit some words, whether each has its image among those that fit the image."""
    rnd = random.Random(seed)
    done = random_script(seed)[-1]
    words = Words(rnd)
    for statement in done:
        words.accept(statement)
    last = words.filled(rnd.choice(_SEVERAL))
    if not has_image([*done, last], image):
        return ""
    sides = []
    for lines, sheet in (
        ([*done, last], SQUARE.line(AS_IT_IS)),
        (image_of([*done, last], image), SQUARE.line(image)),
    ):
        each = [
            outcome([*lines[:-1], f"{lines[-1]}, {pick}"], sheet)
            for pick in ("first", "second", "third")
        ]
        sides.append(each)
    plain, carried = sides
    codes = [sorted(one.refused for one in side) for side in sides]
    fault = "" if codes[0] == codes[1] else f"{codes[0]} and {codes[1]}"
    motion = SQUARE.motion(image)
    for k, one in enumerate(plain):
        others = [other for other in carried if not other.refused]
        if (
            not fault
            and not one.refused
            and all(differing(one, o, motion, image.over) for o in others)
        ):
            fault = f"choice {k + 1} has no image"
    said = image_of([*done, last], image)
    return told(fault, [*done, last], said, f"{image.name}: ", SQUARE.line(image)) if fault else ""


@pytest.mark.parametrize("image", IMAGES, ids=lambda image: image.name)
def test_the_choices_of_an_image_are_the_images_of_the_choices(image: Image) -> None:
    found = (choices_broken(seed, image) for seed in range(CASES // len(IMAGES) // 2))
    faults = [fault for fault in found if fault]
    assert not faults, f"{len(faults)} faults\n" + "\n".join(faults[:5])
