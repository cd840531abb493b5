"""What `build --format` can make: one file here a format, registered by being there.

A format's module says in SUMMARY what it makes and has `files(drawn)`, which takes a `Drawn` and
gives (file name, bytes) pairs. A `-` in the format's name is a `_` in the module's.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from typing import Protocol, cast

from ..drawn import Drawn


class Format(Protocol):
    """What a module in this folder looks like."""

    SUMMARY: str

    def files(self, drawn: Drawn) -> Iterable[tuple[str, bytes]]:
        """Names and bytes. Raises FoldscriptError when this format cannot be made here."""
        ...


@cache
def format_names() -> tuple[str, ...]:
    """Names of all formats, by the alphabet; nothing is imported for it."""
    return tuple(sorted(module.name.replace("_", "-") for module in iter_modules(__path__)))


def load_format(name: str) -> Format:
    """The format of that name, one of `format_names()`; only now is its module imported.

    Raises TypeError where the module leaves a part out.
    """
    file = name.replace("-", "_")
    module = import_module(f"{__name__}.{file}")
    if not getattr(module, "SUMMARY", ""):
        raise TypeError(f"formats/{file}.py: it has no SUMMARY that says what it makes")
    if not callable(getattr(module, "files", None)):
        raise TypeError(f"formats/{file}.py: it has no function files(drawn)")
    return cast(Format, module)
