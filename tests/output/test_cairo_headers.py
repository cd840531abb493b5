"""Declarations of cairo, kept between runs: the same pages, and nothing fails for them."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

#: Draws a line, and tells what was drawn and whether C was read for it.
DRAWN = """
import hashlib, sys
from foldscript.output.cairo import cairosvg
svg = '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><path d="M1 1L8 5" stroke="red"/></svg>'
drawn = cairosvg().svg2png(bytestring=svg.encode())
print(hashlib.sha256(drawn).hexdigest(), "pycparser" in sys.modules)
"""


def drawn(folder: Path, **more: str) -> tuple[str, str]:
    """What a fresh process tells, with what is kept in a folder."""
    env = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    env |= {"PYTHONPYCACHEPREFIX": str(folder), **more}
    run = [sys.executable, "-c", DRAWN]
    told = subprocess.run(run, env=env, capture_output=True, text=True, check=True)
    digest, read = told.stdout.split()
    return digest, read


@pytest.mark.parametrize("content", [None, b"", b"nothing", b"ffi = 1 +"])
def test_c_is_read_once(tmp_path: Path, content: bytes | None) -> None:
    first, read = drawn(tmp_path)
    assert read == "True"
    (kept,) = tmp_path.rglob("cairo-*.declarations")
    if content is not None:  # another hand has spoilt it
        kept.write_bytes(content)
    assert drawn(tmp_path) == (first, str(content is not None))


def test_nothing_is_kept_where_no_compiled_modules_are(tmp_path: Path) -> None:
    first, _ = drawn(tmp_path)
    other = tmp_path / "other"
    assert drawn(other, PYTHONDONTWRITEBYTECODE="1")[0] == first
    assert not list(other.rglob("*.declarations"))
