"""Runs the installed command as a person would, in a process of its own."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

#: The console script of the environment that runs the tests.
COMMAND = Path(sys.executable).with_name("foldscript")

#: A small model that folds.
CARD = """\
model "Card"
credit traditional
sheet square 15 cm, coloured side down

step "Fold the bottom edge to the top edge."
  valley bottom edge onto top edge
step
  turn over
step "Fold in half again."
  valley left edge onto right edge
"""


@dataclass(frozen=True)
class Run:
    """What a run left behind: exit code, standard output, standard error."""

    code: int
    out: str
    err: str


def run(*args: str | Path, cwd: Path, env: Mapping[str, str] | None = None) -> Run:
    """Runs `foldscript` with these arguments; never reads standard input."""
    assert COMMAND.exists(), "foldscript is not installed here: sh .ci/setup test"
    done = subprocess.run(
        [str(COMMAND), *map(str, args)],
        cwd=cwd,
        env={**os.environ, **(env or {})},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        timeout=600,
        check=False,
    )
    result = Run(done.returncode, done.stdout.decode(), done.stderr.decode())
    assert "Traceback" not in result.out + result.err, result.err
    return result


def script(folder: Path, name: str = "card", text: str = CARD) -> Path:
    """Writes a script and gives its path."""
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / f"{name}.foldscript"
    path.write_text(text, encoding="utf-8")
    return path
