"""The messages that the page of the language shows are those that their scripts get."""

from __future__ import annotations

import re
from pathlib import Path
from textwrap import dedent

import pytest

from foldscript.folding.fold import fold
from foldscript.folding.unread import read
from foldscript.source.diagnostics import FoldscriptError, Source
from foldscript.source.reporting import render

PAGE = Path(__file__).parents[2] / "grammar" / "README.md"
#: What stands in the file of each message.
SCRIPTS = {
    "cup": 'model "Cup"\ncredit traditional\nsheet square 15 cm, corner A at the bottom\n'
    "\nstep\n  vally A to C as base\n",
    "blintz": "sheet square 15 cm\n\nstep\n  fold the four corners to the middle\n",
    "door": 'sheet square 15 cm\n\nstep "Fold the left edge to the middle."\n'
    "  valley left edge onto right edge\n",
}


def shown() -> dict[str, str]:
    """The messages of the page by their files."""
    _, _, wrong = PAGE.read_text("utf-8").partition("## When something is wrong")
    blocks = re.findall(r"(?:^    .+\n)+", wrong.partition("\n## ")[0], re.MULTILINE)
    return {block.split(".")[0].strip(): dedent(block).strip() for block in blocks}


@pytest.mark.parametrize("name", shown())
def test_a_message(name: str) -> None:
    source = Source(f"{name}.foldscript", SCRIPTS[name])
    try:
        (told,) = fold(read(source)).warnings
    except FoldscriptError as error:
        (told,) = error.diagnostics
    assert render(told) == shown()[name]
