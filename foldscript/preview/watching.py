"""Watches folders and tells which files have been saved.

In: folders. Out: a queue of sets of paths, each a few milliseconds after the last file of it was
written. Editors that save by writing a new file and renaming it are understood: the folder is watched,
not the file.
"""

from __future__ import annotations

import queue
import threading
from collections.abc import Iterable
from pathlib import Path

from watchfiles import Change, watch

from ..source.finding import SUFFIX

#: Milliseconds without a further change before changes are told, and most that they are gathered.
_STEP, _MOST = 5, 60

Saved = frozenset[Path]


class Watching:
    """Threads that watch folders; each folder once."""

    def __init__(self) -> None:
        self.saved: queue.SimpleQueue[Saved] = queue.SimpleQueue()
        self._stop = threading.Event()
        self._folders: dict[Path, bool] = {}

    def folder(self, folder: Path, below: bool = False) -> None:
        """Watches a folder from now on; `below` tells that folders in it are watched too."""
        place = folder.resolve()
        for known, all_below in self._folders.items():
            if place == known and (all_below or not below):
                return
            if all_below and place.is_relative_to(known) and not _hidden(place, known):
                return
        self._folders[place] = below
        threading.Thread(target=self._watch, args=(place, below), daemon=True).start()

    def stop(self) -> None:
        """Lets the threads end."""
        self._stop.set()

    def _watch(self, folder: Path, below: bool) -> None:
        changes = watch(
            folder,
            watch_filter=lambda change, path: _of_interest(change, Path(path), folder),
            debounce=_MOST,
            step=_STEP,
            rust_timeout=1000,
            stop_event=self._stop,
            raise_interrupt=False,
            recursive=below,
        )
        for found in changes:
            self.saved.put(frozenset(Path(path) for _, path in found))

    def next(self, seconds: float) -> Saved | None:
        """What was saved next; None when nothing was for so long. Gathers what waits already."""
        try:
            found = self.saved.get(timeout=seconds)
        except queue.Empty:
            return None
        while True:
            try:
                found |= self.saved.get_nowait()
            except queue.Empty:
                return found


def _of_interest(change: Change, path: Path, folder: Path) -> bool:
    return path.suffix in (SUFFIX, ".toml") and not _hidden(path, folder)


def _hidden(path: Path, folder: Path) -> bool:
    return any(part.startswith(".") for part in path.relative_to(folder).parts)


def resolved(paths: Iterable[Path]) -> frozenset[Path]:
    """Paths as the watcher tells them: whole, without links."""
    return frozenset(path.resolve() for path in paths)
