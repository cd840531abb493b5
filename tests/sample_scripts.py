"""The samples and bases that come along: each is read, folded and posed once for all tests that look at it.

What a test changes, or folds on purpose again, it makes of its own.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

from foldscript.building.script import Script

SAMPLES = Path(__file__).resolve().parents[1] / "samples"
#: All of them, the bases too.
SCRIPTS = tuple(sorted(SAMPLES.rglob("*.foldscript")))
_BY_NAME = {path.stem: path for path in SCRIPTS}


def sample(name: str) -> Script:
    """A sample or a base by its place: 'crane', 'bases/bird-base', or for short 'bird-base'."""
    return _script(_BY_NAME[name.removeprefix("bases/")])


@cache
def _script(path: Path) -> Script:
    return Script(path)
