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
from types import TracebackType
from typing import TextIO

from ..source.showing import shown

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
        self._thread = threading.Thread(target=self._speak, daemon=True)

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
            self._thread.start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._stop.set()
        if not self._silent:
            self._thread.join()
        self.clear()

    def _speak(self) -> None:
        wait = patience()
        while not self._stop.wait(wait):
            line = f"{self._doing} ... ({time.monotonic() - self._since:.0f} s)"
            with self._lock:
                self._wipe()
                self._stream.write(line if self._terminal else line + "\n")
                self._stream.flush()
                self._width = len(line) if self._terminal else 0
            wait = min(wait, 1.0) if self._terminal else 2 * wait

    def _wipe(self) -> None:
        if self._width:
            self._stream.write("\r" + " " * self._width + "\r")
            self._width = 0
