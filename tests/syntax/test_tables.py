"""The grammar's tables, kept between runs: the same grammar, and nothing fails for them."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path

import pytest

from foldscript.syntax import tables as module
from foldscript.syntax.tables import tables

GRAMMAR = """
a_line: WORD "!"
WORD: /[a-z]+/
"""


@pytest.fixture
def kept_in(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The tables are kept in a folder of this test."""
    monkeypatch.setattr(sys, "pycache_prefix", str(tmp_path))
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    return Path(importlib.util.cache_from_source(module.__file__)).parent


def _reads() -> object:
    return tables(GRAMMAR, ["a_line"]).parse("ab!", start="a_line")


def test_tables_are_kept_and_read_again(kept_in: Path) -> None:
    first = _reads()
    (file,) = kept_in.glob("*.tables")
    made = file.stat().st_mtime_ns
    assert _reads() == first
    assert file.stat().st_mtime_ns == made


def test_another_grammar_replaces_them(kept_in: Path) -> None:
    _reads()
    (old,) = kept_in.glob("*.tables")
    tables(GRAMMAR + "b_line: WORD\n", ["a_line", "b_line"])
    (new,) = kept_in.iterdir()
    assert new.name != old.name


@pytest.mark.parametrize("content", [b"", b"nothing", b"\x80\x04}."])
def test_a_spoilt_file_is_made_anew(kept_in: Path, content: bytes) -> None:
    first = _reads()
    (file,) = kept_in.glob("*.tables")
    file.write_bytes(content)
    assert _reads() == first
    assert file.read_bytes() != content


def test_none_are_written_where_no_compiled_modules_are(
    kept_in: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    assert _reads()
    assert not kept_in.exists()


def test_a_place_that_cannot_be_written_costs_only_time(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("no folder", encoding="utf-8")
    monkeypatch.setattr(sys, "pycache_prefix", str(blocked))
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    assert _reads()
