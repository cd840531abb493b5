"""The command `foldscript format`."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from pathlib import Path

import click

from ..source.diagnostics import Diagnostic, Hint, Source
from ..source.reading import STANDARD_INPUT
from ..source.showing import shown
from ..terminal import options
from ..terminal.running import Doing, run_each


@click.command("format")
@options.paths("FILE|FOLDER|-...", dash=True)
@click.option(
    "--check", is_flag=True, help="Change nothing; end with 1 where a script is laid out otherwise."
)
@click.option("--diff", is_flag=True, help="Change nothing; print what would change.")
def COMMAND(paths: tuple[Path, ...], check: bool, diff: bool) -> None:
    """Lay scripts out alike: indents, blank lines, spaces.

    No word changes and no comment goes. A script that cannot be read is told and left alone. With `-` a
    script comes in on standard input and goes out on standard output.

    \b
    Examples:
      foldscript format cup.foldscript
      foldscript format --check samples
      foldscript format - < cup.foldscript
    """
    from ..building.layout_of_scripts import laid_out, lay_out

    def work(path: Path, doing: Doing) -> tuple[str, Iterable[Diagnostic]]:
        was, now = laid_out(path)
        if path == STANDARD_INPUT and not (check or diff):
            return now.removesuffix("\n"), ()
        if was == now:
            return "", ()
        if diff:
            return _difference(path, was, now), ()
        if check:
            hint = Hint(f"foldscript format {path}")
            return "", [
                Diagnostic(
                    "layout", "laid out otherwise", hints=(hint,), source=Source(str(path), was)
                )
            ]
        lay_out(path, now)
        return shown(f"{path}: laid out"), ()

    run_each(paths, work, answer=True, names_apart=False)


def _difference(path: Path, was: str, now: str) -> str:
    lines = difflib.unified_diff(
        was.splitlines(), now.splitlines(), str(path), str(path), lineterm=""
    )
    return "\n".join(shown(line) for line in lines)
