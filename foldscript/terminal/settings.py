"""A collection's settings: what its commands are to take where the command line says nothing.

    # foldscript.toml
    page = "Letter"
    style = "grey"
    formats = ["pdf", "slides"]
    languages = ["en", "es"]
    out = "handouts"

The nearest `foldscript.toml`, or `pyproject.toml` with a table `[tool.foldscript]`, counts, from the present
folder upwards. In: a folder. Out: `Settings`, or FoldscriptError with everything that is wrong in the file,
each at its line. Paths are seen from the file's own folder. Whether there is such a page or style only the
command knows; it names the file then.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from ..source.reading import read_file
from ..source.toml_spans import KeyPath
from ..source.toml_table import Table

SETTINGS_FILE = "foldscript.toml"
_PROJECT_FILE = "pyproject.toml"
_TABLE = ("tool", "foldscript")

#: What a file may say.
KEYS = ("page", "style", "formats", "languages", "out")
#: Settings that commands do not take: a booklet's own file says its page and languages, posters have a paper
#: of their own.
_NOT_FOR: Mapping[str, frozenset[str]] = {
    "booklet": frozenset(("page", "style", "formats", "languages")),
    "changes": frozenset(("languages",)),
    "signs": frozenset(("page",)),
    "untranslated": frozenset(("languages",)),
}
#: Style files end so; other styles are names.
_STYLE_SUFFIX = ".toml"


@dataclass(frozen=True)
class Settings:
    """What a file says, by the names of options; `path` is the file."""

    path: Path
    values: Mapping[str, str | tuple[str, ...]]

    def defaults(self, commands: Iterable[str]) -> dict[str, dict[str, str | tuple[str, ...]]]:
        """What each command takes from it, as click's default map has it."""
        none: frozenset[str] = frozenset()
        return {
            name: {k: v for k, v in self.values.items() if k not in _NOT_FOR.get(name, none)}
            for name in commands
        }


def nearest(folder: Path) -> Settings | None:
    """The settings for a folder; None where no file says any. Raises FoldscriptError."""
    folder = folder.absolute()
    for place in (folder, *folder.parents):
        for name, path in ((SETTINGS_FILE, ()), (_PROJECT_FILE, _TABLE)):
            file = place / name
            if file.is_file() and (found := _read(file, path)) is not None:
                return found
    return None


def read_settings(file: Path) -> Settings:
    """The settings in a file that was named. Raises FoldscriptError."""
    in_project = file.name == _PROJECT_FILE
    return _read(file, _TABLE if in_project else ()) or Settings(file, {})


def _read(file: Path, where: KeyPath) -> Settings | None:
    name = os.path.relpath(file) if file.is_relative_to(Path.cwd()) else str(file)
    source = read_file(file, name, "settings file")
    if where and f"[{'.'.join(map(str, where))}" not in source.text:
        return None  # another project's file, which need not be of a size and depth that we take
    table = Table(source)
    table.only(*where, known=KEYS)
    values: dict[str, str | tuple[str, ...]] = {}
    for key in ("page", "style", "out"):
        if said := table.text(*where, key):
            values[key] = said
    for key in ("formats", "languages"):
        if listed := tuple(_texts(table, (*where, key))):
            values[key] = listed
    table.settle()
    return Settings(file, {key: _seen_from(file.parent, key, v) for key, v in values.items()})


def _texts(table: Table, path: KeyPath) -> Iterable[str]:
    """A list's texts, each of which is said."""
    if isinstance(table.value(*path), str):
        yield table.text(*path)
        return
    for at in table.items(*path):
        said = table.text(*path, at)
        if said:
            yield said
        else:
            table.fault((*path, at), "bad-value", "nothing is named here")


def _seen_from(folder: Path, key: str, value: str | tuple[str, ...]) -> str | tuple[str, ...]:
    """The value, a path seen from the present folder."""
    if key == "out" or (key == "style" and str(value).endswith(_STYLE_SUFFIX)):
        return os.path.relpath(folder / str(value))
    return value
