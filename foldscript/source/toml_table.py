"""A TOML file's values, taken out one by one and checked, every mistake with its line and column.

In: a `Source`. Out: values of the kinds asked for; what is wrong is collected, so that one run
shows all of it. Nothing here knows what the values are for.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Collection, Mapping
from datetime import date, datetime, time
from difflib import get_close_matches
from functools import cached_property
from typing import TypeAlias, TypeVar

from .diagnostics import Diagnostic, FoldscriptError, Hint, Source, Span
from .toml_limits import refuse_beyond_limits
from .toml_spans import KeyPath, PairSpans, pair_spans

#: What a TOML file may say.
TomlValue: TypeAlias = (
    "str | int | float | bool | datetime | date | time | list[TomlValue] | dict[str, TomlValue]"
)
_Kind = TypeVar("_Kind")

#: Faults noted in one file; whoever makes more has taken the wrong file.
MOST_FAULTS = 25
#: Letters of a key or text that a message repeats.
_LONGEST_TOLD = 60

_AT = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$")
_KINDS: tuple[tuple[type, str], ...] = (
    (bool, "true or false"),
    (str, "a text in quotes"),
    (int, "a number"),
    (float, "a number"),
    (list, "a list"),
    (dict, "a table"),
)


class Table:
    """A whole file. The first of the names in a path may lead through tables and lists.

    `faults` gathers what is wrong; `settle` raises it.
    """

    def __init__(self, source: Source) -> None:
        """Parses the text; raises FoldscriptError: 'not-toml', or what `toml_limits` refuses."""
        refuse_beyond_limits(source)
        self.source = source
        self.faults: list[Diagnostic] = []
        try:
            self.values: dict[str, TomlValue] = tomllib.loads(source.text)
        except tomllib.TOMLDecodeError as error:
            raise FoldscriptError(_not_toml(source, str(error))) from None

    @cached_property
    def _spans(self) -> Mapping[KeyPath, PairSpans]:
        return pair_spans(self.source.text)

    def span(self, *path: str | int) -> Span | None:
        """Where the value stands; None where the file does not say it."""
        pair = self._spans.get(path)
        return pair.value if pair is not None else None

    def value(self, *path: str | int) -> TomlValue | None:
        """What the file says, of whatever kind; None where it says nothing."""
        value: TomlValue | None = self.values
        for part in path:
            if isinstance(value, dict):
                value = value.get(part) if isinstance(part, str) else None
            elif isinstance(value, list):
                value = value[part] if isinstance(part, int) and part < len(value) else None
            else:
                return None
        return value

    def has(self, *path: str | int) -> bool:
        """Whether the file says it."""
        return self.value(*path) is not None

    def diagnostic(
        self, path: KeyPath, code: str, message: str, *hints: str | Hint, at_key: bool = False
    ) -> Diagnostic:
        """A diagnostic that points at a value, or at its key."""
        pair = self._spans.get(path)
        span = None if pair is None else pair.key if at_key else pair.value
        told = tuple(Hint(hint) if isinstance(hint, str) else hint for hint in hints)
        return Diagnostic(code, message, span, told, source=self.source)

    def fault(
        self, path: KeyPath, code: str, message: str, *hints: str | Hint, at_key: bool = False
    ) -> None:
        """Notes that a value is wrong, unless so much is wrong already that no one reads it."""
        if len(self.faults) < MOST_FAULTS:
            self.faults.append(self.diagnostic(path, code, message, *hints, at_key=at_key))

    def settle(self) -> None:
        """Raises FoldscriptError with every fault noted, by their places in the file."""
        if self.faults:
            raise FoldscriptError(*sorted(self.faults, key=_where))

    def only(self, *path: str | int, known: Collection[str]) -> None:
        """Notes every key of a table that is none of those known."""
        table = self.value(*path)
        if not isinstance(table, dict):
            return
        for key in table:
            if len(self.faults) >= MOST_FAULTS:
                return
            if key not in known:
                near = get_close_matches(key[:_LONGEST_TOLD], known, 1)
                hint = f"did you mean '{near[0]}'?" if near else "known: " + ", ".join(known)
                what = f"'{told(key)}' means nothing here"
                self.fault((*path, key), "unknown-key", what, hint, at_key=True)

    def text(self, *path: str | int, default: str = "") -> str:
        """A text, in one line unless it was written in several."""
        value = self._checked(path, str)
        return default if value is None else value.strip()

    def flag(self, *path: str | int, default: bool = False) -> bool:
        """True or false."""
        value = self._checked(path, bool)
        return default if value is None else value

    def number(
        self, *path: str | int, default: float, least: float = 0.0, most: float = 1e6
    ) -> float:
        """A number within bounds."""
        value = self._checked(path, int, float)
        if value is None:
            return default
        if not least <= value <= most:
            bounds = f"from {least:g} to {most:g}" if most < 1e6 else f"of {least:g} or more"
            self.fault(path, "bad-value", f"{value:g} is no number {bounds}")
            return default
        return float(value)

    def choice(self, *path: str | int, among: Collection[str], default: str) -> str:
        """One of a few words."""
        value = self._checked(path, str)
        if value is None or value in among:
            return default if value is None else value
        near = get_close_matches(value[:_LONGEST_TOLD], among, 1)
        hint = f"did you mean '{near[0]}'?" if near else "one of: " + ", ".join(among)
        self.fault(path, "bad-value", f"'{told(value)}' is no choice here", hint)
        return default

    def items(self, *path: str | int) -> range:
        """Positions in a list; none where it is not said."""
        value = self._checked(path, list)
        return range(0 if value is None else len(value))

    def table(self, *path: str | int) -> tuple[str, ...]:
        """Keys of a table; none where it is not said."""
        value = self._checked(path, dict)
        return () if value is None else tuple(value)

    def _checked(self, path: KeyPath, *kinds: type[_Kind]) -> _Kind | None:
        """The value where it is of one of the kinds, else None; a wrong kind is noted."""
        value = self.value(*path)
        if value is None:
            return None
        if isinstance(value, kinds) and isinstance(value, bool) == (bool in kinds):
            return value
        wanted = next(name for kind, name in _KINDS if kind in kinds)
        found = next((name for kind, name in _KINDS if isinstance(value, kind)), "a date or time")
        self.fault(path, "bad-value", f"{wanted} is wanted here, not {found}")
        return None


def told(text: str) -> str:
    """A key or text of the file as a message repeats it: not at any length."""
    return text if len(text) <= _LONGEST_TOLD else f"{text[: _LONGEST_TOLD - 1]}…"


def _where(diagnostic: Diagnostic) -> tuple[int, int]:
    span = diagnostic.span
    return (-1, -1) if span is None else (span.start, span.end)


def _not_toml(source: Source, message: str) -> Diagnostic:
    """What the parser says, at the place it says it."""
    match = _AT.search(message)
    words = (message[: match.start()] if match else message).strip()
    offset = len(source.text.rstrip())
    if match and match[1]:
        lines = source.text.split("\n")
        offset = sum(len(line) + 1 for line in lines[: int(match[1]) - 1]) + int(match[2]) - 1
    hint = Hint('texts stand in quotes, lists in square brackets: models = ["cup.foldscript"]')
    said = f"the file is no TOML: {words[:1].lower()}{words[1:]}"
    return Diagnostic("not-toml", said, Span(offset, offset + 1), (hint,), source=source)
