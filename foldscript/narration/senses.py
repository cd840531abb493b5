"""Which layers fold as a valley and which as a mountain, along one line of a move.

In: a `MoveRecord` and a segment of the paper before it. Out: runs of layers from the top down, each with its
sense as seen from above: a fold through both halves of a flap is a mountain in the one and a valley in
the other, and hands have to know which.
"""

from __future__ import annotations

from itertools import groupby

from ..folding.steps import MoveRecord
from ..geometry import polygons
from ..geometry.isometries import map_segment
from ..geometry.lines import Point, Segment, between, midpoint, point_on_segment
from ..languages.wording import Phrase, listed, phrase, plural
from ..paper.signs import Sense
from ..paper.state import State
from .narration import count
from .outline import CLOSE

#: Where along a segment the layers are counted.
_SPOTS = (0.13, 0.31, 0.52, 0.71, 0.88)


def layer_senses(record: MoveRecord, segment: Segment) -> tuple[tuple[Sense, int], ...]:
    """(sense, number of layers) from the top down, where most layers fold; () where none is new."""
    best: tuple[Sense, ...] = ()
    folds = _new_folds(record)
    for t in _SPOTS:
        spot = between(*segment, t)
        here = {
            facet: sense
            for facet, seg, sense in folds
            if point_on_segment(seg, spot, CLOSE) and _along(seg, segment)
        }
        if len(here) > len(best):
            best = tuple(here[i] for i in record.before.top_down(here))
    return tuple((sense, len(list(run))) for sense, run in groupby(best))


def _along(one: Segment, two: Segment) -> bool:
    """Whether a segment runs along a line and does not only cross it."""
    (ax, ay), (bx, by) = one
    (cx, cy), (dx, dy) = two
    u, v = (bx - ax, by - ay), (dx - cx, dy - cy)
    return abs(u[0] * v[1] - u[1] * v[0]) < 1e-5 * max(abs(v[0]), abs(v[1]))


def _new_folds(record: MoveRecord) -> list[tuple[int, Segment, Sense]]:
    """(facet of the paper before, where the fold runs on it, its sense) of every new fold."""
    before, after = record.before, record.after
    out: list[tuple[int, Segment, Sense]] = []
    for joint in after.joints:
        if not joint.folded:
            continue
        facet = _holder(before, midpoint(*joint.segment))
        if facet is None:
            continue
        upper = joint.a if after.above(joint.a, joint.b) else joint.b
        touching_front = not after.facets[upper].shows_front
        valley = touching_front == before.facets[facet].shows_front
        placed = map_segment(before.facets[facet].place, joint.segment)
        out.append((facet, placed, Sense.VALLEY if valley else Sense.MOUNTAIN))
    return out


def _holder(before: State, p: Point) -> int | None:
    """The facet that a point of the sheet lies in; None on a fold or crease between two."""
    return next(
        (
            i
            for i, f in enumerate(before.facets)
            if polygons.strictly_inside(f.outline, p) and polygons.depth(f.outline, p) > CLOSE
        ),
        None,
    )


def senses_phrase(runs: tuple[tuple[Sense, int], ...]) -> Phrase:
    """'4 layers as a mountain fold and 4 layers as a valley fold', from the top down."""
    return listed([_run(sense, n) for sense, n in runs])


def _run(sense: Sense, n: int) -> Phrase:
    if sense is Sense.VALLEY:
        return plural("one layer as a valley fold", "{n} layers as a valley fold", n, count(n))
    return plural("one layer as a mountain fold", "{n} layers as a mountain fold", n, count(n))


def halves(runs: tuple[tuple[Sense, int], ...]) -> Phrase | None:
    """How a flap that is folded both ways parts into two; None for any other fold."""
    if len(runs) != 2:
        return None
    return phrase(
        "The flap has {n} layers there, {upper} on top and {lower} underneath: open it between these.",
        n=count(runs[0][1] + runs[1][1]),
        upper=count(runs[0][1]),
        lower=count(runs[1][1]),
    )
