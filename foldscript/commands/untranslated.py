"""The command `foldscript untranslated`."""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path

import click

from ..source.diagnostics import Diagnostic
from ..terminal import options
from ..terminal.running import Doing, count, run


@click.command("untranslated")
@options.paths("FILE|FOLDER|BOOKLET...")
@options.languages("Languages to look for; may be repeated.", "those that any script has words in")
@click.option(
    "--write",
    is_flag=True,
    help="Also write a side file (cup.es.toml beside cup.foldscript) with room for the translations.",
)
def COMMAND(paths: tuple[Path, ...], languages: tuple[str, ...], write: bool) -> None:
    """List what has no translation yet, each with its place.

    Titles, notes and captions. Steps without a caption of their own are not listed: theirs are written from
    the moves, in every language that foldscript speaks.

    \b
    Examples:
      foldscript untranslated cup.foldscript --language es
      foldscript untranslated club.toml
      foldscript untranslated samples --language fr --write
    """
    from ..building import untranslated
    from ..captions.choosing import chosen

    with options.checked():
        wanted = chosen(languages)

    def work(path: Path, doing: Doing) -> tuple[str, Iterable[Diagnostic]]:
        found = untranslated.report(paths, wanted, write, doing)
        lines = [
            *found.lines,
            *(f"{tag}: {count(n, 'sentence')} untranslated" for tag, n in found.counts.items()),
            *(f"written: {os.fspath(place)}" for place in found.written),
        ]
        return "\n".join(lines), found.faults

    run(paths[:1], [], work, answer=True)
