"""The command `foldscript new`."""

from __future__ import annotations

from pathlib import Path

import click

from ..terminal.running import say, told


@click.command("new")
@click.argument("path", metavar="FILE|FOLDER", type=click.Path(path_type=Path))
@click.option(
    "--collection",
    is_flag=True,
    help="A folder for many scripts: a first one, a booklet, settings, a workflow that checks them.",
)
def COMMAND(path: Path, collection: bool) -> None:
    """Begin a script, or a collection of scripts.

    The script folds as it is: change it line by line. Nothing that is there already is touched.

    \b
    Examples:
      foldscript new boat.foldscript
      foldscript new club --collection
    """
    from ..building.beginning import begin, collection_files, script_files
    from ..source.finding import SUFFIX

    if not collection and path.suffix != SUFFIX:
        path = path.with_name(path.name + SUFFIX)
    files = collection_files(path) if collection else script_files(path)
    with told():
        begin(files)
    for file in files:
        say(f"{file}: written")
