"""Reverse folds, tucks and swings at random on small folded papers: what is accepted is sound.

Lines run along folds that are there already as often as not: that is where folds lie on each other,
open flat, and change their sense together.
"""

from __future__ import annotations

import random

import pytest

from foldscript.geometry.lines import Line, flipped, line_at, line_through
from foldscript.moves.planning.halves import halves
from foldscript.moves.planning.layering import Goal, fold_between
from foldscript.moves.reverse import turned
from foldscript.paper.flap import Blocked, Flap, flap, fold_flap
from foldscript.paper.layers import Collision
from foldscript.paper.signs import Sense
from foldscript.paper.state import State, flat
from foldscript.source.diagnostics import Refusal

from ..conftest import assert_sound
from ..paper.sheets import rectangle

SENSES = (Sense.VALLEY, Sense.MOUNTAIN)
SLOPES = ((1.0, 0.0), (0.0, 1.0), (1.0, 1.0), (1.0, -1.0))


def line_of(rnd: random.Random, state: State) -> Line:
    folds = [segment for _, segment in state.fold_segments]
    if folds and rnd.random() < 0.5:
        line = line_through(*rnd.choice(folds))
    else:
        line = line_at(rnd.choice(rnd.choice(state.placed)), rnd.choice(SLOPES))
    return line if rnd.random() < 0.5 else flipped(line)


def reversed_tip(rnd: random.Random, state: State, moving: Flap) -> State:
    inside = rnd.random() < 0.5
    for parts in halves(state, moving):
        try:
            return turned(parts, moving.line, inside=inside)
        except Collision:
            continue
    raise Refusal("locked-layers", "")


def moved(rnd: random.Random, state: State) -> State:
    """The paper after one move; raises when it does not allow that."""
    line, seed = line_of(rnd, state), [rnd.randrange(len(state.facets))]
    if len(state.facets) < 4 or rnd.random() < 0.3:
        whole = rnd.random() < 0.5
        return fold_flap(state, flap(state, line, seed, whole_stack=whole), rnd.choice(SENSES))
    moving = flap(state, line, seed)
    if rnd.random() < 0.6:
        return reversed_tip(rnd, state, moving)
    under = frozenset([rnd.randrange(len(state.facets))] if rnd.random() < 0.6 else ())
    return fold_between(state, moving, rnd.choice((None, *SENSES)), Goal(under)).after


@pytest.mark.parametrize("seed", range(4))
def test_accepted_states_are_sound(seed: int) -> None:
    rnd = random.Random(seed)
    made: list[State] = []
    state = flat(rectangle())
    for _ in range(600):
        try:
            after = moved(rnd, state)
        except (Refusal, Blocked, Collision):
            continue
        if len(after.facets) <= 24:
            made.append(after)
        state = after if len(after.facets) <= 16 else flat(rectangle())
    assert len(made) > 20
    assert_sound(made)
