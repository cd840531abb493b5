"""The examples of the language's reference, each with where it stands.

In: `grammar/README.md`. Out: its scripts, in order, under their headings.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

import foldscript
from foldscript.building.script import Script

from .repository import ROOT

_PIECE = re.compile(
    r"^(?P<level>##+) (?P<heading>[^\n]+)$|^```foldscript\n(?P<text>.*?)^```$", re.M | re.S
)


@dataclass(frozen=True)
class Example:
    """A script of the reference, and the headings over it ('Further moves', 'collapse')."""

    chapter: str
    section: str
    text: str
    script: Script

    def step_of(self, verb: str) -> int:
        """The number of the first step that has a statement with this verb; 0 where there is none."""
        for number, step in enumerate(self.script.program.steps, 1):
            if any(statement.verb == verb for statement in step.body):
                return number
        return 0


@cache
def examples() -> tuple[Example, ...]:
    """All of them."""
    page = (ROOT / "grammar" / "README.md").read_text("utf-8")
    chapter = section = ""
    found: list[Example] = []
    for piece in _PIECE.finditer(page):
        if piece["text"] is not None:
            script = foldscript.parse(piece["text"], "samples/example.foldscript")
            found.append(Example(chapter, section, piece["text"], script))
        elif piece["level"] == "##":
            chapter, section = piece["heading"], ""
        else:
            section = piece["heading"]
    return tuple(found)


def example_of(verb: str) -> Example:
    """Where a move is shown: under its own heading ('repeat' under 'Repeats'), or first of all."""
    having = [one for one in examples() if one.step_of(verb)]
    own = [one for one in having if verb in (one.section, one.chapter.lower().rstrip("s"))]
    return (own or having)[0]
