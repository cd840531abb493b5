"""To the front: a layer that is trapped comes out from under what lies over it, and lies on top of that.

In: a `Request` that names a point of the layer. Out: the paper as it lies, with that layer (and what
has to go along) as far to the front as its joints allow, in front of the layer named with `over`, but not
of that named with `under`; or what holds it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from ...geometry import polygons
from ...geometry.tolerance import EPS, same
from ...languages.wording import Phrase, phrase
from ...paper.layers import Collision
from ...paper.signs import Arrow
from ...paper.state import State
from ...source.diagnostics import Hint, Refusal, add, write
from .claims import NothingMoves
from .fold_clauses import as_point
from .layering import (
    Goal,
    layer_of,
    lie_otherwise,
    lying_claims,
    packets,
    places_of,
    raised,
    restacked,
    way_out,
)
from .request import Outcome, PointValue, Remark, Request


@dataclass(frozen=True)
class _Out:
    """A packet of layers pulled out: how much area it has passed, and the paper then: several ways where
    the paper leaves a choice."""

    passed: float
    ways: tuple[State, ...]
    packet: frozenset[int]

    @property
    def after(self) -> State:
        return self.ways[0]


def to_front(request: Request) -> Outcome:
    state = request.state
    head, over, under = (request.clause(word) for word in ("", "over", "under"))
    if any(c is not None and len(c.values) != 1 for c in (head, over, under)) or head is None:
        raise Refusal(
            "pull-out-what",
            "say which layer is pulled out: name one point of it",
            *(f"write it like: {form}" for form in request.forms),
            span=request.span,
        )
    p = as_point(head.values[0])
    lower, upper = (as_point(c.values[0]) if c is not None else None for c in (over, under))
    goal = Goal(
        layer_of(state, upper) if upper else frozenset(),
        layer_of(state, lower) if lower else frozenset(),
    )
    found: list[_Out] = []
    for beside in _topmost_first(state, p):
        found = [out for layer in beside if (out := _farthest_out(state, layer, goal)) is not None]
        if found:
            break
    if not found:
        raise _held(request, p, goal)
    best, *others = sorted(found, key=lambda out: -out.passed)
    if others and same(others[0].passed, best.passed) and others[0].packet != best.packet:
        raise Refusal(
            "which-flap",
            f"{p.words.render()} belongs to {len(found)} flaps side by side, and each can be pulled out",
            "name a point that lies on that flap alone",
            span=p.span,
        )
    if len(best.ways) > 1:
        raise _which_way(request, p, goal, best)
    tail, head_at = way_out(state, p, p.facets[:1])
    return Outcome(
        best.after,
        (Arrow("pull-out", tail, head_at),),
        _sentence(p.words, lower, upper),
        folded=True,
        letters=((p.letter, p.at),) if p.letter else (),
        claims=(NothingMoves(), *lying_claims(state, places_of(state, best.packet), goal)),
        remarks=() if lower or upper else _still_inside(p, best),
    )


def _still_inside(p: PointValue, out: _Out) -> tuple[Remark, ...]:
    """Tells that a layer has come out from under others, and yet nothing of it is seen from the front."""
    after = out.after
    middles = ((i, polygons.centroid(after.placed[i])) for i in out.packet)
    if any(after.facets_at(middle)[0] == i for i, middle in middles):
        return ()
    return (
        Remark(
            "still-inside",
            f"the layer with {p.words.render()} only changes places inside: other layers still cover it",
            (
                "to swing it out about a fold, say 'along' and that fold",
                "or say 'over' and a point of the layer that it is to lie on",
            ),
        ),
    )


def _sentence(what: Phrase, lower: PointValue | None, upper: PointValue | None) -> Phrase:
    if lower is not None and upper is not None:
        return phrase(
            "Pull out the layer with {what}, over the layer with {lower} and under the layer with {upper}.",
            what=what,
            lower=lower.words,
            upper=upper.words,
        )
    if lower is not None:
        return phrase(
            "Pull out the layer with {what} and lay it over the layer with {other}.",
            what=what,
            other=lower.words,
        )
    if upper is not None:
        return phrase(
            "Pull out the layer with {what}, but leave it under the layer with {other}.",
            what=what,
            other=upper.words,
        )
    return phrase("Pull out the layer with {what}.", what=what)


def _farthest_out(state: State, layer: frozenset[int], goal: Goal) -> _Out | None:
    """A layer, with what has to come along, as far out as it comes; None where it cannot: then nothing lies
    over the layer itself, or what does holds it."""
    best: _Out | None = None
    for packet in packets(state, layer, goal.over | goal.under):
        met = frozenset[int]().union(*(state.neighbours[i] for i in packet))
        if any(named and not named & met for named in (goal.over, goal.under)):
            continue
        try:
            ways = restacked(state, packet, goal)
        except Collision:
            continue
        ways = [way for way in ways if raised(state, way, packet, of=layer, newly=True) > EPS]
        if not ways:
            continue
        passed = raised(state, ways[0], packet, newly=True)
        if passed > (best.passed if best is not None else 0.0) + EPS:
            best = _Out(passed, tuple(ways), packet)
    return best


def _which_way(request: Request, p: PointValue, goal: Goal, out: _Out) -> Refusal:
    """The layer can come out past some layers or past others: which, is asked, with words for each."""
    state = request.state
    found: dict[int, str] = {}
    for name, at in request.points.items():
        named = frozenset(k for i in state.facets_on_sheet(at) for k in state.plate(i))
        for word in ("over", "under"):
            if request.clause(word) is not None or named & (out.packet | goal.over | goal.under):
                continue
            try:
                one, *others = restacked(state, out.packet, replace(goal, **{word: named}))
            except Collision:
                continue
            ways = (k for k, way in enumerate(out.ways) if not lie_otherwise(state, one, way))
            if not others and (k := next(ways, None)) is not None:
                found.setdefault(k, f"{word} {name}")
    hints = [
        add(request.span, words, f"or add '{words}'" if n else "")
        for n, words in enumerate(found.values())
    ]
    return Refusal(
        "which-lies-over",
        f"the layer with {p.words.render()} can come out over some of the layers before it or over others",
        *(hints or ["say over or under which layer it is to lie, by a point of that layer"]),
        span=request.span,
    )


def _topmost_first(state: State, p: PointValue) -> list[list[frozenset[int]]]:
    """The layers that carry the point, those as deep as each other together; of a point named, mostly one."""
    if not p.facets:
        raise Refusal("off-the-paper", f"there is no paper at {p.words.render()}", span=p.span)
    found: dict[int, list[frozenset[int]]] = {}
    for i in p.facets:
        plate = state.plate(i)
        if not any(plate in some for some in found.values()):
            found.setdefault(state.depths[i], []).append(plate)
    return [found[depth] for depth in sorted(found)]


def _covered(request: Request, p: PointValue) -> list[Hint]:
    """Corners to name instead: those over which other paper lies."""
    state, found = request.state, list[Hint]()
    for name in state.sheet.corner_names:
        at = request.points.get(name)
        layers = () if at is None else state.facets_on_sheet(at)
        if any(state.above(k, i) for i in layers for k in state.neighbours[i]):
            found.append(write(p.span, name, f"say '{name}': paper lies over it"))
    return found[:2]


def _held(request: Request, p: PointValue, goal: Goal) -> Refusal:
    state = request.state
    layer = layer_of(state, p)
    near = {k for i in layer for k in state.neighbours[i]} - layer
    over = [k for k in state.top_down(near) if any(state.above(k, i) for i in layer)]
    if any(named and not named & near for named in (goal.over, goal.under)):
        return Refusal(
            "cannot-pull-out",
            f"{request.describe(min(layer))} and the layer named do not lie over each other",
            "name a point of a layer that lies over it",
            span=request.span,
        )
    if not over:
        return Refusal(
            "lies-in-front",
            f"nothing lies over {request.describe(min(layer))}, so there is nothing to pull it out of",
            *(_covered(request, p) or ("name a point of the layer that is covered",)),
            span=p.span,
        )
    return Refusal(
        "cannot-pull-out",
        f"{request.describe(min(layer))} cannot come out: "
        + (
            "it cannot lie in front of that layer"
            if goal.over
            else "it cannot come out behind that layer"
            if goal.over or goal.under
            else f"the folds hold it under {request.describe(over[-1])}"
        ),
        "unfold what lies over it first, or swing it out about a fold: pull out A along k",
        span=request.span,
    )
