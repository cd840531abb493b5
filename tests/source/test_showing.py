"""Names and texts that a terminal must not obey."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from foldscript.source.showing import obeyed_by_none, shown
from foldscript.terminal.progress import Progress
from foldscript.terminal.running import say
from tests.command import run, script


def test_one_line_without_control_characters() -> None:
    assert shown("a\x1b[31mb\rc\nd\x9b\u202ee") == "a [31mb c d  e"
    assert shown("Vaso – カップ") == "Vaso – カップ"


def test_lines_and_json_keep_all_that_is_harmless() -> None:
    assert obeyed_by_none('{\n\t"a": "\u200dx"}\x1b\x7f') == '{\n\t"a": "\u200dx"}  '


def test_printed_line_by_line(capsys: pytest.CaptureFixture[str]) -> None:
    say("one\x1b\ntwo\r")
    assert capsys.readouterr().out == "one \ntwo \n"


def test_progress_shows_names_too() -> None:
    progress = Progress()
    progress.doing("folding a\x1b[2J\rb.foldscript")
    assert progress._doing == "folding a [2J b.foldscript"


@pytest.mark.skipif(os.name != "posix", reason="such names are POSIX")
@pytest.mark.parametrize(
    "command", [("check",), ("build", "--format", "words"), ("practice",), ("plan",)]
)
def test_names_of_files_reach_the_terminal_harmless(
    tmp_path: Path, command: tuple[str, ...]
) -> None:
    path = script(tmp_path, "a\x1b[31m\r\nb")
    done = run(*command, path.name, cwd=tmp_path)
    assert done.code == 0, done.err
    assert done.out.count("\n") == 1
    assert not set(done.out + done.err) & set("\x1b\r")


@pytest.mark.skipif(os.name != "posix", reason="such names are POSIX")
def test_names_that_are_misused_too(tmp_path: Path) -> None:
    path = script(tmp_path, "a")
    done = run("build", path.name, "--style", "\x1b.toml", cwd=tmp_path)
    assert (done.code, "\x1b" in done.err) == (2, False)
    done = run("check", "no\x1b.foldscript", cwd=tmp_path)
    assert (done.code, "\x1b" in done.err) == (2, False)
