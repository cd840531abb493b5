"""Cuts told for fingers: from where to where the scissors run, through how much, and what comes off.

In: a `MoveRecord` with the lines that are cut, the paper before and after it. Out: sentences.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from ..folding.steps import MoveRecord
from ..geometry import polygons
from ..geometry.isometries import map_segment
from ..geometry.lines import (
    Segment,
    between,
    distance,
    midpoint,
    overlap_of,
    point_on_segment,
)
from ..geometry.tolerance import EPS
from ..languages.unit_names import on_sheet
from ..languages.wording import Phrase, phrase, plural
from ..paper.signs import CutLine
from ..paper.state import State
from .description import StateDescription
from .directions import in_reading_order
from .narration import count
from .places import place
from .stacks import joined


def cuts(description: StateDescription, record: MoveRecord) -> list[Phrase]:
    """Every straight cut with its ends, and what it goes through where that is more than one layer."""
    parts = [seg for sign in record.signs if isinstance(sign, CutLine) for _, seg in sign.parts]
    return [_cut(description, in_reading_order(s), parts) for s in joined(parts)]


def _cut(description: StateDescription, way: Segment, parts: Sequence[Segment]) -> Phrase:
    first, last = (place(description, p).words for p in way)
    counts = list(_counts(description.state, way, parts))
    cut = max(n for n, _, _ in counts)
    if all(folds == n for n, _, folds in counts):
        return plural(
            "Cut the fold open from {first} to {last}.",
            "Cut open {n} folds that lie on each other, from {first} to {last}.",
            cut,
            count(cut),
            first=first,
            last=last,
        )
    if all(n == there for n, there, _ in counts):
        if cut == 1:
            return phrase("Cut from {first} to {last}.", first=first, last=last)
        if all(n == cut for n, _, _ in counts):
            return phrase(
                "Cut from {first} to {last}, through all {n} layers.",
                first=first,
                last=last,
                n=count(cut),
            )
        return phrase(
            "Cut from {first} to {last}, through all the layers there, up to {n} of them.",
            first=first,
            last=last,
            n=count(cut),
        )
    return plural(
        "Cut from {first} to {last}, through the top layer only.",
        "Cut from {first} to {last}, through the top {n} layers only.",
        cut,
        count(cut),
        first=first,
        last=last,
    )


def _counts(state: State, way: Segment, parts: Sequence[Segment]) -> Iterator[tuple[int, int, int]]:
    """Along a cut, stretch by stretch: layers that are cut, layers there, and folds among those cut."""
    lines = [
        (joint.folded, seg)
        for joint in state.joints
        if (seg := map_segment(state.facets[joint.a].place, joint.segment))
        and overlap_of(way, seg) is not None
    ]
    whole = distance(*way)
    ends = [p for seg in (*parts, *(seg for _, seg in lines)) for p in seg]
    stops = sorted(
        {0.0, 1.0, *(distance(way[0], p) / whole for p in ends if point_on_segment(way, p))}
    )
    for lo, hi in pairwise(stops):
        spot = midpoint(between(*way, lo), between(*way, hi))
        cut = sum(overlap_of(way, seg) is not None and point_on_segment(seg, spot) for seg in parts)
        if (hi - lo) * whole <= EPS or not cut:
            continue
        along = [folded for folded, seg in lines if point_on_segment(seg, spot)]
        amid = sum(polygons.strictly_inside(ring, spot) for ring in state.placed)
        yield cut, amid + len(along), 0 if amid else sum(along)


def cut_off(before: StateDescription, after: StateDescription) -> list[Phrase]:
    """What comes off along a cut, by the corners of the sheet on it."""
    if before.state.sheet == after.state.sheet:
        return []
    left = dict(after.corners)
    gone = [name for name, _ in before.corners if name not in left]
    found = [Phrase("The paper parts there: put aside what comes off.")]
    if gone:
        found.append(
            plural(
                "Corner {names} comes off with it.",
                "Corners {names} come off with it.",
                len(gone),
                names=on_sheet(*gone),
            )
        )
    return found
