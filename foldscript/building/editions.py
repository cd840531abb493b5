"""What is made of scripts, in one language or several: found in the build cache or made, then written.

In: an `Edition` for each language, with the way to make it. Out: files, and what is to be known about them.
Nothing is written before everything is made. What was made before from the same ingredients, and is still
there, is not made again.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from ..captions.choosing import catalogues_of
from ..output.writing import sweep, write_files
from ..source.diagnostics import Diagnostic, FoldscriptError, Source
from .cache.file import CACHE_FILE, CachedResult, cache_bytes, read_cache
from .cache.ingredients import Ingredients, ancestors_again, ingredients
from .script import Script


@dataclass(frozen=True)
class Built:
    """What came of a script or a booklet file.

    Attributes
    ----------
    files : all of them, those in the build cache too
    notes : what is to be known about them, and what could not be made
    lines : what to tell about them, a line each
    unchanged : whether all were there already, made from the same
    """

    files: tuple[Path, ...]
    notes: tuple[Diagnostic, ...]
    lines: tuple[str, ...] = ()
    unchanged: bool = False


@dataclass(frozen=True)
class Made:
    """One format as made; without files where this machine cannot make it, which the notes say.

    `aside` are hidden files that spare work the next time, by their names.
    """

    files: Mapping[str, bytes]
    notes: Sequence[Diagnostic]
    lines: Sequence[str] = ()
    aside: Mapping[str, bytes] = field(default_factory=dict)


@dataclass(frozen=True)
class Edition:
    """What is to be made in one language.

    Attributes
    ----------
    folder : where its files go
    language : as `Script.said` takes it
    formats : names of what is to be made
    scripts : that it is made of
    options : all else that it depends on, as plain data
    make : makes one of the formats; raises FoldscriptError with what is wrong in the scripts
    kind : tells editions apart that share a folder's build cache ('booklet')
    """

    folder: Path
    language: str
    formats: tuple[str, ...]
    scripts: tuple[Script, ...]
    options: object
    make: Callable[[str], Made]
    kind: str = ""


def build_editions(
    editions: Sequence[Edition], folder: Path, home: Path, fresh: bool, notes: Iterable[Diagnostic]
) -> Built:
    """Makes what is not in the build cache and writes all of it, or nothing, into `folder`.

    Parameters
    ----------
    editions : whose folders are `folder` or lie in it
    home : the folder of what it is made of, which paths in the build cache start from
    fresh : whether to make everything anew
    notes : to be known about all editions
    """
    done = [_made(edition, home, fresh) for edition in editions]
    new = [one for one in done if one.files]
    if new:
        files = {one.within(folder, name): data for one in new for name, data in one.files.items()}
        caches = {one.within(folder, CACHE_FILE): cache_bytes(one.cache, home) for one in new}
        caches |= {one.within(folder, n): data for one in new for n, data in one.aside.items()}
        write_files(folder, files, folder.name, caches)
    else:
        sweep(folder, {one.folder.relative_to(folder) for one in done})
    paths = tuple(one.folder / name for one in done for name in one.names)
    return Built(
        paths,
        tuple(dict.fromkeys((*notes, *(note for one in done for note in one.notes)))),
        tuple(one.within(folder, line, os.sep) for one in done for line in one.lines),
        not new and bool(paths),
    )


@dataclass(frozen=True)
class _Done:
    """An edition: the files that are new, its folder's build cache, what spares work the next time, and
    the names of all files.
    """

    folder: Path
    files: Mapping[str, bytes]
    cache: Mapping[str, CachedResult]
    names: tuple[str, ...]
    notes: tuple[Diagnostic, ...]
    lines: tuple[str, ...]
    aside: Mapping[str, bytes]

    def within(self, whole: Path, name: str, sep: str = "/") -> str:
        """What one of its files is called in the folder of all editions."""
        return sep.join((*self.folder.relative_to(whole).parts, name))


def _made(edition: Edition, home: Path, fresh: bool) -> _Done:
    cache = read_cache(edition.folder, home)
    used: Ingredients | None = None
    keys = {name: f"{edition.kind} {name}".strip() for name in edition.formats}
    known = {} if fresh else _unchanged(edition, home, cache, keys)
    if len(known) < len(keys):
        try:
            ancestors = [text for script in edition.scripts for _, text in script.ancestors]
            used = _ingredients(edition, home, ancestors)
        except FoldscriptError:
            pass  # making it says what is wrong
        if not fresh:
            from .cache.poses import POSES  # not loaded where nothing has changed

            stored = POSES.read(edition.folder)
            for script in edition.scripts:
                script.poses_from(stored)
    files: dict[str, bytes] = {}
    names: list[str] = []
    notes: list[Diagnostic] = []
    lines: list[str] = []
    aside: dict[str, bytes] = {}
    for name, key in keys.items():
        result = known.get(name)
        if result is None:
            made = edition.make(name)
            result = CachedResult.of(used or {}, made.files, made.notes, made.lines)
            files |= made.files
            aside |= made.aside
            cache.pop(key, None)
            if used and made.files:
                cache[key] = result
        names += result.files
        notes += result.notes
        lines += result.lines
    found = {key: pose for s in edition.scripts for key, pose in s.poses_by_key.items()}
    if files and found:
        from .cache.poses import POSES

        aside[POSES.name] = POSES.packed(found)
    return _Done(edition.folder, files, cache, tuple(names), tuple(notes), tuple(lines), aside)


def _unchanged(
    edition: Edition, home: Path, cache: Mapping[str, CachedResult], keys: Mapping[str, str]
) -> dict[str, CachedResult]:
    """Results by format that were made before, from the same as now, and are still there."""
    found: dict[str, CachedResult] = {}
    for name, key in keys.items():
        result = cache.get(key)
        if result is None:
            continue
        try:
            now = _ingredients(edition, home, ancestors_again(result.ingredients, home))
        except FoldscriptError:
            continue  # making it says what is wrong
        if now == result.ingredients and result.intact(edition.folder):
            found[name] = result
    return found


def _ingredients(edition: Edition, home: Path, ancestors: Iterable[Source]) -> Ingredients:
    texts = [script.source for script in edition.scripts]
    catalogues = catalogues_of((edition.language,) if edition.language else ())
    return ingredients(edition.options, home, texts, ancestors, catalogues)
