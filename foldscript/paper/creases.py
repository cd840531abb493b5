"""The crease pattern of a folded state: every line of the sheet, and what it is.

In: a state. Out: segments in sheet coordinates by kind, seen from the sheet's front, whole lines
wherever stretches of one kind lie end to end. A fold is a valley where the fronts of its two sides
meet and a mountain where their backs do; a crease that lies flat now is neither.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import Enum

from ..geometry.lines import Segment
from .seams import merged, remainder
from .sheet import Sheet
from .state import Joint, State


class Kind(Enum):
    """What a line of the sheet is, in the craft's words."""

    EDGE = "edge"
    MOUNTAIN = "mountain"
    VALLEY = "valley"
    CREASE = "crease"  # made, and lying flat now
    CUT = "cut"


@dataclass(frozen=True)
class CreasePattern:
    """Lines of a sheet by kind, in sheet units, y up, the front towards the reader."""

    sheet: Sheet
    lines: Mapping[Kind, tuple[Segment, ...]]

    def segments(self) -> Iterable[tuple[Kind, Segment]]:
        """Every line with its kind: edges first, cuts last."""
        for kind in Kind:
            for segment in self.lines[kind]:
                yield kind, segment


def crease_pattern(state: State) -> CreasePattern:
    """Every edge, fold, flat crease and cut of a state."""
    found: dict[Kind, list[Segment]] = {kind: [] for kind in Kind}
    found[Kind.EDGE] = list(state.sheet.all_sides)
    for joint in state.joints:
        if joint.folded:
            found[sense(state, joint)].append(joint.segment)
    found[Kind.CREASE] = list(state.creases)
    found[Kind.CUT] = list(state.cuts)
    return CreasePattern(state.sheet, {kind: _whole(found[kind]) for kind in Kind})


def sense(state: State, joint: Joint) -> Kind:
    """Mountain or valley of a folded joint, as seen from the front of the sheet.

    The side that shows its back has its front underneath: where it lies on top the fronts meet.
    """
    back, front = joint.a, joint.b
    if state.facets[back].shows_front:
        back, front = front, back
    return Kind.VALLEY if state.above(back, front) else Kind.MOUNTAIN


def creases_made(before: State, after: State) -> CreasePattern:
    """The folds, creases and cuts that are in `after` and were no line of any kind in `before`.

    A crease that was there and is now folded is not new. An edge that is new has been cut.
    """
    old, new = crease_pattern(before), crease_pattern(after)
    taken = [segment for _, segment in old.segments()]
    lines = {
        kind: _whole(remainder(segments, taken)) if kind is not Kind.EDGE else segments
        for kind, segments in new.lines.items()
    }
    lines[Kind.CUT] = (*lines[Kind.CUT], *cut_edges(before.sheet, after.sheet, taken))
    return CreasePattern(after.sheet, lines)


def cut_edges(before: Sheet, after: Sheet, taken: Iterable[Segment] = ()) -> tuple[Segment, ...]:
    """Edges of a sheet that an earlier one had not: there a piece has been cut off."""
    if after == before:
        return ()
    return _whole(remainder(after.sides, [*before.sides, *taken]))


def cuts_made(before: State, after: State) -> tuple[Segment, ...]:
    """Where the paper has been cut between two states, pieces cut off among it."""
    if before.cuts == after.cuts and before.sheet == after.sheet:
        return ()
    return tuple(remainder([*after.cuts, *after.sheet.sides], [*before.cuts, *before.sheet.sides]))


def _whole(segments: Iterable[Segment]) -> tuple[Segment, ...]:
    """Stretches of one line in one piece, each from its lower left end, in reading order."""
    ends = (min(_rounded(s), _rounded(s[::-1])) for s in merged(segments))
    return tuple(segment for _, segment in sorted(ends))


def _rounded(s: tuple[tuple[float, float], ...]) -> tuple[tuple[float, ...], Segment]:
    """What a segment is sorted by, free of the last bits, and the segment itself."""
    (px, py), (qx, qy) = s
    return tuple(round(x, 9) + 0.0 for x in (px, py, qx, qy)), ((px, py), (qx, qy))
