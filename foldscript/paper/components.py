"""Connected components: facets that joints join to others, directly or by way of more facets.

In: a state, facets to start from, and the joints that count: all but barred ones, or only those that
reach to one side of a line. Out: all facets that can be reached over such joints.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

from ..geometry import polygons
from ..geometry.isometries import map_segment
from ..geometry.lines import Line, signed_distance
from ..geometry.tolerance import EPS
from .state import Joint, State

#: Facet -> facets that it is joined to.
Adjacency = Mapping[int, Sequence[int]]


def component(
    state: State, start: Iterable[int], barred: Iterable[int], within: Iterable[int] | None = None
) -> frozenset[int]:
    """The components of the given facets, joints with the barred indices left out.

    Only facets of `within` are walked over, when it is given.
    """
    stop = set(barred)
    pool = None if within is None else set(within)
    joined = adjacency(
        joint
        for k, joint in enumerate(state.joints)
        if k not in stop and (pool is None or (joint.a in pool and joint.b in pool))
    )
    return frozenset(reached(joined, start))


def component_beside(
    state: State, line: Line, start: Iterable[int], barred: Iterable[int] = ()
) -> frozenset[int]:
    """The components of the given facets in what lies left of a line of the folded plane.

    Each facet of them has a part there, and joints count only where they reach there.
    """
    joined = adjacency(joints_beside(state, line, barred))
    here = [i for i in start if polygons.half_plane_extent(state.placed[i], line)[1] > EPS]
    return frozenset(reached(joined, here))


def adjacency(joints: Iterable[Joint]) -> Adjacency:
    """Facet -> facets that these joints join it to, in the order of the joints."""
    found: dict[int, list[int]] = {}
    for joint in joints:
        found.setdefault(joint.a, []).append(joint.b)
        found.setdefault(joint.b, []).append(joint.a)
    return found


def joints_beside(state: State, line: Line, barred: Iterable[int] = ()) -> Iterator[Joint]:
    """The joints that reach to the left of a line of the folded plane, but for barred ones."""
    stop = set(barred)
    for k, joint in enumerate(state.joints):
        if k not in stop:
            p, q = map_segment(state.facets[joint.a].place, joint.segment)
            if max(signed_distance(line, p), signed_distance(line, q)) > EPS:
                yield joint


def reached(
    joined: Adjacency,
    start: Iterable[int],
    further: Callable[[int], Iterable[int]] | None = None,
) -> set[int]:
    """The facets to start from, and all that can be reached from them.

    `further` gives more neighbours of a facet, asked once for each facet that is reached.
    """
    found: set[int] = set()
    todo = list(start)
    while todo:
        i = todo.pop()
        if i not in found:
            found.add(i)
            todo.extend(joined.get(i, ()))
            if further is not None:
                todo.extend(further(i))
    return found
