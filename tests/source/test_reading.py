"""Files: encodings, line ends, and what cannot be read."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.source.diagnostics import Diagnostic, FoldscriptError
from foldscript.source.reading import LARGEST_FILE, read_script


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
