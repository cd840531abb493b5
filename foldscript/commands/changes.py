"""The command `foldscript changes`."""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path

import click

from ..diagnostics import Diagnostic, FoldscriptError
from ..running import Doing, as_misuse, run


@click.command("changes")
@click.argument(
    "paths", metavar="OLD NEW | [PATH]", nargs=-1, type=click.Path(exists=True, path_type=Path)
)
@click.option("--since", default="", metavar="REV", help="Compare with a revision of git.")
@click.option(
    "--until", default="", metavar="REV", help="Compare up to a revision, not with the files now."
)
@click.option(
    "--out",
    type=click.Path(file_okay=False, path_type=Path),
    default=Path("out"),
    show_default=True,
    help="Folder to write the page into; it goes into a folder of its own there.",
)
@click.option(
    "--page",
    "page_name",
    default="A4",
    show_default=True,
    metavar="SIZE",
    help="Paper of the handout.",
)
@click.option(
    "--style",
    default="colour",
    show_default=True,
    metavar="NAME|FILE",
    help="Look of the drawings.",
)
def COMMAND(
    paths: tuple[Path, ...], since: str, until: str, out: Path, page_name: str, style: str
) -> None:
    """Say which steps two versions draw differently.

    For two scripts, two folders or two booklet files; or for one of them at a revision of git and
    now. Of each step it is told whether the paper, the drawing or only the words have changed; of a
    booklet, which pages and sheets are to be printed again. A page shows both versions side by side.

    \b
    Examples:
      foldscript changes cup-old.foldscript cup.foldscript
      foldscript changes last-term this-term
      foldscript changes --since HEAD
      foldscript changes --since v1 --until v2 samples/club-booklet.toml
    """
    from ..changes import report

    if until and not since:
        raise click.UsageError("--until goes with --since.")
    if since and len(paths) > 1:
        raise click.UsageError("with --since, name one path, or none for the folder you are in.")
    if not since and len(paths) != 2:
        raise click.UsageError("name two versions, or one path and --since REV.")
    try:
        looks = report.looks(page_name, style)
    except FoldscriptError as error:
        raise click.UsageError(as_misuse(error)) from error

    old, now = (paths[0], paths[-1]) if paths else (Path(), Path())

    def work(path: Path, doing: Doing) -> tuple[str, Iterable[Diagnostic]]:
        if since:
            told = report.between_revisions(path, since, until, looks, out, doing)
        else:
            told = report.between_paths(old, path, looks, out, doing)
        page = f"\nbefore and after: {os.fspath(told.page)}" if told.page else ""
        return f"{told.text}{page}", told.notes

    run([now], [], work)
