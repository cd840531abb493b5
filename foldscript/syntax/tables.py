"""The tables of the grammar, kept between runs (`source.kept`): building them takes long.

In: the grammar's text, its start rules. Out: a `Lark` with its tables, read or built.
"""

from __future__ import annotations

import io
from collections.abc import Sequence
from contextlib import suppress
from typing import TYPE_CHECKING

from ..source.kept import keep, place

if TYPE_CHECKING:
    from lark import Lark


def tables(text: str, starts: Sequence[str]) -> Lark:
    """The grammar with its tables, from the file that keeps them or built and kept."""
    from lark import Lark, __version__

    kept = place(__file__, "grammar", "tables", "\0".join((__version__, *starts, text)))
    if kept is not None:
        # A file that another hand has spoilt fails in any way that unpickling can.
        with suppress(Exception):
            return Lark.load(io.BytesIO(kept.read_bytes()))
    built = Lark(
        text,
        parser="lalr",
        lexer="basic",
        start=list(starts),
        propagate_positions=True,
        maybe_placeholders=False,
    )
    if kept is not None:
        data = io.BytesIO()
        built.save(data)
        keep(data.getvalue(), kept)
    return built
