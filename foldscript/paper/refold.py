"""The only operation that changes a state: pieces move, and the paper is checked.

A planner divides facets where it wants to fold (`divided`), gives every piece a motion and a rigid
group, and calls `refold`. That refuses a tear, keeps every order that cannot have changed, takes
the planner's own orders, solves the rest under the layer conditions, and joins pieces that have
become flat with each other.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import hypot
from types import MappingProxyType

from ..geometry import polygons
from ..geometry.isometries import Isometry, compose, inverse, map_line, map_segment
from ..geometry.lines import Line, Segment, midpoint
from ..geometry.polygons import Polygon, intersection, overlap
from ..geometry.tolerance import EPS
from ..source.diagnostics import Refusal
from .conditions import Hinge, Pair, Same, conditions
from .corners import Corners
from .layers import Collision, OutOfWork, Prefer, Solver, Undecided
from .meeting import meets
from .overlaps import Overlaps
from .seams import merged, remainder
from .state import Facet, State, placed_outline
from .too_near import refuse_slivers
from .union_find import UnionFind

#: More pieces than this are more than a hand can fold, and more than the checks can follow in time.
FACET_LIMIT = 512


@dataclass(frozen=True)
class Divided:
    """A state with some facets divided; the paper has not moved.

    parent[k] is the facet of the original state that piece k comes from.
    """

    state: State
    parent: tuple[int, ...]

    def pieces(self, facet: int) -> tuple[int, ...]:
        """Pieces of an original facet."""
        return tuple(k for k, p in enumerate(self.parent) if p == facet)

    def undivided(self, clash: Collision) -> Collision:
        """The same collision, its facets those of the original state."""
        facets = tuple(dict.fromkeys(self.parent[k] for k in clash.facets))
        spots = clash.spots or tuple(polygons.centroid(self.state.placed[k]) for k in clash.facets)
        return Collision(clash.reason, facets, clash.at, spots)


def undivided(state: State) -> Divided:
    """The state as it is, ready to be divided."""
    return Divided(state, tuple(range(len(state.facets))))


def divided(base: Divided | State, line: Line, members: Iterable[int]) -> Divided:
    """Cuts facets (indices into `base`'s state) along a line of the folded plane.

    No paper moves: orders are inherited. Facets that the line misses stay whole.

    Raises Refusal: 'too-near' where the line all but meets a corner, an edge or a fold; 'too-many-layers'.
    """
    if isinstance(base, State):
        base = undivided(base)
    state = base.state
    cut: dict[int, tuple[Polygon, Polygon]] = {}
    for i in set(members):
        facet = state.facets[i]
        parts = polygons.split(facet.outline, map_line(inverse(facet.place), line))
        if all(parts):
            refuse_slivers(state, line, i)
            cut[i] = parts
    if not cut:
        return base
    corners = Corners(dict.fromkeys(p for f in state.facets for p in f.outline))
    facets: list[Facet] = []
    children: list[list[int]] = []
    for i, facet in enumerate(state.facets):
        pieces = [facet]
        if i in cut:
            pieces = [Facet(corners.snap(part), facet.place) for part in cut[i]]
        children.append(list(range(len(facets), len(facets) + len(pieces))))
        facets.extend(pieces)
    if len(facets) > FACET_LIMIT:
        raise Refusal(
            "too-many-layers",
            f"the paper would be divided into more than {FACET_LIMIT} pieces: no hand folds so many layers",
            "fold fewer layers at once, or open some of them first",
        )
    order: dict[Pair, bool] = {}
    fine = replace(state, facets=tuple(facets), order=MappingProxyType(order))
    overlaps = Overlaps(fine.placed)
    for (i, j), above in state.order.items():
        uncut = i not in cut and j not in cut
        for k in children[i]:
            for m in children[j]:
                if uncut or overlaps.pair(k, m):
                    order[k, m] = above
    return Divided(fine, tuple(base.parent[i] for i, parts in enumerate(children) for _ in parts))


def refold(
    state: State,
    motions: Mapping[int, Isometry],
    groups: Mapping[int, int],
    orders: Mapping[Pair, bool] | None = None,
    prefer: Prefer | None = None,
    cuts: Sequence[Segment] = (),
    *,
    asks: bool = False,
    together: bool = False,
) -> State:
    """Moves pieces and gives the new state.

    Parameters
    ----------
    state : the paper, already divided where it is to fold
    motions : facet -> motion in folded coordinates; facets left out stay where they are
    groups : facet -> number of the rigid group it moves with (facets left out of `motions` are one
        group of their own); inside a group orders are kept, and reversed when its motion reflects
    orders : what the planner knows: (i, j) -> whether i lies above j afterwards
    prefer : the planner's intent for pairs that the conditions leave open
    cuts : segments (sheet coordinates) cut open before the move
    asks : whether to ask, and not to choose, where several orders are as good
    together : whether nothing may come between two layers that lie on each other and move as one

    Raises
    ------
    Refusal : 'tear' when the paper would tear, 'too-complex' when the search gives up
    Collision : when layers would have to pass through each other
    Undecided : with `asks`, when the orders and the intent leave a choice
    """
    if cuts:
        state = replace(
            state,
            cuts=tuple(merged([*state.cuts, *cuts])),
            creases=tuple(remainder(state.creases, cuts)),
        )
    facets = tuple(
        Facet(f.outline, compose(motions[i], f.place)) if i in motions else f
        for i, f in enumerate(state.facets)
    )
    _refuse_tears(state, facets, motions)
    n = len(facets)
    group = [groups.get(i, i) if i in motions else -1 for i in range(n)]
    flips = [motions[i].flips if i in motions else False for i in range(n)]
    placed = [placed_outline(f) for f in facets]
    order: dict[Pair, bool] = {}
    for (i, j), above in state.order.items():
        if group[i] == group[j]:
            order[i, j] = above != flips[i]
    overlaps = Overlaps(placed)
    fresh = overlaps.between(group)
    for i, j in fresh:
        if orders is not None:
            if (i, j) in orders:
                order[i, j] = orders[i, j]
            elif (j, i) in orders:
                order[i, j] = not orders[j, i]
    glued = tuple(_glued(state, group, fresh, overlaps)) if together else ()
    solved = settle(placed, hinges(state, facets), order, fresh, prefer, overlaps, glued, asks=asks)
    moved = state.relaid(facets, MappingProxyType(solved))
    changed = [(j, k) for j, k in zip(state.joints, moved.joints, strict=True) if j is not k]
    opened = [j.segment for j, _ in changed if j.folded]
    folded = [k.segment for _, k in changed if k.folded]
    return coalesced(_creased_anew(state, moved, opened, folded))


def settle(
    placed: Sequence[Polygon],
    hinges: Sequence[Hinge],
    known: Mapping[Pair, bool],
    fresh: Sequence[Pair],
    prefer: Prefer | None,
    overlaps: Overlaps,
    glued: Sequence[Same] = (),
    *,
    asks: bool = False,
) -> dict[Pair, bool]:
    """A full layer order from the known part of it; every condition that touches `fresh` is checked.

    `glued` are further conditions. With `asks`, raises Undecided where several orders are as good.
    """
    new = set(fresh)
    pairs = sorted(set(known) | new)
    given = conditions(placed, hinges, new, overlaps)
    if glued:
        given = replace(given, same=(*given.same, *glued))
    if len(pairs) == len(known) and meets(known, fresh, given, overlaps):
        return {pair: known[pair] for pair in pairs}
    found = Solver(placed, pairs, known, given, overlaps)
    try:
        order = found.solve(prefer)
        other = found.undecided(prefer, order) if asks else []
    except OutOfWork:
        raise Refusal(
            "too-complex",
            "the order of the layers could not be found within the work limit",
            "fold in smaller steps, or name the layers that move",
        ) from None
    if other:
        raise Undecided(other)
    return order


def _glued(
    state: State, group: Sequence[int], fresh: Sequence[Pair], overlaps: Overlaps
) -> Iterator[Same]:
    """That what lies next to each other and moves as one has each other layer on the same side."""
    met: dict[int, set[int]] = {}
    for i, j in fresh:
        met.setdefault(i, set()).add(j)
        met.setdefault(j, set()).add(i)
    for i, k in state.order:
        if group[i] != group[k] or _parted(state, i, k):
            continue
        for j in sorted(met.get(i, set()) & met.get(k, set())):
            if overlaps.triple(i, k, j):
                yield Same(i, j, k, j, "pierced", overlaps.spot(i, j))


def _parted(state: State, i: int, k: int) -> bool:
    """Whether another layer lies between two that overlap."""
    lower, upper = (k, i) if state.above(i, k) else (i, k)
    return any(
        state.above(upper, m)
        and state.above(m, lower)
        and bool(
            (common := intersection(state.placed[i], state.placed[k]))
            and overlap(common, state.placed[m])
        )
        for m in state.neighbours[i] & state.neighbours[k]
    )


def hinges(state: State, facets: Sequence[Facet]) -> list[Hinge]:
    """The joints of a state as hinges, where these facets lie (folded coordinates)."""
    found: list[Hinge] = []
    for j in state.joints:
        folded = facets[j.a].shows_front != facets[j.b].shows_front
        segment = map_segment(facets[j.a].place, j.segment)
        found.append(Hinge(j.a, j.b, segment, folded, opened=j.folded and not folded))
    return found


def _refuse_tears(state: State, facets: Sequence[Facet], motions: Mapping[int, Isometry]) -> None:
    """Both sides of every joint must lie in one place; where they have moved alike, or not, they do."""
    for joint in state.joints:
        if motions.get(joint.a) is motions.get(joint.b):
            continue
        a, b = facets[joint.a].place, facets[joint.b].place
        for p in joint.segment:
            (x, y), (u, v) = a(p), b(p)
            if hypot(x - u, y - v) > EPS:
                raise Refusal(
                    "tear",
                    "the paper would tear: two pieces that hold together would move apart",
                    "crease the paper first where it has to bend, or move more layers",
                )


def with_creases_of(before: State, after: State) -> State:
    """`after` with the folds of `before` that it has opened flat kept as creases."""
    folds_before = [j.segment for j in before.joints if j.folded]
    folds_now = [j.segment for j in after.joints if j.folded]
    return _creased_anew(before, after, remainder(folds_before, folds_now), folds_now)


def _creased_anew(
    before: State, after: State, opened: Sequence[Segment], folded: Sequence[Segment]
) -> State:
    """`after` with the creases of `before`, those that opened added and those that folded left out."""
    kept = merged([*before.creases, *opened]) if opened else before.creases
    return after.with_creases(tuple(sorted(remainder(kept, folded))))


def creased(state: State, segments: Iterable[Segment]) -> State:
    """The state with more flat creases (sheet coordinates); folds are not doubled."""
    folds = [j.segment for j in state.joints if j.folded]
    kept = merged([*state.creases, *segments])
    return state.with_creases(tuple(sorted(remainder(kept, folds))))


def coalesced(state: State) -> State:
    """Facets that lie flat with each other joined wherever their union is convex and uncut."""
    flat_joints = [j for j in state.joints if not j.folded]
    if not flat_joints:
        return state
    outline: list[Polygon | None] = [f.outline for f in state.facets]
    joined = UnionFind(len(state.facets))
    above: list[dict[int, bool]] = [{} for _ in state.facets]
    for (i, j), value in state.order.items():
        above[i][j] = value
        above[j][i] = not value
    changed = True
    while changed:
        changed = False
        for joint in flat_joints:
            a, b = joined.find(joint.a), joined.find(joint.b)
            if a == b:
                continue
            pa, pb = outline[a], outline[b]
            if pa is None or pb is None:
                continue
            if any(above[b].get(k, v) != v for k, v in above[a].items()):
                continue
            union = polygons.joined(pa, pb)
            if not union or _cut_within(state.cuts, union):
                continue
            a, b = min(a, b), max(a, b)
            outline[a], outline[b] = union, None
            joined.unite(a, b)
            for k, v in above[b].items():
                above[a][k] = v
                above[k].pop(b, None)
                above[k][a] = not v
            above[b].clear()
            changed = True
    alive = [i for i, o in enumerate(outline) if o is not None]
    number = {i: k for k, i in enumerate(alive)}
    facets = tuple(Facet(outline[i] or (), state.facets[i].place) for i in alive)
    order = {
        (number[i], number[j]): v
        for i in alive
        for j, v in above[i].items()
        if number[i] < number[j]
    }
    return replace(state, facets=facets, order=MappingProxyType(dict(sorted(order.items()))))


def _cut_within(cuts: Sequence[Segment], outline: Polygon) -> bool:
    """Whether a cut runs through a piece of the sheet, not only along its edge."""
    for cut in cuts:
        part = polygons.clip_segment(outline, cut)
        if part is not None and polygons.strictly_inside(outline, midpoint(*part)):
            return True
    return False


__all__ = [
    "Collision",
    "Divided",
    "Undecided",
    "coalesced",
    "creased",
    "divided",
    "hinges",
    "refold",
    "settle",
    "undivided",
    "with_creases_of",
]
