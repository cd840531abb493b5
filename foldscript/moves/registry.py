"""Finds the moves: every module in this folder that has a `MOVE`. Adding a file adds a move."""

from __future__ import annotations

import importlib
import pkgutil
from functools import cache

from .planning.request import Move


@cache
def moves() -> dict[str, Move]:
    """All moves by verb, sorted."""
    package = importlib.import_module(__package__ or "foldscript.moves")
    found: dict[str, Move] = {}
    for info in pkgutil.iter_modules(package.__path__):
        module = importlib.import_module(f"{package.__name__}.{info.name}")
        for move in getattr(module, "MOVES", (getattr(module, "MOVE", None),)):
            if isinstance(move, Move):
                found[move.verb] = move
    return dict(sorted(found.items()))


#: Statements that folding itself carries out: they do other statements, so no move can.
OF_SEVERAL = frozenset({"repeat", "do"})


def verbs() -> frozenset[str]:
    """Every verb a statement may start with: the moves, and `OF_SEVERAL`."""
    return frozenset(moves()) | OF_SEVERAL
