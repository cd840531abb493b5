"""Scripts laid out in the one canonical way, in their own files.

In: a script's path. Out: its text laid out, and the file with it where it was another. A script that cannot
be read is left alone: FoldscriptError tells why.
"""

from __future__ import annotations

from pathlib import Path

from ..moves.registry import verbs
from ..output.writing import rewrite
from ..source.reading import read_script
from ..syntax.formatting import formatted
from ..syntax.parser import parse


def laid_out(path: Path) -> tuple[str, str]:
    """The script's text as it is, and as it is laid out. Raises FoldscriptError where it cannot be read."""
    source = read_script(path)
    parse(source, verbs())
    return source.text, formatted(source)


def lay_out(path: Path, text: str) -> None:
    """Puts the text as laid out in the place of the script's. Raises FoldscriptError ('cannot-write')."""
    rewrite(path, text)
