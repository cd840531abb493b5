"""Does a command's work for one file after the other, tells how it goes, and settles the exit code.

In: files, and what is to be done with each. Out: a line a file on standard output, diagnostics on
standard error, exit code 1 when anything is wrong. Whatever fails, no one sees a traceback unless
they ask for it.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

import click

from ..source.diagnostics import Diagnostic, FoldscriptError
from ..source.showing import obeyed_by_none, shown
from .telling import tell, telling

#: Told what is being done with a script now ('folding').
Doing = Callable[[str], None]
#: Does one script's work; returns the text to print ('' for none) and what else to tell.
Work = Callable[[Path, Doing], tuple[str, Iterable[Diagnostic]]]


def count(number: int, thing: str) -> str:
    """'1 file', '2 files'."""
    return f"{number} {thing}{'' if number == 1 else 's'}"


def run_each(
    paths: Iterable[Path], work: Work, answer: bool = False, names_apart: bool = True
) -> None:
    """Does the work for every script that the paths stand for, as `run` does.

    With `names_apart` no two may have the same name: what is made of them would.
    """
    from ..source.finding import find_scripts

    scripts, faults = find_scripts(paths, names_apart)
    run(scripts, faults, work, answer)


def run(
    scripts: Sequence[Path], faults: list[Diagnostic], work: Work, answer: bool = False
) -> None:
    """Does the work for every file; prints what comes of it; exits with 1 if anything is wrong.

    `faults` were found before and are told with the rest. `answer`: what comes of it is what the command was
    called for, and is printed even where little is to be told.
    """
    from ..source.reporting import internal_fault
    from .progress import Progress

    asked = telling()
    wrong, since = 0, time.monotonic()
    with Progress(silent=not asked.progress) as progress:
        for number, script in enumerate(scripts, 1):
            of = f" ({number} of {len(scripts)})" if len(scripts) > 1 else ""

            def doing(stage: str, said: str = f"{script.name}{of}") -> None:
                progress.doing(f"{stage} {said}")
                if asked.verbose:
                    progress.clear()
                    say(f"{time.monotonic() - since:6.2f} s  {stage} {said}", err=True)

            try:
                told, notes = work(script, doing)
            except FoldscriptError as error:
                told, notes = "", error.diagnostics
            except Exception as error:
                told, notes = "", [internal_fault(script, error)]
            faults += [note for note in notes if note.span is not None or note not in faults]
            wrong += any(asked.fails(note) for note in notes)
            if told and (answer or not asked.quiet):
                progress.clear()
                click.echo(obeyed_by_none(told))
    if faults:
        tell(faults)
        if len(scripts) > 1 and wrong and asked.form == "text":
            say(f"{wrong} of {len(scripts)} scripts went wrong", err=True)
        if any(asked.fails(fault) for fault in faults):
            sys.exit(1)


def say(text: str, *, err: bool = False) -> None:
    """Prints lines made of words of ours and names of files, on standard output or standard error."""
    click.echo("\n".join(shown(line) for line in text.split("\n")), err=err)


@contextmanager
def told() -> Iterator[None]:
    """For work that is not done file by file: what is wrong is told, and ends the command with 1."""
    try:
        yield
    except FoldscriptError as error:
        tell(error.diagnostics)
        sys.exit(1)
