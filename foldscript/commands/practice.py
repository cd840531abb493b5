"""The command `foldscript practice`."""

from __future__ import annotations

import os
import re
from collections.abc import Iterable
from pathlib import Path

import click

from ..diagnostics import Diagnostic, FoldscriptError
from ..running import Doing, as_misuse, run_each


@click.command("practice")
@click.argument(
    "script", metavar="FILE", type=click.Path(exists=True, dir_okay=False, path_type=Path)
)
@click.option(
    "--steps",
    default="",
    metavar="N|N-M",
    help="Steps whose folds are printed, for instance 3 or 1-4.  [default: all]",
)
@click.option(
    "--page",
    "page_name",
    default="A4",
    show_default=True,
    metavar="SIZE",
    help="Paper that it is printed on: A4, Letter, ...",
)
@click.option(
    "--out",
    type=click.Path(file_okay=False, path_type=Path),
    default=Path("out"),
    show_default=True,
    help="Folder to write into; the model gets a folder of its own there.",
)
@click.option(
    "--language",
    default="",
    metavar="TAG",
    help="Language: es, fr, ...  [default: the script's own]",
)
def COMMAND(script: Path, steps: str, page_name: str, out: Path, language: str) -> None:
    """Print the sheet itself, at true size, with the folds of some steps on it.

    The lines are light; each has the number of its step. A sheet larger than the page comes on
    several pages, with marks to put them together by. Print at 100 %.

    \b
    Examples:
      foldscript practice cup.foldscript --steps 1-4
      foldscript practice cup.foldscript --page Letter
    """
    from .. import teaching

    chosen = _steps(steps)
    try:
        page = teaching.page_size(page_name)
        if language:
            teaching.load_language(language)
    except FoldscriptError as error:
        raise click.UsageError(as_misuse(error)) from error

    def work(path: Path, doing: Doing) -> tuple[str, Iterable[Diagnostic]]:
        built = teaching.practise(path, chosen, page, out, doing, language)
        return f"{path}: {os.fspath(built.files[0])}", built.notes

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
