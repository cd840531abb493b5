"""Poses that were found before, in a file beside the results: what is not changed is not solved again.

In: poses, each with the paper and the goals that it was found from. Out: bytes, and from bytes the poses by
what stands for their paper and goals. The file may be deleted at any time; what cannot be read of it is
found anew. It holds plain data alone, in rows: a number for each kind of value, then its fields.
"""

from __future__ import annotations

import json
import zlib
from collections.abc import Iterable, Mapping
from dataclasses import fields, is_dataclass
from pathlib import Path
from typing import Any

from ...paper.state import State
from ...pose import goals
from ...pose.goals import Stages
from ...pose.pose import Edge, Line, Piece, Pose, Proof, Reached, Touching
from ...source.reading import bytes_of
from .file import digest, values_digest
from .version import versions

#: What the file is called, in the folder of the results.
POSES_FILE = ".foldscript-poses"
#: Most that is read, in bytes: as it lies there, and unpacked.
_LARGEST, _UNPACKED = 5_000_000, 60_000_000
#: What poses are made of. The order counts: rows begin with a place in it.
_KINDS: tuple[type[Any], ...] = (
    Pose,
    Piece,
    Edge,
    Touching,
    Proof,
    Reached,
    goals.Raise,
    goals.Fan,
    goals.Open,
    goals.Blow,
    goals.Spread,
    goals.Bring,
    goals.Stand,
    goals.Turned,
    goals.Curl,
    goals.Part,
    goals.Round,
    goals.Hold,
    goals.Pull,
    goals.Level,
)
_NUMBER = {kind: n for n, kind in enumerate(_KINDS)}


def key_of(state: State, stages: Stages) -> str:
    """What stands for paper and goals, and for all that a pose is found with."""
    return values_digest((state, stages, versions()))


def poses_bytes(found: Mapping[str, Pose]) -> bytes:
    """The file for poses by their keys."""
    rows = json.dumps({key: _row(found[key]) for key in sorted(found)}, separators=(",", ":"))
    return zlib.compress(f"{digest(rows.encode())}{rows}".encode(), 6)


def read_poses(folder: Path) -> dict[str, Pose]:
    """The poses that a folder's file has, by their keys; none where it has none that can be read."""
    try:
        packed = bytes_of(folder / POSES_FILE, _LARGEST)
        text = zlib.decompressobj().decompress(packed, _UNPACKED).decode()
        said, rows = text[:64], text[64:]
        if digest(rows.encode()) != said:
            return {}
        return {str(key): _again(row) for key, row in json.loads(rows).items()}
    except (OSError, ValueError, TypeError, KeyError, IndexError, RecursionError, zlib.error):
        return {}


def _row(value: object) -> Any:
    if is_dataclass(value) and not isinstance(value, type):
        some = [_row(getattr(value, field.name)) for field in fields(value)]
        return [_NUMBER[type(value)], *some]
    if isinstance(value, tuple):
        return [-1, *map(_row, value)]
    return value.value if isinstance(value, Line) else value


def _again(row: Any) -> Any:
    if not isinstance(row, list):
        return row
    kind, *rest = row
    values: Iterable[Any] = map(_again, rest)
    if kind == -1:
        return tuple(values)
    if _KINDS[kind] is Edge:
        *others, line = values
        return Edge(*others, Line(line))
    return _KINDS[kind](*values)
