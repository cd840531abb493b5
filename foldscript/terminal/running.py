"""Does a command's work for one file after the other, tells how it goes, and settles the exit code.

In: files, and what is to be done with each. Out: a line a file on standard output, diagnostics on
standard error, exit code 1 when anything is wrong. Whatever fails, no one sees a traceback unless
they ask for it.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path

import click

from ..source.diagnostics import Diagnostic, FoldscriptError, Hint, Severity
from .showing import obeyed_by_none, shown

#: Told what is being done with a script now ('folding').
Doing = Callable[[str], None]
#: Does one script's work; returns the text to print ('' for none) and what else to tell.
Work = Callable[[Path, Doing], tuple[str, Iterable[Diagnostic]]]


def as_misuse(error: FoldscriptError) -> str:
    """A diagnostic about an argument, in one paragraph; with its place where it stands in a file."""
    return "; ".join(
        shown("; ".join((f"{_place(fault)}{fault.message}", *(hint.text for hint in fault.hints))))
        for fault in error.diagnostics
    )


def _place(fault: Diagnostic) -> str:
    if fault.source is None or fault.span is None:
        return ""
    line, column = fault.source.position(fault.span.start)
    return f"{fault.source.name}:{line}:{column}: "


def count(number: int, thing: str) -> str:
    """'1 file', '2 files'."""
    return f"{number} {thing}{'' if number == 1 else 's'}"


def run_each(paths: Iterable[Path], work: Work) -> None:
    """Does the work for every script that the paths stand for, as `run` does."""
    from ..source.finding import find_scripts

    scripts, faults = find_scripts(paths)
    run(scripts, faults, work)


def run(scripts: Sequence[Path], faults: list[Diagnostic], work: Work) -> None:
    """Does the work for every file; prints what comes of it; exits with 1 if anything is wrong.

    `faults` were found before and are told with the rest.
    """
    from .progress import Progress
    from .reporting import render

    wrong = 0
    with Progress() as progress:
        for number, script in enumerate(scripts, 1):
            of = f" ({number} of {len(scripts)})" if len(scripts) > 1 else ""

            def doing(stage: str, said: str = f"{script.name}{of}") -> None:
                progress.doing(f"{stage} {said}")

            try:
                told, notes = work(script, doing)
            except FoldscriptError as error:
                told, notes = "", error.diagnostics
            except Exception as error:
                told, notes = "", [internal_fault(script, error)]
            faults += [note for note in notes if note.span is not None or note not in faults]
            wrong += any(note.severity is Severity.ERROR for note in notes)
            if told:
                progress.clear()
                click.echo(obeyed_by_none(told))
    if faults:
        click.echo(render(faults, tty=_coloured()), err=True)
        if len(scripts) > 1 and wrong:
            click.echo(f"{wrong} of {len(scripts)} scripts went wrong", err=True)
        if any(fault.severity is Severity.ERROR for fault in faults):
            sys.exit(1)


def _coloured() -> bool:
    """Whether messages may be coloured: on a terminal, unless NO_COLOR is set."""
    return sys.stderr.isatty() and not os.environ.get("NO_COLOR")


def internal_fault(script: Path | None, error: Exception) -> Diagnostic:
    """What a fault of the program's own looks like to the person it hits."""
    if os.environ.get("FOLDSCRIPT_DEBUG"):
        import traceback

        traceback.print_exception(error)
    what = f"{type(error).__name__}: {error}".rstrip(": ")
    where = f" while working on '{script}'" if script else ""
    return Diagnostic(
        "internal-error",
        f"internal error{where} ({what})",
        hints=(
            Hint("the fault is foldscript's, not yours: please report it, with the script"),
            Hint("FOLDSCRIPT_DEBUG=1 in the environment shows where it happened"),
        ),
    )
