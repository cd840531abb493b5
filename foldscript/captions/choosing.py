"""The languages that a person asks for: by tags, by a catalogue file, or all there are.

In: what was said on the command line or in a booklet file. Out: names of languages, each once, and the
languages of one model from them.
"""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from ..languages.language import CATALOGUE_SUFFIX, languages, load_language
from ..source.diagnostics import FoldscriptError, Source
from ..source.reading import read_file
from .side_file import side_files

if TYPE_CHECKING:
    from ..syntax.nodes import Program

ALL = "all"


def chosen(said: Iterable[str]) -> tuple[str, ...]:
    """The languages named, parted by commas or one by one; () when none is.

    Raises FoldscriptError for what is no language, and for a catalogue that cannot be used.
    """
    names = [name.strip() for text in said for name in text.split(",") if name.strip()]
    for name in names:
        if name.lower() != ALL:
            load_language(name)
    return tuple(dict.fromkeys(ALL if name.lower() == ALL else name for name in names))


def asked_of(names: Iterable[str], own: Callable[[], Iterable[str]]) -> dict[str, str]:
    """Tags of the languages that a model is built in, with the names to load them by.

    Parameters
    ----------
    names : as `chosen` gives them
    own : gives the languages that the model has words in; 'all' means these, and every language that
        foldscript speaks
    """
    found: dict[str, str] = {}
    for name in names:
        for one in (*own(), *languages()) if name == ALL else (name,):
            found.setdefault(load_language(one).tag, one)
    return found


def catalogues_of(names: Sequence[str]) -> tuple[Source, ...]:
    """The catalogue files of one's own among languages; those that cannot be read are left out."""
    found: list[Source] = []
    for name in names:
        if name.endswith(CATALOGUE_SUFFIX):
            with contextlib.suppress(FoldscriptError):
                found.append(read_file(Path(name), name, "catalogue"))
    return tuple(found)


def languages_of(program: Program, script: Path) -> tuple[str, ...]:
    """Tags of the languages that a script and its side files have words in, its own first."""
    head = program.head
    captions = [c for step in program.steps for c in step.captions]
    texts = (*captions, *head.titles, *head.translated_notes)
    others = {text.language for text in texts if text.language} | set(side_files(script))
    return (head.language, *sorted(others - {head.language}))
