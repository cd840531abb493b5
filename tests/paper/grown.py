"""Folded states of about any size: a sheet folded along lines drawn by a fixed rule."""

from __future__ import annotations

import math
import random
from functools import cache

from foldscript.geometry.lines import line_at
from foldscript.paper.conditions import Pair
from foldscript.paper.flap import Blocked, flap, fold_flap
from foldscript.paper.layers import Collision
from foldscript.paper.refold import hinges
from foldscript.paper.signs import Sense
from foldscript.paper.silhouette import centre
from foldscript.paper.state import State, flat
from foldscript.source.diagnostics import Refusal

from .sheets import rectangle


@cache
def grown(facets: int, seed: int = 1) -> State:
    """A square folded until it has so many facets, or up to a tenth more."""
    rnd = random.Random(seed)
    state = flat(rectangle())
    for _ in range(1000):
        if len(state.facets) >= facets:
            return state
        x, y = centre(state)
        angle = rnd.uniform(0, 2 * math.pi)
        line = line_at(
            (x + rnd.uniform(-0.15, 0.15), y + rnd.uniform(-0.15, 0.15)),
            (math.cos(angle), math.sin(angle)),
        )
        seed_facet, stack = rnd.randrange(len(state.facets)), rnd.random() < 0.5
        try:
            moving = flap(state, line, [seed_facet], whole_stack=stack)
            after = fold_flap(state, moving, rnd.choice((Sense.VALLEY, Sense.MOUNTAIN)))
        except (Refusal, Blocked, Collision):
            continue
        if len(after.facets) <= 1.1 * facets + 2:
            state = after
    raise AssertionError("the paper did not take so many folds")


def senses_known(state: State) -> dict[Pair, bool]:
    """The orders across folds: what mountain and valley senses say."""
    found: dict[Pair, bool] = {}
    for hinge in hinges(state, state.facets):
        pair = (min(hinge.a, hinge.b), max(hinge.a, hinge.b))
        if hinge.folded:
            found[pair] = state.order[pair]
    return found
