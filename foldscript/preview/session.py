"""A preview from its start to Ctrl-C: watches, makes again what a change affects, puts it up.

In: a script or a folder of them, how they are to look, where to listen. Out: a page in the browser,
and a line a change for the terminal.
"""

from __future__ import annotations

import gc
import threading
import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from ..captions.choosing import chosen
from ..drawing.style.styles import load_style
from ..pages.sizes import page_size
from ..source.diagnostics import Diagnostic, FoldscriptError, Hint
from ..source.finding import SUFFIX, bases_folder, find_scripts
from ..source.reporting import internal_fault
from .board import Board
from .serving import Server
from .shown import Shown, trouble
from .watching import Saved, Watching, resolved
from .workbench import Workbench

#: Where the preview is found when nothing else is said, if it is free.
USUAL_PORT = 8320
#: Seconds that everything waits for one script; a slower one goes on beside the others.
_PATIENCE = 3.0
#: Slow scripts that are made at the same time.
_MOST_SLOW = 3
#: Seconds that a script may be missing while an editor saves it.
_GRACE = 0.25

#: Takes a line for the terminal.
Say = Callable[[str], None]


@dataclass(frozen=True)
class PreviewOptions:
    """What is to be seen, and where to listen; port None is the usual one or a free one."""

    path: Path
    page: str
    style: str
    language: str
    host: str
    port: int | None


