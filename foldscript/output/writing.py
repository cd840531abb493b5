"""Puts finished bytes into a folder: all of a model's files, or none of them.

In: file names and their bytes, all rendered already. Out: the files on disk. A name may lead into a
folder below ('es/cup.pdf'). Files that are as they should be are left alone. When several change, the
whole folder is made anew beside its place, with all that lies below it, and exchanged atomically, so that
a program killed at any moment leaves the old pages or the new ones, never some of each. Where the
system cannot do that, and when one file changes, each file is written beside its place and renamed over
the old one: a reader never sees half a page, and a full disk leaves the earlier output as it was.
"""

from __future__ import annotations

import contextlib
import os
import re
import shutil
from collections.abc import Collection, Iterable, Iterator, Mapping
from pathlib import Path

from ..source.diagnostics import Diagnostic, FoldscriptError, Hint
from ..source.reading import bytes_of
from .swapping import exchange

#: How a file or folder is called while it is made: its name, then the process.
_PART = r"\.(.+)\.(\d+)\.part"


def write_files(
    folder: Path, files: Mapping[str, bytes], stem: str, aside: Mapping[str, bytes] | None = None
) -> list[Path]:
    """Writes `files` (name to bytes) of the model called `stem` into `folder`, made if missing.

    Names are written with '/'; those with one are for folders below, made if missing. Pictures of
    steps ('cup-09.svg') that an earlier, longer build left there go away, in the formats written now;
    other files stay. `aside` are files that tell of the others, written with them or after them.
    Returns the paths of `files`, in the order given.
    Raises FoldscriptError ('cannot-write') when the folder or a file in it cannot be written.
    """
    place = folder.resolve() if folder.is_symlink() else folder
    told = dict(aside or {})
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        below = {Path(name).parent for name in (*files, *told)}
        _sweep(place, below)
        if place.is_dir():
            _renew(place, files, told, _left_over(place, files, stem))
        elif place.exists():
            raise FileExistsError(17, "is not a folder", str(place))
        else:
            _make(place, {**files, **told})
    except OSError as error:
        raise FoldscriptError(_cannot_write(folder, error)) from error
    return [folder / name for name in files]


def rewrite(path: Path, text: str) -> None:
    """Puts a text in the place of a file's, at once and with the file's rights kept; or makes the file.

    Raises FoldscriptError ('cannot-write').
    """
    place = path.resolve()
    beside = place.with_name(f".{place.name}.{os.getpid()}.part")
    try:
        try:
            beside.write_text(text, encoding="utf-8", newline="\n")
            if place.exists():
                shutil.copymode(place, beside)
            os.replace(beside, place)
        finally:
            beside.unlink(missing_ok=True)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise FoldscriptError(
            Diagnostic("cannot-write", f"cannot write '{path}': {reason}")
        ) from error


def sweep(folder: Path, below: Iterable[Path]) -> None:
    """Clears away what killed programs left, where nothing is to be written; as `write_files` does.

    `below` are folders in the folder, as seen from it.
    """
    _sweep(folder.resolve() if folder.is_symlink() else folder, below)


def _make(place: Path, files: Mapping[str, bytes]) -> None:
    """A folder that was not there."""
    with _staging(place) as part:
        _fill(part, files)
        try:
            part.rename(place)
            return
        except OSError:
            place.mkdir(exist_ok=True)
    _replace(place, files, ())


def _fill(folder: Path, files: Mapping[str, bytes]) -> None:
    for name, data in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)


def _renew(
    place: Path, files: Mapping[str, bytes], told: Mapping[str, bytes], old: Iterable[Path]
) -> None:
    """A folder that is there already."""
    for name in (*files, *told):
        if (place / name).is_dir():
            raise IsADirectoryError(None, "is a folder", str(place / name))
        for folder in (place / name).parents[: len(Path(name).parts) - 1]:
            if not folder.is_dir() and os.path.lexists(folder):
                raise NotADirectoryError(None, "is not a folder", str(folder))
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
        return whole and bytes_of(path) == data
    except OSError:
        return False


