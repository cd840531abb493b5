"""Files: encodings, line ends, and what cannot be read."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from foldscript.source.diagnostics import Diagnostic, FoldscriptError
from foldscript.source.reading import (
    LARGEST_FILE,
    NotAnOrdinaryFile,
    bytes_of,
    read_file,
    read_script,
)

with_pipes = pytest.mark.skipif(
    not hasattr(os, "mkfifo"), reason="pipes with names are known to POSIX systems only"
)


def failure(path: Path) -> Diagnostic:
    with pytest.raises(FoldscriptError) as caught:
        read_script(path)
    (fault,) = caught.value.diagnostics
    return fault


def test_plain_text(tmp_path: Path) -> None:
    path = tmp_path / "a.foldscript"
    path.write_bytes(b'\xef\xbb\xbfmodel "caf\xc3\xa9"\r\nstep\rturn over\n')
    source = read_script(path)
    assert source.text == 'model "café"\nstep\nturn over\n'
    assert source.name == str(path)
    assert read_script(path, "a.foldscript").name == "a.foldscript"


def test_an_empty_file(tmp_path: Path) -> None:
    path = tmp_path / "a.foldscript"
    path.write_bytes(b"")
    assert read_script(path).text == ""


def test_the_first_wrong_byte(tmp_path: Path) -> None:
    path = tmp_path / "a.foldscript"
    path.write_bytes('# é\r\nmodel "'.encode() + b'caf\xe9"\n')
    fault = failure(path)
    assert fault.code == "not-utf-8"
    assert "0xE9" in fault.message
    assert fault.source is not None
    assert fault.span is not None
    assert fault.source.position(fault.span.start) == (2, 11)


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-be"])
def test_sixteen_bits(tmp_path: Path, encoding: str) -> None:
    path = tmp_path / "a.foldscript"
    path.write_bytes("\ufeffstep".encode(encoding))
    fault = failure(path)
    assert fault.code == "not-utf-8"
    assert "UTF-16" in fault.message


def test_what_is_no_file(tmp_path: Path) -> None:
    assert "no file" in failure(tmp_path / "none.foldscript").message
    assert "folder" in failure(tmp_path).message
    assert failure(Path("a\0b")).code == "cannot-read"


def test_too_long(tmp_path: Path) -> None:
    path = tmp_path / "a.foldscript"
    path.write_bytes(b"#" * (LARGEST_FILE + 1))
    assert failure(path).code == "file-too-long"


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
