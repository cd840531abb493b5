"""Finds the scripts that the arguments name, and refuses those that would write over each other.

In: files and folders. Out: script files in a settled order, and diagnostics for what is left out.
"""

from __future__ import annotations

import os
import unicodedata
from collections.abc import Iterable, Iterator
from pathlib import Path

from .diagnostics import Diagnostic, Hint

SUFFIX = ".foldscript"
#: Entries looked at in one folder's tree before giving up: a mistyped `/` must not run for hours.
MOST_ENTRIES = 50_000
#: Folders without rights in one tree that are told one by one.
MOST_CLOSED = 5


def find_scripts(
    paths: Iterable[Path], names_apart: bool = True
) -> tuple[list[Path], list[Diagnostic]]:
    """The scripts that files and folders stand for, each once, in the order named, then by name.

    A folder stands for every *.foldscript file below it, but for hidden folders; links to folders
    are not followed. With `names_apart`, scripts whose outputs would share a name are left out with a
    diagnostic.
    """
    faults: list[Diagnostic] = []
    found: dict[Path, Path] = {}  # real place -> path as named
    for path in paths:
        for script in scripts_below(path, faults) if path.is_dir() else (path,):
            if (fault := _unfit(script, names_apart)) is not None:
                faults.append(fault)
            else:
                found.setdefault(script.resolve(), script)
    if not names_apart:
        return list(found.values()), faults
    shelves: dict[str, list[Path]] = {}
    for script in found.values():
        shelves.setdefault(script.stem.casefold(), []).append(script)
    for scripts in shelves.values():
        if len(scripts) > 1:
            faults.append(_same_name(scripts))
    return [shelf[0] for shelf in shelves.values() if len(shelf) == 1], faults


def scripts_below(folder: Path, faults: list[Diagnostic]) -> Iterator[Path]:
    """Every script in a folder's tree, by name; what keeps it from being searched is added to faults."""

    closed = 0

    def cannot_read(error: OSError) -> None:
        nonlocal closed
        closed += 1
        if closed > MOST_CLOSED:
            return
        reason = (error.strerror or "cannot be read").lower()
        faults.append(Diagnostic("cannot-read", f"cannot read '{error.filename}': {reason}"))

    seen, some = 0, False
    for place, folders, names in os.walk(folder, onerror=cannot_read):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        seen += len(folders) + len(names)
        if seen > MOST_ENTRIES:
            faults.append(
                Diagnostic(
                    "folder-too-large",
                    f"'{folder}' holds more than {MOST_ENTRIES:,} files: this is no shelf of scripts",
                    hints=(Hint("name the folder that holds your scripts"),),
                )
            )
            return
        for name in sorted(names):
            if name.endswith(SUFFIX) and not name.startswith("."):
                some = True
                yield Path(place, name)
    if not some:
        faults.append(
            Diagnostic(
                "no-scripts",
                f"no script in '{folder}'",
                hints=(Hint(f"scripts end in {SUFFIX}, for instance cup{SUFFIX}"),),
            )
        )


def _unfit(script: Path, gives_name: bool) -> Diagnostic | None:
    """What keeps a file from being a script at all, or from giving its drawings their name."""
    if script.suffix.casefold() == ".toml":
        return Diagnostic(
            "not-a-script",
            f"'{script}' is a file of settings, not a script",
            hints=(Hint(f"if it lists the models of a booklet: foldscript booklet {script}"),),
        )
    if script.exists() and not script.is_file():
        return Diagnostic("not-a-file", f"'{script}' is not an ordinary file")
    # bytes that no letter stands for are lone surrogates in Python
    if gives_name and any(unicodedata.category(ch) == "Cs" for ch in str(script)):
        return Diagnostic(
            "unusable-name",
            f"the name of '{script}' holds bytes that are no letters (it is not UTF-8)",
            hints=(Hint(f"rename the file, for instance cup{SUFFIX}"),),
        )
    if not script.stem.strip(". "):
        return Diagnostic(
            "unusable-name",
            f"'{script}' has no name to call its drawings by",
            hints=(Hint(f"give it a name, for instance cup{SUFFIX}"),),
        )
    return None


def _same_name(scripts: list[Path]) -> Diagnostic:
    where = " and ".join(f"'{script}'" for script in scripts)
    return Diagnostic(
        "same-name",
        f"{where} would be drawn into the same folder, '{scripts[0].stem}'",
        hints=(Hint("rename one, or build them one at a time with different --out folders"),),
    )


def bases_folder() -> Path:
    """Where the bases lie: in the installed package, or among the samples of a checkout."""
    installed = Path(__file__).parents[1] / "bases"
    return installed if installed.is_dir() else Path(__file__).parents[2] / "samples" / "bases"
