"""A share of many scripts, the same on every machine: what `--shard 2/8` asks for.

In: which share of how many. Out: those of the scripts that are in it. A script's share follows from its
name alone, so it is the same wherever its folder lies and whatever else lies there.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

#: Most shares that work is divided into.
_MOST = 10_000


@dataclass(frozen=True, slots=True)
class Shard:
    """Share `number` of `count`, from 1."""

    number: int
    count: int

    @classmethod
    def read(cls, text: str) -> Shard | None:
        """'2/8' as the second of eight; None for what is none."""
        found = re.fullmatch(r"\s*([0-9]{1,6})\s*/\s*([0-9]{1,6})\s*", text, re.ASCII)
        if found is None:
            return None
        number, count = int(found[1]), int(found[2])
        return cls(number, count) if 1 <= number <= count <= _MOST else None

    def of(self, scripts: Iterable[Path]) -> list[Path]:
        """The scripts in this share, in their order."""
        return [script for script in scripts if self._share(script.name) == self.number]

    def _share(self, name: str) -> int:
        digest = hashlib.sha256(name.encode("utf-8", "surrogateescape")).digest()
        return int.from_bytes(digest[:8], "big") % self.count + 1


#: All of them.
WHOLE = Shard(1, 1)
