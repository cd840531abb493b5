"""Exchanges two folders atomically.

In: two folders on one file system. Out: each under the name of the other, with no moment between in
which a name is missing; whoever is killed meanwhile leaves either the old or the new. Linux and macOS
can do that; elsewhere, and on some network drives, it says that it cannot. Two plain renames are not
enough: of 200 programs killed at work (tests/benchmarks/bench_killed.py) some leave no folder at all.
"""

from __future__ import annotations

import ctypes
import os
import sys
from collections.abc import Callable
from functools import cache
from pathlib import Path

#: Linux: `renameat2` relative to the working folder, flag RENAME_EXCHANGE (linux/fs.h, linux/fcntl.h).
_AT_FDCWD, _EXCHANGE = -100, 2
#: macOS: `renamex_np` with flag RENAME_SWAP (sys/stdio.h).
_SWAP = 2


def exchange(one: Path, other: Path) -> bool:
    """Exchanges two folders; False, and nothing done, where this system or drive cannot."""
    call = _call()
    return call is not None and call(os.fsencode(one), os.fsencode(other)) == 0


@cache
def _call() -> Callable[[bytes, bytes], int] | None:
    try:
        library = ctypes.CDLL(None, use_errno=True)
        if sys.platform == "linux":
            rename = library.renameat2
            rename.argtypes = (
                ctypes.c_int,
                ctypes.c_char_p,
                ctypes.c_int,
                ctypes.c_char_p,
                ctypes.c_uint,
            )
            return lambda one, other: rename(_AT_FDCWD, one, _AT_FDCWD, other, _EXCHANGE)
        if sys.platform == "darwin":
            swap = library.renamex_np
            swap.argtypes = (ctypes.c_char_p, ctypes.c_char_p, ctypes.c_uint)
            return lambda one, other: swap(one, other, _SWAP)
    except (OSError, TypeError, AttributeError):
        pass
    return None
