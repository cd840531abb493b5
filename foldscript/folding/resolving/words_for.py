"""Words of the language for a place or an edge as it lies: geometry in, words out that stand for just that.

A message that lists what may be meant lists it in words that the script can use.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from ...geometry import lines as geo
from ...geometry import polygons
from ...geometry.isometries import map_segment
from ...geometry.lines import Point, Segment
from ...geometry.tolerance import same, same_point
from ...paper import silhouette
from ...paper.state import State
from ...source.diagnostics import Hint, Span, write
from ...syntax.whole_lines import AGAINST
from .names import Names, locate
from .spans import SIDE_WORDS, by_line, ends_by_side, hull

#: Ways in which the eye names a corner or an edge, the shortest first.
_WAYS: tuple[tuple[str, ...], ...] = (
    ("top",),
    ("bottom",),
    ("left",),
    ("right",),
    *((height, side) for height in ("top", "bottom") for side in ("left", "right")),
)


class Told(NamedTuple):
    """Things that may be meant: the list of them for a message, and what to write for each."""

    shown: str
    hints: tuple[Hint, ...]


def point_words(state: State, names: Names, spot: Point) -> str:
    """'bottom left corner', 'right end of the top edge', 'A': words for a folded point; '' for none."""
    for toward in _WAYS:
        found = silhouette.corners_toward(state, toward)
        if len(found) == 1 and same_point(found[0], spot):
            return f"{' '.join(toward)} corner"
    return _end_words(state, spot) or next(_named_at(state, names, spot), "")


def _corner_words(state: State, toward: tuple[str, ...], spot: Point) -> str:
    """'bottom right corner' for one of two right corners; '' where these words are not of it alone."""
    for words in _WAYS:
        if len(words) > 1 and set(toward) < set(words):
            found = silhouette.corners_toward(state, words)
            if len(found) == 1 and same_point(found[0], spot):
                return f"{' '.join(words)} corner"
    return ""


def _end_words(state: State, spot: Point) -> str:
    """'right end of the top edge', 'lower end of the left edge': an end of an edge that the eye names."""
    for toward in _WAYS:
        found = silhouette.edges_toward(state, toward)
        ends = ends_by_side(found[0]) if len(found) == 1 else {}
        for side, end in ends.items():
            if same_point(end, spot):
                return f"{SIDE_WORDS[side]} end of the {' '.join(toward)} edge"
    return ""


def edge_words(state: State, names: Names, edge: Segment) -> str:
    """'left edge', 'line A M': words for an edge of the figure; '' where there are none."""
    for toward in _WAYS:
        found = silhouette.edges_toward(state, toward)
        if len(found) == 1 and _same_line(found[0], edge):
            return f"{' '.join(toward)} edge"
    ends = [next(_named_at(state, names, end), "") for end in edge]
    return f"line {ends[0]} {ends[1]}" if all(ends) else ""


def lines_ending_at(state: State, names: Names, spot: Point) -> Iterator[str]:
    """'first-fold', 'top edge': named creases and edges of the figure with an end there."""
    for name, segments in names.creases.items():
        placed = [
            map_segment(facet.place, piece)
            for facet in state.facets
            for segment in segments
            if (piece := polygons.clip_segment(facet.outline, segment)) is not None
        ]
        along = hull(placed) if len(by_line([(0, seg) for seg in placed])) == 1 else None
        if along is not None and any(same_point(end, spot) for end in along):
            yield name
    for toward in _WAYS:
        found = silhouette.edges_toward(state, toward)
        if len(found) == 1 and any(same_point(end, spot) for end in found[0]):
            yield f"{' '.join(toward)} edge"


def tell_points(state: State, names: Names, spots: Sequence[Point], span: Span) -> Told:
    """Several places that may be meant."""
    words = [point_words(state, names, spot) for spot in spots]
    return _told(state, names, words, list(spots), span)


def tell_corners(
    state: State, names: Names, toward: tuple[str, ...], spots: Sequence[Point], span: Span
) -> Told:
    """Several corners that are equally far one way. Where an edge lies there, its middle is offered first."""
    words = [
        _corner_words(state, toward, spot) or point_words(state, names, spot) for spot in spots
    ]
    told = _told(state, names, words, list(spots), span)
    found = silhouette.edges_toward(state, toward)
    if len(toward) != 1 or len(spots) != 2 or len(found) != 1:
        return told
    if not all(any(same_point(end, spot) for end in found[0]) for spot in spots):
        return told
    edge = f"the {' '.join(toward)} edge"
    middle = f"midpoint of {edge}"
    first = write(span, middle, f"there lies {edge}: for its middle, say '{middle}'")
    rest = [
        h if h.text.startswith("or ") else Hint(f"or {h.text}", edit=h.edit) for h in told.hints
    ]
    (way,) = toward
    opposite = (AGAINST[way],)
    if len(silhouette.corners_toward(state, opposite)) == 1:
        tip = f"{opposite[0]} corner"
        rest.insert(0, write(span, tip, f"or, if the tip at the other end is meant, say '{tip}'"))
    return Told(told.shown, (first, *rest))


def tell_edges(state: State, names: Names, edges: Sequence[Segment], span: Span) -> Told:
    """Several edges that face one way equally."""
    words = [edge_words(state, names, edge) for edge in edges]
    return _told(state, names, words, [geo.midpoint(*edge) for edge in edges], span)


def folds_facing(
    state: State, names: Names, toward: tuple[str, ...], span: Span
) -> tuple[Hint, ...]:
    """What to say for the folded edge in sight that runs across a direction, where no one edge does."""
    n = silhouette.direction(toward)
    seen = {
        i
        for i in range(len(state.facets))
        if state.facets_at(polygons.centroid(state.placed[i]))[0] == i
    }
    across = [
        (joint, seg)
        for joint, seg in state.fold_segments
        if {joint.a, joint.b} & seen and same(geo.dot(geo.subtract(seg[1], seg[0]), n), 0.0)
    ]
    if not across:
        return ()
    joint, fold = max(
        across, key=lambda one: (round(geo.dot(one[1][0], n), 9), geo.distance(*one[1]))
    )
    name = names.of_crease([joint.segment])
    way = "level" if abs(n[1]) > abs(n[0]) else "upright"
    if name:
        return (write(span, name, f"say '{name}' for the {way} fold there"),)
    ends = [point_words(state, names, end) for end in fold]
    if all(ends):
        words = f"line {ends[0]} {ends[1]}"
        return (write(span, words, f"say '{words}' for the {way} fold there"),)
    place = locate(state, names, geo.midpoint(*fold))
    return (
        Hint(
            f"for the {way} fold there, {place}: name it where it is made, as in 'valley A to C as k', "
            "and say that name"
        ),
    )


def _told(state: State, names: Names, words: list[str], spots: list[Point], span: Span) -> Told:
    rows = sorted(zip(spots, words, strict=True))
    places = [locate(state, names, at) for at, _ in rows]
    apart = len(set(places)) == len(places)
    shown = [
        (f"'{said}' ({place})" if apart else f"'{said}'") if said else f"one {place}"
        for (_, said), place in zip(rows, places, strict=True)
    ]
    hints = [write(span, said) for _, said in rows if said]
    hints[1:] = [Hint(f"or {hint.text}", edit=hint.edit) for hint in hints[1:]]
    if not all(words):
        hints.append(Hint("or mark points where you mean, and say their names"))
    return Told(" and ".join(shown), tuple(hints))


def _named_at(state: State, names: Names, spot: Point) -> Iterator[str]:
    """Names that the script has for a folded point."""
    return (name for name, at in names.points.items() if same_point(state.where(at), spot))


def _same_line(one: Segment, other: Segment) -> bool:
    return same_point(geo.midpoint(*one), geo.midpoint(*other))