class Session:
    """Scripts on their workbenches, and the board that shows them."""

    def __init__(self, options: PreviewOptions) -> None:
        """Raises FoldscriptError where there is nothing to see, or a page or style is unknown."""
        self.options = options
        self.board = Board()
        self.watching = Watching()
        self._page, self._style = page_size(options.page), load_style(options.style)
        self._language = next(iter(chosen([options.language])), "")
        self._benches: dict[Path, Workbench] = {}  # real path -> bench
        self._waiting: list[Path] = []  # not made yet
        self._missing: dict[Path, float] = {}  # since when
        self._slow: dict[Path, tuple[Workbench, threading.Thread, float]] = {}  # at work since
        scripts, faults = find_scripts([options.path])
        if not scripts:
            raise FoldscriptError(*faults)
        self._take_in(scripts)
        self.watching.folder(
            options.path if options.path.is_dir() else options.path.parent,
            below=options.path.is_dir(),
        )
        if options.style.endswith(".toml"):
            self.watching.folder(Path(options.style).parent)

    def listen(self) -> Server:
        """A server that answers from now on. Raises FoldscriptError 'cannot-listen'."""
        options = self.options
        tries = [options.port] if options.port is not None else [USUAL_PORT, 0]
        for port in tries:
            try:
                server = Server(options.host, port, self.board)
            except OSError as error:
                if port != tries[-1]:
                    continue
                raise FoldscriptError(_cannot_listen(options.host, port, error)) from error
            threading.Thread(target=server.serve_forever, args=(0.1,), daemon=True).start()
            return server
        raise AssertionError

    def work(self, say: Say) -> None:
        """Works until it is interrupted."""
        while True:
            self.once(say, 1.0)

    def once(self, say: Say, patience: float) -> bool:
        """Does what comes next; False when there was nothing to do for so many seconds."""
        ready = self._next_in_turn()
        seconds = patience if ready is None else 0.0
        if ready is None and (self._missing or self._slow):
            seconds = _GRACE / 2
        saved = self.watching.next(seconds)
        if saved is not None:
            self._saved(saved, say)
            return True
        self._look_for_missing(say)
        for real, (bench, thread, began) in list(self._slow.items()):
            if not thread.is_alive():
                del self._slow[real]
                self._made(bench, began, say)
                return True
        ready = self._next_in_turn()  # one may have been taken down meanwhile
        if ready is not None:
            self._make(ready, say)
            return True
        return False

    def _next_in_turn(self) -> Workbench | None:
        """The first that waits to be made, and can be now."""
        if len(self._slow) >= _MOST_SLOW:
            return None
        real = next((real for real in self._waiting if real not in self._slow), None)
        return None if real is None else self._benches[real]

    @property
    def pending(self) -> bool:
        """Whether there is work that is known already."""
        return bool(self._waiting or self._missing or self._slow)

    # --- what has been saved ------------------------------------------------------------------

    def _saved(self, saved: Saved, say: Say) -> None:
        if self.options.style.endswith(".toml") and Path(self.options.style).resolve() in saved:
            self._dress(say)
        if self.options.path.is_dir():
            self._look_again(saved)
        for real, bench in list(self._benches.items()):
            if real in saved and not real.exists():
                self._missing.setdefault(real, time.monotonic())
            elif saved & resolved(bench.sources):
                self._missing.pop(real, None)
                self._make(bench, say)

    def _make(self, bench: Workbench, say: Say) -> None:
        """Makes it, or lets it wait for its turn; a slow one goes on while others are made."""
        real = bench.path.resolve()
        if real in self._slow or len(self._slow) >= _MOST_SLOW:
            if real not in self._waiting:
                self._waiting.append(real)
            return
        if real in self._waiting:
            self._waiting.remove(real)
        began = time.perf_counter()
        thread = threading.Thread(target=self._work_at, args=(real, bench), daemon=True)
        gc.disable()  # what is made is small, and looking for rings in it would take a tenth of the time
        try:
            thread.start()
            thread.join(_PATIENCE if len(self._benches) > 1 else None)
        finally:
            gc.enable()
        if thread.is_alive():
            self._slow[real] = bench, thread, began
            say(f"{bench.path}: takes long, and is shown when it is done; all others go on")
        else:
            self._made(bench, began, say)

    def _work_at(self, real: Path, bench: Workbench) -> None:
        """Makes a script, in a thread of its own; one that was taken down meanwhile shows nothing."""

        def tell(shown: Shown) -> None:
            if self._benches.get(real) is bench:
                self.board.show(shown)

        try:
            if bench.style is not self._style:
                bench.dress(self._style)
            bench.make(tell)
        except Exception as error:  # the preview goes on, whatever one script brings up
            bench.fail([internal_fault(bench.path, error)], tell)

    def _made(self, bench: Workbench, began: float, say: Say) -> None:
        took = 1000 * (time.perf_counter() - began)
        for ancestor in bench.ancestors:
            if ancestor.parent.resolve() != bases_folder().resolve():
                self.watching.folder(ancestor.parent)
        say(_line(bench.shown, took))

    def _dress(self, say: Say) -> None:
        """Reads the style anew; everything is drawn again."""
        try:
            self._style = load_style(self.options.style)
        except FoldscriptError as error:
            say("\n".join(trouble(fault).text for fault in error.diagnostics))
            return
        self._waiting += [real for real in self._benches if real not in self._waiting]

    def _look_again(self, saved: Iterable[Path]) -> None:
        """Scripts that have come into the folder."""
        if any(path.suffix == SUFFIX and path not in self._benches for path in saved):
            self._take_in(find_scripts([self.options.path])[0])

    def _look_for_missing(self, say: Say) -> None:
        """A script that stays away is taken down, or told of when it is the only one."""
        for real, since in list(self._missing.items()):
            bench = self._benches[real]
            if real.exists():
                del self._missing[real]
                self._make(bench, say)
            elif time.monotonic() - since > _GRACE:
                del self._missing[real]
                if self.options.path.is_dir():
                    del self._benches[real]
                    self._waiting = [other for other in self._waiting if other != real]
                    self.board.remove(bench.shown.key)
                    say(f"{bench.path}: gone")
                else:
                    self._make(bench, say)

    def _take_in(self, scripts: Iterable[Path]) -> None:
        for script in scripts:
            real = script.resolve()
            if real not in self._benches:
                self._benches[real] = Workbench(
                    script,
                    self._style,
                    self._page,
                    self._language,
                    partial(self.board.in_view, str(script)),
                )
                self._waiting.append(real)

    def close(self) -> None:
        """Stops watching, and sends the browsers home."""
        self.watching.stop()
        self.board.close()


def _line(shown: Shown, took: float) -> str:
    wrong = [t.text for t in shown.troubles if t.error]
    if wrong:
        return "\n".join(wrong)
    count = len(shown.pages)
    return f"{shown.key}: {count} page{'' if count == 1 else 's'} ({took:.0f} ms)"


def _cannot_listen(host: str, port: int, error: OSError) -> Diagnostic:
    reason = (error.strerror or str(error)).lower()
    where = f"'{host}'" if port == 0 else f"port {port} of '{host}'"
    return Diagnostic(
        "cannot-listen",
        f"cannot listen on {where}: {reason}",
        hints=(Hint("another port may be free: --port 0 takes any"),),
    )
