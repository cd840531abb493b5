"""The command `foldscript editor-service`."""

from __future__ import annotations

from importlib.util import find_spec

import click

from ..source.diagnostics import Diagnostic, FoldscriptError, Hint
from ..terminal.running import told


@click.command("editor-service")
@click.option("--stdio", is_flag=True, hidden=True, help="Taken for editors that say it.")
def COMMAND(stdio: bool) -> None:
    """Serve an editor: messages, completion, figures, renaming.

    An editor starts this itself and speaks the Language Server Protocol with it on standard input and
    output; how to set one up stands in docs/editors.md. It needs the extra 'editor'.

    \b
    Example:
      pip install 'foldscript[editor]'
    """
    with told():
        if find_spec("pygls") is None:
            raise FoldscriptError(
                Diagnostic(
                    "missing-pygls",
                    "serving an editor needs the package 'pygls'",
                    hints=(Hint("pip install 'foldscript[editor]'"),),
                )
            )
    from ..editor.answering import serve

    serve()
