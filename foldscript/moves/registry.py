"""Finds the moves: every module in this folder brings a `MOVE`, or `MOVES`. A new file is a new move."""

from __future__ import annotations

import importlib
import pkgutil
from functools import cache
from types import ModuleType

from .planning.request import Move


@cache
def moves() -> dict[str, Move]:
    """All moves by verb, sorted. Raises TypeError where a file lacks something, with what it is."""
    package = importlib.import_module(__package__ or "foldscript.moves")
    found: dict[str, Move] = {}
    for info in pkgutil.iter_modules(package.__path__, f"{package.__name__}."):
        if info.ispkg or info.name == __name__:
            continue
        for move in _brought(info.name):
            if move.verb in found:
                raise TypeError(f"{info.name}: there is a move {move.verb!r} already")
            found[move.verb] = move
    return dict(sorted(found.items()))


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


def verbs() -> dict[str, str]:
    """Every verb a statement may start with, the moves' and `OF_SEVERAL`, each with its move's advice."""
    return {
        **{verb: move.advice for verb, move in moves().items()},
        **dict.fromkeys(OF_SEVERAL, ""),
    }