def _replace(place: Path, files: Mapping[str, bytes], gone: Iterable[Path]) -> None:
    """One file after the other."""
    parts: list[tuple[Path, Path]] = []
    try:
        for name, data in files.items():
            path = place / name
            path.parent.mkdir(parents=True, exist_ok=True)
            part = path.with_name(f".{path.name}.{os.getpid()}.part")
            parts.append((part, path))
            part.write_bytes(data)
        for part, path in parts:
            os.replace(part, path)
        for path in gone:
            path.unlink()
    finally:
        for part, _ in parts:
            with contextlib.suppress(OSError):
                part.unlink(missing_ok=True)


# --- a whole folder, atomically ---------------------------------------------------------------------


def _exchanged(place: Path, files: Mapping[str, bytes], gone: Iterable[Path]) -> bool:
    """All of it atomically; False, and nothing done, where that is not possible."""
    left = {path.relative_to(place) for path in gone} | {Path(name) for name in files}
    if any((place / folder).is_symlink() for path in left for folder in path.parents[:-1]):
        return False  # what it leads to lies elsewhere
    try:
        with _staging(place) as part:
            before = _linked(place, part, left)
            if before is None:
                return False
            _fill(part, files)
            if not exchange(part, place):
                return False
            _bring_late(part, place, before)
            return True
    except PermissionError:
        return False


def _linked(place: Path, part: Path, left: Collection[Path]) -> set[Path] | None:
    """What stays, under a second name, and all folders. Not every drive can do that: None then.

    Gives everything that there was, those in `left` too, as seen from the folder.
    """
    before: set[Path] = set()
    try:
        shutil.copymode(place, part)
        for path in _all_in(place):
            name = path.relative_to(place)
            before.add(name)
            if path.is_dir() and not path.is_symlink():
                if not os.access(path, os.W_OK):
                    return None  # it could not be cleared away afterwards
                (part / name).mkdir()
                shutil.copymode(path, part / name)
            elif name not in left:
                os.link(path, part / name, follow_symlinks=False)
    except (OSError, NotImplementedError):
        return None
    return before


def _bring_late(old: Path, place: Path, before: Collection[Path]) -> None:
    """What others put into the old folder while the new one was made goes where they wanted it."""
    for path in list(_all_in(old)):
        name = path.relative_to(old)
        if name not in before:
            with contextlib.suppress(OSError):  # gone already, with the folder that it is in
                path.rename(place / name)


def _all_in(folder: Path) -> Iterator[Path]:
    """Files and folders below, a folder before what it holds; links are not followed."""

    def refuse(error: OSError) -> None:
        raise error

    for at, folders, names in os.walk(folder, onerror=refuse):
        yield from (Path(at) / name for name in (*folders, *names))


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


def _sweep(place: Path, below: Iterable[Path]) -> None:
    """Clears away what processes left that were killed at work; `below` are folders in the place."""
    for folder, of in ((place.parent, place.name), *((place / one, None) for one in below)):
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
    picture = re.compile(rf"{re.escape(stem)}-(?:\d\d+[a-z]*(?:-half)?|(page)-\d+)(\.[a-z]+)")
    wanted = {folder / name for name in files}
    kinds = {
        (path.parent, *match.groups()) for path in wanted if (match := picture.fullmatch(path.name))
    }
    return [
        path
        for place in sorted({place for place, *_ in kinds})
        if place.is_dir()
        for path in sorted(place.iterdir())
        if (match := picture.fullmatch(path.name))
        and (place, *match.groups()) in kinds
        and path not in wanted
        and not path.is_dir()
    ]


def _cannot_write(folder: Path, error: OSError) -> Diagnostic:
    reason = error.strerror or str(error)
    said = Path(os.fsdecode(error.filename or folder))
    names = (match[1] if (match := re.fullmatch(_PART, one)) else one for one in said.parts)
    place = Path(*names)
    return Diagnostic(
        "cannot-write",
        f"cannot write {str(place)!r}: {reason.lower()}",
        hints=(Hint("name another folder with --out, or free this one"),),
    )
