"""Puts finished bytes into a folder: all of a model's files, or none of them.

In: file names and their bytes, all rendered already. Out: the files on disk. Every file is first
written beside its place under a name of its own, then renamed over the old one, so that a reader
never sees half a page and a full disk leaves the earlier output as it was.
"""

from __future__ import annotations

import contextlib
import os
import re
from collections.abc import Mapping
from pathlib import Path

from ..diagnostics import Diagnostic, FoldscriptError, Hint


def write_files(folder: Path, files: Mapping[str, bytes], stem: str) -> list[Path]:
    """Writes `files` (name to bytes) of the model called `stem` into `folder`, made if missing.

    Pictures of steps ('cup-09.svg') that an earlier, longer build left there go away, in the formats
    written now; other files stay. Returns the paths written, in the order given.
    Raises FoldscriptError ('cannot-write') when the folder or a file in it cannot be written.
    """
    parts: list[tuple[Path, Path]] = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name in files:
            if (folder / name).is_dir():
                raise IsADirectoryError(None, "is a folder", str(folder / name))
        for name, data in files.items():
            part = folder / f".{name}.{os.getpid()}.part"
            parts.append((part, folder / name))
            part.write_bytes(data)
        for part, place in parts:
            os.replace(part, place)
        for old in _left_over(folder, files, stem):
            old.unlink()
    except OSError as error:
        raise FoldscriptError(_cannot_write(folder, error)) from error
    finally:
        for part, _ in parts:
            with contextlib.suppress(OSError):
                part.unlink(missing_ok=True)
    return [place for _, place in parts]


def _left_over(folder: Path, files: Mapping[str, bytes], stem: str) -> list[Path]:
    """Pictures of steps and pages in a format written now, but not among the files written now."""
    picture = re.compile(rf"{re.escape(stem)}-(?:\d\d+[a-z]*|(page)-\d+)(\.[a-z]+)")
    kinds = {match.groups() for name in files if (match := picture.fullmatch(name))}
    return [
        path
        for path in sorted(folder.iterdir())
        if (match := picture.fullmatch(path.name))
        and match.groups() in kinds
        and path.name not in files
        and not path.is_dir()
    ]


def _cannot_write(folder: Path, error: OSError) -> Diagnostic:
    reason = error.strerror or str(error)
    place = error.filename or str(folder)
    return Diagnostic(
        "cannot-write",
        f"cannot write {str(place)!r}: {reason.lower()}",
        hints=(Hint("name another folder with --out, or free this one"),),
    )
