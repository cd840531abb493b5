"""Bytes that are read, and those that are not."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from foldscript.source.diagnostics import FoldscriptError
from foldscript.source.reading import NotAnOrdinaryFile, bytes_of, read_file

with_pipes = pytest.mark.skipif(
    not hasattr(os, "mkfifo"), reason="pipes with names are known to POSIX systems only"
)


def test_the_first_bytes_or_all(tmp_path: Path) -> None:
    path = tmp_path / "a.txt"
    path.write_bytes(b"abc")
    assert bytes_of(path) == b"abc"
    assert bytes_of(path, 2) == b"ab"


@with_pipes
def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    os.mkfifo(path)
    with pytest.raises(NotAnOrdinaryFile):
        bytes_of(path)
    with pytest.raises(FoldscriptError) as caught:
        read_file(path, "a.toml", "side file")
    assert caught.value.diagnostics[0].message == "a.toml is no ordinary file, and so no side file"


@with_pipes
def test_a_file_exchanged_for_a_pipe_at_the_last_moment(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path, plain = tmp_path / "a.toml", tmp_path / "b.toml"
    os.mkfifo(path)
    plain.write_text("")
    looked = plain.stat()
    monkeypatch.setattr(Path, "stat", lambda self, **_: looked)
    with pytest.raises(NotAnOrdinaryFile):
        bytes_of(path)


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="no such device here")
def test_a_device_is_no_file() -> None:
    with pytest.raises(NotAnOrdinaryFile):
        bytes_of(Path("/dev/zero"), 10)
