"""The command `foldscript manual`."""

from __future__ import annotations

import click

from .. import __version__
from ..terminal.running import say


@click.command("manual")
@click.pass_context
def COMMAND(context: click.Context) -> None:
    """Print the manual page: the help of every command.

    \b
    Examples:
      foldscript manual | man -l -
      foldscript manual > ~/.local/share/man/man1/foldscript.1
    """
    from ..terminal.manual import manual

    group = context.find_root().command
    assert isinstance(group, click.Group)
    say(manual(group, "foldscript", __version__).rstrip("\n"))
