"""The scripts that a script starts from: what its folding depends on besides its own text.

In: a program and its path. Out: their sources, nearest first. What is wrong with any of them is not
said here: folding says it.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path

from ..moves.registry import verbs
from ..source.diagnostics import FoldscriptError, Refusal, Source
from ..source.reading import read_script
from ..syntax import nodes
from ..syntax.parser import parse
from .start import LONGEST_CHAIN, find_other


def lineage(program: nodes.Program, path: Path | None = None) -> tuple[Source, ...]:
    """Sources of the scripts that a script starts from; each one's name is its path.

    The row ends early at one that cannot be read.
    """
    return tuple(source for _, source in ancestors(program, path))


def ancestors(program: nodes.Program, path: Path | None = None) -> tuple[tuple[Path, Source], ...]:
    """The same, each with its file."""
    here = path if path is not None else Path(program.source.name)
    heads = [part.head for part in program.parts if not part.assembles] or [program.head]
    starts = dict.fromkeys(head.start_from for head in heads)
    found: dict[Path, Source] = {}
    for words in starts:
        found.update(_row(words, here))
    return tuple(found.items())


def _row(words: str, here: Path) -> Iterator[tuple[Path, Source]]:
    """The scripts from which something is started by these words, nearest first."""
    for _ in range(LONGEST_CHAIN + 1):
        if not words:
            return
        try:
            here, _shown = find_other(words, here)
            source = read_script(here)
        except (Refusal, FoldscriptError):
            return
        yield here, source
        words = _start_of(source)


@lru_cache(64)
def _start_of(source: Source) -> str:
    """What a script starts from; '' for a sheet, and where it cannot be read."""
    try:
        return parse(source, verbs()).head.start_from
    except FoldscriptError:
        return ""
