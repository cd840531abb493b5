"""Of the flaps that hang on a line those that a number of layers is, counted from the front.

In: a `Request` with 'N layers', a line, and the segments on the sheet that paper turns about there. Out: the
segments by which the first flaps hang: of paper folded over, what lies in front. What hangs together rises
together, and counts as so many layers as lie over each other at the line.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise

from ...geometry.isometries import map_segment
from ...geometry.lines import Segment, dot
from ...geometry.tolerance import EPS
from ...paper.state import State
from ...pose.pieces import cut_up
from ...pose.pose import Line as Kind
from ...pose.raising import parts
from ...source.diagnostics import Refusal, write
from .fold_clauses import layer_count
from .request import Clause, LineValue, Request


@dataclass(frozen=True)
class _Flap:
    """What rises as one: the segments that it hangs by, its facets beside them, how many layers it has."""

    creases: tuple[Segment, ...]
    facets: tuple[int, ...]
    layers: int


def counted(
    request: Request, clause: Clause, line: LineValue, creases: tuple[Segment, ...]
) -> tuple[Segment, ...]:
    """The segments by which so many layers hang on a line; all of them after 'all layers'.

    Raises Refusal, 'how-many-layers', where so many do not rise by themselves.
    """
    asked = layer_count(request, clause)
    if not asked:
        return creases
    flaps = _flaps(request.state, creases)
    sums = list(accumulate(flap.layers for flap in flaps))
    if asked not in sums:
        numbers = [str(n) for n in sums]
        listed = " or ".join([", ".join(numbers[:-1]), numbers[-1]] if sums[1:] else numbers)
        raise Refusal(
            "how-many-layers",
            f"along {line.words.render()} {asked} layer{'' if asked == 1 else 's'} cannot be raised without "
            f"others: {listed or 'none'} can",
            *(
                write(clause.span, said, f"say '{said}'")
                for n in sums[:3]
                for said in [f"{n} layer{'' if n == 1 else 's'}"]
            ),
            "or name a point of the flap after 'moving'",
            span=clause.span,
        )
    rise = {s for flap in flaps[: sums.index(asked) + 1] for s in flap.creases}
    return tuple(s for s in creases if s in rise)


def _flaps(state: State, creases: tuple[Segment, ...]) -> list[_Flap]:
    """The flaps that turn about some creases, the foremost first."""
    pieces = cut_up(state, creases)
    part = parts(pieces, pieces.on(creases))
    hung: dict[int, list[tuple[Segment, int, Segment]]] = {}
    for crease in creases:
        for k in pieces.on([crease]):
            seam = pieces.seams[k]
            (ax, ay), (bx, by) = pieces.points[[seam.start, seam.end]].tolist()
            for side, other in ((seam.left, seam.right), (seam.right, seam.left)):
                facet, beside = pieces.facets[side], pieces.facets[other]
                rises = state.above(facet, beside) if seam.kind is Kind.FOLD else part[side] > 0
                if rises and part[side] != part[other]:
                    folded = map_segment(state.facets[facet].place, ((ax, ay), (bx, by)))
                    hung.setdefault(part[side], []).append((crease, facet, folded))
    found = [
        _Flap(
            tuple(dict.fromkeys(crease for crease, _, _ in some)),
            tuple(dict.fromkeys(facet for _, facet, _ in some)),
            _over_each_other([folded for _, _, folded in some]),
        )
        for some in hung.values()
    ]
    order = state.top_down({facet for flap in found for facet in flap.facets})
    return sorted(found, key=lambda flap: min(order.index(facet) for facet in flap.facets))


def _over_each_other(placed: Sequence[Segment]) -> int:
    """How many of some segments of one line lie over each other at most."""
    (ax, ay), (bx, by) = placed[0]
    way = (bx - ax, by - ay)
    spans = [sorted((dot(p, way), dot(q, way))) for p, q in placed]
    ends = sorted(end for span in spans for end in span)
    middles = [(a + b) / 2 for a, b in pairwise(ends) if b - a > EPS]
    return max(sum(low < at < high for low, high in spans) for at in middles)
