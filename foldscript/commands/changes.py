"""The command `foldscript changes`."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable
from pathlib import Path

import click

from ..source.diagnostics import Diagnostic
from ..terminal import options
from ..terminal.running import Doing, run

#: Exit code of --exit-code when anything has changed.
CHANGED = 3


@click.command("changes")
@options.paths("OLD NEW | [PATH]", required=False)
@click.option("--since", default="", metavar="REV", help="Compare with a revision of git.")
@click.option(
    "--until", default="", metavar="REV", help="Compare up to a revision, not with the files now."
)
@options.out("the page goes into a folder of its own")
@options.page("Paper of the handout.")
@options.style("Look of the drawings.")
@options.languages(
    "Languages of a booklet's pages: es, fr, ..., or all; may be repeated.", "those of its file"
)
@click.option(
    "--format",
    "form",
    type=click.Choice(["text", "json"], case_sensitive=False),
    default="text",
    show_default=True,
    help="What is printed on standard output.",
)
@click.option("--exit-code", is_flag=True, help="End with 3 when anything has changed.")
def COMMAND(
    paths: tuple[Path, ...],
    since: str,
    until: str,
    out: Path,
    page: str,
    style: str,
    languages: tuple[str, ...],
    form: str,
    exit_code: bool,
) -> None:
    """Say which steps two versions draw differently.

    For two scripts, two folders or two booklet files; or for one of them at a revision of git and
    now. Of each step it is told whether the paper, the drawing or only the words have changed; of a
    booklet, which pages and sheets are to be printed again. A page shows both versions side by side.

    With --exit-code it ends with 0 when nothing has changed and 3 when anything has; with 1, as ever,
    when a script is wrong.

    \b
    Examples:
      foldscript changes cup-old.foldscript cup.foldscript
      foldscript changes last-term this-term
      foldscript changes --since HEAD
      foldscript changes --since v1 --until v2 samples/club-booklet.toml
      foldscript changes --since v1 --format json --exit-code > changes.json
    """
    from ..changes import report

    if until and not since:
        raise click.UsageError("--until goes with --since.")
    if since and len(paths) > 1:
        raise click.UsageError("with --since, name one path, or none for the folder you are in.")
    if not since and len(paths) != 2:
        raise click.UsageError("name two versions, or one path and --since REV.")
    with options.checked():
        looks = report.looks(page, style, languages)
    changed = False
    old, now = (paths[0], paths[-1]) if paths else (Path(), Path())

    def work(path: Path, doing: Doing) -> tuple[str, Iterable[Diagnostic]]:
        nonlocal changed
        if since:
            told = report.between_revisions(path, since, until, looks, out, doing)
        else:
            told = report.between_paths(old, path, looks, out, doing)
        changed = told.changed
        if form == "json":
            return told.json, told.notes
        page = f"\nbefore and after: {os.fspath(told.page)}" if told.page else ""
        return f"{told.text}{page}", told.notes

    run([now], [], work, answer=True)
    if exit_code and changed:
        sys.exit(CHANGED)
