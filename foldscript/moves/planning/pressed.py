"""Folds that are pressed on a part of their line only: where, and where the paper merely bends.

In: a fold, and where it is pressed. Out: the pieces of its line that become creases, and guide lines for the
rest.
"""

from __future__ import annotations

from ...geometry import polygons
from ...geometry.lines import Point, Segment
from ...paper.seams import remainder
from ...paper.signs import GuideLine
from ...source.diagnostics import Refusal, Span
from .near_misses import end_on_line
from .one_side import SingleFold
from .request import PointValue, Request


def between(
    request: Request, fold: SingleFold, p: PointValue, q: PointValue, span: Span
) -> list[tuple[int, Segment]]:
    """The pieces of a fold line from one point to another, as (facet, segment in folded coordinates).

    Raises Refusal where the paper ends between the two.
    """
    placed = request.state.placed
    whole = (end_on_line(request, fold.alignment, p.at), end_on_line(request, fold.alignment, q.at))
    found = [
        (i, part)
        for i, _ in fold.flap.creases
        if (part := polygons.clip_segment(placed[i], whole)) is not None
    ]
    if remainder([whole], [part for _, part in found]):
        raise Refusal(
            "off-the-paper",
            f"the paper that folds does not reach all the way from {p.words.render()} to {q.words.render()}",
            "name two points on one layer, with paper all the way between them",
            "or say how many layers fold, as in 'all layers'",
            span=span,
        )
    return found


def guides(fold: SingleFold, pieces: list[tuple[int, Segment]]) -> tuple[GuideLine, ...]:
    """The rest of the line that halves: where the paper bends and is not pressed."""
    (ux, uy), at = fold.flap.line.direction, fold.flap.creases[0][1][0]

    def along(p: Point) -> float:
        return ux * (p[0] - at[0]) + uy * (p[1] - at[1])

    def runs(parts: list[tuple[int, Segment]]) -> list[tuple[float, float]]:
        out: list[tuple[float, float]] = []
        for lo, hi in sorted(sorted((along(p), along(q))) for _, (p, q) in parts):
            if out and lo < out[-1][1] + 1e-9:
                lo, hi = out[-1][0], max(hi, out.pop()[1])
            out.append((lo, hi))
        return out

    rest = runs(list(fold.flap.creases))
    for lo, hi in runs(pieces):
        rest = [
            part
            for a, b in rest
            for part in ((a, min(b, lo)), (max(a, hi), b))
            if part[1] - part[0] > 1e-6
        ]
    return tuple(
        GuideLine(((at[0] + a * ux, at[1] + a * uy), (at[0] + b * ux, at[1] + b * uy)))
        for a, b in rest
    )
