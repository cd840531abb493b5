"""What is worked out of a thing, kept as long as the thing: nothing is worked out twice of one.

In: a function of one object. Out: the same function, which remembers what it gave for each object, by the
object itself and not by what it is like. What it gives must not hold the object, else neither is ever let go.
"""

from __future__ import annotations

import weakref
from collections.abc import Callable
from functools import wraps
from typing import TypeVar

Owner = TypeVar("Owner")
Value = TypeVar("Value")


def remembered(work: Callable[[Owner], Value]) -> Callable[[Owner], Value]:
    """A function that is called once for each object."""
    known: dict[int, tuple[weakref.ref[Owner], Value]] = {}

    @wraps(work)
    def recalled(owner: Owner) -> Value:
        key = id(owner)
        found = known.get(key)
        if found is not None and found[0]() is owner:
            return found[1]
        value = work(owner)
        known[key] = (weakref.ref(owner, lambda _: known.pop(key, None)), value)
        return value

    return recalled
