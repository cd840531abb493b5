"""Two versions to be compared: where their files lie, and which scripts belong together.

In: two paths, or a path and revisions of git. Out: pairs of scripts, by their place below what was
named, and by title where a file has another name now.
"""

from __future__ import annotations

import os
from collections.abc import Iterable
from contextlib import ExitStack
from dataclasses import dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory

from ..building.booklet.file import BOOKLET_SUFFIX, read_booklet
from ..building.script import Script
from ..source.diagnostics import Diagnostic, FoldscriptError, Hint, Source
from ..source.finding import scripts_below
from .git import commit_of, repository, take_out


@dataclass(frozen=True)
class Version:
    """One version.

    Attributes
    ----------
    path : script, folder or booklet file
    words : what it is called in messages and on the page ('HEAD~3', 'now', a path)
    root : the folder that names of files in messages begin after; None for those as they are
    """

    path: Path
    words: str
    root: Path | None = None

    @property
    def booklet(self) -> bool:
        """Whether it is a booklet file."""
        return self.path.suffix == BOOKLET_SUFFIX

    def scripts(self) -> dict[str, Path]:
        """Its scripts by what they are called: their place below the folder named.

        A folder may be empty. Raises FoldscriptError where it cannot be searched, or where the booklet
        file is wrong.
        """
        if self.booklet:
            home = self.path.parent
            found: Iterable[Path] = [m.script for m in read_booklet(self.path).models]
        elif self.path.is_dir():
            home, faults = self.path, list[Diagnostic]()
            found = list(scripts_below(self.path, faults))
            if faults := [fault for fault in faults if fault.code != "no-scripts"]:
                raise FoldscriptError(*faults)
        else:
            home, found = self.path.parent, [self.path]
        return {Path(os.path.relpath(path, home)).as_posix(): path for path in found}

    def named(self, fault: Diagnostic) -> Diagnostic:
        """A diagnostic about a file of this version, with the file called as a person knows it."""
        if self.root is None or fault.source is None:
            return fault
        path = Path(fault.source.name)
        if not path.is_relative_to(self.root):
            return fault
        name = f"{path.relative_to(self.root).as_posix()} ({self.words})"
        return replace(fault, source=Source(name, fault.source.text))


@dataclass(frozen=True)
class Pair:
    """A script in both versions, or None where it is in one only; `was` is its name before."""

    name: str
    old: Path | None
    new: Path | None
    was: str


def pairs(old: Version, new: Version) -> list[Pair]:
    """The scripts of two versions, in the order of their names now.

    Raises FoldscriptError where there is none in either.
    """
    before, after = old.scripts(), new.scripts()
    if not before and not after:
        raise FoldscriptError(Diagnostic("no-scripts", f"there is no script in '{new.path}'"))
    single = old.path.is_file() and new.path.is_file() and not (old.booklet or new.booklet)
    if single:
        ((_, one),), ((name, other),) = before.items(), after.items()
        return [Pair(name, one, other, name)]
    renamed = _renamed(before, after)
    names = sorted({*before, *after} - set(renamed.values()))
    return [
        Pair(n, before.get(was), after.get(n), was) for n in names for was in (renamed.get(n, n),)
    ]


def _renamed(before: dict[str, Path], after: dict[str, Path]) -> dict[str, str]:
    """New names to old ones, where a file that has come has the title of one that has gone."""
    gone = {_title(before[name]): name for name in before.keys() - after.keys()}
    come = sorted(after.keys() - before.keys())
    found: dict[str, str] = {}
    for name in come:
        title = _title(after[name])
        if title and title in gone:
            found[name] = gone.pop(title)
    return found


def _title(path: Path) -> str:
    try:
        return Script(path).program.head.title.casefold()
    except FoldscriptError:
        return ""


# --- what a person names ---------------------------------------------------------------------------


def two_paths(old: Path, new: Path) -> tuple[Version, Version]:
    """Two versions that lie beside each other on the disk."""
    if old.is_dir() != new.is_dir() or (old.suffix != new.suffix and not old.is_dir()):
        raise FoldscriptError(
            Diagnostic(
                "unlike-versions",
                f"'{old}' and '{new}' are not of one kind",
                hints=(Hint("compare two scripts, two folders, or two booklet files"),),
            )
        )
    return Version(old, str(old)), Version(new, str(new))


def revisions(path: Path, since: str, until: str, stack: ExitStack) -> tuple[Version, Version]:
    """A path at a revision, and at another or as it is now ('').

    What is taken out of git lies in a folder that goes away with `stack`.
    """
    home = repository(path)
    place = Path(os.path.relpath(path.resolve(), home.top.resolve()))

    def at(revision: str) -> Version:
        commit = commit_of(home, revision)
        root = Path(stack.enter_context(TemporaryDirectory(prefix="foldscript-changes-")))
        take_out(home, commit, root)
        there = root / place
        if not there.exists() and there.suffix:
            raise FoldscriptError(
                Diagnostic(
                    "not-in-revision",
                    f"'{place.as_posix()}' is not in revision '{revision}'",
                    hints=(Hint("it is new since then: there is nothing to compare it with"),),
                )
            )
        if not there.exists():
            there.mkdir(parents=True)
        return Version(there, revision, root)

    return at(since), at(until) if until else Version(path, "now")
