"""The ingredients of results: all whose change means that they are made again.

In: texts, and what is wanted of them. Out: names with digests or values, for the build cache of a folder.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from ...captions.side_file import side_files
from ...source.diagnostics import Source
from ...source.finding import bases_folder
from ...source.reading import bytes_of, read_script
from .file import Ingredients, digest, values_digest
from .version import versions

#: Fields that make no difference to a single result.
_LEFT_OUT = (
    "formats",
    "fresh",
    "notes",
    "source",
    "location",
    "page_location",
    "title_location",
    "creep_location",
    "models",
)


def ingredients(
    options: object,
    home: Path,
    scripts: Sequence[Source],
    ancestors: Iterable[Source],
    catalogues: Iterable[Source],
) -> Ingredients:
    """What results are made from.

    Parameters
    ----------
    options : what is wanted, as plain data
    home : the folder that paths are told from
    ancestors : the scripts that the scripts start from
    catalogues : of one's own, with foldscript's words in another language
    """
    return {
        "options": values_digest(options, leaving=_LEFT_OUT),
        "scripts": [_text(source, home) for source in scripts],
        "side files": _side_files(scripts, home),
        "starts from": _texts(ancestors, home),
        "catalogues": _texts(catalogues, home),
        **versions(),
    }


def ancestors_again(known: Ingredients, home: Path) -> list[Source]:
    """The scripts that an earlier result started from, as they are now.

    As long as no text has changed, a script starts from the same, so that nothing has to be parsed to find
    out that nothing has changed. Raises FoldscriptError where one cannot be read.
    """
    names = known.get("starts from")
    if not isinstance(names, Mapping):
        return []
    return [read_script(home / name) for name in names]


def _text(source: Source, home: Path) -> str:
    return f"{_from(Path(source.name), home)} {digest(source.text.encode())}"


def _texts(sources: Iterable[Source], home: Path) -> dict[str, str]:
    """Texts by where they lie; those that come with foldscript are part of it."""
    bases = bases_folder().resolve()
    return {
        _from(path, home): digest(source.text.encode())
        for source in sources
        if (path := Path(source.name)).parent.resolve() != bases
    }


def _side_files(scripts: Iterable[Source], home: Path) -> dict[str, str]:
    """Captions in other languages that lie beside the scripts now."""
    found: dict[str, str] = {}
    for script in scripts:
        for path in side_files(Path(script.name)).values():
            try:
                found[_from(path, home)] = digest(bytes_of(path))
            except OSError:
                found[_from(path, home)] = "unreadable"
    return found


def _from(path: Path, home: Path) -> str:
    """A path as seen from a folder, written alike on every system."""
    try:
        return Path(os.path.relpath(path, home)).as_posix()
    except ValueError:  # on another drive
        return path.as_posix()
