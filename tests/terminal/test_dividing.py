"""Work that copies of a process divide: the same answers, and none that are lost or waited for in vain."""

from __future__ import annotations

import os
import signal
import sys
import threading
import time
from functools import partial
from io import StringIO

import pytest

from foldscript.terminal import dividing
from foldscript.terminal.dividing import Begun, begin, lend
from foldscript.terminal.progress import Progress

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="processes are not copied here")

FIRST = os.getpid()


def _unheard(stage: str) -> None: ...


def _begun(*works: object, heard: list[str] | None = None) -> Begun[object]:
    doing = _unheard if heard is None else heard.append
    begun = begin([partial(_answer, one) for one in works], doing)
    assert begun is not None
    return begun


def _answer(what: object) -> object:
    if what == "wrong":
        raise ValueError(what)
    if what == "ended" and os.getpid() != FIRST:
        os.kill(os.getpid(), signal.SIGKILL)
    if what == "whose":
        time.sleep(0.05)
        return os.getpid()
    return what


def test_answers_come_in_the_order_of_the_calls() -> None:
    with lend(2):
        assert _begun(*range(40)).finished() == list(range(40))


def test_copies_and_the_first_process_work_at_once() -> None:
    with lend(2):
        who = {*_begun(*["whose"] * 12).finished()}
    assert FIRST in who
    assert len(who) > 1


def test_what_fails_is_left_to_whoever_asked() -> None:
    with lend(1):
        assert _begun("a", "wrong", "b").finished() == ["a", None, "b"]


def test_a_copy_that_is_ended_is_told_and_not_waited_for() -> None:
    heard: list[str] = []
    with lend(1):
        begun = _begun("ended", "b", heard=heard)
        begun._copies[0][0].join()
        found = begun.finished()
    assert found[0] is None
    assert [line for line in heard if "ended" in line]


def test_what_is_stopped_is_not_begun_any_more() -> None:
    with lend(1):
        begun = _begun(*["whose"] * 400)
        time.sleep(0.1)
        found = begun.stopped()
    assert FIRST not in found
    assert found[0] is not None
    assert found[-1] is None


def test_cores_are_given_back() -> None:
    with lend(1):
        assert _begun(1, 2).finished() == [1, 2]
        kept = _begun(1, 2)
        assert begin([int, int], _unheard) is None  # none is left
        assert not dividing.is_free()
        kept.cancel()
        assert dividing.is_free()
        assert _begun(1, 2).finished() == [1, 2]


def test_without_free_cores_there_is_no_help() -> None:
    assert begin([int, int], _unheard) is None
    with lend(0):
        assert begin([int, int], _unheard) is None
    with lend(3):
        assert begin([int], _unheard) is None  # one call is done by whoever asks


def test_a_process_with_threads_is_not_copied() -> None:
    go_on = threading.Event()
    other = threading.Thread(target=go_on.wait)
    other.start()
    try:
        with lend(1):
            assert begin([int, int], _unheard) is None
    finally:
        go_on.set()
        other.join()
    with lend(1):
        assert _begun(1, 2).finished() == [1, 2]


def test_who_tells_how_far_the_work_has_come_stands_still_meanwhile(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("foldscript.terminal.progress.patience", lambda: 0.01)
    stream = StringIO()
    with lend(1), Progress(stream) as progress:
        assert _begun(1, 2).finished() == [1, 2]
        progress.doing("drawing cup")
        until = time.monotonic() + 20
        while "drawing cup" not in stream.getvalue() and time.monotonic() < until:
            time.sleep(0.01)
    assert "drawing cup" in stream.getvalue()
    assert not dividing.standing_still
