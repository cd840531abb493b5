"""The command `foldscript preview`."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from ..source.showing import shown
from ..terminal import options
from ..terminal.running import say, told


def _named(context: click.Context, option: click.Parameter, host: str) -> str:
    """An address that says something: an empty one would mean every address of this machine."""
    if not host.strip() or host != shown(host):
        raise click.BadParameter("name an address, such as 127.0.0.1, or 0.0.0.0 for all.")
    return host


@click.command("preview")
@click.argument("path", metavar="FILE|FOLDER", type=click.Path(exists=True, path_type=Path))
@options.page("Paper of the handout.")
@options.style("Look of the pages.")
@options.one_language("Language of the pages", "the script's own")
@click.option(
    "--port",
    type=click.IntRange(0, 65535),
    default=None,
    metavar="N",
    help="Port to listen on; 0 takes any that is free.  [default: 8320, or a free one]",
)
@click.option(
    "--host",
    default="127.0.0.1",
    show_default=True,
    metavar="ADDRESS",
    callback=_named,
    help="Address to listen on. Any but this machine's own lets others see the pages.",
)
@click.option("--open", "open_it", is_flag=True, help="Open the page in the browser.")
def COMMAND(
    path: Path, page: str, style: str, language: str, port: int | None, host: str, open_it: bool
) -> None:
    """Show the pages in a browser while you write.

    Each time a script is saved, what has changed is folded and drawn again, and shown at once. When
    the text does not fold, the last good pages stay, with what is wrong beside them. Stop with
    Ctrl-C.

    \b
    Examples:
      foldscript preview cup.foldscript --open
      foldscript preview samples --style grey --page Letter
    """
    from ..preview.session import PreviewOptions, Session

    with options.checked():
        session = Session(PreviewOptions(path, page, style, language, host, port))
    with told():
        server = session.listen()
    try:
        say(f"preview of {shown(str(path))}: {server.place.url}  (stop with Ctrl-C)")
        if server.place.open_to_others:
            click.echo(
                f"warning: everyone who can reach {host} can see these pages while this runs",
                err=True,
            )
        if open_it:
            click.launch(server.place.url)
        session.work(lambda line: say(line, err=line.count(": error: ") > 0))
    except KeyboardInterrupt:
        click.echo("stopped")
        sys.exit(0)
    finally:
        session.close()
        server.shutdown()
        server.server_close()
