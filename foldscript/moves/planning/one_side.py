"""A fold about one line, of which one side moves: the smallest flap there that the words can mean.

In: a `Request`, the line, from where layers are counted. Out: the fold carried out, or why it cannot be.
"""

from __future__ import annotations

from collections.abc import Collection
from contextlib import suppress
from dataclasses import dataclass, replace

from ...geometry import polygons
from ...geometry.lines import Point, distance
from ...geometry.tolerance import EPS
from ...paper.components import component_beside
from ...paper.flap import Blocked, Flap, flap, misses, moving_parts, rides_along
from ...paper.refold import Collision
from ...paper.state import State
from ...paper.too_near import TooNear, refuse_near
from ...source.diagnostics import Refusal
from .alignment import Alignment
from .claims import Claim
from .counting import (
    Way,
    inner_spot,
    keeps_the_number,
    layers_moved,
    nearest_of,
    not_counted,
    numbers_instead,
    seeds,
    takes_more,
    thickest,
)
from .counting_elsewhere import Counted, counted_anywhere, several_counted
from .fold_clauses import FoldClauses
from .holding import Hold, hold
from .in_the_way import blocked_refusal, collision_refusal
from .request import Request

#: Refusals that another layer to start from would not change.
_BEYOND_REACH = ("too-many-layers", "too-complex")


@dataclass(frozen=True)
class SingleFold:
    """A chosen fold: the words it came from, the flap, and the paper after it.

    `one_flap` tells that several layers which move hang together where they move; `counted` is where
    a number of layers was counted that must be kept. `numbers` of layers that one flap each has which can
    move here are known where the fold does not keep to what was said.
    """

    alignment: Alignment
    flap: Flap
    after: State
    layers: int | None
    hold: Hold | None = None
    claims: tuple[Claim, ...] = ()
    one_flap: bool = False
    counted: Point | None = None
    numbers: tuple[int, ...] = ()


@dataclass(frozen=True)
class _Side:
    """The side of a line that moves: its `parts` by their facets.

    `carriers` of what the words point at are in the order in which they are tried; of `named` some must move
    with a number of layers; `others` move as well.
    """

    request: Request
    clauses: FoldClauses
    one: Alignment
    way: Way
    parts: dict[int, polygons.Polygon]
    carriers: list[int]
    named: frozenset[int]
    others: list[int]


def on_side(request: Request, clauses: FoldClauses, one: Alignment, way: Way) -> SingleFold:
    """The fold of the flap on the line's left.

    A number of layers is counted where the words point. Where those layers do not move by themselves, and
    somewhere else on the flap that number does, it is the one that is meant; several such are asked about.

    Raises Refusal where nothing that the words can mean is free to move.
    """
    side = _side(request, clauses, one, way)
    usual: SingleFold | None = None
    told: Refusal | None = None
    try:
        usual = _counted_where_named(side)
        if _as_said(side, usual):
            return usual
    except TooNear:
        raise
    except Refusal as refusal:
        if refusal.code in _BEYOND_REACH or not clauses.layers:
            raise
        told = refusal
    if way.from_named or not way.moves_named:
        if usual is None:
            assert told is not None
            raise told
        return usual
    found = counted_anywhere(request.state, one, side.carriers, side.others, way)
    exact = [] if not clauses.layers else _free(side, found, clauses.layers)
    if len(exact) > 1:
        raise several_counted(request, [fold.flap for fold in exact])
    if exact:
        return exact[0]
    numbers = _numbers(side, found)
    if usual is None:
        assert told is not None
        others = numbers_instead(request, numbers)
        fewer = max(numbers, default=0) < (clauses.layers or 0) - 1
        if told.code == "not-so-many-layers" and fewer:  # rather all than many less
            rest = (replace(hint, text=f"or {hint.text}") for hint in others)
            raise told.with_hints(*told.hints, *rest)
        raise told.with_hints(*others, *told.hints)
    return replace(usual, numbers=numbers)


def _as_said(side: _Side, fold: SingleFold) -> bool:
    """Whether a fold moves what was said, and no more."""
    free = fold.hold is None or not fold.hold.is_held
    return free and keeps_the_number(side.request, fold.flap, fold.layers)


def _numbers(side: _Side, found: Collection[Counted]) -> tuple[int, ...]:
    """Numbers of layers of which exactly one flap is free to move; without those that all the paper has."""
    whole = thickest(side.request.state, side.parts, side.parts.values())
    some = sorted({counted.layers for counted in found if counted.layers < whole})
    return tuple(n for n in some if len(_free(side, found, n)) == 1)


