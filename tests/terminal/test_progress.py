"""Progress speaks over long work only."""

from __future__ import annotations

import io
import time

import pytest

from foldscript.terminal import progress as module
from foldscript.terminal.progress import PATIENCE, Progress, patience


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


@pytest.fixture
def impatient(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "patience", lambda: 0.01)


def wait_for(stream: io.StringIO, text: str) -> None:
    end = time.monotonic() + 60
    while text not in stream.getvalue() and time.monotonic() < end:
        time.sleep(0.005)
    assert text in stream.getvalue()


def test_short_work_is_silent() -> None:
    stream = io.StringIO()
    with Progress(stream) as progress:
        progress.doing("folding cup")
    assert stream.getvalue() == ""


@pytest.mark.usefixtures("impatient")
def test_long_work_is_told_in_lines() -> None:
    stream = io.StringIO()
    with Progress(stream) as progress:
        progress.doing("folding cup")
        wait_for(stream, "folding cup ... (")
    assert stream.getvalue().endswith(" s)\n")


@pytest.mark.usefixtures("impatient")
def test_a_terminal_is_left_clean() -> None:
    stream = Terminal()
    with Progress(stream) as progress:
        progress.doing("folding cup")
        wait_for(stream, "folding cup ... (")
    line = stream.getvalue().split("\r")[-3]
    assert line.startswith("folding cup ... (")
    assert stream.getvalue().endswith("\r" + " " * len(line) + "\r")
    assert "\n" not in stream.getvalue()


@pytest.mark.parametrize(
    ("said", "seconds"),
    [
        ("600", 600.0),
        ("0", PATIENCE),
        ("", PATIENCE),
        ("soon", PATIENCE),
        ("-1", PATIENCE),
        ("nan", PATIENCE),
        ("9" * 400, PATIENCE),
    ],
)
def test_the_environment_settles_the_patience(
    said: str, seconds: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("FOLDSCRIPT_PATIENCE", said)
    assert patience() == pytest.approx(seconds)
