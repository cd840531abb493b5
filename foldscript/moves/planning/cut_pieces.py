"""Which piece goes when a cut parts the paper, and which stays.

In: a `Request`, the paper after the scissors and where they ran on the sheet. Out: the facets that go, and
words for the caption; () and nothing while the paper still hangs together. What goes is said with
`discarding`, or what stays with `keeping`; where neither is said, nothing is chosen in silence.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from ...geometry import polygons
from ...geometry.cover import less, union
from ...geometry.isometries import inverse, map_segment
from ...geometry.lines import (
    Point,
    Segment,
    between,
    distance,
    line_through,
    overlap_of,
    signed_distance,
)
from ...geometry.tolerance import EPS, same_point
from ...languages.wording import Phrase
from ...paper.components import component
from ...paper.silhouette import corners_toward
from ...paper.state import State
from ...source.diagnostics import Hint, Refusal, add, write
from .fold_clauses import layer_count, mover
from .request import Clause, LineValue, PointValue, Request

#: The words that say which piece is meant: it goes, or it stays.
GOES, STAYS = "discarding", "keeping"
_TOWARD = ("top", "bottom", "left", "right", "top left", "top right", "bottom left", "bottom right")
#: Ways to say it that a message shows.
_MOST = 3


@dataclass(frozen=True)
class Pieces:
    """What hangs together after a cut.

    pieces : facets, a set for each piece; sides : for each, the sides of the cut on which its paper lies
    along it, 1 left of it and -1 right, as the scissors run
    """

    state: State
    pieces: tuple[frozenset[int], ...]
    sides: tuple[frozenset[int], ...]

    def holding(self, places: Iterable[Point]) -> set[int]:
        """Indices of the pieces that carry one of some places on the sheet."""
        here = {k for place in places for k in self.state.facets_on_sheet(place)}
        return {k for k, piece in enumerate(self.pieces) if not piece.isdisjoint(here)}

    def with_their_like(self, some: set[int]) -> set[int]:
        """Pieces, and all others that lie along the cut on the same side of it alone."""
        apart = {self.sides[k] for k in some if len(self.sides[k]) == 1}
        more = some | {k for k, side in enumerate(self.sides) if side in apart}
        return more if len(more) < len(self.pieces) else some


def pieces_of(state: State, cuts: Sequence[Segment]) -> Pieces:
    """What hangs together after the paper has been cut along segments of the sheet."""
    left = set(range(len(state.facets)))
    found: list[frozenset[int]] = []
    while left:
        piece = component(state, [min(left)], [])
        found.append(piece)
        left -= piece
    sides = tuple(frozenset(_sides(state, piece, cuts)) for piece in found)
    return Pieces(state, tuple(found), sides)


def in_sight(state: State, gone: Iterable[int]) -> tuple[tuple[Point, ...], ...]:
    """Rings in folded coordinates of what is seen from the front of the facets that go."""
    import shapely

    found: list[tuple[Point, ...]] = []
    for i in sorted(gone):
        over = [state.placed[k] for k in state.neighbours[i] if state.above(k, i)]
        left = shapely.Polygon(state.placed[i])
        left = less(left, union(over)) if over else left
        for part in shapely.get_parts(left):
            if shapely.area(part) > EPS:
                ring = shapely.get_coordinates(shapely.get_exterior_ring(part))[:-1].tolist()
                found.append(tuple((x, y) for x, y in ring))
    return tuple(found)


def _sides(state: State, piece: frozenset[int], cuts: Sequence[Segment]) -> Iterator[int]:
    for i in piece:
        facet = state.facets[i]
        for cut in cuts:
            runs = (overlap_of(cut, side) for side in polygons.edges(facet.outline))
            if any(part is not None and distance(*part) > EPS for part in runs):
                line = line_through(*map_segment(facet.place, cut))
                yield 1 if signed_distance(line, polygons.centroid(state.placed[i])) > 0 else -1


def _amid(request: Request, ends: Sequence[PointValue]) -> tuple[str, ...]:
    """Ends of a cut that lie inside a layer, and on no edge."""
    placed = request.state.placed
    inner = [p for p in ends if any(polygons.inside(placed[i], p.at, -EPS) for i in p.facets)]
    return tuple(
        f"{p.words.render()} lies amid the paper: let the cut run on from there to an edge"
        for p in inner
    )


def _more_layers(request: Request) -> tuple[Hint, ...]:
    """For a cut that leaves layers whole: through all of them."""
    clause = request.clause("layers")
    if clause is None or layer_count(request, clause) == 0:
        return ()
    return (
        write(clause.span, "all layers", "say 'all layers': the paper below hangs together still"),
    )


def _beside_the_paper(request: Request) -> tuple[str, ...]:
    """For a cut along a line that all paper lies on one side of: it runs along an edge."""
    lines = [v for c in request.clauses for v in c.values if isinstance(v, LineValue)]
    for value in lines[:1]:
        sides = [signed_distance(value.line, p) for ring in request.state.placed for p in ring]
        if min(sides) > -EPS or max(sides) < EPS:
            return (
                f"{value.words.render()} runs along an edge of the figure: name a line across the paper",
            )
    return ()


def discarded(
    request: Request, parted: Pieces, ends: Sequence[PointValue]
) -> tuple[frozenset[int], Phrase]:
    """The facets that go, and the words for the piece that the statement names; none while all is one.

    `ends` are the points between which the cut runs.

    Raises Refusal where nothing says which piece goes, or where the rest would not be one piece.
    """
    named = [c for c in request.clauses if c.word in (GOES, STAYS)]
    if len(parted.pieces) == 1:
        if named:
            raise Refusal(
                "cuts-nothing-off",
                "this cuts nothing off: the paper still hangs together beside the cut",
                *_amid(request, ends),
                *_beside_the_paper(request),
                *_more_layers(request),
                "let the cut run from edge to edge, through all layers, or all round",
                f"or leave out '{named[0].word}': then it is a slit",
                span=named[0].span,
            )
        return frozenset(), Phrase("")
    if not named:
        raise _which(request, parted, ends)
    if len(named) > 1 or len(named[0].values) != 1:
        raise Refusal(
            "cuts-off",
            f"say one point of the piece that goes after '{GOES}', or one of what stays after '{STAYS}'",
            span=named[-1].span,
        )
    point = mover(request, named[0].values[0])
    places = list(_uppermost(request.state, point))
    some = parted.holding(places)
    if len(some) != 1:
        raise _on_the_cut(point, places, named[0])
    gone = _gone(parted, some, named[0].word)
    left = len(parted.pieces) - len(gone)
    if left != 1:
        raise Refusal(
            "rest-apart",
            f"what stays would be {left} pieces of paper"
            if left
            else "nothing of the paper would stay",
            "cut so that one piece stays, or name another piece",
            span=named[0].span,
        )
    return frozenset(i for k in gone for i in parted.pieces[k]), point.words


def _uppermost(state: State, point: PointValue) -> Iterator[Point]:
    """The place on the sheet that a point stands for; of flaps side by side, that on each of them."""
    for i in point.facets:
        if not any(state.above(j, i) for j in point.facets if j != i):
            yield inverse(state.facets[i].place)(point.at)


def _gone(parted: Pieces, some: set[int], word: str) -> set[int]:
    return parted.with_their_like(some) if word == GOES else set(range(len(parted.pieces))) - some


def _on_the_cut(point: PointValue, places: Sequence[Point], clause: Clause) -> Refusal:
    where = "on the cut itself" if places else "beside the paper"
    if any(not same_point(place, places[0]) for place in places):
        where = "on several flaps side by side"
    return Refusal(
        "cuts-off",
        f"{point.words.render()} lies {where}, and tells no piece from another",
        "name a point amid the piece that is meant, or on an edge of it",
        span=clause.span,
    )


def _which(request: Request, parted: Pieces, ends: Sequence[PointValue]) -> Refusal:
    """Asks which piece goes, and says how each can be named."""
    ways: dict[frozenset[int], Hint] = {}
    nameable = list(_nameable(request, parted, ends))
    for word in (GOES, STAYS):
        for words, some in nameable:
            gone = frozenset(_gone(parted, some, word))
            if len(gone) == len(parted.pieces) - 1:
                ways.setdefault(gone, add(request.span, f"{word} {words}"))
    return Refusal(
        "cuts-off",
        "this cuts a piece off: say which piece goes, or which stays",
        *(
            list(ways.values())[:_MOST]
            or (f"mark a point on what stays first, say X, and add '{STAYS} X'",)
        ),
        "or end the cut before it meets an edge or another cut, or cut fewer layers",
        span=request.span,
    )


def _nameable(
    request: Request, parted: Pieces, ends: Sequence[PointValue]
) -> Iterator[tuple[str, set[int]]]:
    """Words for points that lie on one piece alone: names first, then what the eye sees."""
    state = parted.state
    for name, at in request.points.items():
        here = parted.holding([at])
        if len(here) == 1:
            yield name, here
    for words in _TOWARD:
        corners = corners_toward(state, tuple(words.split()))
        if len(corners) == 1:
            top = state.facets_at(corners[0])[:1]
            here = {k for k, piece in enumerate(parted.pieces) if not piece.isdisjoint(top)}
            if len(here) == 1:
                yield f"{words} corner", here
    if len(ends) > 1 and ends[0].letter and ends[-1].letter:
        middle = between(ends[0].at, ends[-1].at, 0.5)
        top = state.facets_at(middle)[:1]
        here = {k for k, piece in enumerate(parted.pieces) if not piece.isdisjoint(top)}
        if len(here) == 1:
            yield f"midpoint of line {ends[0].letter} {ends[-1].letter}", here
