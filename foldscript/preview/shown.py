"""What a reader of the preview sees of one script, as plain data.

In: pages, close-ups and faults. Out: values that the board keeps and the browser is told of.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from functools import cached_property
from pathlib import PurePath

from ..source.diagnostics import Diagnostic, Severity
from ..source.reporting import render


@dataclass(frozen=True)
class Picture:
    """An SVG: what it is called on the page, and its size in points."""

    label: str
    svg: bytes
    width: float
    height: float

    @cached_property
    def name(self) -> str:
        """What the browser asks for it by: it follows from the content."""
        return hashlib.sha256(self.svg).hexdigest()[:24]


@dataclass(frozen=True)
class Trouble:
    """A diagnostic as the page shows it; `line` is 0 where it has no place in a text."""

    line: int
    text: str
    error: bool


@dataclass(frozen=True)
class Shown:
    """A script as it stands.

    Attributes
    ----------
    key : which script, as its path is named
    title : of the model; until it is known the browser is told the script's name
    pages : the last good ones
    close, words : figures of the step that changed last, larger, and its caption
    troubles : what is wrong with the text as it stands
    solid : the finished model for `turning.js`, '' where it lies flat
    old : whether the pages are of an earlier text than the one on disk
    """

    key: str
    title: str = ""
    pages: tuple[Picture, ...] = ()
    close: tuple[Picture, ...] = ()
    words: str = ""
    troubles: tuple[Trouble, ...] = ()
    solid: str = ""
    old: bool = False

    def message(self) -> dict[str, object]:
        """What the browser is told: names of pictures, not the pictures."""
        return {
            "key": self.key,
            "title": self.title or PurePath(self.key).stem,
            "pages": [_told(p) for p in self.pages],
            "close": [_told(p) for p in self.close],
            "words": self.words,
            "troubles": [{"line": t.line, "text": t.text, "error": t.error} for t in self.troubles],
            "solid": self.solid,
            "old": self.old,
        }


def _told(picture: Picture) -> dict[str, object]:
    return {
        "name": picture.name,
        "label": picture.label,
        "width": round(picture.width, 2),
        "height": round(picture.height, 2),
    }


def trouble(diagnostic: Diagnostic) -> Trouble:
    """A diagnostic with the line that it points at."""
    line = 0
    if diagnostic.source is not None and diagnostic.span is not None:
        line = diagnostic.source.position(diagnostic.span.start)[0]
    return Trouble(line, render(diagnostic), diagnostic.severity is Severity.ERROR)
