"""Which folds hold a flap, in words: for moves that open a fold and were given none that does.

In: a point of the flap, the paper as it lies. Out: the folds that join the flat piece with the point to the
rest, each by words that the script can write, where it has such.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from ...geometry.lines import Line, Segment, distance, line_through, midpoint, same_line
from .request import PointValue, Request


@dataclass(frozen=True)
class Holding:
    """Folds along one line that hold a flap: the line, its longest fold as it lies, all on the sheet.

    `name` is what the script calls them, `words` how it can say the line; '' where there is neither.
    """

    line: Line
    fold: Segment
    creases: tuple[Segment, ...]
    facets: tuple[int, ...]
    name: str
    words: str

    def told(self, request: Request) -> str:
        """'k', 'the fold from the top corner to A', or where the fold is."""
        if self.name:
            return f"'{self.name}'"
        ends = [f"the {w}" if " " in w else w for w in map(request.words_at, self.fold)]
        if all(ends):
            return f"the fold from {ends[0]} to {ends[1]}"
        return f"the fold {request.locate(midpoint(*self.fold))}"


def holding(request: Request, p: PointValue) -> tuple[Holding, ...]:
    """The folds that hold the flat pieces with a point, the longest first."""
    state = request.state
    mine = {k for i in p.facets for k in state.plate(i)}
    groups: list[tuple[Line, list[tuple[Segment, Segment, tuple[int, int]]]]] = []
    for joint, seg in state.fold_segments:
        if (joint.a in mine) == (joint.b in mine):
            continue
        line = line_through(*seg)
        home = next((rows for at, rows in groups if same_line(at, line)), None)
        row = (seg, joint.segment, (joint.a, joint.b))
        if home is None:
            groups.append((line, [row]))
        else:
            home.append(row)
    found: list[Holding] = []
    for line, rows in groups:
        longest = max((seg for seg, _, _ in rows), key=lambda seg: round(distance(*seg), 9))
        facets = state.top_down({i for _, _, pair in rows for i in pair})
        creases = tuple(crease for _, crease, _ in rows)
        name = _name(request, creases)
        words = name or _between(request, longest)
        found.append(Holding(line, longest, creases, facets, name, words))
    return tuple(sorted(found, key=lambda h: -round(distance(*h.fold), 6)))


def _name(request: Request, creases: Iterable[Segment]) -> str:
    names = {request.called([crease]) for crease in creases}
    return names.pop() if len(names) == 1 else ""


def _between(request: Request, fold: Segment) -> str:
    ends = [request.words_at(at) for at in fold]
    return f"line {ends[0]} {ends[1]}" if all(ends) else ""
