"""The command `foldscript index`."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import click

from ..terminal import options
from ..terminal.running import count, say, told
from ..terminal.telling import tell


@click.command("index")
@options.paths("FILE|FOLDER...")
@click.option(
    "--out",
    type=click.Path(exists=True, file_okay=False, path_type=Path),
    default=Path("out"),
    show_default=True,
    help="Folder with the results of 'build'; the page is written there.",
)
@click.option("--title", default="Models", show_default=True, help="Title of the page.")
def COMMAND(paths: tuple[Path, ...], out: Path, title: str) -> None:
    """Write one page that leads to all results.

    For scripts that were built on one machine, or in shares on several: put all results into one
    folder, then say from which scripts they are. The page shows every model's finished picture, its
    level, and links to its files. A script without results, or with those of another text, is told.

    \b
    Examples:
      foldscript index samples
      foldscript index archive --out pages --title "The club's archive"
    """
    from ..building.results import entries, write_index
    from ..source.finding import find_scripts

    scripts, faults = find_scripts(paths)
    found, lacking = entries(scripts, out)
    with told():
        page = write_index(title, found, out)
    whole = sum(not entry.fault for entry in found)
    say(f"{os.fspath(page)}: {whole} of {count(len(found), 'model')}")
    faults += lacking
    if faults:
        tell(faults)
        sys.exit(1)
