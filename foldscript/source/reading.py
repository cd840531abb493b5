"""From a file to a `Source`: bytes in, text out, or a diagnostic that says which byte is wrong.

Line ends become plain line feeds and a byte order mark is dropped, so that every later stage counts
the same columns an editor shows. Every text file that a person wrote is read here, and only ordinary files
are: a pipe or a device may keep whoever reads it waiting for ever.
"""

from __future__ import annotations

import os
import stat
import sys
from pathlib import Path

from .diagnostics import Diagnostic, FoldscriptError, Hint, Source, Span

#: Stands for standard input where a script is named.
STANDARD_INPUT = Path("-")
#: Largest file that is read, in bytes. The script of a long model is some twenty thousand.
LARGEST_FILE = 1_000_000

_SAVE_AS_UTF8 = Hint("save the file again as UTF-8 plain text (in the editor: Save as, Encoding)")
_OTHER_ENCODINGS = ((b"\xff\xfe", "UTF-16"), (b"\xfe\xff", "UTF-16"))


def read_file(path: Path, name: str, kind: str) -> Source:
    """Reads a text file.

    Parameters
    ----------
    path : file to read
    name : what messages call it
    kind : what it should be, for messages ('script')

    Raises
    ------
    FoldscriptError : 'cannot-read', 'file-too-long' or 'not-utf-8'
    """
    try:
        if path.is_dir():
            raise _failure("cannot-read", f"{name} is a folder, not a {kind}")
        data = bytes_of(path, LARGEST_FILE + 1)
    except NotAnOrdinaryFile:
        raise _failure("cannot-read", f"{name} is no ordinary file, and so no {kind}") from None
    except FileNotFoundError:
        raise _failure("cannot-read", f"there is no file {name}") from None
    except PermissionError:
        raise _failure("cannot-read", f"{name} may not be read: permission is missing") from None
    except (OSError, ValueError) as trouble:
        reason = getattr(trouble, "strerror", None) or "the system refused"
        raise _failure("cannot-read", f"{name} cannot be read: {reason}") from None
    return _fit(data, name, kind)


def _fit(data: bytes, name: str, kind: str) -> Source:
    """What was read, as text; raises FoldscriptError where it is too long or not UTF-8."""
    if len(data) > LARGEST_FILE:
        raise _failure(
            "file-too-long",
            f"{name} is longer than {LARGEST_FILE // 1000} kB: no {kind} is",
            "check that this is the right file",
        )
    return _decoded(data, name)


def read_script(path: Path, name: str = "") -> Source:
    """Reads a script, as `read_file` does; messages call it `name`, or by its path.

    `STANDARD_INPUT` is read to its end; what a script there starts from is looked for in the present folder.
    """
    if path == STANDARD_INPUT:
        return _fit(sys.stdin.buffer.read(LARGEST_FILE + 1), "standard input", "script")
    return read_file(path, name or str(path), "script")


class NotAnOrdinaryFile(OSError):
    """A pipe, a device or the like stands under the name of a file."""


def bytes_of(path: Path, most: int = -1) -> bytes:
    """The first bytes of an ordinary file, all of them without `most`.

    Raises OSError where it cannot be read, NotAnOrdinaryFile where there is anything else of that name;
    a file exchanged for a pipe at the last moment is noticed too.
    """
    if not stat.S_ISREG(path.stat().st_mode):
        raise NotAnOrdinaryFile(None, "not an ordinary file", str(path))
    with open(path, "rb", opener=_at_once) as file:
        if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):
            raise NotAnOrdinaryFile(None, "not an ordinary file", str(path))
        return file.read(most)


def _at_once(name: str, flags: int) -> int:
    """Opens without waiting for a writer, where the system knows of that."""
    return os.open(name, flags | getattr(os, "O_NONBLOCK", 0))


def _decoded(data: bytes, name: str) -> Source:
    """Decodes a file's bytes; raises FoldscriptError 'not-utf-8' at the first byte that is wrong."""
    for mark, encoding in _OTHER_ENCODINGS:
        if data.startswith(mark):
            text = data.decode(encoding, errors="replace")
            source = Source(name, _plain(text))
            raise FoldscriptError(
                Diagnostic(
                    "not-utf-8",
                    f"the file is saved as {encoding}, not as UTF-8",
                    Span(0, 1),
                    (_SAVE_AS_UTF8,),
                    source=source,
                )
            )
    try:
        return Source(name, _plain(data.decode("utf-8")))
    except UnicodeDecodeError as trouble:
        before = _plain(data[: trouble.start].decode("utf-8"))
        source = Source(name, _plain(data.decode("utf-8", errors="replace")))
        raise FoldscriptError(
            Diagnostic(
                "not-utf-8",
                f"the file is not UTF-8: byte 0x{data[trouble.start]:02X} stands here",
                Span(len(before), len(before) + 1),
                (_SAVE_AS_UTF8,),
                source=source,
            )
        ) from None


def _plain(text: str) -> str:
    """Without byte order mark, with line feeds as the only line ends."""
    return text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")


def _failure(code: str, message: str, *hints: str) -> FoldscriptError:
    return FoldscriptError(Diagnostic(code, message, None, tuple(Hint(h) for h in hints)))
