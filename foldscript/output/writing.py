"""Puts finished bytes into a folder: all of a model's files, or none of them.

In: file names and their bytes, all rendered already. Out: the files on disk. Files that are as they
should be are left alone. When several change, the whole folder is made anew beside its place and put
there at one stroke, so that a program killed at any moment leaves the old pages or the new ones, never
some of each. Where the system cannot do that, and when one file changes, each file is written beside
its place and renamed over the old one: a reader never sees half a page, and a full disk leaves the
earlier output as it was.
"""

from __future__ import annotations

import contextlib
import os
import re
import shutil
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from ..diagnostics import Diagnostic, FoldscriptError, Hint
from .swapping import exchange

#: How a file or folder is called while it is made: its name, then the process.
_PART = r"\.(.+)\.(\d+)\.part"


def write_files(
    folder: Path, files: Mapping[str, bytes], stem: str, aside: Mapping[str, bytes] | None = None
) -> list[Path]:
    """Writes `files` (name to bytes) of the model called `stem` into `folder`, made if missing.

    Pictures of steps ('cup-09.svg') that an earlier, longer build left there go away, in the formats
    written now; other files stay. `aside` are files that tell of the others, written with them or
    after them. Returns the paths of `files`, in the order given.
    Raises FoldscriptError ('cannot-write') when the folder or a file in it cannot be written.
    """
    place = folder.resolve() if folder.is_symlink() else folder
    told = dict(aside or {})
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        _sweep(place)
        if place.is_dir():
            _renew(place, files, told, _left_over(place, files, stem))
        elif place.exists():
            raise FileExistsError(17, "is not a folder", str(place))
        else:
            _make(place, {**files, **told})
    except OSError as error:
        raise FoldscriptError(_cannot_write(folder, error)) from error
    return [folder / name for name in files]


def _make(place: Path, files: Mapping[str, bytes]) -> None:
    """A folder that was not there."""
    with _staging(place) as part:
        for name, data in files.items():
            (part / name).write_bytes(data)
        try:
            part.rename(place)
            return
        except OSError:
            place.mkdir(exist_ok=True)
    _replace(place, files, ())


def _renew(
    place: Path, files: Mapping[str, bytes], told: Mapping[str, bytes], old: Iterable[Path]
) -> None:
    """A folder that is there already."""
    for name in (*files, *told):
        if (place / name).is_dir():
            raise IsADirectoryError(None, "is a folder", str(place / name))
    new = {name: data for name, data in files.items() if not _holds(place / name, data)}
    gone = tuple(old)
    several = len(new) + len(gone) > 1
    if not (several and _exchanged(place, {**new, **told}, gone)):
        _replace(place, new, gone)
        _replace(place, {n: data for n, data in told.items() if not _holds(place / n, data)}, ())


def _holds(path: Path, data: bytes) -> bool:
    """Whether a plain file holds these bytes already."""
    try:
        whole = not path.is_symlink() and path.stat().st_size == len(data)
        return whole and path.read_bytes() == data
    except OSError:
        return False


def _replace(place: Path, files: Mapping[str, bytes], gone: Iterable[Path]) -> None:
    """One file after the other."""
    parts: list[tuple[Path, Path]] = []
    try:
        for name, data in files.items():
            part = place / f".{name}.{os.getpid()}.part"
            parts.append((part, place / name))
            part.write_bytes(data)
        for part, path in parts:
            os.replace(part, path)
        for path in gone:
            path.unlink()
    finally:
        for part, _ in parts:
            with contextlib.suppress(OSError):
                part.unlink(missing_ok=True)


# --- a whole folder at one stroke ------------------------------------------------------------------


def _exchanged(place: Path, files: Mapping[str, bytes], gone: Iterable[Path]) -> bool:
    """All at one stroke; False, and nothing done, where that is not possible."""
    left = {path.name for path in gone} | set(files)
    try:
        before = {entry.name: entry for entry in os.scandir(place)}
        if any(entry.is_dir(follow_symlinks=False) for entry in before.values()):
            return False
        with _staging(place) as part:
            shutil.copymode(place, part)
            if not _linked(place, part, before.keys() - left):
                return False
            for name, data in files.items():
                (part / name).write_bytes(data)
            if not exchange(part, place):
                return False
            for late in set(os.listdir(part)) - before.keys():  # come while we were at it
                with contextlib.suppress(OSError):
                    (part / late).rename(place / late)
            return True
    except PermissionError:
        return False


def _linked(place: Path, part: Path, names: Iterable[str]) -> bool:
    """What stays, under a second name; not every drive can do that."""
    try:
        for name in names:
            os.link(place / name, part / name, follow_symlinks=False)
    except (OSError, NotImplementedError):
        return False
    return True


@contextlib.contextmanager
def _staging(place: Path) -> Iterator[Path]:
    """A new folder beside a place, with the name of this process; it goes away afterwards."""
    part = place.with_name(f".{place.name}.{os.getpid()}.part")
    shutil.rmtree(part, ignore_errors=True)
    part.mkdir()
    try:
        yield part
    finally:
        shutil.rmtree(part, ignore_errors=True)


def _sweep(place: Path) -> None:
    """Clears away what processes left that were killed at work."""
    for folder, of in ((place.parent, place.name), (place, None)):
        with contextlib.suppress(OSError):
            for name in os.listdir(folder):
                match = re.fullmatch(_PART, name)
                if match is None or of not in (None, match[1]) or _alive(int(match[2])):
                    continue
                path = folder / name
                if path.is_dir() and not path.is_symlink():
                    shutil.rmtree(path, ignore_errors=True)
                else:
                    path.unlink()


def _alive(process: int) -> bool:
    """Whether a process may still be at work; where that cannot be asked, it may."""
    if os.name != "posix" or process == os.getpid():
        return True
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except (OSError, OverflowError):
        return True
    return True


# --- what goes, and what is wrong ------------------------------------------------------------------


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
    place = Path(os.fsdecode(error.filename or folder))
    if (match := re.fullmatch(_PART, place.name)) is not None:
        place = place.with_name(match[1])
    return Diagnostic(
        "cannot-write",
        f"cannot write {str(place)!r}: {reason.lower()}",
        hints=(Hint("name another folder with --out, or free this one"),),
    )
