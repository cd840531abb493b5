"""The desk: benches of the scripts that are open, and the one thread that works at them.

In: texts as they change. Out: each bench is worked at once its text has rested for a moment, the one that
changed last first. Everything but `run` is called by whoever answers, and never waits.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Sequence
from pathlib import Path

from ..source.diagnostics import Diagnostic
from .bench import Bench
from .written import Written

#: Seconds that a text rests before it is worked at.
REST = 0.15

#: Told what is wrong with a version of the text of a URI.
TellOf = Callable[[str, Written, Sequence[Diagnostic]], None]


class Desk:
    """Benches by the URI of their text."""

    def __init__(self, tell: TellOf, rest: float = REST) -> None:
        self.benches: dict[str, Bench] = {}
        self._tell, self._rest = tell, rest
        self._due: dict[str, float] = {}
        self._changed = threading.Condition()
        self._closed = False

    def start(self) -> None:
        """Begins to work, in a thread that ends with the program."""
        threading.Thread(target=self.run, daemon=True, name="folding").start()

    def open(self, uri: str, path: Path, text: str, version: int) -> Bench:
        """A script is open now."""

        def tell(written: Written, faults: Sequence[Diagnostic]) -> None:
            if self.benches.get(uri) is bench:
                self._tell(uri, written, faults)

        bench = Bench(Written(path, text, version), tell)
        self.benches[uri] = bench
        self._wait(uri, 0.0)
        return bench

    def change(self, uri: str, text: str, version: int) -> None:
        """A text has changed."""
        bench = self.benches.get(uri)
        if bench is not None:
            bench.take(text, version)
            self._wait(uri, self._rest)

    def again(self, uri: str) -> None:
        """There is more to do at a bench: what it starts from has changed, or a figure is asked for."""
        bench = self.benches.get(uri)
        if bench is not None:
            self._wait(uri, 0.0)

    def close(self, uri: str) -> None:
        """A script is open no longer."""
        bench = self.benches.pop(uri, None)
        self._due.pop(uri, None)
        if bench is not None:
            bench.take("", -1)  # ends what is going on

    def stop(self) -> None:
        """Ends the work."""
        for uri in list(self.benches):
            self.close(uri)
        with self._changed:
            self._closed = True
            self._changed.notify_all()

    def _wait(self, uri: str, seconds: float) -> None:
        with self._changed:
            self._due[uri] = time.monotonic() + seconds
            self._changed.notify_all()

    def run(self) -> None:
        """Works until it is stopped."""
        while True:
            with self._changed:
                uri = self._next()
                if self._closed:
                    return
            bench = self.benches.get(uri)
            if bench is not None:
                bench.work()

    def _next(self) -> str:
        """Waits for the bench that is due; that which changed last comes first."""
        while not self._closed:
            now = time.monotonic()
            ready = [(due, uri) for uri, due in self._due.items() if due <= now]
            if ready:
                uri = max(ready)[1]
                del self._due[uri]
                return uri
            waits = min(self._due.values(), default=None)
            self._changed.wait(None if waits is None else waits - now)
        return ""
