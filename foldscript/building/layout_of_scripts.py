"""Scripts laid out in the one canonical way, in their own files.

In: a script's path. Out: its text laid out, and the file with it where it was another. A script that cannot
be read is left alone: FoldscriptError tells why.
"""

from __future__ import annotations

import os
import shutil
from pathlib import Path

from ..moves.registry import verbs
from ..source.diagnostics import Diagnostic, FoldscriptError
from ..source.reading import read_script
from ..syntax.formatting import formatted
from ..syntax.parser import parse


def laid_out(path: Path) -> tuple[str, str]:
    """The script's text as it is, and as it is laid out. Raises FoldscriptError where it cannot be read."""
    source = read_script(path)
    parse(source, verbs())
    return source.text, formatted(source)


def rewrite(path: Path, text: str) -> None:
    """Puts a text in the place of a file's, at once and with the file's rights kept.

    Raises FoldscriptError ('cannot-write').
    """
    place = path.resolve()
    beside = place.with_name(f".{place.name}.{os.getpid()}.part")
    try:
        try:
            beside.write_text(text, encoding="utf-8", newline="\n")
            shutil.copymode(place, beside)
            os.replace(beside, place)
        finally:
            beside.unlink(missing_ok=True)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise FoldscriptError(
            Diagnostic("cannot-write", f"cannot write '{path}': {reason}")
        ) from error
