"""Values kept on disk as plain data, so that what is not changed is not worked out again.

In: frozen dataclasses by what stands for all that they were made from. Out: bytes, and from bytes the same
values. The file may be deleted at any time; what cannot be read of it is made anew. It holds rows alone: a
number for each kind of value, then its fields.
"""

from __future__ import annotations

import json
import zlib
from collections.abc import Mapping
from dataclasses import dataclass, fields, is_dataclass
from enum import Enum
from pathlib import Path
from typing import Any

from ...source.reading import bytes_of
from .file import digest

_TUPLE, _SET = -1, -2


@dataclass(frozen=True)
class RowsFile:
    """A file of a folder of results.

    Attributes
    ----------
    name : what it is called
    kinds : dataclasses and enumerations that its values are made of; rows begin with a place in it, so
        the order counts
    largest, unpacked : most that is read, in bytes: as it lies there, and unpacked
    """

    name: str
    kinds: tuple[type[Any], ...]
    largest: int
    unpacked: int

    def packed(self, values: Mapping[str, object]) -> bytes:
        """The file for values by their keys."""
        rows = {key: self._row(values[key]) for key in sorted(values)}
        text = json.dumps(rows, separators=(",", ":"))
        return zlib.compress(f"{digest(text.encode())}{text}".encode(), 6)

    def read(self, folder: Path) -> dict[str, Any]:
        """The values that a folder's file has, by their keys; none where it has none that can be read."""
        try:
            packed = bytes_of(folder / self.name, self.largest)
            text = zlib.decompressobj().decompress(packed, self.unpacked).decode()
            said, rows = text[:64], text[64:]
            if digest(rows.encode()) != said:
                return {}
            return {str(key): self._again(row) for key, row in json.loads(rows).items()}
        except (OSError, ValueError, TypeError, KeyError, IndexError, RecursionError, zlib.error):
            return {}

    def _row(self, value: object) -> Any:
        if isinstance(value, Enum):
            return [self.kinds.index(type(value)), value.value]
        if is_dataclass(value) and not isinstance(value, type):
            some = [self._row(getattr(value, field.name)) for field in fields(value)]
            return [self.kinds.index(type(value)), *some]
        if isinstance(value, tuple):
            return [_TUPLE, *map(self._row, value)]
        if isinstance(value, frozenset):
            return [_SET, *sorted(map(self._row, value))]
        return value

    def _again(self, row: Any) -> Any:
        if not isinstance(row, list):
            return row
        kind, *rest = row
        values = map(self._again, rest)
        if kind == _TUPLE:
            return tuple(values)
        return frozenset(values) if kind == _SET else self.kinds[kind](*values)
