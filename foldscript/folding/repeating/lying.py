"""Whether what a repetition has moved lies between the same layers as the original came to lie.

In: the original move with the paper after it, and the paper after its repetition. Out: a place on the sheet
where two layers lie the other way round; None where all lie alike, as far as the same layers are there. Only
what came to lie between layers is looked at: what lies on top or undermost went there by its sense.
"""

from __future__ import annotations

from collections.abc import Sequence

from ...geometry.isometries import Isometry, compose, inverse, nearly_same
from ...geometry.lines import Point
from ...geometry.polygons import centroid, intersection
from ...moves.planning.request import MoveRecord
from ...paper.state import State
from .traces import Piece


def other_way_round(
    record: MoveRecord, now: State, sheet: Isometry, motion: Isometry, moved: Sequence[Piece]
) -> Point | None:
    """The first place of a moved piece whose image lies over what the original lies under, or under it."""
    then = record.after
    pieces = {i for piece in moved for i in then.facets_on_sheet(centroid(piece.outline))}
    for i in sorted(pieces):
        others = sorted(then.neighbours[i] - pieces)
        if len({then.above(i, k) for k in others}) < 2:
            continue
        for k in others:
            spot = centroid(intersection(then.placed[i], then.placed[k]))
            p, q = (sheet(inverse(then.facets[n].place)(spot)) for n in (i, k))
            here, there = now.facets_on_sheet(p), now.facets_on_sheet(q)
            if len(here) != 1 or len(there) != 1:
                continue  # on a fold
            wanted = compose(motion, then.facets[k].place)
            if not nearly_same(compose(now.facets[there[0]].place, sheet), wanted):
                continue  # it has moved otherwise since
            above = now.above(here[0], there[0])
            if above is not None and above != then.above(i, k):
                return p
    return None
