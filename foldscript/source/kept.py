"""What takes long to work out from files of the package, kept where Python keeps its compiled modules.

In: what it is called, and from what it is made. Out: the file that keeps it, in the `__pycache__` of a
module's folder, under the same rules as compiled modules: `PYTHONDONTWRITEBYTECODE` writes none,
`PYTHONPYCACHEPREFIX` moves them, whoever may write there may change what runs. Where nothing can be kept,
or read, it is worked out anew.
"""

from __future__ import annotations

import hashlib
import importlib.util
import os
import sys
from contextlib import suppress
from pathlib import Path


def place(module: str, name: str, suffix: str, made_from: str) -> Path | None:
    """The file for what a module keeps; None where Python keeps no compiled modules.

    `module` : the module's file
    `name`, `suffix` : what the file's name begins and ends with
    `made_from` : all that it depends on
    """
    try:
        compiled = importlib.util.cache_from_source(module)
    except NotImplementedError:
        return None
    digest = hashlib.sha256("\0".join((sys.version, made_from)).encode()).hexdigest()[:16]
    return Path(compiled).with_name(f"{name}-{digest}.{suffix}")


def keep(data: bytes, kept: Path) -> None:
    """Writes beside it and renames, and takes away what was kept of other versions; may keep nothing."""
    if sys.dont_write_bytecode:
        return
    import tempfile  # only where something is written

    name = kept.stem.rpartition("-")[0]
    with suppress(OSError):
        kept.parent.mkdir(parents=True, exist_ok=True)
        handle, part = tempfile.mkstemp(dir=kept.parent, prefix=kept.stem)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(data)
            Path(part).replace(kept)
        except OSError:
            Path(part).unlink(missing_ok=True)
            raise
        for old in kept.parent.glob(f"{name}-*{kept.suffix}"):
            if old != kept:
                old.unlink(missing_ok=True)
