"""Progress speaks over long work only."""

from __future__ import annotations

import io
import time

from foldscript.terminal.progress import Progress


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def wait_for(stream: io.StringIO, text: str) -> None:
    end = time.monotonic() + 5
    while text not in stream.getvalue() and time.monotonic() < end:
        time.sleep(0.005)
    assert text in stream.getvalue()


def test_short_work_is_silent() -> None:
    stream = io.StringIO()
    with Progress(stream, patience=60) as progress:
        progress.doing("folding cup")
    assert stream.getvalue() == ""


def test_long_work_is_told_in_lines() -> None:
    stream = io.StringIO()
    with Progress(stream, patience=0.01) as progress:
        progress.doing("folding cup")
        wait_for(stream, "folding cup ... (0 s)\n")


def test_a_terminal_is_left_clean() -> None:
    stream = Terminal()
    with Progress(stream, patience=0.01) as progress:
        progress.doing("folding cup")
        wait_for(stream, "folding cup ... (0 s)")
    line = "folding cup ... (0 s)"
    assert stream.getvalue().endswith("\r" + " " * len(line) + "\r")
    assert "\n" not in stream.getvalue()
