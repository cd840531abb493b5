"""What random scripts begin with folds: else every script that begins so would end there."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from ..scripts import folded
from .random_scripts import BEGINNINGS


@pytest.mark.parametrize("beginning", [b for b in BEGINNINGS if b], ids=lambda b: b[-1])
def test_beginnings_fold(beginning: Sequence[str]) -> None:
    folded(*beginning)
