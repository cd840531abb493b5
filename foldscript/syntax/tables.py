"""The tables of the grammar, kept where Python keeps its compiled modules: building them takes long.

In: the grammar's text, its start rules. Out: a `Lark` with its tables. They are kept in the `__pycache__`
of this folder, in a file named after what they were made from, under the same rules as compiled modules:
`PYTHONDONTWRITEBYTECODE` writes none, `PYTHONPYCACHEPREFIX` moves them, whoever may write there may change
what runs. Where they cannot be kept, or read, they are built.
"""

from __future__ import annotations

import hashlib
import importlib.util
import io
import os
import sys
import tempfile
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from lark import Lark


def tables(text: str, starts: Sequence[str]) -> Lark:
    """The grammar with its tables, from the file that keeps them or built and kept."""
    from lark import Lark, __version__

    made_from = "\0".join((sys.version, __version__, *starts, text))
    kept = _place(hashlib.sha256(made_from.encode()).hexdigest()[:16])
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
    if kept is not None and not sys.dont_write_bytecode:
        _keep(built, kept)
    return built


def _place(name: str) -> Path | None:
    """The file for tables of this name, None where Python keeps no compiled modules."""
    try:
        compiled = importlib.util.cache_from_source(__file__)
    except NotImplementedError:
        return None
    return Path(compiled).with_name(f"grammar-{name}.tables")


def _keep(built: Lark, kept: Path) -> None:
    """Writes the tables beside and renames them, and takes away those of other versions."""
    data = io.BytesIO()
    built.save(data)
    with suppress(OSError):
        kept.parent.mkdir(parents=True, exist_ok=True)
        handle, part = tempfile.mkstemp(dir=kept.parent, prefix=kept.stem)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(data.getvalue())
            Path(part).replace(kept)
        except OSError:
            Path(part).unlink(missing_ok=True)
            raise
        for old in kept.parent.glob("grammar-*.tables"):
            if old != kept:
                old.unlink(missing_ok=True)
