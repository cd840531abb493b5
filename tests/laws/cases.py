"""The laws, a seed at a time: what a random script of that seed comes to, and what is wrong with it.

In: a seed. Out: faults as text, each with the script that shows it; a law is a function of a seed. The
tests take the first seeds, `night.py` as many as there is time for.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator, Sequence
from functools import lru_cache, partial

from foldscript.folding.resuming import FoldingCache
from foldscript.source.diagnostics import FoldscriptError

from ..checker.validator import faults
from ..conftest import states_document
from ..scripts import folds
from .images import AS_IT_IS, IDENTITY, IMAGES, SHEETS, SQUARE, Image, Sheet, has_image, image_of
from .numbering import numbered_at_random
from .outcomes import ASSEMBLE, broken, differing, outcome, parted, script_of, told, unlike
from .random_scripts import BEGINNINGS, Placings, Words

#: How many a test takes; night.py takes seeds.
CASES = 300
PLAIN = SQUARE.line(AS_IT_IS)


@lru_cache(maxsize=8)
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


@lru_cache(maxsize=8)
def random_assembly(seed: int) -> list[list[str]]:
    """Scripts of units of a few folds that are put together."""
    rnd = random.Random(seed)
    words = Words(rnd)
    done = list(rnd.choice([some for some in BEGINNINGS if 0 < len(some) < 8]))
    for statement in done:
        words.accept(statement)
    most = len(done) + 3
    for _ in range(9):
        statement = words.statement()
        if len(done) < most and not outcome([*done, statement], PLAIN).refused:
            done.append(statement)
            words.accept(statement)
    done.append(ASSEMBLE)
    placings = Placings(words)
    found: list[list[str]] = []
    for _ in range(8):
        statement = placings.statement()
        if outcome([*done, statement], PLAIN).refused:
            found.append([*done, statement])
        else:
            done.append(statement)
            placings.accept(statement)
    return [*found, done]


def assembled(seed: int, image: Image) -> Iterator[str]:
    """Units put together in the image are put together as in the image."""
    for statements in random_assembly(seed):
        if has_image(statements, image) and (fault := broken(statements, image)):
            yield fault


def sheet_of(seed: int) -> Sheet:
    """A sheet that is no square."""
    return SHEETS[seed % len(SHEETS)]


def mirrored(seed: int, image: Image, sheet: Sheet = SQUARE) -> Iterator[str]:
    """The outcome of an image is the image of the outcome."""
    for statements in random_script(seed, sheet):
        if has_image(statements, image) and (fault := broken(statements, image, sheet)):
            yield fault


def numbered_otherwise(seed: int) -> Iterator[str]:
    """Facets kept in another order fold alike."""
    memory = FoldingCache()
    for statements in random_script(seed):
        one = outcome(statements, PLAIN)
        with numbered_at_random(seed):
            other = outcome(statements, PLAIN, memory)
        fault = parted(one, other)
        for a, b in zip(one.states, other.states, strict=False):
            fault = fault or unlike(a, b, IDENTITY, False)
        if fault:
            yield f"numbered otherwise: {fault}: " + "; ".join(statements)


def unsound(statements: Sequence[str], sheet: Sheet = SQUARE) -> Iterator[str]:
    """What the independent checker finds in every state of what is accepted."""
    if not statements or statements[-1] == ASSEMBLE:
        return
    text = script_of(statements, sheet.line(AS_IT_IS))
    try:
        model = folds(text)
    except FoldscriptError as error:
        yield f"{error.diagnostics[0].code}, and accepted a step at a time\n{text}"
        return
    if found := faults(states_document(model)):
        yield f"unsound: {len(found)} faults\n" + "\n".join([*found[:5], text])


#: Words that several folds fit, and so 'first', 'second' and 'third', which are read from left to right.
_SEVERAL = (
    *("valley {L} onto {L}", "crease {L} onto {L}, as k{#}", "mountain {L} onto {L}"),
    *("valley {P} onto {L}, through {P}", "crease {P} onto {L} and {P} onto {L}, as k{#}"),
    "valley {P} onto {L} and {P} onto {L}",
)


def choices(seed: int, image: Image) -> Iterator[str]:
    """Of the folds that fit some words, whether each has its image among those that fit the image."""
    rnd = random.Random(seed)
    done = random_script(seed)[-1]
    words = Words(rnd)
    for statement in done:
        words.accept(statement)
    last = words.filled(rnd.choice(_SEVERAL))
    if not has_image([*done, last], image):
        return
    said = image_of([*done, last], image)
    if fault := _choices_differ([*done, last], said, image):
        yield told(fault, [*done, last], said, f"{image.name}: ", SQUARE.line(image))


def _choices_differ(plain: Sequence[str], said: Sequence[str], image: Image) -> str:
    sides = [
        [
            outcome([*lines[:-1], f"{lines[-1]}, {pick}"], sheet)
            for pick in ("first", "second", "third")
        ]
        for lines, sheet in ((plain, PLAIN), (said, SQUARE.line(image)))
    ]
    codes = [sorted(one.refused for one in side) for side in sides]
    if codes[0] != codes[1]:
        return f"{codes[0]} and {codes[1]}"
    motion = SQUARE.motion(image)
    others = [other for other in sides[1] if not other.refused]
    for k, one in enumerate(sides[0], start=1):
        if not one.refused and all(differing(one, o, motion, image.over) for o in others):
            return f"choice {k} has no image"
    return ""


#: Every case of a seed: its name, and the law that it is a case of.
Case = tuple[str, Callable[[], Iterator[str]]]


def cases(seed: int) -> list[Case]:
    """All that is tried with one seed."""
    sheet = sheet_of(seed)

    def sound(name: str, scripts: list[list[str]], on: Sheet = SQUARE) -> Case:
        return name, partial(unsound, scripts[-1], on)

    return [
        *((f"mirrored, {image.name}", partial(mirrored, seed, image)) for image in IMAGES),
        ("numbered otherwise", partial(numbered_otherwise, seed)),
        sound("sound", random_script(seed)),
        *(
            (f"sheet mirrored, {image.name}", partial(mirrored, seed, image, sheet))
            for image in IMAGES
            if seed % 3 == 0
        ),
        *((sound("sheet sound", random_script(seed, sheet), sheet),) if seed % 3 == 0 else ()),
        *(
            (f"choices, {image.name}", partial(choices, seed, image))
            for image in IMAGES
            if seed % 6 == 0
        ),
        *(
            (f"units mirrored, {image.name}", partial(assembled, seed, image))
            for image in IMAGES
            if seed % 3 == 1
        ),
        *((sound("units sound", random_assembly(seed)),) if seed % 3 == 1 else ()),
    ]
