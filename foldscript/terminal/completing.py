"""What a shell may offer after an option: the values of formats, looks, sizes of paper and languages.

In: a command, and where an option's values come from, asked for only when a shell asks. Out: the same
command, whose options answer click's completion. Blanks in a value are offered as `-`, which the commands
read alike: a shell would take the value apart. Of several values joined by commas the last one is completed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from click.shell_completion import CompletionItem

#: Gives the values that an option can have.
Values = Callable[[], Iterable[str]]


def with_completion(command: click.Command, values: Mapping[str, Values]) -> click.Command:
    """The command; its options that `values` names by their flag ('--page') complete these values.

    Where none fits what is begun, an option that also takes a file (as its metavar says) offers files.
    """
    for option in command.params:
        given = next((values[flag] for flag in option.opts if flag in values), None)
        if given is not None and not isinstance(option.type, click.Choice):
            option._custom_shell_complete = _completion(given, option.metavar or "")
    return command


def _completion(
    values: Values, metavar: str
) -> Callable[[click.Context, click.Parameter, str], list[CompletionItem[str]]]:
    def complete(
        context: click.Context, option: click.Parameter, begun: str
    ) -> list[CompletionItem[str]]:
        from click.shell_completion import CompletionItem

        before, comma, last = begun.rpartition(",") if "," in metavar else ("", "", begun)
        there = {word.casefold() for word in before.split(",")}
        found = [
            CompletionItem(f"{before}{comma}{value}")
            for value in (value.replace(" ", "-") for value in values())
            if value.casefold().startswith(last.casefold()) and value.casefold() not in there
        ]
        return found or ([CompletionItem(begun, type="file")] if "FILE" in metavar else [])

    return complete
