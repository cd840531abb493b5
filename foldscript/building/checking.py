"""All that can be wrong in scripts, their translations and the booklets that they are in; nothing is drawn.

In: paths of scripts, folders and booklet files. Out: scripts, and what is wrong with each.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from ..captions.speaking import of_side_files
from ..source.diagnostics import Diagnostic, FoldscriptError, Severity
from ..source.finding import find_scripts
from .script import Doing, Script, unheard

#: What the name of a booklet file ends with: only those bring in what reads them.
_BOOKLET_SUFFIX = ".toml"


def scripts_of(paths: Iterable[Path]) -> tuple[list[Path], list[Diagnostic]]:
    """The scripts that files, folders and booklets stand for, each once, and what is wrong with the rest."""
    found: list[Path] = []
    faults: list[Diagnostic] = []
    for path in paths:
        if path.suffix.casefold() != _BOOKLET_SUFFIX:
            found.append(path)
            continue
        from .booklet.file import read_booklet

        try:
            found += (listed.script for listed in read_booklet(path).models)
        except FoldscriptError as error:
            faults += error.diagnostics
    scripts, others = find_scripts(found, names_apart=False)
    return scripts, [*faults, *others]


def checked(path: Path, doing: Doing = unheard) -> tuple[int, tuple[Diagnostic, ...]]:
    """How many steps a script has, and all warnings about it, its poses and its translations.

    Raises FoldscriptError with all that is wrong in the script or in a translation.
    """
    script = Script(path, doing)
    model = script.model
    notes = (*model.warnings, *script.standing.warnings, *of_side_files(model, path))
    if any(note.severity is Severity.ERROR for note in notes):
        raise FoldscriptError(*notes)
    return len(model.steps), notes
