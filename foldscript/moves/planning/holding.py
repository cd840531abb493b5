"""What goes along with the paper that the words name, and what holds it there.

In: a flap about to be folded, the words, the paper. A hand that folds a flap takes along what hangs on it
where it is held: at the point or the edge that the words name, or beside it down to the fold line. Where the
named paper is loose and hangs together with other paper only near the fold line, the fold would carry paper
that nobody named: that is refused, with what holds it. Out: a refusal, a remark, or nothing.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from ...geometry.cover import union
from ...geometry.isometries import map_segment
from ...geometry.lines import (
    Point,
    Segment,
    between,
    midpoint,
    overlap_of,
    point_on_segment,
    signed_distance,
)
from ...geometry.tolerance import EPS, FOLDED
from ...languages.wording import Phrase
from ...paper.flap import Flap
from ...paper.state import State
from ...source.diagnostics import Hint, Refusal, add, write
from .alignment import Alignment
from .counting import numbers_instead
from .fold_clauses import FoldClauses
from .request import LineValue, PointValue, Remark, Request

#: The part of the moving area that other paper than the named may add before it counts as more.
_SOME = 0.01
#: The same where that paper is held as the named paper is, down its side, or is so much of the layers that
#: move there: then it is only told.
_MUCH = 0.55
#: Of the depth of the named point, how far a fold line may be off that was meant to pass a fold by.
_BESIDE = 0.1


@dataclass(frozen=True)
class Hold:
    """Where named paper hangs together with other paper that moves.

    `what` is named, `other` the facet it hangs on, `spot` a place of the fold that joins them, `reach` how
    far beyond the fold line that fold goes, `depth` how far beyond it the named point lies (sheet units);
    `extra` is the part of the moving area that the other paper adds, `share` what part of the layers it is
    that move where the named paper lies; `strict` whether little but the named paper may move, wherever it is
    held.
    """

    what: Phrase
    other: int
    spot: Point
    reach: float
    depth: float
    extra: float
    share: float
    strict: bool

    @property
    def is_held(self) -> bool:
        """Whether the fold is not to be made, for it would carry paper that nobody named."""
        return self.loose or (self.strict and self.extra >= _MUCH)

    @property
    def loose(self) -> bool:
        """Whether the named paper is held only nearer to the fold line than where it is named; of layers that
        lie under it alone that is no matter.
        """
        return self.extra >= _SOME and self.reach < self.depth - FOLDED

    @property
    def much(self) -> bool:
        """Whether most of what moves is not named: by its area, or by its layers."""
        return self.extra >= _MUCH or self.share >= _MUCH


def hold(
    state: State,
    clauses: FoldClauses,
    one: Alignment,
    moving: Flap,
    seeds: Iterable[int],
    strict: bool,
) -> Hold | None:
    """How the named paper holds other paper that adds area to what moves, or most of its layers; None when
    nothing does.
    """
    parts = dict(zip(moving.facets, moving.parts, strict=True))
    moved = [
        v
        for v in (*(value for value, _ in clauses.pairs), *clauses.moving)
        if isinstance(v, PointValue | LineValue)
    ]
    points = [v.at for v in moved if isinstance(v, PointValue)]
    sides = [v.segment for v in moved if isinstance(v, LineValue) and v.segment is not None]
    seen = any(isinstance(v, LineValue) or v.seen for v in moved)
    start = {*seeds, *(i for some in one.also for i in some)}
    if seen and not strict:  # what the eye names is all that lies there
        start |= set(one.carriers)
    joints = _joints(state, parts)
    named = _grown(state, parts, start, joints, points, sides)
    links = [
        (seg, a, b)
        for seg, i, j in joints
        for a, b in ((i, j), (j, i))
        if a in named
        and b not in named
        and max(signed_distance(moving.line, p) for p in seg) > FOLDED
    ]
    spots = [*points, *(p for side in sides for p in side)]
    if not links or not spots:
        return None
    reach, seg, other = max(
        (max(signed_distance(moving.line, p) for p in seg), seg, b) for seg, _, b in links
    )
    whole = union(parts.values())
    own = union(parts[i] for i in named)
    extra = 1 - whole.intersection(own).area / whole.area
    layers = {i: own.intersection(union([part])).area for i, part in parts.items()}
    share = 1 - sum(layers[i] for i in named) / sum(layers.values())
    if extra < _SOME and share < _MUCH:
        return None
    depth = max(signed_distance(moving.line, p) for p in spots)
    return Hold(
        moved[0].words,
        other,
        midpoint(*_beyond(seg, moving)),
        reach,
        depth,
        extra,
        share,
        strict,
    )


def _joints(state: State, parts: Mapping[int, object]) -> list[tuple[Segment, int, int]]:
    """Where facets that move hold together."""
    return [
        (map_segment(state.facets[j.a].place, j.segment), j.a, j.b)
        for j in state.joints
        if j.a in parts and j.b in parts
    ]


def _grown(
    state: State,
    parts: Mapping[int, object],
    start: set[int],
    joints: list[tuple[Segment, int, int]],
    points: list[Point],
    sides: list[Segment],
) -> set[int]:
    """The named paper: the flat pieces that carry it, and those that hang on them right there."""
    named = {k for i in start for k in state.plate(i)} & set(parts)
    there = [
        (a, b)
        for seg, a, b in joints
        if any(point_on_segment(seg, p, FOLDED) for p in points)
        or any(overlap_of(seg, side) is not None for side in sides)
    ]
    while True:
        more = {
            k
            for pair in there
            if (pair[0] in named) != (pair[1] in named)
            for i in pair
            for k in state.plate(i)
        } & set(parts)
        if more <= named:
            return named
        named |= more


def _beyond(seg: Segment, moving: Flap) -> Segment:
    """The part of a segment that lies on the moving side."""
    p, q = sorted(seg, key=lambda at: signed_distance(moving.line, at))
    a, b = signed_distance(moving.line, p), signed_distance(moving.line, q)
    return (between(p, q, -a / (b - a)), q) if a < -EPS < EPS < b else (p, q)


def refuse_held(request: Request, found: Hold | None, numbers: Sequence[int]) -> None:
    """Refuses where the named paper is held, with what holds it and where.

    Each of the `numbers` of layers can move.
    """
    if found is None or not found.is_held:
        return
    mm = math.ceil(found.reach * request.unit_mm * 10 - FOLDED) / 10
    length = f"{mm:.1f} mm" if mm < 10 else f"{math.ceil(mm)} mm"
    nearer = f"put the fold line {length} nearer to {found.what.render()}, so that it passes that fold by"
    raise Refusal(
        "held",
        f"the flap with {found.what.render()} cannot move alone: it is held to "
        f"{request.describe(found.other)} by the fold {request.locate(found.spot)}, which reaches "
        f"{length} beyond the fold line",
        *((nearer,) if found.loose and found.reach <= _BESIDE * found.depth else ()),
        *numbers_instead(request, numbers),
        _all_along(request, "or "),
        "or unfold what holds it first",
        span=request.span,
    )


def _all_along(request: Request, so: str = "") -> Hint:
    counted = request.clause("layers")
    said = f"{so}say 'all layers' if all that lies there is to go along"
    return (
        write(counted.span, "all layers", said)
        if counted
        else add(request.span, "all layers", said)
    )


def remarks(request: Request, found: Hold | None) -> tuple[Remark, ...]:
    """Tells that much more moves than was named."""
    if found is None or not found.much:
        return ()
    return (
        Remark(
            "more-moves",
            f"with {found.what.render()} moves much other paper: it hangs together with "
            f"{request.describe(found.other)} at the fold {request.locate(found.spot)}",
            (_all_along(request),),
        ),
    )
