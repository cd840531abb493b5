"""The command `foldscript practice`."""

from __future__ import annotations

import os
import re
from collections.abc import Iterable
from pathlib import Path

import click

from ..source.diagnostics import Diagnostic
from ..source.showing import shown
from ..terminal import options
from ..terminal.running import Doing, run_each


@click.command("practice")
@options.file("script")
@click.option(
    "--steps",
    default="",
    metavar="N|N-M",
    help="Steps whose folds are printed, for instance 3 or 1-4.  [default: all]",
)
@options.page("Paper that it is printed on: A4, Letter, ...")
@options.out("the model gets a folder of its own")
@options.one_language("Language", "the script's own")
def COMMAND(script: Path, steps: str, page: str, out: Path, language: str) -> None:
    """Print the sheet at true size with the folds of steps.

    The lines are light; each has the number of its step. A sheet larger than the page comes on
    several pages, with marks to put them together by. Print at 100 %.

    \b
    Examples:
      foldscript practice cup.foldscript --steps 1-4
      foldscript practice cup.foldscript --page Letter
    """
    from ..building import practice

    chosen = _steps(steps)
    with options.checked():
        paper = practice.practice_page(page, language)

    def work(path: Path, doing: Doing) -> tuple[str, Iterable[Diagnostic]]:
        built = practice.practise(path, chosen, paper, out, doing, language)
        return shown(f"{path}: {os.fspath(built.files[0])}"), built.notes

    run_each((script,), work)


def _steps(text: str) -> tuple[int, int] | None:
    """First and last step; None for all of them. Raises click's BadParameter."""
    if not text.strip():
        return None
    match = re.fullmatch(r"\s*(\d{1,6})\s*(?:[-–]\s*(\d{1,6})\s*)?", text)
    if match is None:
        raise click.BadParameter("say it as 3 or as 1-4.", param_hint="--steps")
    first = int(match[1])
    last = int(match[2]) if match[2] else first
    if last < first:
        raise click.BadParameter(f"{first} comes after {last}.", param_hint="--steps")
    return first, last
