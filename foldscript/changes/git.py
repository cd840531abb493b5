"""Earlier revisions of a folder, as git keeps them.

In: a folder in a git repository, and a revision as a person writes it. Out: its scripts and booklet
files as they were, written into a folder of ours. git is run as a program of its own, without a
shell; it reads, and changes nothing.
"""

from __future__ import annotations

import os
import subprocess
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from ..source.diagnostics import Diagnostic, FoldscriptError, Hint
from ..source.finding import SUFFIX
from ..source.reading import LARGEST_FILE

#: Files that versions are made of.
KINDS = (SUFFIX, ".toml")
#: Files taken out of one revision.
MOST_FILES = 5000
_PATIENCE = 60.0  # seconds
#: Nothing is asked, locked or fetched, and messages are English.
_CALM = {
    "GIT_OPTIONAL_LOCKS": "0",
    "GIT_TERMINAL_PROMPT": "0",
    "GIT_NO_LAZY_FETCH": "1",
    "GIT_PAGER": "cat",
    "LC_ALL": "C",
}


@dataclass(frozen=True)
class Repository:
    """A git repository; `top` is its working folder."""

    top: Path


def repository(place: Path) -> Repository:
    """The repository that a file or folder lies in. Raises 'no-git' and 'no-repository'."""
    folder = place if place.is_dir() else place.parent
    done = _git(folder, ["rev-parse", "--show-toplevel"])
    if done.returncode:
        raise FoldscriptError(
            Diagnostic(
                "no-repository",
                f"'{folder}' is in no git repository: {_said(done)}",
                hints=(Hint("name two versions by their paths: foldscript changes OLD NEW"),),
            )
        )
    return Repository(Path(os.fsdecode(done.stdout.rstrip(b"\n"))))


def commit_of(home: Repository, revision: str) -> str:
    """The commit that a revision ('HEAD', 'v1', 'main~3') stands for. Raises 'no-such-revision'."""
    found = None
    if revision and not revision.startswith("-") and revision.isprintable():
        done = _git(home.top, ["rev-parse", "--verify", "--quiet", f"{revision}^{{commit}}"])
        found = done.stdout.decode("ascii", "replace").strip() if done.returncode == 0 else None
    if not found:
        raise FoldscriptError(
            Diagnostic(
                "no-such-revision",
                f"this repository has no revision '{revision}'",
                hints=(
                    Hint("a revision is a commit, a tag or a branch: HEAD, HEAD~3, v1, main"),
                    Hint("what is not committed yet is compared with: --since HEAD"),
                ),
            )
        )
    return found


def take_out(home: Repository, commit: str, into: Path) -> None:
    """Writes the scripts and booklet files of a commit into an empty folder, each at its place."""
    wanted = list(_listed(home, commit))
    if len(wanted) > MOST_FILES:
        raise FoldscriptError(
            Diagnostic("too-many-files", f"this revision holds more than {MOST_FILES} such files")
        )
    asked = b"".join(b"%s\n" % name for name, _ in wanted)
    done = _git(home.top, ["cat-file", "--batch"], asked)
    if done.returncode:
        raise FoldscriptError(Diagnostic("git-failed", f"git cannot read it: {_said(done)}"))
    rest = memoryview(done.stdout)
    for _, path in wanted:
        head, _, _ = bytes(rest[:200]).partition(b"\n")
        size = int(head.rsplit(b" ", 1)[1])
        data = rest[len(head) + 1 :][:size]
        rest = rest[len(head) + 1 + size + 1 :]
        if size <= LARGEST_FILE:
            target = into.joinpath(*path.parts)
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(data)


def _listed(home: Repository, commit: str) -> Iterator[tuple[bytes, PurePosixPath]]:
    """Object name and path of every plain file that is of interest."""
    done = _git(home.top, ["ls-tree", "-r", "-z", "--full-tree", commit])
    if done.returncode:
        raise FoldscriptError(Diagnostic("git-failed", f"git cannot list it: {_said(done)}"))
    for row in done.stdout.split(b"\0"):
        about, _, name = row.partition(b"\t")
        fields = about.split()
        path = PurePosixPath(os.fsdecode(name))
        plain = len(fields) == 3 and fields[0] in (b"100644", b"100755")
        inside = not path.is_absolute() and ".." not in path.parts
        if plain and inside and path.suffix in KINDS:
            yield fields[2], path


def _git(
    folder: Path, command: Sequence[str], given: bytes = b""
) -> subprocess.CompletedProcess[bytes]:
    try:
        return subprocess.run(
            ["git", "-C", os.fspath(folder), *command],
            input=given,
            capture_output=True,
            env={**os.environ, **_CALM},
            timeout=_PATIENCE,
            check=False,
        )
    except FileNotFoundError:
        raise FoldscriptError(
            Diagnostic(
                "no-git",
                "git is not installed, and only git knows earlier revisions",
                hints=(Hint("name two versions by their paths: foldscript changes OLD NEW"),),
            )
        ) from None
    except (OSError, subprocess.TimeoutExpired) as error:
        raise FoldscriptError(Diagnostic("git-failed", f"git does not answer: {error}")) from None


def _said(done: subprocess.CompletedProcess[bytes]) -> str:
    text = done.stderr.decode("utf-8", "replace").strip().splitlines()
    return text[0].removeprefix("fatal: ") if text else f"it ended with {done.returncode}"
