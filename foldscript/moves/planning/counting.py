"""How many layers move with the paper that the words name, and from which side they are counted.

In: a `Request`, its words, the fold line, a facet that moves. Out: the facets that a number of layers
takes along; the number for the caption; the refusal of a number that leaves the named paper where it is.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import zip_longest

from ...geometry import polygons
from ...geometry.cover import cells
from ...geometry.lines import Point, distance, midpoint
from ...geometry.polygons import Polygon
from ...paper.flap import Flap, moving_parts
from ...paper.signs import Sense
from ...paper.state import State
from ...source.diagnostics import Hint, Refusal, Span, add, write
from .alignment import Alignment
from .fold_clauses import FoldClauses, layer_count
from .request import Remark, Request

#: Of the paper that moves with a number of layers, how much may lie in more layers than that.
_MUCH = 0.25
#: How far beside an edge layers are counted, in sheets, and on how many sides of a spot.
_BESIDE, _SIDES = 1e-4, 8

#: Carries a fold out: the paper, what moves about which line, and how it turns.
Carry = Callable[[State, Flap, Sense], State]


@dataclass(frozen=True)
class Way:
    """How a fold is carried out, and from where its layers are counted.

    `front` tells whether the layer at the front is tried first, `from_named` that layers are counted
    from the one named; with `moves_named`, the paper that the words name has to be among those that move;
    with `alone`, little else may.
    """

    sense: Sense
    carry: Carry
    front: bool | None = None
    from_named: bool = False
    moves_named: bool = False
    alone: bool = False

    @property
    def from_front(self) -> bool:
        return (self.sense is Sense.VALLEY) if self.front is None else self.front


def seeds(
    request: Request, clauses: FoldClauses, one: Alignment, seed: int, way: Way
) -> list[list[int]]:
    """The facets that must move: the one pointed at, and with `N layers` those next to it.

    Several ways to count, the likeliest first: from the layer named, those behind it or those in front.
    """
    if not clauses.layers:
        return [[seed]]
    pile = _pile(request.state, one, seed, way)
    ways = [pile]
    if way.from_named:
        at = next(k for k, plate in enumerate(pile) if seed in plate)
        ways = [pile[at:], pile[at::-1]] if way.from_front else [pile[at::-1], pile[at:]]
    found = [
        [i for plate in counted[: clauses.layers] for i in plate]
        for counted in ways
        if len(counted) >= clauses.layers
    ]
    if not found:
        count = max(map(len, ways))
        raise Refusal(
            "not-so-many-layers",
            f"there {'is' if count == 1 else 'are'} only {count} layer{'' if count == 1 else 's'} there",
            write(_counted(request), "all layers", "say 'all layers', or a smaller number")
            if count > 1
            else write(_counted(request), "1 layer", "say '1 layer', or leave the number out"),
            span=request.span,
        )
    return found


def _counted(request: Request) -> Span:
    """Where the number of layers stands."""
    clause = request.clause("layers")
    return request.span if clause is None else clause.span


def _pile(state: State, one: Alignment, seed: int, way: Way) -> list[list[int]]:
    """The facets of each layer where the seed moves, from the side from which they are counted."""
    parts = moving_parts(state, one.line)
    return pile_at(state, parts, inner_spot(one, parts[seed]), way)


def pile_at(state: State, parts: Mapping[int, Polygon], spot: Point, way: Way) -> list[list[int]]:
    """The facets of each layer at a spot, of those that have a part there, from the side from which they are
    counted.

    Where a spot lies on an edge, the layers on each side of it are counted, and the first ones are the
    first layer: two flaps that meet there are one layer, not two.
    """
    pile: list[list[int]] = []
    seen: set[int] = set()
    for row in zip_longest(*_stacks(state, parts, spot, way), fillvalue=[]):
        layer = sorted({i for plate in row for i in plate} - seen)
        seen.update(layer)
        if layer:
            pile.append(layer)
    return pile


def _stacks(
    state: State, parts: Mapping[int, Polygon], spot: Point, way: Way
) -> list[list[list[int]]]:
    """The facets of each layer just beside a spot, for every side of it on which other layers lie."""
    over = {i: part for i, part in parts.items() if polygons.inside(part, spot)}
    spots = [spot]
    if any(polygons.depth(part, spot) < _BESIDE for part in over.values()):
        turns = (math.tau * (k + 0.5) / _SIDES for k in range(_SIDES))
        spots = [
            (spot[0] + _BESIDE * math.cos(turn), spot[1] + _BESIDE * math.sin(turn))
            for turn in turns
        ]
    order = state.top_down(over)
    plate_of = state.plate_of
    found: dict[tuple[int, ...], list[list[int]]] = {}
    for at in spots:
        stack = tuple(i for i in order if polygons.inside(over[i], at))
        plates: dict[int, list[int]] = {}
        for i in stack if way.from_front else reversed(stack):
            plates.setdefault(plate_of[i], []).append(i)
        if stack:
            found.setdefault(stack, list(plates.values()))
    return list(found.values())


def numbers_instead(request: Request, numbers: Iterable[int]) -> list[Hint]:
    """Hints to say another number of layers, or 'all layers' for 0, in the place of the one said or at the
    end."""
    counted = request.clause("layers")
    found: list[Hint] = []
    for number in dict.fromkeys(numbers):
        words = f"{number} layer{'' if number == 1 else 's'}" if number else "all layers"
        so = "or " if found else ""
        if counted is None:
            found.append(add(request.span, words, f"{so}add '{words}'"))
        else:
            found.append(write(counted.span, words, f"{so}say '{words}'"))
    return found


def not_counted(request: Request, count: int, one: Alignment, seed: int, way: Way) -> Refusal:
    """The number of layers said does not reach the paper that the words name."""
    pile = _pile(request.state, one, seed, way)
    deep = 1 + next(k for k, plate in enumerate(pile) if seed in plate)
    what = request.describe(seed) if one.what is None else one.what.render()
    side = "in front" if way.from_front else "at the back"
    some = f"layer {side} is" if count == 1 else f"{count} layers {side} are"
    return Refusal(
        "named-layer-stays",
        f"the {some} not the flap named: {what} is on layer {deep} from there",
        write(
            _counted(request),
            f"{deep} layers",
            f"say '{deep} layers' to move it with those that lie {'over' if way.from_front else 'behind'} it",
        ),
        "or name a point of the flap that is to move",
        span=request.span,
    )


def nearest_of(state: State, parts: Collection[int], named: Sequence[int], way: Way) -> list[int]:
    """Of the facets that hold a place those that move and lie nearest to the side that folds: several where
    flaps side by side meet there."""
    here = [i for i in named if i in parts]
    return [
        i
        for i in here
        if all(state.above(i, k) in (None, bool(way.from_front)) for k in here if k != i)
    ]


def takes_more(request: Request, moving: Flap, moved: int | None, spot: Point) -> bool:
    """Whether with a number of layers others go along where they were counted."""
    said, state = _said(request, moving, moved), request.state
    there = (i for i in moving.facets if polygons.inside(state.placed[i], spot))
    return bool(said) and len(_plates(state, there)) > said


def refuse_more_layers(
    request: Request, moving: Flap, moved: int | None, spot: Point, numbers: Sequence[int]
) -> None:
    """Refuses a number of layers with which others go along where they were counted; `numbers` can move."""
    if not takes_more(request, moving, moved, spot):
        return
    said = _said(request, moving, moved)
    raise Refusal(
        "more-layers",
        f"{_alone(said)}: {_number(moved) if moved else 'all that lie there'} hang together on the side that "
        f"moves{_held_at(request, moving)}",
        *numbers_instead(request, (*numbers, moved or 0)),
        "or unfold what holds them together first",
        span=request.span,
    )


def more_layers(
    request: Request, moving: Flap, moved: int | None, numbers: Sequence[int]
) -> tuple[Remark, ...]:
    """Tells that elsewhere than where they were counted more layers move, which lie on each other there;
    `numbers` can move.

    Raises Refusal where everything there goes along, and that is much of the paper that moves: who counts
    layers does not mean all.
    """
    said = _said(request, moving, moved)
    if not said:
        return ()
    together = (
        f"{_alone(said)}: {_number(moved) if moved else 'all that lie there'} hang together on the side that "
        "moves"
    )
    heaps = [
        (area, len(_plates(request.state, there)))
        for area, there in _heaps(dict(zip(moving.facets, moving.parts, strict=True)))
    ]
    paper = sum(area * layers for area, layers in heaps)
    thick = sum(area * layers for area, layers in heaps if layers > said)
    if moved or thick <= _MUCH * paper:
        return (Remark("more-layers", f"{together}, and the caption says so", ()),)
    raise Refusal(
        "more-layers",
        f"{together}{_held_at(request, moving)}, much of it beside the place where they were counted",
        *numbers_instead(request, (*numbers, moved or 0)),
        "or leave the number out, and name a corner or a point of the flap that is to move alone",
        span=request.span,
    )


def keeps_the_number(request: Request, moving: Flap, moved: int | None) -> bool:
    """Whether nowhere more layers move than the script says, or it says no number."""
    return not _said(request, moving, moved)


def _said(request: Request, moving: Flap, moved: int | None) -> int:
    """The number of layers that the script says, where somewhere more of them move; else 0."""
    clause = request.clause("layers")
    said = layer_count(request, clause) if clause is not None else 0
    if not said or moved is None or moved == said:
        return 0
    if thickest(request.state, moving.facets, moving.parts) <= said:
        return 0
    return said


def _alone(said: int) -> str:
    return "1 layer does not move alone" if said == 1 else f"{said} layers do not move alone"


def _number(moved: int | None) -> str:
    return f"{moved} layers" if moved else "all layers"


def _held_at(request: Request, moving: Flap) -> str:
    """', by the fold 12 mm from corner A': the longest fold that joins layers on the side that moves."""
    parts = dict(zip(moving.facets, moving.parts, strict=True))
    folds = [
        piece
        for joint, seg in request.state.fold_segments
        if joint.a in parts and joint.b in parts
        if (piece := polygons.clip_segment(parts[joint.a], seg)) is not None
    ]
    if not folds:
        return ""
    longest = max(folds, key=lambda seg: round(distance(*seg), 9))
    return f", by the fold {request.locate(midpoint(*longest))}"


def thickest(state: State, facets: Iterable[int], parts: Iterable[Polygon]) -> int:
    """The most layers, counted as flat pieces, in which parts of facets lie over each other."""
    heaps = _heaps(dict(zip(facets, parts, strict=True)))
    return max((len(_plates(state, there)) for _, there in heaps), default=0)


def _heaps(parts: Mapping[int, Polygon]) -> list[tuple[float, frozenset[int]]]:
    """Wherever other facets lie over each other: how large that place is, and which of them lie there."""
    return [
        (cell.area, frozenset(i for i, part in parts.items() if polygons.inside(part, spot)))
        for spot, cell in cells(parts.values())
    ]


def _plates(state: State, facets: Iterable[int]) -> set[int]:
    return {state.plate_of[i] for i in facets}


def layers_moved(state: State, clauses: FoldClauses, one: Alignment, moving: Flap) -> int | None:
    """The number of layers for the caption: those that hang together move together, said or not."""
    if not clauses.layers:
        return clauses.layers
    most, whole = 0, True
    for _, facets in _heaps(moving_parts(state, one.line)):
        there, with_it = (_plates(state, some) for some in (facets, facets & set(moving.facets)))
        if len(with_it) > clauses.layers and with_it == there:
            return 0
        if with_it:
            most, whole = max(most, len(with_it)), whole and with_it == there
    return 0 if whole and most > 1 else max(most, clauses.layers)


def inner_spot(one: Alignment, part: Polygon) -> Point:
    """A point just inside the moving part, near what the words point at where that lies on it.

    An edge that moves may run on over other paper, and its end lie there: then the part's middle.
    """
    middle = polygons.centroid(part)
    if one.tail is None or not polygons.inside(part, one.tail):
        return middle
    return (
        one.tail[0] + (middle[0] - one.tail[0]) * 0.01,
        one.tail[1] + (middle[1] - one.tail[1]) * 0.01,
    )
