"""Finds the moves: every module in this folder brings a `MOVE`, or `MOVES`. A new file is a new move.

Which file brings which verb is kept between runs (`source.kept`), so that a script loads only the moves that
it makes. Where a file has changed, all are loaded, and each is asked for what it lacks.
"""

from __future__ import annotations

import importlib
import json
import os
import pkgutil
from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from functools import cache
from types import ModuleType

from ..source.kept import keep, place
from .planning.request import Move


class Moves(Mapping[str, Move]):
    """All moves by verb, sorted; a move is loaded when it is asked for."""

    def __init__(self, files: Mapping[str, str], loaded: Iterable[Move] = ()) -> None:
        """`files` : verb -> name of the module that brings it"""
        self._files = dict(sorted(files.items()))
        self._loaded = {move.verb: move for move in loaded}

    def __getitem__(self, verb: str) -> Move:
        if verb not in self._loaded:
            self._loaded |= {move.verb: move for move in _brought(self._files[verb])}
        return self._loaded[verb]

    def __iter__(self) -> Iterator[str]:
        return iter(self._files)

    def __len__(self) -> int:
        return len(self._files)

    def __contains__(self, verb: object) -> bool:
        return verb in self._files


@cache
def moves() -> Moves:
    """All moves by verb. Raises TypeError where a file lacks something, with what it is."""
    folders = tuple(importlib.import_module(__package__ or "foldscript.moves").__path__)
    kept = place(__file__, "verbs", "json", _made_from(folders))
    if kept is not None:
        # A file that another hand has spoilt may hold anything, or be gone.
        with suppress(OSError, ValueError):
            files = json.loads(kept.read_bytes())
            if _are_files(files):
                return Moves(files)
    files, loaded = _all(folders)
    if kept is not None:
        keep(json.dumps(files).encode(), kept)
    return Moves(files, loaded)


def _all(folders: Iterable[str]) -> tuple[dict[str, str], list[Move]]:
    """Every move, loaded, and its file."""
    files: dict[str, str] = {}
    loaded: list[Move] = []
    for info in pkgutil.iter_modules(folders, f"{__package__}."):
        if info.ispkg or info.name == __name__:
            continue
        for move in _brought(info.name):
            if move.verb in files:
                raise TypeError(f"{info.name}: there is a move {move.verb!r} already")
            files[move.verb] = info.name
            loaded.append(move)
    return files, loaded


def _made_from(folders: Iterable[str]) -> str:
    """Stands for the files of the moves and of what they plan with, as they are now."""
    found: list[tuple[str, int, int]] = []
    for folder in folders:
        for place_ in (folder, os.path.join(folder, "planning")):
            with suppress(OSError), os.scandir(place_) as entries:
                found += (
                    (entry.path, entry.stat().st_mtime_ns, entry.stat().st_size)
                    for entry in entries
                    if entry.name.endswith(".py")
                )
    return repr(sorted(found))


def _are_files(read: object) -> bool:
    """Whether what was kept says which modules of this folder bring which verbs."""
    return (
        isinstance(read, dict)
        and bool(read)
        and all(isinstance(n, str) and n.startswith(f"{__package__}.") for n in read.values())
    )


def _brought(name: str) -> tuple[Move, ...]:
    """The moves of a module."""
    try:
        module: ModuleType = importlib.import_module(name)
    except TypeError as error:
        raise TypeError(f"{name}: {error}") from error
    rows: tuple[object, ...] = getattr(module, "MOVES", (getattr(module, "MOVE", None),))
    found = tuple(move for move in rows if isinstance(move, Move))
    if not found or len(found) < len(rows):
        raise TypeError(f"{name}: a move's file ends with MOVE = Move(...), or MOVES for several")
    return found


#: Statements that folding itself carries out: they do other statements, so no move can.
OF_SEVERAL = ("do", "repeat")


class Verbs(Mapping[str, str]):
    """Every verb a statement may start with, the moves' and `OF_SEVERAL`, each with its move's advice."""

    def __getitem__(self, verb: str) -> str:
        return "" if verb in OF_SEVERAL else moves()[verb].advice

    def __iter__(self) -> Iterator[str]:
        yield from moves()
        yield from OF_SEVERAL

    def __len__(self) -> int:
        return len(moves()) + len(OF_SEVERAL)

    def __contains__(self, verb: object) -> bool:
        return verb in OF_SEVERAL or verb in moves()


def verbs() -> Verbs:
    """Every verb, with advice that is looked up where it is told. Raises TypeError as `moves` does."""
    moves()
    return Verbs()
