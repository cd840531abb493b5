"""How much of an edge moves that is folded onto a line: all of it, or the part of a flap that is shorter.

In: a fold that was made. Out: where its arrow begins; a remark where less of the edge moves than was said.
"""

from __future__ import annotations

from ...geometry import polygons
from ...geometry.lines import Point, Segment, distance, midpoint, signed_distance
from ...geometry.tolerance import EPS
from .one_side import SingleFold
from .request import Remark, Request

#: The share of an edge that has to move for nobody to wonder.
_NEARLY_ALL = 0.9


def moved_part(fold: SingleFold) -> Segment | None:
    """The stretch of the edge that was said which moves; None where none was said, or none moves."""
    edge = fold.alignment.edge
    if edge is None:
        return None
    pieces = (polygons.clip_segment(part, edge) for part in fold.flap.parts)
    ends = [end for piece in pieces if piece is not None for end in piece]
    if not ends:
        return None
    first = min(ends, key=lambda p: distance(edge[0], p))
    last = max(ends, key=lambda p: distance(edge[0], p))
    return (first, last) if distance(first, last) > EPS else None


def tail_of(fold: SingleFold) -> Point | None:
    """The end of the moved part that travels farthest, where that of the edge stays; its middle if level."""
    part, tail = moved_part(fold), fold.alignment.tail
    if part is None or tail is None or any(polygons.inside(p, tail, EPS) for p in fold.flap.parts):
        return None
    near, far = sorted(part, key=lambda p: abs(signed_distance(fold.flap.line, p)))
    away = [abs(signed_distance(fold.flap.line, p)) for p in (near, far)]
    return midpoint(near, far) if away[1] - away[0] <= EPS else far


def less_moves(request: Request, fold: SingleFold) -> tuple[Remark, ...]:
    """Tells that of an edge that was said only the part of a shorter flap moves."""
    edge, part = fold.alignment.edge, moved_part(fold)
    if edge is None or part is None or tail_of(fold) is None or request.clause("layers"):
        return ()
    said, moves = (distance(*one) * request.unit_mm for one in (edge, part))
    if moves > _NEARLY_ALL * said:
        return ()
    what = fold.alignment.what.render() if fold.alignment.what else "the edge"
    return (
        Remark(
            "less-moves",
            f"of {what} only {moves:.0f} mm of {said:.0f} move: the rest of it lies on other layers, "
            "which stay",
            ("to fold all that lies there, add 'all layers'",),
        ),
    )
