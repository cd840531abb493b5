"""Facets numbered otherwise: what is folded must not follow from the order in which facets are kept.

In: nothing. Out: a way to fold in which, after every change of the paper, the facets are numbered anew
at random, so that a choice made by number comes out otherwise.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from types import MappingProxyType

import pytest

from foldscript.paper import refold
from foldscript.paper.state import State


def renumbered(state: State, rnd: random.Random) -> State:
    """The same paper, its facets in another order."""
    old = list(range(len(state.facets)))
    rnd.shuffle(old)
    new = {i: k for k, i in enumerate(old)}
    order = {
        (min(new[i], new[j]), max(new[i], new[j])): above == (new[i] < new[j])
        for (i, j), above in state.order.items()
    }
    facets = tuple(state.facets[i] for i in old)
    return replace(state, facets=facets, order=MappingProxyType(dict(sorted(order.items()))))


@contextmanager
def numbered_at_random(seed: int) -> Iterator[None]:
    """Within, every fold gives its facets in a random order."""
    rnd = random.Random(seed)
    coalesced = refold.coalesced
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(refold, "coalesced", lambda state: renumbered(coalesced(state), rnd))
        yield
