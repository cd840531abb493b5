"""A preview in this process, and its server asked as a browser would ask."""

from __future__ import annotations

import http.client
import json
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from foldscript.preview.serving import Server
from foldscript.preview.session import PreviewOptions, Session

CARD = """\
model "Card"
credit traditional
sheet square 15 cm, coloured side down

step "Fold the bottom edge to the top edge."
  valley bottom edge onto top edge
step "Turn over."
  turn over
step "Fold in half again."
  valley left edge onto right edge
"""


@contextmanager
def session(path: Path, style: str = "colour", language: str = "") -> Iterator[Session]:
    """A session that has made everything there is; nothing is served."""
    made = Session(PreviewOptions(path, "A4", style, language, "127.0.0.1", 0))
    try:
        settle(made)
        yield made
    finally:
        made.close()


@contextmanager
def served(path: Path) -> Iterator[tuple[Session, Server]]:
    """A session at work in a thread, and its server."""
    made = Session(PreviewOptions(path, "A4", "colour", "", "127.0.0.1", 0))
    server = made.listen()
    ended = threading.Event()

    def work() -> None:
        while not ended.is_set():
            made.once(lambda line: None, 0.05)

    worker = threading.Thread(target=work, daemon=True)
    worker.start()
    try:
        yield made, server
    finally:
        ended.set()
        worker.join()
        made.close()
        server.shutdown()
        server.server_close()


def settle(made: Session, seconds: float = 0.0) -> list[str]:
    """Lets a session do what there is to do, and waits so long for more; the lines it said."""
    lines: list[str] = []
    until = time.monotonic() + seconds
    while made.once(lines.append, 0.0) or time.monotonic() < until or made.pending:
        time.sleep(0.005)
    return lines


def until_said(made: Session, words: str) -> str:
    """Lets a session work until it says something."""
    end = time.monotonic() + 10
    lines: list[str] = []
    while time.monotonic() < end:
        made.once(lines.append, 0.05)
        if any(words in line for line in lines):
            return "\n".join(lines)
    raise AssertionError(f"never said {words!r}, but {lines}")


def shown(made: Session) -> dict[str, dict[str, Any]]:
    """What the board tells now, by the last part of the key."""
    messages = made.board.wait(0, 0.0) or []
    told = [json.loads(message.text) for message in messages]
    return {Path(one["key"]).name: one for one in told if not one.get("gone")}


def ask(
    server: Server, path: str, method: str = "GET", **headers: str
) -> tuple[int, dict[str, str], bytes]:
    """Status, headers and body of an answer; the path is sent as it is."""
    link = http.client.HTTPConnection("127.0.0.1", server.place.port, timeout=5)
    try:
        link.putrequest(method, path, skip_host="Host" in headers)
        for name, value in headers.items():
            link.putheader(name.replace("_", "-"), value)
        link.endheaders()
        answer = link.getresponse()
        return answer.status, dict(answer.getheaders()), answer.read()
    finally:
        link.close()


def news(server: Server) -> Iterator[dict[str, Any]]:
    """What a browser is told, as it comes."""
    link = http.client.HTTPConnection("127.0.0.1", server.place.port, timeout=15)
    link.request("GET", "/news")
    answer = link.getresponse()
    while line := answer.fp.readline():
        if line.startswith(b"data: "):
            yield json.loads(line.removeprefix(b"data: "))
