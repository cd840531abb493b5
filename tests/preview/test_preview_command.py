"""`foldscript preview` as a person starts and stops it."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from ..command import COMMAND, run
from .places import CARD


@contextmanager
def started(*args: str | Path, cwd: Path) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """The command at work, and the address that it names."""
    made = subprocess.Popen(
        [COMMAND, "preview", *map(str, args)],
        cwd=cwd,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONUNBUFFERED": "1"},
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.default_int_handler),
    )
    try:
        assert made.stdout is not None
        line = made.stdout.readline()
        found = re.search(r"http://\S+", line)
        assert found, line + (made.stderr.read() if made.stderr and made.poll() else "")
        yield made, found[0]
    finally:
        made.kill()
        made.wait()


@pytest.fixture
def card(tmp_path: Path) -> Path:
    path = tmp_path / "card.foldscript"
    path.write_text(CARD, "utf-8")
    return path


def stopped(made: subprocess.Popen[str]) -> tuple[int, str, str]:
    """Sends Ctrl-C; exit code and what was printed."""
    made.send_signal(signal.SIGINT)
    out, err = made.communicate(timeout=60)
    return made.returncode, out, err


@pytest.mark.skipif(os.name != "posix", reason="signals are POSIX")
def test_it_serves_until_control_c(card: Path) -> None:
    with started(card.name, "--port", "0", cwd=card.parent) as (made, address):
        assert address.startswith("http://127.0.0.1:")
        with urllib.request.urlopen(address, timeout=60) as page:
            assert b"<main" in page.read()
        assert made.stdout is not None
        assert made.stdout.readline().startswith("card.foldscript: 1 page")
        code, out, err = stopped(made)
    assert (code, out, err) == (0, "stopped\n", "")


@pytest.mark.skipif(os.name != "posix", reason="signals are POSIX")
def test_an_open_browser_does_not_keep_it_from_stopping(card: Path) -> None:
    with started(card.name, "--port", "0", cwd=card.parent) as (made, address):
        page = urllib.request.urlopen(f"{address}news", timeout=60)
        assert page.readline().startswith(b"retry")
        code, _, err = stopped(made)
        page.close()
    assert (code, err) == (0, "")


@pytest.mark.skipif(os.name != "posix", reason="signals are POSIX")
def test_others_can_see_it_only_when_that_is_asked_for_and_then_it_says_so(card: Path) -> None:
    with started(card.name, "--port", "0", "--host", "0.0.0.0", cwd=card.parent) as (made, address):
        assert address.startswith("http://127.0.0.1:")
        assert made.stderr is not None
        err = made.stderr.readline()
        code, _, _ = stopped(made)
    assert code == 0
    assert err.startswith("warning: everyone who can reach 0.0.0.0 can see these pages")


def test_what_is_wrong_with_the_command(card: Path) -> None:
    for option in (
        ["--page", "A55"],
        ["--style", "gray"],
        ["--port", "70000"],
        ["--language", "x9"],
    ):
        assert run("preview", card.name, *option, cwd=card.parent).code == 2
    done = run("preview", card.name, "--host", "192.0.2.1", "--port", "0", cwd=card.parent)
    assert done.code == 1  # an address of nobody (RFC 5737)
    assert "cannot listen on '192.0.2.1'" in done.err


@pytest.mark.parametrize("host", ["", " ", "local\x1bhost"])
def test_an_address_that_says_nothing_is_refused(card: Path, host: str) -> None:
    done = run("preview", card, "--host", host, cwd=card.parent)
    assert done.code == 2
    assert "name an address" in done.err
