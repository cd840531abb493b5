"""What is worked out of a thing is worked out once, and let go with it."""

from __future__ import annotations

import gc
import weakref
from dataclasses import dataclass

from foldscript.geometry.remembered import remembered


@dataclass(frozen=True)
class Thing:
    size: int


def test_each_thing_is_asked_once_though_others_are_like_it() -> None:
    asked: list[Thing] = []

    @remembered
    def double(thing: Thing) -> int:
        asked.append(thing)
        return 2 * thing.size

    one, other = Thing(3), Thing(3)
    assert [double(one), double(one), double(other)] == [6, 6, 6]
    assert len(asked) == 2


def test_what_is_known_of_a_thing_goes_with_it() -> None:
    @remembered
    def made(_: Thing) -> Thing:
        return Thing(1)

    thing = Thing(2)
    known = weakref.ref(made(thing))
    assert known() is not None
    del thing
    gc.collect()
    assert known() is None
