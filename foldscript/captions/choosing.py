"""The languages that a person asks for: by tags, by a catalogue file, or all there are.

In: what was said on the command line or in a booklet file. Out: names of languages, each once, and the
languages of one model from them.
"""

from __future__ import annotations

from collections.abc import Iterable

from ..languages.language import languages, load_language
from ..wording import Language

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


def asked_of(names: Iterable[str], own: Iterable[str]) -> tuple[Language, ...]:
    """The languages that a model is built in.

    Parameters
    ----------
    names : as `chosen` gives them
    own : tags of languages that the model has words in; 'all' means these, and every language that
        foldscript speaks
    """
    found: dict[str, Language] = {}
    for name in names:
        for tag in (*own, *languages()) if name == ALL else (name,):
            language = load_language(tag)
            found.setdefault(language.tag, language)
    return tuple(found.values())
