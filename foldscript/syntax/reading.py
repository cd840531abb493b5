"""From a script's file to a `Source`, as every text file is read (`foldscript.reading`)."""

from __future__ import annotations

from pathlib import Path

from ..source.diagnostics import Source
from ..source.reading import LARGEST_FILE, read_file, source_of

__all__ = ["LARGEST_FILE", "read_source", "source_of"]


def read_source(path: Path | str, name: str | None = None) -> Source:
    """Reads a script.

    Parameters
    ----------
    path : file to read
    name : what messages call it; the path as given when None

    Raises
    ------
    FoldscriptError : 'cannot-read', 'file-too-long' or 'not-utf-8'
    """
    return read_file(Path(path), name if name is not None else str(path), "script")