def _free(side: _Side, found: Collection[Counted], layers: int) -> list[SingleFold]:
    """The folds of flaps of a number of layers that hold what is named and are free to move."""
    clauses = replace(side.clauses, layers=layers)
    done: list[SingleFold] = []
    for counted in found:
        moving = counted.flap
        if counted.layers != layers or (side.named and not side.named & set(moving.facets)):
            continue
        with suppress(Blocked, Collision, Refusal):
            fold = _carry(side.request.state, clauses, side.one, side.way, moving)
            holds = (
                hold(side.request.state, clauses, side.one, fold.flap, some, True)
                for some in counted.starts
            )
            for held in holds:
                if held is None or not held.is_held:
                    done.append(replace(fold, hold=held))
                    break
    return done


def _side(request: Request, clauses: FoldClauses, one: Alignment, way: Way) -> _Side:
    """What lies on the side of a line that moves. Raises Refusal 'fold-misses-flap' where nothing does."""
    state = request.state
    parts = moving_parts(state, one.line)
    carriers = [i for i in one.carriers if i in parts]
    if not carriers:
        crossing = [
            i
            for i in parts
            if polygons.half_plane_extent(state.placed[i], one.line)[0] < -EPS or i in one.carriers
        ]
        carriers = list(state.top_down(crossing))
    # where only another part of the line lies on the side that moves, not that
    if one.edge is not None:
        pieces = {i: polygons.clip_segment(parts[i], one.edge) for i in carriers}
        carriers = [i for i, piece in pieces.items() if piece and distance(*piece) > EPS]
    if state.cuts and clauses.moving:  # of a point on a cut, the side that is said to move
        said = [i for p in clauses.moving for i in p.facets if i in parts]
        beside = component_beside(state, one.line, said)
        carriers = [i for i in carriers if i in beside] or carriers
    if not way.from_front:
        carriers.reverse()
    named = one.carriers if way.moves_named and (clauses.pairs or clauses.moving) else ()
    if not carriers:
        raise misses(state, one.line, request.span)
    others = [i for also in one.also for i in nearest_of(state, parts, also, way)]
    return _Side(request, clauses, one, way, parts, carriers, frozenset(named), others)


def _counted_where_named(side: _Side) -> SingleFold:
    """The fold of the first flap that is free, its layers counted where the words point; or else of one that
    takes along what holds it."""
    request, clauses, one, way = side.request, side.clauses, side.one, side.way
    state, parts, carriers, named = request.state, side.parts, side.carriers, side.named
    blocked: Blocked | None = None
    problem: Refusal | None = None
    caught: SingleFold | None = None  # folds, but takes along what holds the flap
    more = False
    for n, seed in enumerate(carriers):
        if more and any(state.above(seed, k) is not None for k in carriers[:n]):
            continue
        try:
            counted = seeds(request, clauses, one, seed, way)
        except Refusal as refusal:
            problem = problem or refusal
            continue
        for some in counted:
            try:
                moving = flap(
                    state,
                    one.line,
                    [*some, *side.others],
                    whole_stack=clauses.layers == 0,
                )
                if clauses.layers and named and not named & set(moving.facets):
                    raise not_counted(request, clauses.layers, one, seed, way)
                fold = _carry(state, clauses, one, way, moving)
                if clauses.layers and not way.from_named:
                    fold = replace(fold, counted=inner_spot(one, parts[seed]))
                if clauses.layers == 0 or not way.moves_named:
                    return fold
                strict = way.alone or bool(clauses.layers)
                fold = replace(fold, hold=hold(state, clauses, one, fold.flap, some, strict))
                if fold.hold is None or not fold.hold.is_held:
                    spot = fold.counted
                    if spot is None or not takes_more(request, fold.flap, fold.layers, spot):
                        return fold
                    more = True  # a flap side by side with this one may be meant
                caught = caught or fold
            except Blocked as held:
                blocked = blocked or held
            except TooNear:
                raise
            except Collision as clash:
                problem = problem or collision_refusal(request, clash)
            except Refusal as refusal:
                if refusal.code in _BEYOND_REACH:
                    raise
                problem = problem or refusal
        if clauses.layers == 0:
            break  # whichever layer it starts from, all of them move
    if caught is not None:
        return caught
    if blocked is not None:
        raise blocked_refusal(request, blocked, way.sense)
    assert problem is not None
    raise problem


def _carry(
    state: State, clauses: FoldClauses, one: Alignment, way: Way, moving: Flap
) -> SingleFold:
    """The fold itself; the smallest flap takes along what it alone holds and what lies in its way."""
    while True:
        refuse_near(state, moving.line, moving.facets)
        try:
            after = way.carry(state, moving, way.sense)
            layers = layers_moved(state, clauses, one, moving)
            hang = component_beside(state, moving.line, moving.facets[:1])
            together = len(moving.facets) > 1 and hang >= set(moving.facets)
            return SingleFold(one, moving, after, layers, one_flap=together)
        except Blocked as held:
            if clauses.layers is not None or not rides_along(state, moving, held.blocker):
                raise
            moving = flap(state, one.line, (*moving.facets, held.blocker))
