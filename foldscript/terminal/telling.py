"""How a command tells its messages: the options that every command has, and the messages as told.

In: what was said on the command line, and diagnostics. Out: text for standard error, in a form for people,
for programs (a line of JSON a message) or for the log of a workflow that shows them beside the changed lines.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import cast

import click

from ..source.diagnostics import Diagnostic, Severity

_FORMATS = ("text", "json", "github")
_WHEN = ("auto", "always", "never")
_KEPT = "foldscript.telling"


@dataclass(frozen=True, slots=True)
class Telling:
    """What was asked of the messages: form, whether warnings fail, how much is told, whether in colour."""

    form: str = "text"
    strict: bool = False
    quiet: bool = False
    verbose: bool = False
    colour: str = "auto"

    @property
    def progress(self) -> bool:
        """Whether lines about work that takes long may come between the messages."""
        return self.form == "text" and not self.quiet

    def fails(self, fault: Diagnostic) -> bool:
        """Whether the command ends with 1 because of it."""
        return self.strict or fault.severity is Severity.ERROR

    def told(self, faults: Iterable[Diagnostic]) -> str:
        """The messages as text, without a line feed at the end."""
        if self.form == "json":
            from ..source.machine_reports import json_lines

            return json_lines(faults)
        if self.form == "github":
            from ..source.machine_reports import workflow_commands

            return workflow_commands(faults)
        from ..source.reporting import render

        return render(faults, tty=self._coloured())

    def _coloured(self) -> bool:
        """On a terminal, unless NO_COLOR is set (no-color.org); or as was said."""
        if self.colour != "auto":
            return self.colour == "always"
        return sys.stderr.isatty() and not os.environ.get("NO_COLOR")


def telling() -> Telling:
    """What was asked of the command that runs now."""
    context = click.get_current_context(silent=True)
    return Telling() if context is None else cast(Telling, context.meta.get(_KEPT, Telling()))


def tell(faults: Iterable[Diagnostic]) -> None:
    """Prints the messages on standard error."""
    click.echo(telling().told(faults), err=True, color=True)


def with_telling(command: click.Command) -> click.Command:
    """The command with the options that all have; they are kept for `telling`."""
    if not any(option.name == "form_of_messages" for option in command.params):
        command.params = [*command.params, *_options()]
    return command


def _options() -> list[click.Option]:
    def keep(field: str) -> Callable[[click.Context, click.Parameter, object], None]:
        def kept(context: click.Context, option: click.Parameter, value: object) -> None:
            asked = cast(Telling, context.meta.get(_KEPT, Telling()))
            context.meta[_KEPT] = replace(asked, **{field: value})

        return kept

    return [
        click.Option(
            ["--message-format", "form_of_messages"],
            type=click.Choice(_FORMATS, case_sensitive=False),
            default="text",
            show_default=True,
            expose_value=False,
            callback=keep("form"),
            help="Messages as text, as a line of JSON each, or as annotations in a workflow's log; "
            "on standard error.",
        ),
        click.Option(
            ["--strict"],
            is_flag=True,
            expose_value=False,
            callback=keep("strict"),
            help="Warnings fail, too: the command ends with 1.",
        ),
        click.Option(
            ["-q", "--quiet"],
            is_flag=True,
            expose_value=False,
            callback=keep("quiet"),
            help="Tell only what is wrong: no line a file, no progress.",
        ),
        click.Option(
            ["-v", "--verbose"],
            is_flag=True,
            expose_value=False,
            callback=keep("verbose"),
            help="Also tell each stage as it begins, with the seconds since the start.",
        ),
        click.Option(
            ["--color", "colour"],
            type=click.Choice(_WHEN, case_sensitive=False),
            default="auto",
            show_default=True,
            expose_value=False,
            callback=keep("colour"),
            help="Colours in messages; auto: on a terminal, unless NO_COLOR is set.",
        ),
    ]
