"""Cuts that pass a corner, an edge or a fold nearer than a hand can cut.

In: a `Request`, and the stretches that are cut, each with its facet. Out: nothing, or the refusal: left as it
is, such a cut would part strips that no later fold could go through.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from ...geometry.isometries import map_segment
from ...geometry.lines import Point, Segment, segment_distance
from ...geometry.polygons import clip_segment, edges
from ...geometry.tolerance import FOLDED, nearest
from ...paper.state import State
from ...source.diagnostics import Hint, Refusal, write
from .request import Clause, PointValue, Request


def refuse_near_cut(request: Request, parts: Iterable[tuple[int, Segment]]) -> None:
    """Raises Refusal 'too-near' where a stretch passes a corner of its facet, or ends beside a side of it."""
    limit = nearest(request.unit_mm)
    missed = [
        (round(away, 9), spot)
        for facet, stretch in parts
        for away, spot in _beside(stretch, _sides(request.state, facet))
        if FOLDED < away < limit
    ]
    if not missed:
        return
    away, spot = min(missed)
    raise Refusal(
        "too-near",
        f"the cut passes {away * request.unit_mm:.2g} mm beside an edge or a fold "
        f"{request.locate(spot)}, and no hand cuts so near",
        *_through(request, spot),
        "let it run through that place, or along the fold: mark it there",
        f"or keep it {limit * request.unit_mm:.2g} mm away at least",
        span=request.span,
    )


def _sides(state: State, facet: int) -> list[Segment]:
    """The sides of a facet, and the creases on it, as they lie."""
    outline, place = state.facets[facet].outline, state.facets[facet].place
    creased = (clip_segment(outline, crease) for crease in state.creases)
    return [*edges(state.placed[facet]), *(map_segment(place, seg) for seg in creased if seg)]


def _beside(stretch: Segment, sides: Sequence[Segment]) -> Iterator[tuple[float, Point]]:
    """How far a stretch passes the ends of some sides, and its own ends the sides, each with the place."""
    for side in sides:
        for end in side:
            yield segment_distance(stretch, end), end
        for end in stretch:
            yield segment_distance(side, end), end


def _through(request: Request, spot: Point) -> Iterator[Hint]:
    """The point of the cut that lies so near to a place with a name: that instead."""
    words = request.words_at(spot)
    said = (c for c in request.clauses if c.word in ("", "from", "to"))
    for value in _points(tuple(said)):
        if words and segment_distance((value.at, value.at), spot) < nearest(request.unit_mm):
            yield write(value.span, words, f"say '{words}' in the place of {value.words.render()}")


def _points(clauses: Sequence[Clause]) -> Iterator[PointValue]:
    yield from (v for c in clauses for v in c.values if isinstance(v, PointValue))
