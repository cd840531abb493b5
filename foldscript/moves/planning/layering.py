"""Where moved paper comes to lie between the layers: under one that is named, over one, or inside.

In: paper that moves about a line, or that only changes its place in the stack, and the layers that it
is to lie under and over. Out: the new state; the layer conditions decide whether it exists.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from ...geometry import polygons
from ...geometry.isometries import IDENTITY, inverse, reflection
from ...geometry.lines import Line, Point, distance, flipped, line_through, same_line
from ...geometry.tolerance import EPS
from ...paper.conditions import Pair
from ...paper.flap import Flap, beyond, flap
from ...paper.layers import Collision, Undecided
from ...paper.refold import Divided, divided, refold
from ...paper.signs import Sense
from ...paper.silhouette import extent
from ...paper.state import State
from ...source.diagnostics import Refusal
from .claims import LiesOver
from .request import PointValue

#: Ways in which layers can lie that are tried, where the paper leaves a choice.
MOST_WAYS = 16


def lies_over(state: State, some: Iterable[int], others: Collection[int]) -> bool:
    """Whether one of some facets lies over one of others."""
    return any(state.above(i, k) for i in some for k in others)


@dataclass(frozen=True)
class Goal:
    """Where the moved paper belongs.

    Attributes
    ----------
    under, over : facets that lie above it, and below it, afterwards
    front : whether it is to lie as far to the front as that allows, or as far to the back
    """

    under: frozenset[int] = frozenset()
    over: frozenset[int] = frozenset()
    front: bool = True

    def met(self, state: State, packet: Iterable[int]) -> bool:
        """Whether the packet lies already as the goal wants it."""
        return all(
            state.above(i, k) == over
            for layer, over in ((self.under, False), (self.over, True))
            for i in packet
            for k in state.neighbours[i] & layer
        )

    def past(self, state: State, sense: Sense, layer: int) -> bool:
        """Whether a layer has to be passed on the way: it lies before the layers named, or hangs on them."""
        named = self.under | self.over
        return (
            layer in named
            or any(
                state.above(layer, k) == (sense is Sense.MOUNTAIN)
                for k in named & state.neighbours[layer]
            )
            or any(j.folded and {j.a, j.b} & named and layer in (j.a, j.b) for j in state.joints)
        )

    def orders(self, mobile: Iterable[int], origin: Sequence[int]) -> dict[Pair, bool]:
        """What is known of pieces that move; origin[k] is the facet that piece k comes from."""
        inside = set(mobile)
        known: dict[Pair, bool] = {}
        for m in sorted(inside):
            for s, facet in enumerate(origin):
                if s not in inside and facet in self.under:
                    known[m, s] = False
                elif s not in inside and facet in self.over:
                    known[m, s] = True
        return known

    def preference(self, mobile: Iterable[int]) -> Callable[[int, int], bool | None]:
        """Intent for what the layers leave open."""
        inside = set(mobile)

        def preference(i: int, j: int) -> bool | None:
            return None if (i in inside) == (j in inside) else (i in inside) == self.front

        return preference


def layers_of(state: State, p: PointValue) -> tuple[frozenset[int], ...]:
    """The flat pieces of paper that carry a point and lie topmost of those: several, side by side, where
    flaps meet, unless the words tell a layer.
    """
    if not p.facets:
        raise Refusal("off-the-paper", f"there is no paper at {p.words.render()}", span=p.span)
    tops = [i for i in p.facets if not any(state.above(k, i) for k in p.facets)]
    meant = p.facets[:1] if p.layer else tops
    return tuple(dict.fromkeys(state.plate(i) for i in meant or p.facets[:1]))


def layer_of(state: State, p: PointValue) -> frozenset[int]:
    """The layer that a point tells: the topmost piece that carries it, or those side by side."""
    return frozenset[int]().union(*layers_of(state, p))


@dataclass(frozen=True)
class Landed:
    """A flap after its fold, as pieces of the divided state before it."""

    fine: Divided
    movers: tuple[int, ...]
    after: State


def fold_between(state: State, moving: Flap, sense: Sense | None, goal: Goal) -> Landed:
    """The flap reflected in its line, between the layers that `goal` names.

    `sense` tells how it bends against the paper that it hangs on; None leaves it to the layers.

    Raises
    ------
    Refusal : 'tuck-misses' when it does not come to lie where a named layer lies
    Collision : when the paper cannot lie like that; it names facets of `state`
    """
    fine = divided(state, moving.line, moving.facets)
    fs = fine.state
    movers = tuple(beyond(fine, moving.facets, moving.line))
    orders = goal.orders(movers, fine.parent)
    for joint in fs.joints:
        for m, s in ((joint.a, joint.b), (joint.b, joint.a)):
            if sense is None or m not in movers or s in movers:
                continue
            in_front = sense is Sense.VALLEY
            if orders.setdefault((m, s), in_front) != in_front:
                raise Collision("pierced", (fine.parent[m], fine.parent[s]))
    motion = reflection(moving.line)
    landed = [tuple(motion(p) for p in fs.placed[m])[::-1] for m in movers]
    for layers in (goal.under, goal.over):
        there = [fs.placed[k] for k, f in enumerate(fine.parent) if f in layers and k not in movers]
        if layers and not any(polygons.overlap(one, two) for one in landed for two in there):
            raise Refusal("tuck-misses", "the flap does not reach that layer")
    try:
        after = refold(
            fs,
            dict.fromkeys(movers, motion),
            dict.fromkeys(movers, 0),
            orders,
            goal.preference(movers),
        )
    except Collision as clash:
        facets = tuple(dict.fromkeys(fine.parent[k] for k in clash.facets))
        raise Collision(clash.reason, facets, clash.at) from None
    return Landed(fine, movers, after)


def places_of(state: State, facets: Iterable[int]) -> tuple[Point, ...]:
    """A place on the sheet in each of some facets."""
    return tuple(polygons.centroid(state.facets[i].outline) for i in sorted(facets))


def lying_claims(
    state: State, flap_places: tuple[Point, ...], goal: Goal, moving: Flap | None = None
) -> Iterator[LiesOver]:
    """Paper at some places lies between the layers of a goal, where these do not move with the flap."""

    def staying(layers: Iterable[int]) -> Iterator[Point]:
        for i in sorted(layers):
            placed = state.placed[i]
            if moving is not None and i in moving.facets:
                placed = polygons.split(placed, moving.line)[1]
            if placed:
                yield inverse(state.facets[i].place)(polygons.centroid(placed))

    if over := tuple(staying(goal.under)):
        yield LiesOver(over, flap_places)
    if under := tuple(staying(goal.over)):
        yield LiesOver(flap_places, under)


def lies_between(landed: Landed) -> bool:
    """Whether the moved paper has other paper both in front of it and behind it."""
    fine, after = landed.fine.state, landed.after
    spots = [polygons.centroid(fine.facets[m].outline) for m in landed.movers]
    mobile = {i for spot in spots for i in after.facets_on_sheet(spot)}
    near = {k for i in mobile for k in after.neighbours[i]} - mobile
    over = {k for k in near if any(after.above(k, i) for i in mobile)}
    under = {k for k in near if any(after.above(i, k) for i in mobile)}
    return bool(over) and bool(under)


def passed(landed: Landed, layer: int, sense: Sense) -> bool:
    """Whether the flap has gone past a facet (of the state before) that lay in its way, or around it.

    It has not where it now lies before that facet: in front for a mountain fold, behind for a valley fold.
    """
    fine, after = landed.fine, landed.after

    def now(k: int) -> tuple[int, ...]:
        return after.facets_on_sheet(polygons.centroid(fine.state.facets[k].outline))

    still = {i for k, parent in enumerate(fine.parent) if parent == layer for i in now(k)}
    orders = {after.above(i, k) for m in landed.movers for i in now(m) for k in still}
    orders.discard(None)
    return orders != {sense is Sense.MOUNTAIN}


def restacked(state: State, moving: Iterable[int], goal: Goal) -> list[State]:
    """The paper as it lies, a part of it in another place of the stack; every fold keeps its sense.

    As far to the front (to the back) as the goal has it: measured by the area over which that part lies over
    (under) the rest. Several where the paper allows that in more than one way.

    Raises Collision.
    """
    mobile = sorted(set(moving))
    orders = goal.orders(mobile, range(len(state.facets)))
    for joint in state.joints:
        over = state.above(joint.a, joint.b)
        if over is not None and (joint.a in mobile) != (joint.b in mobile):
            turned = orders.pop((joint.b, joint.a), None)
            if turned is over or orders.get((joint.a, joint.b), over) is not over:
                raise Collision("joint", (joint.a, joint.b))
            orders[joint.a, joint.b] = over
    found: list[State] = []
    clash: Collision | None = None
    trials = [orders]
    for known in trials:
        try:
            found.append(_restacked(state, mobile, goal, known))
        except Collision as collision:
            clash = clash or collision
        except Undecided as choice:
            if len(trials) < 2 * MOST_WAYS:
                trials += [{**known, choice.pairs[0]: above} for above in (True, False)]
    if not found:
        raise clash or Collision("search", ())
    far = [raised(state, after, mobile) * (1 if goal.front else -1) for after in found]
    return [after for after, area in zip(found, far, strict=True) if area > max(far) - EPS]


def _restacked(
    state: State, mobile: Sequence[int], goal: Goal, orders: Mapping[Pair, bool]
) -> State:
    return refold(
        state,
        dict.fromkeys(mobile, IDENTITY),
        dict.fromkeys(mobile, 0),
        orders,
        goal.preference(mobile),
        asks=True,
    )


def raised(
    before: State,
    after: State,
    mobile: Iterable[int],
    *,
    of: Iterable[int] | None = None,
    newly: bool = False,
) -> float:
    """The area where what has moved lies over the rest; with `newly`, where it lay under it before.

    `mobile` are facets of the state before, `of` those of them that are asked of, left out: all. In sheet
    units squared, counted for each pair of layers.
    """
    inside = set(mobile)
    now: dict[int, int] = {}

    def above(i: int, k: int) -> bool:
        for facet in (i, k):
            if facet not in now:
                now[facet] = after.facets_on_sheet(polygons.centroid(before.facets[facet].outline))[
                    0
                ]
        return bool(after.above(now[i], now[k]))

    return sum(
        polygons.area(polygons.intersection(before.placed[i], before.placed[k]))
        for i in (inside if of is None else inside.intersection(of))
        for k in before.neighbours[i] - inside
        if above(i, k) and not (newly and before.above(i, k))
    )


def way_out(state: State, p: PointValue, layer: Iterable[int]) -> tuple[Point, Point]:
    """An arrow from within a layer to a point of it; beside the point when that lies inside."""
    middle = polygons.centroid(state.placed[min(layer)])
    away = distance(middle, p.at)
    least = 0.15 * max(extent(state))
    if away >= least:
        return middle, p.at
    if away < 1e-6:
        return (p.at[0], p.at[1] - least), p.at
    k = least / away
    return (p.at[0] + (middle[0] - p.at[0]) * k, p.at[1] + (middle[1] - p.at[1]) * k), p.at


def lie_otherwise(before: State, one: State, other: State) -> bool:
    """Whether some of the paper lies over other paper in one outcome and under it in the other."""
    at = [polygons.centroid(facet.outline) for facet in before.facets]

    def over(after: State) -> list[bool | None]:
        now = [after.facets_on_sheet(p)[0] for p in at]
        return [after.above(now[i], now[k]) for i, k in before.order]

    return over(one) != over(other)


def hinged(state: State, start: frozenset[int], keep: frozenset[int]) -> list[frozenset[int]]:
    """What hands can lift with a layer, the smallest first: a flap that turns about one line.

    All of it lies on one side of a fold line, at which alone it holds to the rest; never with the layers
    of `keep`.
    """
    found: set[frozenset[int]] = set()
    lines: list[Line] = []
    for _, seg in state.fold_segments:
        line = line_through(*seg)
        if not any(same_line(line, other) for other in lines):
            lines.append(line)
    for line in lines:
        for side in (line, flipped(line)):
            if any(polygons.half_plane_extent(state.placed[i], side)[0] < -EPS for i in start):
                continue
            try:
                moving = flap(state, side, start)
            except Refusal:
                continue
            members = frozenset(moving.facets)
            whole = all(
                polygons.half_plane_extent(state.placed[i], side)[0] >= -EPS for i in members
            )
            if whole and not members & keep:
                found.add(members)
    return sorted(found, key=lambda members: (len(members), _area(state, members), sorted(members)))


def _area(state: State, members: Iterable[int]) -> float:
    return round(sum(polygons.area(state.placed[i]) for i in members), 9)


def packets(state: State, start: frozenset[int], keep: frozenset[int]) -> Iterator[frozenset[int]]:
    """A layer, then more and more of what hangs on it, never with the layers of `keep`."""
    found = start
    while len(found) < len(state.facets) and not found & keep:
        yield found
        grown = found
        for joint in state.joints:
            for a, b in ((joint.a, joint.b), (joint.b, joint.a)):
                if a in found and b not in found:
                    grown |= state.plate(b)
        if grown == found:
            return
        found = grown
