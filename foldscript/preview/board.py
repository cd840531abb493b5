"""The board: what is to be seen now, handed from the one who makes it to everyone who watches.

In: a `Shown` whenever something has changed, and which pages a browser has in view. Out: numbered
messages for the browsers, and the pictures that they name. Nothing else can be asked for.
"""

from __future__ import annotations

import json
import threading
from collections.abc import Sequence
from dataclasses import dataclass

from .looking import InView
from .shown import Shown


@dataclass(frozen=True)
class Message:
    """What a browser is told, as JSON; later messages have higher numbers."""

    number: int
    text: str


class Board:
    """Safe to be used from several threads."""

    def __init__(self) -> None:
        self._changed = threading.Condition()
        self._number = 0
        self._closed = False
        self._shown: dict[str, tuple[Shown, Message]] = {}
        self._gone: dict[str, Message] = {}
        self._pictures: dict[str, bytes] = {}
        self._in_view: dict[str, tuple[InView, ...]] = {}

    def show(self, shown: Shown) -> None:
        """Puts a script up, or what is new about it. Its last pictures may still be asked for."""
        with self._changed:
            old = self._shown.get(shown.key)
            self._number += 1
            text = json.dumps(shown.message(), ensure_ascii=False)
            self._shown[shown.key] = shown, Message(self._number, text)
            self._gone.pop(shown.key, None)
            others = [s for s, _ in self._shown.values()]
            self._pictures = {
                p.name: p.svg
                for s in (*others, *((old[0],) if old else ()))
                for p in (*s.pages, *s.close)
            }
            self._changed.notify_all()

    def remove(self, key: str) -> None:
        """Takes a script down."""
        with self._changed:
            self._in_view.pop(key, None)
            if self._shown.pop(key, None) is not None:
                self._number += 1
                text = json.dumps({"key": key, "gone": True})
                self._gone[key] = Message(self._number, text)
                self._changed.notify_all()

    def look(self, key: str, views: Sequence[InView]) -> None:
        """Notes what of a script's pages is in view, what is best in view first."""
        with self._changed:
            if key in self._shown:
                self._in_view[key] = tuple(views)

    def in_view(self, key: str) -> tuple[InView, ...]:
        """What of a script's pages was last said to be in view; () where nobody has said it."""
        with self._changed:
            return self._in_view.get(key, ())

    def picture(self, name: str) -> bytes | None:
        """An SVG that has been made, by its name."""
        with self._changed:
            return self._pictures.get(name)

    def wait(self, after: int, seconds: float) -> list[Message] | None:
        """Messages later than a number, oldest first; waits for some; None once the board is closed."""
        with self._changed:
            self._changed.wait_for(lambda: self._closed or self._number > after, seconds)
            if self._closed:
                return None
            messages = [m for _, m in self._shown.values()] + list(self._gone.values())
            return sorted((m for m in messages if m.number > after), key=lambda m: m.number)

    def close(self) -> None:
        """Sends everyone home."""
        with self._changed:
            self._closed = True
            self._changed.notify_all()
