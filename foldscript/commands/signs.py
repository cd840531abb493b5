"""The command `foldscript signs`."""

from __future__ import annotations

import os
from pathlib import Path

import click

from ..terminal import options
from ..terminal.running import say, told


@click.command("signs")
@click.option(
    "--style",
    "names",
    multiple=True,
    metavar="NAME|FILE",
    help="Page style, or the path of a style file; may be given again.  [default: every style]",
)
@options.page("Paper that it is printed on: A4, A3, Letter, ...")
@options.out("the pages get a folder 'signs'")
@options.languages(
    "Languages to make it in, each in a folder of its own: es, fr, ..., or all; may be repeated.",
    "English",
)
def COMMAND(names: tuple[str, ...], page: str, out: Path, languages: tuple[str, ...]) -> None:
    """Draw the symbol poster: every sign with its meaning.

    Every line, sign and arrow with its name. Comes as a PDF and as SVG pages, in every page style. It
    shows what a style of one's own looks like, too.

    \b
    Examples:
      foldscript signs
      foldscript signs --style large --page A3
      foldscript signs --style grey --language es,fr
    """
    from ..building import poster

    with options.checked():
        wanted = poster.poster_options(names, page, languages)
    with told():
        written = poster.make_posters(wanted, out)
    for path in written:
        if path.suffix == ".pdf":
            say(os.fspath(path))
