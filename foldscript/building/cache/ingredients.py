"""What results are made from: the parts whose change means that they are made again.

In: texts, and what is wanted of them. Out: names with digests or values, for the record of a folder.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from ...captions.side_file import side_files
from ...folding.start import bases_folder
from ...source.diagnostics import FoldscriptError, Source
from ...source.reading import read_script
from .record import digest, values_digest
from .version import ourselves

#: Fields that make no difference to a single result.
_LEFT_OUT = (
    "formats",
    "fresh",
    "notes",
    "source",
    "place",
    "page_place",
    "title_place",
    "creep_place",
    "models",
)


def of_model(
    source: Source, lineage: Iterable[Source], order: Any, catalogues: Iterable[Source] = ()
) -> dict[str, Any]:
    """Parts of what is made of a script.

    Parameters
    ----------
    lineage : the scripts that it starts from
    order : what is wanted, as plain data
    catalogues : of one's own, with foldscript's words in another language
    """
    home = Path(source.name).parent
    return {
        "script": _text(source, home),
        "side files": _side_files([source], home),
        "starts from": _texts(lineage, home),
        "catalogues": _texts(catalogues, home),
        "wish": values_digest(order, leaving=_LEFT_OUT),
        **ourselves(),
    }


def of_model_now(
    path: Path, parts: Mapping[str, Any], order: Any, catalogues: Iterable[Source] = ()
) -> dict[str, Any] | None:
    """Parts of what would be made of a script now; None where its texts cannot be read.

    `parts` are those of an earlier result: as long as no text has changed, it starts from the same.
    """
    try:
        source = read_script(path)
        return of_model(source, _read(parts, path.parent), order, catalogues)
    except (FoldscriptError, TypeError, AttributeError):
        return None


def of_booklet(
    plan: Any,
    home: Path,
    scripts: Sequence[Source],
    lineage: Iterable[Source],
    catalogues: Iterable[Source] = (),
) -> dict[str, Any]:
    """Parts of what is bound after a booklet's plan; `home` is the folder of the booklet file."""
    return {
        "booklet": values_digest(plan, leaving=_LEFT_OUT),
        "catalogues": _texts(catalogues, home),
        "models": [_text(source, home) for source in scripts],
        "side files": _side_files(scripts, home),
        "starts from": _texts(lineage, home),
        **ourselves(),
    }


def of_booklet_now(
    plan: Any,
    home: Path,
    scripts: Iterable[Path],
    parts: Mapping[str, Any],
    catalogues: Iterable[Source] = (),
) -> dict[str, Any] | None:
    """Parts of what would be bound now; None where a text cannot be read."""
    try:
        texts = [read_script(path) for path in scripts]
        return of_booklet(plan, home, texts, _read(parts, home), catalogues)
    except (FoldscriptError, TypeError, AttributeError):
        return None


def _read(parts: Mapping[str, Any], home: Path) -> list[Source]:
    """The texts that an earlier result started from, as they are now."""
    names = parts.get("starts from", {})
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
                found[_from(path, home)] = digest(path.read_bytes())
            except OSError:
                found[_from(path, home)] = "unreadable"
    return found


def _from(path: Path, home: Path) -> str:
    """A path as seen from a folder, written alike on every system."""
    try:
        return Path(os.path.relpath(path, home)).as_posix()
    except ValueError:  # on another drive
        return path.as_posix()
