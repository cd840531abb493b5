"""How far the corners of a stack are moved, so that its layers can be told apart.

In: a state, the sides of its facets, and the wanted gaps. Out: a move for every corner of the sheet.

Where several layers have an edge in the same place, each layer's edge is to lie a little inside
that of the layer below it, and the fold of an inner pair inside that of the pair around it; where
edges meet from either side they stay together. These soft constraints are equations in the unknown moves, and
the least squares solution is taken: those that contradict each other cancel, straight edges stay
straight, and a corner that all layers share stays where it is, so that stacks fan out from it. Only
the height of layers that lie on each other is asked, pair by pair, so rings of layers do no harm.
What lies open to the eye resists most, so that fold lines and landmarks stay where they truly are
and hidden layers come out from behind. Edges that come out so near to each other that they would be
read as one thick line are laid together, and all moves settled once more: layers are clear of each
other, or do not show.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence

from ...geometry import polygons
from ...geometry.lines import Point, Segment, dot, subtract, unit
from ...geometry.polygons import Polygon
from ...paper.seams import collinear_overlaps, remainder
from ...paper.state import State
from . import soft_constraints
from .covers import Covers
from .half_edges import HalfEdge
from .least_squares import solve, sums
from .openness import open_corners, open_parts
from .packs import OUTWARD, STILL, ways
from .stacks import Stacks

#: For each edge, the edges that meet it and where.
Meeting = dict[int, list[tuple[int, Segment]]]

#: Weights of the constraints: layers apart, touching edges together, straight edges.
_APART, _TOGETHER, _STRAIGHT = 1.0, 0.5, 2.5
#: An open edge that nothing asks to move does not slant.
_TRUE = 0.6
#: An edge is moved whole rather than askew: hidden, and how much more where it lies open.
_LEVEL, _LEVEL_SEEN = 0.15, 1.5
#: A corner that touches another layer's edge from within stays within.
_WITHIN = 0.8
#: How much a corner wants to stay where it is: hidden; on the piece most open to the eye, where that
#: is pushed aside with a pack, where the corner is hidden, and where it lies open.
_REST, _REST_PUSHED, _REST_SEEN, _REST_OPEN = 0.03, 0.3, 3.0, 8.0
#: Edges that come out at least this far apart (gaps), but too near everywhere, are read as one thick
#: line: they are laid together instead, this firmly; folds that go one round the other, less so, for others
#: go with them; how often that is looked for.
_TOUCH, _LAID, _WRAPPED, _ROUNDS = 0.1, 3.0, 1.5, 4
#: How far beyond an edge is looked for paper under it (sheet units).
_BEYOND = 1e-6


def settled(
    state: State,
    rings: tuple[tuple[int, ...], ...],
    spots: tuple[Polygon, ...],
    half_edges: tuple[HalfEdge, ...],
    edges: list[HalfEdge],
    stacks: Stacks,
    covers: Covers,
    count: int,
    most: float,
    near: float,
) -> tuple[Point, ...]:
    """Least squares solution of the constraints, one move a corner, in gaps. `edges`: those of `stacks`.

    Layers are to lie one gap apart, a stack at most `most`, and none nearer than `near`.
    """
    import numpy

    meeting = _meeting(state, edges)
    parting = ways(state, edges, stacks.pairs)
    offsets, busy = _offsets(state, half_edges, edges, stacks, parting, meeting, most)
    if not offsets:
        return ((0.0, 0.0),) * count
    sides = soft_constraints.Sides(edges)
    seen = open_parts(state, covers)
    part = numpy.array([seen[r.facet] for r in edges])
    true = [k for k in range(len(edges)) if k not in busy and part[k] >= 0.02]
    rows = [
        soft_constraints.apart(sides, _touching(meeting), _TOGETHER),
        soft_constraints.true(sides, true, _TRUE * part[true].clip(0.3)),
        soft_constraints.level(sides, _LEVEL + _LEVEL_SEEN * (6.0 * part).clip(0.0, 1.0)),
        soft_constraints.straight(state, half_edges, _STRAIGHT),
        soft_constraints.within(state, rings, spots, edges, sides, _WITHIN),
    ]
    rest = [_REST] * count
    pushed = _pushed(state, edges, stacks, parting)
    bare = open_corners(spots, covers)
    for i, ring in enumerate(rings):
        hidden = _REST_PUSHED if i in pushed else _REST_SEEN
        for v, is_open in zip(ring, bare[i], strict=True):
            rest[v] = max(rest[v], (_REST_OPEN if is_open else hidden) * seen[i])
    apart = soft_constraints.apart(sides, offsets, _APART)
    numbers: dict[tuple[int, int], int] = {}
    pairs = numpy.array([numbers.setdefault(o[:2], len(numbers)) for o in offsets[::2]])
    shown = soft_constraints.shown(sides, numpy.array([r.facet for r in edges]), offsets, covers)
    others, weights = sums(rows, count), numpy.array(rest)
    moves = solve([apart], weights, others)
    laid = numpy.zeros(len(numbers), dtype=bool)
    for _ in range(_ROUNDS):
        found = soft_constraints.near(apart, pairs, shown, moves, _TOUCH, near)
        if not (found & ~laid).any():
            break
        laid |= found
        firm = laid[pairs].repeat(2)
        moves = solve(
            [soft_constraints.together(apart, firm, near, _LAID, _WRAPPED)], weights, others
        )
    far = numpy.hypot(moves[:, 0], moves[:, 1])
    moves *= (most / far.clip(most))[:, None]
    return tuple((x, y) for x, y in moves.tolist())


def _meeting(state: State, edges: list[HalfEdge]) -> Meeting:
    """For each edge, the edges that come against it from the other side at its own height."""
    out: Meeting = defaultdict(list)
    tagged = [(k, r.segment) for k, r in enumerate(edges)]
    for (i, j), seg in collinear_overlaps(tagged, opposite=True):
        a, b = edges[i].facet, edges[j].facet
        if a == b or state.above(a, b) is not None or _parted(state, a, b):
            continue
        out[i].append((j, seg))
        out[j].append((i, seg))
    return out


def _parted(state: State, a: int, b: int) -> bool:
    """Whether some layer lies between two facets that lie beside each other."""
    return any(
        state.above(a, k) != state.above(b, k) for k in state.neighbours[a] & state.neighbours[b]
    )


def _offsets(
    state: State,
    half_edges: Sequence[HalfEdge],
    edges: list[HalfEdge],
    stacks: Stacks,
    parting: Sequence[float],
    meeting: Meeting,
    most: float,
) -> tuple[list[soft_constraints.Offset], set[int]]:
    """Edges of layers that end in the same place: the upper one a little further in.

    Gives their offsets, and the edges of which something was asked.
    """
    bands = max(2, round(most) + 1)
    hinged = _accordions(state, edges, stacks)
    reaches = _Reaches(state, half_edges)
    busy: set[int] = set()
    out: list[soft_constraints.Offset] = []
    for way, (deep, wide, seg, over) in zip(parting, stacks.pairs, strict=True):
        if way != STILL:
            busy |= {deep, wide}
        if not over:
            step = 0.2
        elif (deep, wide) in hinged:
            continue
        elif _is_stub(reaches.of(edges[deep]), reaches.of(edges[wide])):
            step = 0.0
        else:
            low, high, count = stacks.heights(deep, wide)
            step = _band(high, count, bands) - _band(low, count, bands)
        held = [s for k in (deep, wide) for _, s in meeting.get(k, ())]
        for piece in _left(seg, held) if held else (seg,):
            out += [(deep, wide, p, -way * step) for p in piece]
    return out, busy


def _accordions(state: State, edges: Sequence[HalfEdge], stacks: Stacks) -> set[tuple[int, int]]:
    """Pairs of stacked edges that are not to part, for the paper goes to and fro between them in a zigzag.

    An edge that shares one corner with an edge over it and the other with one under it would have to
    run askew to part from them. Where more paper lies open beyond them, the first and last of such
    edges stay together as well: neither can leave it whole.
    """
    over: dict[tuple[int, int], list[int]] = defaultdict(list)  # by edge and corner
    under: dict[tuple[int, int], list[int]] = defaultdict(list)
    for a, b, _, lies_over in stacks.pairs:
        common = {edges[a].start, edges[a].end} & {edges[b].start, edges[b].end}
        if lies_over and len(common) == 1:
            (v,) = common
            under[a, v].append(b)
            over[b, v].append(a)
    out: set[tuple[int, int]] = set()
    for (k, v), tops in over.items():
        other = edges[k].end if v == edges[k].start else edges[k].start
        for b in under.get((k, other), ()):
            out |= {(k, b), *((a, k) for a in tops)}
            if _over_paper(state, edges[b]):
                out |= {(a, b) for a in tops}
    return out


def _over_paper(state: State, edge: HalfEdge) -> bool:
    """Whether paper under a layer goes on beyond its edge."""
    (px, py), (qx, qy) = edge.segment
    x, y = edge.outward
    beyond = ((px + qx) / 2 + _BEYOND * x, (py + qy) / 2 + _BEYOND * y)
    return any(
        state.above(edge.facet, j) and polygons.inside(state.placed[j], beyond, 0.0)
        for j in state.neighbours[edge.facet]
    )


def _touching(meeting: Meeting) -> list[soft_constraints.Offset]:
    """Edges that meet from opposite sides: neither a gap nor an overlap."""
    return [
        (i, j, p, 0.0) for i, others in meeting.items() for j, seg in others if i < j for p in seg
    ]


def _left(seg: Segment, held: Sequence[Segment]) -> Sequence[Segment]:
    """What is left of a segment beside others along its line."""
    start = seg[0]
    u = unit(subtract(seg[1], start))
    end = dot(subtract(seg[1], start), u)
    near: list[Segment] = []
    for other in held:
        lo, hi = sorted(dot(subtract(p, start), u) for p in other)
        if lo <= 0.0 and hi >= end:
            return ()
        if lo < end and hi > 0.0:
            near.append(other)
    return remainder([seg], near) if near else (seg,)


def _pushed(
    state: State, edges: list[HalfEdge], stacks: Stacks, parting: Sequence[float]
) -> set[int]:
    """Facets of plates that are pushed aside like a pack of cards, and of those that end with them."""
    plate = state.plate_of
    pairs: list[set[int]] = []
    packed: set[int] = set()
    for way, (deep, wide, _, _) in zip(parting, stacks.pairs, strict=True):
        half_edges = (edges[deep], edges[wide])
        pairs.append({plate[f] for r in half_edges for f in (r.facet, r.mate) if f is not None})
        if way == OUTWARD:
            packed |= pairs[-1]
    beside = {k for pair in pairs if pair & packed for k in pair}
    return {i for k in beside for i in state.plates[k]}


class _Reaches:
    """Ends of the straight edges of plates that sides of facets are part of."""

    def __init__(self, state: State, half_edges: Sequence[HalfEdge]) -> None:
        self._plate = state.plate_of
        self._at: tuple[dict[tuple[int, int], list[HalfEdge]], ...] = (
            defaultdict(list),
            defaultdict(list),
        )
        for r in half_edges:
            self._at[0][(self._plate[r.facet], r.end)].append(r)
            self._at[1][(self._plate[r.facet], r.start)].append(r)
        self._known: dict[tuple[int, int], Segment] = {}
        self._most = len(half_edges)

    def of(self, half_edge: HalfEdge) -> Segment:
        """The whole straight edge."""
        key = (half_edge.facet, half_edge.start)
        if key not in self._known:
            self._known[key] = (self._end(half_edge, 0), self._end(half_edge, 1))
        return self._known[key]

    def _end(self, half_edge: HalfEdge, k: int) -> Point:
        plate, u = self._plate[half_edge.facet], half_edge.along
        corner, end = (half_edge.start, half_edge.end)[k], half_edge.segment[k]
        for _ in range(self._most):
            others = self._at[k].get((plate, corner), ())
            on = next((s for s in others if dot(s.along, u) > 1 - 1e-9), None)
            if on is None:
                break
            corner, end = (on.start, on.end)[k], on.segment[k]
        return end


def _is_stub(inner: tuple[Point, Point], outer: tuple[Point, Point]) -> bool:
    """Whether the edge that would stand out ends within the one above it."""
    u = unit(subtract(inner[1], inner[0]))
    return (
        dot(subtract(outer[0], inner[0]), u) > 1e-6 or dot(subtract(inner[1], outer[1]), u) > 1e-6
    )


def _band(rank: int, count: int, bands: int) -> int:
    """Tall stacks are drawn as a few bands, so that their lines never run into one black bar."""
    return rank if count <= bands else round(rank * (bands - 1) / (count - 1))
