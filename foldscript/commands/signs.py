"""The command `foldscript signs`."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import click

from ..diagnostics import FoldscriptError
from ..running import as_misuse


@click.command("signs")
@click.option(
    "--style",
    "names",
    multiple=True,
    metavar="NAME|FILE",
    help="Page style, or the path of a style file; may be given again.  [default: every style]",
)
@click.option(
    "--page",
    "page_name",
    default="A4",
    show_default=True,
    metavar="SIZE",
    help="Paper that it is printed on: A4, A3, Letter, ...",
)
@click.option(
    "--out",
    type=click.Path(file_okay=False, path_type=Path),
    default=Path("out"),
    show_default=True,
    help="Folder to write into; the pages get a folder 'signs' there.",
)
def COMMAND(names: tuple[str, ...], page_name: str, out: Path) -> None:
    """Draw the symbol poster: every line, sign and arrow with its name and meaning.

    Comes as a PDF and as SVG pages, in every page style. It shows what a style of one's own looks
    like, too.

    \b
    Examples:
      foldscript signs
      foldscript signs --style large --page A3
    """
    from .. import posters
    from ..reporting import render

    try:
        styles, page = posters.styles_of(names), posters.page_size(page_name)
    except FoldscriptError as error:
        raise click.UsageError(as_misuse(error)) from error
    try:
        written = posters.make_posters(styles, page, out)
    except FoldscriptError as error:
        click.echo(render(error.diagnostics, tty=False), err=True)
        sys.exit(1)
    for path in written:
        if path.suffix == ".pdf":
            click.echo(os.fspath(path))
