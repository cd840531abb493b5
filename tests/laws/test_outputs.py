"""What folds can be drawn: every random script that is accepted goes through every output.

`night.py` tries as many seeds as there is time for.
"""

from __future__ import annotations

import random
import traceback
from collections.abc import Iterator
from pathlib import Path

from foldscript.building.script import Script
from foldscript.drawing.style.styles import load_style
from foldscript.output.formats import load_format
from foldscript.pages.sizes import page_size
from foldscript.source.diagnostics import FoldscriptError, Source

from ..scripts import folds, script
from .random_bases import BaseWords
from .random_scripts import STANDING, Words
from .random_sheets import SheetWords

CASES = 40
#: What is made of vectors and words; pictures of dots are the same drawings, painted.
FORMATS = ("svg", "states", "words", "words-html", "slides", "creases", "pdf")


class SquareWords(Words):
    """The words of the mirror law, on a square, and those with which models leave the plane."""

    sheet = "sheet square 100 mm\n"

    def statement(self) -> str:
        """The next one, one in four such that the model stands up."""
        if self.rnd.random() < 0.25:
            return self.filled(self.rnd.choice(STANDING))
        return super().statement()


def random_text(seed: int) -> str:
    """A script of which every statement was accepted; a step holds one or two of them."""
    rnd = random.Random(seed)
    words = (SquareWords, SheetWords, BaseWords)[seed % 3](rnd)
    done: list[str] = []
    for _ in range(rnd.randint(4, 12)):
        statement = words.statement()
        tried = [*done[:-1], f"{done[-1]};{statement}"] if done and rnd.random() < 0.25 else None
        tried = tried or [*done, statement]
        try:
            folds(script(*tried, sheet=words.sheet))
        except FoldscriptError:
            continue
        done = tried
        words.accept(statement)
    return script(*done, sheet=words.sheet) if done else ""


def outputs(text: str) -> Iterator[tuple[str, bytes]]:
    """Every file that is made of a script."""
    one = Script(Path("random.foldscript"))
    one.source = Source("random.foldscript", text)
    drawn = one.drawn(load_style(), page_size("A4"))
    for name in FORMATS:
        yield from load_format(name).files(drawn)


def not_drawn(seed: int) -> Iterator[str]:
    """Why a random script that is accepted cannot be drawn, told and printed."""
    text = random_text(seed)
    if not text:
        return
    try:
        for name, data in outputs(text):
            if not data:
                yield f"{name} is empty\n{text}"
    except Exception:
        yield f"{traceback.format_exc(limit=-4)}\n{text}"


def test_what_is_accepted_can_be_drawn_told_and_printed() -> None:
    faults = [f"seed {seed}: {fault}" for seed in range(CASES) for fault in not_drawn(seed)]
    assert not faults, "\n".join(faults[:5])


def test_random_scripts_are_there_to_be_drawn() -> None:
    made = [name for seed in range(3) for name, _ in outputs(random_text(seed))]
    assert len(made) > 3 * len(FORMATS)
