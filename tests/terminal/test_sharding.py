"""Shares of many scripts: together they are all of them, and each is the same everywhere."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldscript.terminal.sharding import WHOLE, Shard

NAMES = st.lists(st.text("abcdäé-.0", min_size=1, max_size=8), unique=True)


@given(names=NAMES, count=st.integers(1, 9))
def test_every_script_is_in_one_share(names: list[str], count: int) -> None:
    scripts = [Path("here") / name for name in names]
    shares = [Shard(k, count).of(scripts) for k in range(1, count + 1)]
    assert sorted(path for share in shares for path in share) == sorted(scripts)


@given(names=NAMES)
def test_a_share_depends_on_neither_folder_nor_company(names: list[str]) -> None:
    share = Shard(2, 3)
    alone = [name for name in names if share.of([Path("x") / name])]
    assert [path.name for path in share.of([Path("y/z") / name for name in names])] == alone


def test_the_share_of_a_name_never_changes() -> None:
    """SHA-256 of 'cup.foldscript' begins with 4f4b17449ee7db4c (by sha256sum): its rest by 8, and 1."""
    first = int("4f4b17449ee7db4c", 16)
    assert Shard(first % 8 + 1, 8).of([Path("cup.foldscript")])


@pytest.mark.parametrize(
    "text", ["", "1", "0/3", "4/3", "-1/3", "1/0", "1/3/5", "one/3", "1/99999", "٢/٨"]
)
def test_what_is_no_share(text: str) -> None:
    assert Shard.read(text) is None


def test_shares_as_they_are_said() -> None:
    assert Shard.read("2/8") == Shard(2, 8)
    assert Shard.read(" 1 / 1 ") == WHOLE
