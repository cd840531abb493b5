"""The languages that a person asks for: by tags, by a catalogue file, or all there are.

In: what was said on the command line or in a booklet file. Out: names of languages, each once, and the
languages of one model from them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from ..languages.language import languages, load_language

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
