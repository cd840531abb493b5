"""Cut: through one layer, some, or all of them, along a line or from point to point.

In: a `Request` with a line, or two points or more, and how many layers. Out: the paper as it lies, with the
cut; what held together along it does so no longer. Where the paper parts, one piece of it stays and the
rest goes, as the statement says.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

from ..geometry import polygons
from ..geometry.isometries import inverse, map_segment
from ..geometry.lines import (
    Point,
    Segment,
    between,
    distance,
    line_through,
    midpoint,
    on_line,
    overlap_of,
    point_on_segment,
)
from ..geometry.tolerance import EPS
from ..languages.wording import Phrase, Template, phrase
from ..paper.parting import cut_off
from ..paper.refold import Divided, divided, refold, undivided
from ..paper.seams import remainder
from ..paper.signs import CutLine, Discarded, Sign
from ..paper.state import State
from ..source.diagnostics import Refusal, add
from .planning.at_points import landmark
from .planning.claims import CutOff, NothingMoves
from .planning.cut_near import refuse_near_cut
from .planning.cut_pieces import GOES, STAYS, discarded, in_sight, pieces_of
from .planning.fingers import Several
from .planning.fold_clauses import as_line, as_point, layer_count
from .planning.request import LineValue, Move, Outcome, PointValue, Remark, Request

FORMS = (
    "cut from P to Q, 1 layer",
    "cut along k, all layers",
    "cut from P to Q, all layers, discarding A",
    "cut from P to Q to R, all layers, keeping O",
    "cut along line M N from M to P, all layers",
)
CAUTION = Phrase("Scissors: an adult helps young children; keep to the rules of the place.")
SLIT: Template = "Cut {where}{layers}. {caution}"
OFF: Template = "Cut {where}{layers}. The piece with {piece} is not needed. {caution}"
KEPT: Template = (
    "Cut {where}{layers}. Keep the piece with {piece}; the rest is not needed. {caution}"
)

#: Where one layer is cut: its rank from the top, the facet, the segment in folded coordinates.
Slit = tuple[int, int, Segment]


@dataclass(frozen=True)
class _Way:
    """The way of the scissors: stretches in folded coordinates, the points between them, words, letters."""

    stretches: tuple[Segment, ...]
    points: tuple[PointValue, ...]
    words: Phrase
    letters: tuple[tuple[str, Point], ...]


def make(request: Request) -> Outcome:
    """Cuts the layers along the way; where the paper parts, a piece goes."""
    request.allow("", "along", "from", "to", "layers", GOES, STAYS)
    way = _way(request)
    state = request.state
    if state.sheet.others:
        raise Refusal(
            "cut-before",
            "units that are put together are not cut any more",
            "cut the unit where it is folded, before 'assemble'",
            span=request.span,
        )
    slits = [slit for stretch in way.stretches for slit in _slits(state, stretch)]
    if not slits:
        raise Refusal(
            "nothing-to-cut",
            "there is no paper to cut along that line: it runs along edges, along a cut that is there, or "
            "beside the paper",
            "name a line that crosses the paper",
            span=request.span,
        )
    deepest = max(rank for rank, _, _ in slits) + 1
    count, how_many = _count(request, deepest)
    parts = tuple((facet, seg) for rank, facet, seg in slits if rank < count)
    refuse_near_cut(request, parts)
    cuts = [map_segment(inverse(state.facets[i].place), seg) for i, seg in parts]
    after = refold(_divided_along(state, parts).state, {}, {}, cuts=cuts)
    gone, piece = discarded(request, pieces_of(after, cuts), way.points)
    lost = tuple(polygons.centroid(after.facets[i].outline) for i in sorted(gone))
    kept = tuple(polygons.centroid(f.outline) for i, f in enumerate(after.facets) if i not in gone)
    off = (Discarded(in_sight(after, gone)),) if gone else ()
    signs: tuple[Sign, ...] = (CutLine(parts), *off, *(landmark(p.at) for p in way.points))
    words = _sentence(request, bool(gone))
    return Outcome(
        cut_off(after, gone) if gone else after,
        signs,
        phrase(words, where=way.words, layers=how_many, piece=piece, caution=CAUTION)
        if gone
        else phrase(words, where=way.words, layers=how_many, caution=CAUTION),
        letters=way.letters,
        caution=CAUTION,
        claims=(NothingMoves(), CutOff(lost, kept)),
        remarks=_falls_short(request, way.stretches, [seg for _, seg in parts]),
    )


def _sentence(request: Request, parts: bool) -> Template:
    if not parts:
        return SLIT
    return KEPT if request.clause(STAYS) is not None else OFF


def _divided_along(state: State, parts: Sequence[tuple[int, Segment]]) -> Divided:
    """The paper with the layers under the scissors divided where these run."""
    fine = undivided(state)
    for facet, segment in parts:
        members = [
            k
            for k, parent in enumerate(fine.parent)
            if parent == facet and polygons.clip_segment(fine.state.placed[k], segment)
        ]
        fine = divided(fine, line_through(*segment), members)
    return fine


def _falls_short(
    request: Request, way: Sequence[Segment], cut: Sequence[Segment]
) -> tuple[Remark, ...]:
    """A remark where the scissors meet no paper on a part of their way."""
    missed = sum(distance(*left) for left in remainder(way, cut)) * request.unit_mm
    if missed <= EPS * request.unit_mm:
        return ()
    whole = sum(distance(*stretch) for stretch in way) * request.unit_mm
    return (
        Remark(
            "cuts-less",
            f"only {whole - missed:.0f} mm of these {whole:.0f} mm cut paper: the rest runs along edges, "
            "along a cut that is there, or beside the paper",
            ("name the ends of the part that is to be cut",),
        ),
    )


def _count(request: Request, deepest: int) -> tuple[int, Phrase]:
    """How many layers are cut, and how to say it."""
    clause = request.clause("layers")
    if clause is None:
        if deepest > 1:
            raise Refusal(
                "which-layers",
                f"up to {deepest} layers lie there, and a cut cannot be undone: say how many are cut",
                add(request.span, "all layers", "add 'all layers'"),
                add(
                    request.span, "1 layer", "or add '1 layer' for the front one, or another number"
                ),
                span=request.span,
            )
        return 1, Phrase("")
    count = layer_count(request, clause)
    if count > deepest:
        raise Refusal(
            "not-so-many-layers",
            f"there {'is' if deepest == 1 else 'are'} only {deepest} "
            f"layer{'' if deepest == 1 else 's'} there",
            "say 'all layers', or a smaller number",
            span=clause.span,
        )
    if count == 0:
        return deepest, Phrase(", through all layers") if deepest > 1 else Phrase("")
    if count == 1:
        return 1, Phrase(", only the layer in front") if deepest > 1 else Phrase("")
    return count, phrase(", through the {n} layers in front", n=str(count))


def _way(request: Request) -> _Way:
    """From where to where the scissors run, by way of any number of points."""
    along, start = request.clause("along"), request.clause("from", "")
    goals = [c for c in request.clauses if c.word == "to"]
    line: LineValue | None = as_line(along.values[0]) if along and along.values else None
    if (start is None) != (not goals) or (line is None and start is None):
        raise _unclear(request)
    if start is None:
        assert line is not None
        if line.segment is None:
            raise _unclear(request)
        return _Way((line.segment,), (), phrase("along {line}", line=line.words), line.letters)
    if any(len(c.values) != 1 for c in (start, *goals)) or (line is not None and len(goals) > 1):
        raise _unclear(request)
    points = tuple(as_point(c.values[0]) for c in (start, *goals))
    for (p, q), goal in zip(itertools.pairwise(points), goals, strict=True):
        if distance(p.at, q.at) <= EPS:
            raise Refusal(
                "same-point",
                f"{p.words.render()} and {q.words.render()} lie on each other now",
                "name two points that lie apart",
                span=goal.span,
            )
    where = phrase("from {p} to {q}", p=points[0].words, q=points[1].words)
    for point in points[2:]:
        where = phrase("{way} to {q}", way=where, q=point.words)
    if line is not None:
        for end in points:
            _refuse_beside(end, line)
        where = phrase(
            "along {line} from {p} to {q}", line=line.words, p=points[0].words, q=points[1].words
        )
    letters = tuple((v.letter, v.at) for v in points if v.letter)
    stretches = tuple((p.at, q.at) for p, q in itertools.pairwise(points))
    return _Way(stretches, points, where, letters)


def _refuse_beside(end: PointValue, line: LineValue) -> None:
    if not on_line(line.line, end.at):
        raise Refusal(
            "off-the-line",
            f"{end.words.render()} does not lie on {line.words.render()}",
            "name a point on the line, or leave the line out",
            span=end.span,
        )


def _unclear(request: Request) -> Refusal:
    return Refusal(
        "cut-where",
        "say where the cut runs: along a line, or from a point to a point",
        *(f"write it like: {form}" for form in request.forms),
        span=request.span,
    )


def _slits(state: State, segment: Segment) -> list[Slit]:
    """Everything that lies under the scissors, stretch by stretch, ranked from the top."""
    whole = distance(*segment)
    stops = {0.0, 1.0}
    for placed in state.placed:
        part = polygons.clip_segment(placed, segment)
        if part is not None:
            stops.update(min(1.0, max(0.0, distance(segment[0], p) / whole)) for p in part)
    joints = [
        (j, seg)
        for j in state.joints
        if (seg := map_segment(state.facets[j.a].place, j.segment))
        and overlap_of(segment, seg) is not None
    ]
    for _, seg in joints:
        stops.update(distance(segment[0], p) / whole for p in seg if point_on_segment(segment, p))
    found: list[Slit] = []
    steps = sorted(stops)
    for lo, hi in itertools.pairwise(steps):
        if (hi - lo) * whole <= EPS:
            continue
        part = (between(*segment, lo), between(*segment, hi))
        middle = midpoint(*part)
        under = {
            i: i
            for i, placed in enumerate(state.placed)
            if polygons.strictly_inside(placed, middle)
        }
        for joint, seg in joints:
            if point_on_segment(seg, middle):
                upper = joint.a if not joint.folded or state.above(joint.a, joint.b) else joint.b
                under[upper] = upper
        found.extend((rank, i, part) for rank, i in enumerate(state.top_down(under)))
    return found


MOVE = Move(
    "cut",
    "cut a slit, or a piece off",
    FORMS,
    make,
    tools=("scissors",),
    caution=CAUTION,
    fingers=Several(
        Phrase("Now the paper is cut with scissors."),
    ),
)
