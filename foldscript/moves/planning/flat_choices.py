"""Which parts of the named creases do as said: choices that meet the conditions at every interior vertex.

In: the divided paper and the joints that the words name, to fold or to open. Out: choices of them in rows,
those with the most first; of one row all have as much, and nothing but the paper itself can choose between
them.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from ...geometry.lines import distance
from ...paper.layers import OutOfWork
from ...paper.signs import Sense
from ...paper.state import State
from ...paper.vertices import Vertex, folds_flat, interior_vertices
from ...source.diagnostics import Refusal
from .flatness import not_flat
from .named_creases import Named, Wanted, will_fold
from .request import Request

#: Choices of creases tried before giving up.
WORK_LIMIT = 100_000
#: More creases than this around one vertex are not searched.
DEGREE_LIMIT = 16


def flat_choices(
    request: Request, state: State, wanted: list[Wanted], named: Named
) -> Iterator[list[frozenset[int]]]:
    """Which named joints do as said, the most in all first: every line does so somewhere.

    Raises
    ------
    Refusal : 'not-flat' naming the vertex and the angle that is missing, when there is no choice;
        'too-complex'
    """
    vertices = [v for v in interior_vertices(state) if any(k in named for k in v.joints)]
    for v in vertices:
        if sum(k in named for k in v.joints) > DEGREE_LIMIT:
            raise Refusal("too-complex", "too many creases meet at one point", span=request.span)
    inner = {k for v in vertices for k in v.joints}
    outer = {k: True for k in named if k not in inner}
    lines = {n for n, _ in named.values()}
    idle: set[int] | None = None  # lines that stay as they are in the choice with fewest of them
    rows: dict[float, list[frozenset[int]]] = {}
    try:
        for found in _assignments(state, vertices, named, outer, [0]):
            picked = frozenset(k for k, on in found.items() if on)
            flat = lines - {named[k][0] for k in picked}
            if not flat:
                rows.setdefault(_length(state, picked), []).append(picked)
                if len(picked) == len(named):  # no other has as much
                    yield [picked]
            elif idle is None or len(flat) < len(idle):
                idle = flat
    except OutOfWork:
        if idle is None and not rows:
            raise Refusal(
                "too-complex",
                "the creases could not be sorted out within the work limit",
                "collapse in smaller steps, or name the parts that fold as 'line P Q'",
                span=request.span,
            ) from None
    for length in sorted(rows, reverse=True):
        if len(rows[length][0]) < len(named):
            yield rows[length]
    if not rows:
        flat = [] if idle is None or idle == lines else [wanted[n].line for n in sorted(idle)]
        names = [line.name or line.words.render() for line in flat]
        why = not_flat(request, state, do_not_fold(state, named) or vertices, wanted, named, names)
        if not state.order or request.clause("layers"):
            raise why
        every = "or fold along the lines through every layer: 'all layers'"
        raise why.with_hints(*why.hints, every)


def do_not_fold(state: State, named: Named) -> tuple[Vertex, ...]:
    """The interior vertices where the named joints do not all fold flat together."""
    every = dict.fromkeys(named, True)
    return tuple(
        v
        for v in interior_vertices(state)
        if any(k in named for k in v.joints) and not _vertex_ok(state, v, named, every)
    )


def _length(state: State, picked: frozenset[int]) -> float:
    return round(sum(distance(*state.joints[k].segment) for k in picked), 6)


def _assignments(
    state: State,
    vertices: list[Vertex],
    named: Named,
    choice: dict[int, bool],
    steps: list[int],
) -> Iterator[dict[int, bool]]:
    """Assignments that satisfy every vertex, fullest first at each vertex."""
    if not vertices:
        yield choice
        return
    # the vertex with the fewest open joints first
    vertices = sorted(
        vertices, key=lambda v: (sum(k in named and k not in choice for k in v.joints), v.at)
    )
    v, rest = vertices[0], vertices[1:]
    open_joints = [k for k in v.joints if k in named and k not in choice]
    for size in range(len(open_joints), -1, -1):
        for on in itertools.combinations(open_joints, size):
            steps[0] += 1
            if steps[0] > WORK_LIMIT:
                raise OutOfWork
            trial = {**choice, **{k: k in on for k in open_joints}}
            if _vertex_ok(state, v, named, trial):
                yield from _assignments(state, rest, named, trial, steps)


def _vertex_ok(state: State, v: Vertex, named: Named, choice: dict[int, bool]) -> bool:
    angles: list[float] = []
    balance = 0
    certain = True
    for k, angle in zip(v.joints, v.angles, strict=True):
        if will_fold(state, named, k, choice.get(k, False)):
            angles.append(angle)
            sense = named[k][1] if k in named else None
            if sense is not None and not state.joints[k].folded:
                front = state.facets[state.joints[k].a].shows_front
                balance += 1 if (sense is Sense.VALLEY) == front else -1
            else:
                certain = False
    if not folds_flat(angles):
        return False
    return not angles or not certain or abs(balance) == 2
