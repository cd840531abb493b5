"""Further commands of `foldscript`: one file here a command, registered by being there.

A command's module is named after it (a `-` is a `_`) and has a `COMMAND`, a click command. What it
needs beyond click it imports when it runs, so that `--help` answers at once.
"""

from __future__ import annotations

from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from typing import TYPE_CHECKING, cast

if TYPE_CHECKING:
    import click


@cache
def command_names() -> tuple[str, ...]:
    """Names of the commands here, by the alphabet; nothing is imported for it."""
    return tuple(sorted(module.name.replace("_", "-") for module in iter_modules(__path__)))


def load_command(name: str) -> click.Command | None:
    """The command of that name; None when there is none. Raises TypeError where its module has none."""
    if name not in command_names():
        return None
    file = name.replace("-", "_")
    found = getattr(import_module(f"{__name__}.{file}"), "COMMAND", None)
    if found is None:
        raise TypeError(f"commands/{file}.py: it has no COMMAND, a click command")
    return cast("click.Command", found)
