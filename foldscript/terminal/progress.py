"""Says on standard error how far long work has come, and stays quiet over short work.

In: what is being done now. Out: a line now and then, for a person who waits. FOLDSCRIPT_PATIENCE in the
environment settles how many whole seconds pass before the first one, for logs in which no such lines are
wanted.
"""

from __future__ import annotations

import os
import re
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from types import TracebackType
from typing import TextIO

from ..source.showing import shown
from .dividing import standing_still

#: Seconds of silence before the first word, where the environment says nothing.
PATIENCE = 2.0


def patience() -> float:
    """Seconds of silence before the first word."""
    said = os.environ.get("FOLDSCRIPT_PATIENCE", "")
    return float(said) if re.fullmatch("[1-9][0-9]{0,5}", said) else PATIENCE


class Progress:
    """Speaks up while it is entered, after `patience()` seconds and then now and again.

    On a terminal one line is kept up to date and wiped at the end; elsewhere (a log) each word is
    a line of its own, and they come ever more rarely. With `silent` nothing is said.
    """

    def __init__(self, stream: TextIO | None = None, silent: bool = False) -> None:
        self._silent = silent
        self._stream = sys.stderr if stream is None else stream
        self._terminal = self._stream.isatty()
        self._doing = ""
        self._since = time.monotonic()
        self._stop = threading.Event()
        self._lock = threading.Lock()
        self._width = 0
        self._next = self._since + patience()
        self._wait = patience()

    def doing(self, what: str) -> None:
        """Notes what is being done now ('folding cup'); cheap, prints nothing by itself."""
        self._doing = shown(what)

    def clear(self) -> None:
        """Wipes the line from the terminal, before something else is printed."""
        with self._lock:
            self._wipe()
            self._stream.flush()

    def __enter__(self) -> Progress:
        if not self._silent:
            self._thread = self._started()
            standing_still.append(self._still)
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        if not self._silent:
            standing_still.remove(self._still)
            self._ended()
        self.clear()

    @contextmanager
    def _still(self) -> Iterator[None]:
        """Nothing is said meanwhile, and no thread is there."""
        self._ended()
        try:
            yield
        finally:
            self._thread = self._started()

    def _started(self) -> threading.Thread:
        self._stop.clear()
        thread = threading.Thread(target=self._speak, daemon=True)
        thread.start()
        return thread

    def _ended(self) -> None:
        self._stop.set()
        self._thread.join()

    def _speak(self) -> None:
        while not self._stop.wait(max(0.0, self._next - time.monotonic())):
            line = f"{self._doing} ... ({time.monotonic() - self._since:.0f} s)"
            with self._lock:
                self._wipe()
                self._stream.write(line if self._terminal else line + "\n")
                self._stream.flush()
                self._width = len(line) if self._terminal else 0
            self._wait = min(self._wait, 1.0) if self._terminal else 2 * self._wait
            self._next = time.monotonic() + self._wait

    def _wipe(self) -> None:
        if self._width:
            self._stream.write("\r" + " " * self._width + "\r")
            self._width = 0
