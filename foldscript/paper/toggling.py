"""Compound moves as a change of joints: some flat ones fold, some folded ones open, the rest holds.

In: a state divided where it will bend, the pieces that stay still, and the joints that change. Out:
the new state. Every piece's motion follows by walking over the joints from a piece that stays still:
across an unchanged joint it goes along, across a changed one it is reflected in that joint. Where two
ways round disagree the paper would tear, and `refold` refuses.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Mapping

from ..geometry import polygons
from ..geometry.isometries import (
    IDENTITY,
    Isometry,
    compose,
    map_line,
    map_segment,
    reflection,
    same_isometry,
)
from ..geometry.lines import Segment, line_through, point_on_segment
from ..source.diagnostics import Refusal
from .conditions import Pair
from .layers import Collision
from .refold import Divided, divided, refold, undivided
from .signs import Sense
from .state import State
from .union_find import UnionFind

#: A changed joint's sense as the reader sees it now: valley, mountain, or left to the layers.
Changes = Mapping[int, Sense | None]


def divided_on_sheet(base: Divided | State, creases: Iterable[Segment]) -> Divided:
    """Divides every facet that a segment of the sheet runs through, along that segment's line."""
    fine = undivided(base) if isinstance(base, State) else base
    for crease in creases:
        line = line_through(*crease)
        crossed = [f for f in fine.state.facets if polygons.clip_segment(f.outline, crease)]
        for place in dict.fromkeys(f.place for f in crossed):
            members = [
                k
                for k, f in enumerate(fine.state.facets)
                if f.place == place and polygons.clip_segment(f.outline, crease)
            ]
            fine = divided(fine, map_line(place, line), members)
    return fine


def joints_along(state: State, creases: Iterable[Segment]) -> tuple[int, ...]:
    """Indices of joints that lie on one of these segments of the sheet."""
    wanted = list(creases)
    return tuple(
        k
        for k, joint in enumerate(state.joints)
        if any(all(point_on_segment(seg, p) for p in joint.segment) for seg in wanted)
    )


def motions(state: State, still: Iterable[int], changed: Iterable[int]) -> dict[int, Isometry]:
    """Motion of every piece that can be reached from the still ones.

    Where two ways round a corner disagree, the first one found counts; `refold` refuses that tear.
    """
    change = set(changed)
    links: dict[int, list[tuple[int, int]]] = {}
    for k, joint in enumerate(state.joints):
        links.setdefault(joint.a, []).append((joint.b, k))
        links.setdefault(joint.b, []).append((joint.a, k))
    found: dict[int, Isometry] = dict.fromkeys(still, IDENTITY)
    queue = deque(sorted(found))
    mirrors: dict[int, Isometry] = {}
    while queue:
        i = queue.popleft()
        for other, k in links.get(i, ()):
            motion = found[i]
            if k in change:
                if k not in mirrors:
                    joint = state.joints[k]
                    seg = map_segment(state.facets[joint.a].place, joint.segment)
                    mirrors[k] = reflection(line_through(*seg))
                motion = compose(motion, mirrors[k])
            if other not in found:
                found[other] = motion
                queue.append(other)
    return found


def toggled(
    fine: Divided | State,
    still: Iterable[int],
    changes: Changes,
    *,
    orders: Mapping[Pair, bool] | None = None,
    in_front: bool | None = None,
    apart: Callable[[int, int], bool] | None = None,
    prefer: Callable[[int, int], bool | None] | None = None,
    asks: bool = False,
    together: bool = False,
) -> State:
    """Folds and opens joints, everything else following.

    Parameters
    ----------
    fine : the divided paper
    still : pieces that stay where they are (at least one)
    changes : joint index -> sense, for every joint that folds or opens
    orders : orders the planner knows, as in `refold`
    in_front : whether moved paper belongs in front of what stays (True), behind (False), or the
        layer conditions alone decide (None)
    apart : tells that two pieces with one motion do not go as one rigid body
    prefer : intent for pairs left open, asked before the default (keep the order there was)
    asks : whether to ask, and not to choose, where several orders are as good
    together : whether nothing may come between two layers that lie on each other and move as one

    Raises
    ------
    Refusal, Collision : as `refold`; a collision names facets of the undivided state
    Undecided : as `refold`, its facets those of the divided state
    """
    state = fine.state if isinstance(fine, Divided) else fine
    moves = motions(state, still, changes)
    fixed = {i for i, m in moves.items() if same_isometry(m, IDENTITY)}
    moving = {i: m for i, m in moves.items() if i not in fixed}
    if not moving:
        raise Refusal("nothing-moves", "nothing would move")
    group = _rigid_groups(state, moving, set(changes), apart)
    known: dict[Pair, bool] = dict(orders or {})
    for k, sense in changes.items():
        joint = state.joints[k]
        if sense is None or joint.folded:
            continue
        a_turns = moves[joint.a].flips
        known.setdefault((joint.b, joint.a), (sense is Sense.VALLEY) != a_turns)

    def preference(i: int, j: int) -> bool | None:
        if prefer is not None:
            own = prefer(i, j)
            if own is not None:
                return own
        if in_front is not None and (i in moving) != (j in moving):
            return (i in moving) == in_front
        before = state.above(i, j)
        if before is not None and same_isometry(moves[i], moves[j]):
            return before != moves[i].flips
        return None

    try:
        return refold(state, moving, group, known, preference, asks=asks, together=together)
    except Collision as clash:
        raise (fine.undivided(clash) if isinstance(fine, Divided) else clash) from None


def _rigid_groups(
    state: State,
    moving: Mapping[int, Isometry],
    changed: set[int],
    apart: Callable[[int, int], bool] | None,
) -> dict[int, int]:
    """Pieces with one motion that unchanged joints connect: they keep their order among themselves.

    Gives each piece the least one of its connected component."""
    rigid = UnionFind(len(state.facets))
    for k, joint in enumerate(state.joints):
        if k in changed or joint.a not in moving or joint.b not in moving:
            continue
        if not (joint.folded and apart is not None and apart(joint.a, joint.b)):
            rigid.unite(joint.a, joint.b)
    return {i: rigid.find(i) for i in moving}
