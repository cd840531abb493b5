"""The work of a command, done for several files at once: each in one of a few processes.

In: files, what is to be done with each, how many processes. Out: what comes of each, in the order of the
files, whatever was done first. The work is sent to the processes, so it has to be plain data: a function of
a module, or a `functools.partial` of one.
"""

from __future__ import annotations

import os
import signal
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from ..source.diagnostics import Diagnostic, FoldscriptError
from ..source.reading import STANDARD_INPUT
from .dividing import Cores, lend, take_from

if TYPE_CHECKING:
    from concurrent.futures import ProcessPoolExecutor

#: Told what is being done with a file now ('folding').
Doing = Callable[[str], None]
#: The text to print of a file ('' for none), and what else to tell.
Told = tuple[str, Iterable[Diagnostic]]
#: Does one file's work.
Work = Callable[[Path, Doing], Told]
#: Libraries that calculate on several cores by themselves; one process is to use one.
_ONE_CORE = ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS")
#: How the processes of several files begin, on every system: the pool has threads.
_AFRESH = "spawn"

#: A process takes about as long to begin as scripts of so many bytes take to be folded and drawn.
BYTES_A_PROCESS = 1_000


@dataclass(frozen=True, slots=True)
class Done:
    """What came of a file: the text to print, and what is wrong with it or to be known."""

    told: str
    notes: tuple[Diagnostic, ...]


def cores() -> int:
    """How many processor cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def worth(paths: Iterable[Path], jobs: int) -> int:
    """How many processes, up to `jobs`, files of this size keep at work longer than they take to begin."""
    return min(jobs, sum(map(_size, paths)) // BYTES_A_PROCESS)


def _size(path: Path) -> int:
    try:
        return path.stat().st_size
    except OSError:  # whoever reads it says what is wrong
        return 0


def done(path: Path, work: Work, doing: Doing) -> Done:
    """Does the work for a file; whatever it raises becomes what is wrong with it."""
    from ..source.reporting import internal_fault

    try:
        told, notes = work(path, doing)
        return Done(told, tuple(notes))
    except FoldscriptError as error:
        return Done("", tuple(error.diagnostics))
    except Exception as error:
        return Done("", (internal_fault(path, error),))


def in_turn(
    paths: Sequence[Path],
    work: Work,
    jobs: int,
    doing: Callable[[Path], Doing],
    cores: int | None = None,
) -> Iterator[Done]:
    """What comes of each file, in their order, from up to `jobs` processes.

    Where fewer files are worked on than there are `cores` to use, as many as `jobs` if they are not said, the
    work of each may be divided (`dividing`).

    `doing` gives, for a file, who is told of its stages; where it is one process. Otherwise it is told of
    the file whose turn to be told it is.
    """
    cores = jobs if cores is None else cores
    at_once = min(jobs, len(paths))
    if at_once < 2 or STANDARD_INPUT in paths:
        with lend(cores - 1):
            for path in paths:
                yield done(path, work, doing(path))
        return
    from multiprocessing import get_context

    from ..source.reporting import internal_fault

    free = get_context(_AFRESH).Semaphore(max(0, cores - at_once))
    begun = sorted(paths, key=_size, reverse=True)  # what takes long is not begun last
    left = len(paths)

    def one_less(_: object) -> None:
        nonlocal left
        left -= 1
        if left < at_once:  # nothing is left for the process that did it
            free.release()

    with processes(at_once, free) as pool:
        results = {path: pool.submit(_sent, path, work) for path in begun}
        for result in results.values():
            result.add_done_callback(one_less)
        for path in paths:
            result = results[path]
            doing(path)("working on")
            try:
                yield result.result()
            except Exception as error:  # the process itself has died
                yield Done("", (internal_fault(path, error),))


@contextmanager
def processes(jobs: int, free: Cores | None = None) -> Iterator[ProcessPoolExecutor]:
    """Up to so many processes, each on one core; what they have not begun at the end is left undone.

    `free` are cores that none of them works on, for what they divide (`dividing`).
    """
    with _one_core_each(), _pool(jobs, free) as pool:
        try:
            yield pool
        finally:
            pool.shutdown(cancel_futures=True)


def _pool(jobs: int, free: Cores | None) -> ProcessPoolExecutor:
    import multiprocessing
    from concurrent.futures import ProcessPoolExecutor

    context = multiprocessing.get_context(_AFRESH)
    return ProcessPoolExecutor(jobs, context, _begun, (free,))


def _begun(free: Cores | None) -> None:
    """A process begins: an interrupt is for the first process to tell."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    take_from(free)


@contextmanager
def _one_core_each() -> Iterator[None]:
    """Processes begun meanwhile calculate on one core each, unless the environment says otherwise."""
    unsaid = [name for name in _ONE_CORE if name not in os.environ]
    os.environ.update(dict.fromkeys(unsaid, "1"))
    try:
        yield
    finally:
        for name in unsaid:
            os.environ.pop(name, None)


def _sent(path: Path, work: Work) -> Done:
    return done(path, work, _unheard)


def _unheard(stage: str) -> None:
    """Nobody is told the stages of a file among several."""
