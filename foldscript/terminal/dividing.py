"""Work of one file, divided: copies of this process do parts of it beside it.

In: calls that need nothing of each other. Out: what each gives, in their order. A copy knows all that this
process knows, so nothing has to be sent to it; what it finds is sent back, so that has to be plain data. As
many are made as processor cores are free, which the commands say (`lend`); where none is, or where a process
cannot safely be copied, there is no help, and whoever asked does everything alone. What a copy could not
do, because it failed or was ended, is left to do for the one who asked.
"""

from __future__ import annotations

import os
import signal
import sys
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import AbstractContextManager, ExitStack, contextmanager, suppress
from typing import TYPE_CHECKING, Any, Generic, Protocol, TypeVar

if TYPE_CHECKING:
    from multiprocessing.connection import Connection
    from multiprocessing.context import ForkProcess

Found = TypeVar("Found")
#: Told what is being done now.
Doing = Callable[[str], None]

#: Most calls that are divided at once.
MOST = 10_000
_BYTES = 2
#: Threads that stand still while this process is copied: a copy of a process that has threads may hang.
standing_still: list[Callable[[], AbstractContextManager[None]]] = []


class Cores(Protocol):
    """Counts the processor cores that are free: a semaphore of `threading` or of `multiprocessing`."""

    def acquire(self, block: bool, /) -> bool:
        """Takes one; False where none is free and it is not to be waited for."""
        ...

    def release(self) -> Any:
        """Gives one back."""
        ...


_free: Cores | None = None


def take_from(cores: Cores | None) -> None:
    """From now on these are the free cores of this process."""
    global _free
    _free = cores


@contextmanager
def lend(count: int) -> Iterator[None]:
    """So many cores are free meanwhile, besides that of this process."""
    take_from(threading.Semaphore(count) if count > 0 else None)
    try:
        yield
    finally:
        take_from(None)


def is_free() -> bool:
    """Whether a core is free now."""
    count = _taken(1)
    _give_back(count)
    return count > 0


def begin(works: Sequence[Callable[[], Found]], doing: Doing) -> Begun[Found] | None:
    """Calls begun in copies of this process, the first ones first; None where there is no help.

    `doing` is told when a copy was ended from outside.
    """
    count = _taken(min(len(works), MOST) - 1)
    if not count:
        return None
    with ExitStack() as still:
        for stop in standing_still:
            still.enter_context(stop())
        if threading.active_count() == 1:
            return Begun(works[:MOST], count, doing)
    _give_back(count)
    return None


def _taken(most: int) -> int:
    """How many of the free cores are taken now."""
    if _free is None or sys.platform != "linux":  # elsewhere libraries do not bear being copied
        return 0
    count = 0
    while count < most and _free.acquire(False):
        count += 1
    return count


def _give_back(count: int) -> None:
    for _ in range(count):
        if _free is not None:
            _free.release()


class Begun(Generic[Found]):
    """Calls that copies of this process have begun with.

    Who is next takes the next call: their numbers stand in a pipe. Each copy sends what it has found when
    none is left.
    """

    def __init__(
        self, works: Sequence[Callable[[], Found]], count: int, doing: Doing = lambda _: None
    ) -> None:
        from multiprocessing import get_context

        self._works = works
        self._doing = doing
        self._count = count
        self._found: list[Found | None] = [None] * len(works)
        self._copies: list[tuple[ForkProcess, Connection]] = []
        self._left, feed = os.pipe()
        os.write(feed, b"".join(k.to_bytes(_BYTES, "big") for k in range(len(works))))
        os.close(feed)
        context = get_context("fork")
        with suppress(OSError):  # no more processes can be had here
            for _ in range(count):
                mine, its = context.Pipe(duplex=False)
                with its:
                    copy = context.Process(target=self._work, args=(its,), daemon=True)
                    copy.start()
                self._copies.append((copy, mine))

    def finished(self) -> list[Found | None]:
        """What each call gave, this process working at them, too; None for those that nobody could do."""
        try:
            for number in self._numbers():
                with suppress(Exception):  # whoever does it again tells what is wrong
                    self._found[number] = self._works[number]()
        except BaseException:
            self.cancel()
            raise
        return self._gathered()

    def stopped(self) -> list[Found | None]:
        """What each call gave that was begun until now; None for the others."""
        for _ in self._numbers():
            pass
        return self._gathered()

    def cancel(self) -> None:
        """Ends the copies; what they have found is not wanted any more."""
        for copy, mine in self._copies:
            copy.terminate()
            copy.join()
            mine.close()
        self._copies.clear()
        if self._left >= 0:
            os.close(self._left)
            self._left = -1
            _give_back(self._count)

    def _numbers(self) -> Iterator[int]:
        """Calls that nobody has begun, each as it is taken."""
        while number := os.read(self._left, _BYTES):
            yield int.from_bytes(number, "big")

    def _gathered(self) -> list[Found | None]:
        try:
            for copy, mine in self._copies:
                try:
                    for number, found in mine.recv():
                        self._found[number] = found
                except (EOFError, OSError):
                    self._doing("going on alone, as a helping process was ended, with")
                copy.join()
        finally:
            self.cancel()
        return self._found

    def _work(self, its: Connection) -> None:
        """What a copy does."""
        import gc

        gc.freeze()  # what is shared is not touched
        signal.signal(
            signal.SIGINT, signal.SIG_IGN
        )  # an interrupt is for the first process to tell
        take_from(None)
        found: list[tuple[int, Found]] = []
        for number in self._numbers():
            with suppress(Exception):
                found.append((number, self._works[number]()))
        with suppress(OSError):  # nobody is there to take it any more
            its.send(found)
