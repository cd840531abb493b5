"""Does a command's work for one file after the other, tells how it goes, and settles the exit code.

In: files, and what is to be done with each. Out: a line a file on standard output, diagnostics on
standard error, exit code 1 when anything is wrong. Whatever fails, no one sees a traceback unless
they ask for it.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

import click

from ..source.diagnostics import Diagnostic, FoldscriptError
from ..source.showing import obeyed_by_none, shown
from .jobs import Doing, Work, in_turn, worth
from .sharding import WHOLE, Shard
from .telling import tell, telling


def count(number: int, thing: str) -> str:
    """'1 file', '2 files'."""
    return f"{number} {thing}{'' if number == 1 else 's'}"


def run_each(
    paths: Iterable[Path],
    work: Work,
    *,
    answer: bool = False,
    names_apart: bool = True,
    jobs: int = 1,
    shard: Shard = WHOLE,
    advice: str = "",
) -> None:
    """Does the work for every script that the paths stand for, as `run` does.

    With `names_apart` no two may have the same name: what is made of them would.
    """
    from ..source.finding import find_scripts

    scripts, faults = find_scripts(paths, names_apart)
    run(shard.of(scripts), faults, work, answer=answer, jobs=jobs, advice=advice)


def run(
    scripts: Sequence[Path],
    faults: list[Diagnostic],
    work: Work,
    *,
    answer: bool = False,
    jobs: int = 1,
    advice: str = "",
) -> None:
    """Does the work for every file; prints what comes of it; exits with 1 if anything is wrong.

    `faults` were found before and are told with the rest. `answer`: what comes of it is what the command was
    called for, and is printed even where little is to be told. `jobs`: how many files may be worked on at
    once; more than one asks for work that is plain data (`jobs.Work`).
    `advice` is told people at the end where something is wrong in a script.
    """
    from .progress import Progress

    asked = telling()
    wrong, since = 0, time.monotonic()
    with Progress(silent=not asked.progress) as progress:
        numbers = {script: number for number, script in enumerate(scripts, 1)}

        def doing(script: Path) -> Doing:
            of = f" ({numbers[script]} of {len(scripts)})" if len(scripts) > 1 else ""

            def heard(stage: str) -> None:
                progress.doing(f"{stage} {script.name}{of}")
                if asked.verbose:
                    progress.clear()
                    spent = time.monotonic() - since
                    say(f"{spent:6.2f} s  {stage} {script.name}{of}", err=True)

            return heard

        for done in in_turn(scripts, work, worth(scripts, jobs), doing, jobs):
            faults += [note for note in done.notes if note.span is not None or note not in faults]
            wrong += any(asked.fails(note) for note in done.notes)
            if done.told and (answer or not asked.quiet):
                progress.clear()
                click.echo(obeyed_by_none(done.told))
    if faults:
        tell(faults)
        if len(scripts) > 1 and wrong and asked.form == "text":
            say(f"{wrong} of {len(scripts)} scripts went wrong", err=True)
        if advice and asked.progress and any(asked.fails(f) and _in_a_script(f) for f in faults):
            say(advice, err=True)
        if any(asked.fails(fault) for fault in faults):
            sys.exit(1)


def _in_a_script(fault: Diagnostic) -> bool:
    """Whether a fault stands in a script, not in a file beside it."""
    from ..source.finding import SUFFIX

    source = fault.source
    return source is not None and fault.span is not None and source.name.endswith(SUFFIX)


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
