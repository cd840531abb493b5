"""Cut: a slit through one layer, some, or all of them. The sheet stays in one piece.

In: a `Request` with a line, or two points, and how many layers. Out: the paper as it lies, with the
cut; what held together along it does so no longer. A cut that would part the sheet is refused.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence

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
from ..languages.wording import Phrase, phrase
from ..paper.components import component
from ..paper.refold import divided, refold
from ..paper.seams import remainder
from ..paper.signs import CutLine, Sign
from ..paper.state import State
from ..source.diagnostics import Refusal
from .planning.at_points import landmark
from .planning.claims import NothingMoves
from .planning.fingers import Several
from .planning.fold_clauses import as_line, as_point, layer_count
from .planning.request import LineValue, Move, Outcome, PointValue, Remark, Request

FORMS = (
    "cut from P to Q, 1 layer",
    "cut along k, all layers",
    "cut along line M N from M to P, all layers",
)
CAUTION = Phrase("Scissors: an adult helps young children; keep to the rules of the place.")

#: Where one layer is cut: its rank from the top, the facet, the segment in folded coordinates.
Slit = tuple[int, int, Segment]


def make(request: Request) -> Outcome:
    """Cuts the layers along the segment."""
    request.allow("", "along", "from", "to", "layers")
    segment, where, letters = _segment(request)
    state = request.state
    slits = _slits(state, segment)
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
    cuts = [map_segment(inverse(state.facets[i].place), seg) for i, seg in parts]
    fine = divided(state, line_through(*segment), {i for i, _ in parts}).state
    after = refold(fine, {}, {}, cuts=cuts)
    if len(component(after, [0], [])) < len(after.facets):
        raise Refusal(
            "cuts-off",
            "this would cut a piece off: the sheet must stay in one piece",
            "end the cut before it meets an edge or another cut, or cut fewer layers",
            span=request.span,
        )
    signs: tuple[Sign, ...] = (CutLine(parts),)
    if request.clause("from", "") is not None:
        signs += tuple(landmark(p) for p in segment)
    return Outcome(
        after,
        signs,
        phrase("Cut {where}{layers}. {caution}", where=where, layers=how_many, caution=CAUTION),
        letters=letters,
        caution=CAUTION,
        claims=(NothingMoves(),),
        remarks=_falls_short(request, segment, [seg for _, seg in parts]),
    )


def _falls_short(request: Request, segment: Segment, cut: Sequence[Segment]) -> tuple[Remark, ...]:
    """A remark where the scissors meet no paper on a part of their way."""
    missed = sum(distance(*left) for left in remainder([segment], cut)) * request.unit_mm
    if missed <= EPS * request.unit_mm:
        return ()
    whole = distance(*segment) * request.unit_mm
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
                "add '1 layer' for the front one, a number of layers, or 'all layers'",
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


def _segment(request: Request) -> tuple[Segment, Phrase, tuple[tuple[str, Point], ...]]:
    """From where to where, in folded coordinates, how to say it, and the letters to show."""
    along, start, goal = request.clause("along"), request.clause("from", ""), request.clause("to")
    line: LineValue | None = as_line(along.values[0]) if along and along.values else None
    if (start is None) != (goal is None) or (line is None and start is None):
        raise _unclear(request)
    if start is None or goal is None:
        assert line is not None
        segment = line.segment
        if segment is None:
            raise _unclear(request)
        return segment, phrase("along {line}", line=line.words), line.letters
    if len(start.values) != 1 or len(goal.values) != 1:
        raise _unclear(request)
    p, q = as_point(start.values[0]), as_point(goal.values[0])
    if distance(p.at, q.at) <= EPS:
        raise Refusal(
            "same-point",
            f"{p.words.render()} and {q.words.render()} lie on each other now",
            "name two points that lie apart",
            span=goal.span,
        )
    where = phrase("from {p} to {q}", p=p.words, q=q.words)
    if line is not None:
        for end in (p, q):
            _refuse_beside(end, line)
        where = phrase("along {line} from {p} to {q}", line=line.words, p=p.words, q=q.words)
    letters = tuple((v.letter, v.at) for v in (p, q) if v.letter)
    return (p.at, q.at), where, letters


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
    "cut a slit; the sheet stays in one piece",
    FORMS,
    make,
    tools=("scissors",),
    caution=CAUTION,
    fingers=Several(
        Phrase("Now the paper is cut with scissors, through all the layers told below."),
    ),
)
