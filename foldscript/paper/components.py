"""What hangs together: facets that joints lead to from others.

In: joints, or a state and the line beside which they count. Out: for each facet those that it is joined
to, and all that can be reached over such links.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from ..geometry.isometries import map_segment
from ..geometry.lines import Line, signed_distance
from ..geometry.tolerance import EPS
from .state import Joint, State

#: Facet -> facets that it is joined to.
Links = Mapping[int, Sequence[int]]


def links(joints: Iterable[Joint]) -> Links:
    """Facet -> facets that these joints join it to, in the order of the joints."""
    found: dict[int, list[int]] = {}
    for joint in joints:
        found.setdefault(joint.a, []).append(joint.b)
        found.setdefault(joint.b, []).append(joint.a)
    return found


def links_beside(state: State, line: Line, barred: Iterable[int] = ()) -> Links:
    """Links of the joints that reach to the left of a line of the folded plane, but for barred ones."""
    stop = set(barred)
    return links(
        joint for k, joint in enumerate(state.joints) if k not in stop and _left(state, joint, line)
    )


def _left(state: State, joint: Joint, line: Line) -> bool:
    p, q = map_segment(state.facets[joint.a].place, joint.segment)
    return max(signed_distance(line, p), signed_distance(line, q)) > EPS


def reached(linked: Links, start: Iterable[int]) -> set[int]:
    """The facets to start from, and all that links lead to from there."""
    found: set[int] = set()
    todo = list(start)
    while todo:
        i = todo.pop()
        if i not in found:
            found.add(i)
            todo.extend(linked.get(i, ()))
    return found
