"""What folds can be drawn: every random script that is accepted goes through every output.

The number of scripts is set by FOLDSCRIPT_LAW_CASES, for a nightly run beside the normal one.
"""

from __future__ import annotations

import os
import random
from collections.abc import Iterator
from pathlib import Path

from foldscript.building.script import Script
from foldscript.drawing.style.styles import load_style
from foldscript.output.formats import load_format
from foldscript.pages.sizes import page_size
from foldscript.source.diagnostics import FoldscriptError, Source

from ..scripts import folds, script
from .random_bases import BaseWords
from .random_scripts import Words
from .random_sheets import SheetWords

CASES = int(os.environ.get("FOLDSCRIPT_LAW_CASES", "40"))
#: What is made of vectors and words; pictures of dots are the same drawings, painted.
FORMATS = ("svg", "states", "words", "words-html", "slides", "creases", "pdf")


class SquareWords(Words):
    """The words of the mirror law, on a square."""

    sheet = "sheet square 100 mm\n"


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


def test_what_is_accepted_can_be_drawn_told_and_printed() -> None:
    made = 0
    for seed in range(CASES):
        text = random_text(seed)
        if not text:
            continue
        try:
            for name, data in outputs(text):
                assert data, name
                made += 1
        except Exception as error:
            raise AssertionError(f"seed {seed}: {error!r}\n{text}") from error
    assert made > CASES
