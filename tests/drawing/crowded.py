"""Figures that are crowded since frames are as narrow as their paper: known faults, to be mended.

A test that is known to fail on one of them says so, fails there, and tells when it does not any more.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from pathlib import Path

import pytest
from _pytest.mark import ParameterSet


def known(scripts: Iterable[Path], crowded: Collection[str]) -> list[ParameterSet | Path]:
    """The scripts, those of these names expected to fail."""
    fails = pytest.mark.xfail(reason="crowded in its narrow frame")
    return [pytest.param(p, marks=fails) if p.stem in crowded else p for p in scripts]
