"""Flaps turned like pages for a repeat, as hands would do to get at the next flap.

In: the paper, the part that is repeated, the pages of the paper before that part. Out: the paper
with some of its flaps turned to the other side; and refusals where they do not lie as they should.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from ...geometry import polygons
from ...geometry.isometries import IDENTITY, Isometry, compose, map_line
from ...geometry.lines import Line, Point, flipped, same_line
from ...moves.planning.request import MoveRecord
from ...paper.leaves import leaf_round
from ...paper.state import State
from ...paper.symmetry import Symmetry
from ...source.diagnostics import Refusal
from ..performing.perform import Folding
from .images import Piece, Trace, astray, moved_paper
from .parts import Part, restore, save, turn_since, turned_page

#: Times that flaps are turned like pages, either way, in search of a flap.
MOST_ROUNDS = 6


@dataclass(frozen=True)
class Pages:
    """Flaps of a paper that turn like pages, looked for when they are asked for.

    symmetries : of the paper; the spine is a mirror line of one of them
    """

    before: State
    symmetries: Sequence[Symmetry]

    @cached_property
    def _first(self) -> tuple[Line, State] | None:
        """The spine, and the paper when one flap has been turned round it either way."""
        lines: list[Line] = []
        for symmetry in self.symmetries:
            axis = symmetry.axis
            if axis is not None and not any(same_line(axis, other) for other in lines):
                lines.append(axis if (axis.nx, axis.ny) > (0.0, 0.0) else flipped(axis))
        lines.sort(key=lambda line: (round(abs(line.ny), 6), line.ny, line.c))
        for line in lines:
            turned = leaf_round(self.before, line)
            if turned is not None:
                return line, turned[1].after
        return None

    @property
    def spine(self) -> Line | None:
        """The mirror line about which flaps can be turned, the upright one first."""
        return self._first[0] if self._first is not None else None

    def turned(self, way: int) -> Iterator[State]:
        """The paper after one round of pages, after two ..., from the spine's left (1) or right (-1)."""
        if self._first is None:
            return
        line, after = self._first
        if way > 0:
            yield after
        else:
            line, after = flipped(line), self.before
        for _ in range(MOST_ROUNDS - (way > 0)):
            turned = leaf_round(after, line)
            if turned is None:
                return
            after = turned[1].after
            yield after


def paged(paper: Folding, number: int, part: Part, pages: Pages) -> Iterator[int]:
    """Lays the paper with so many flaps turned, and tells how many: 0, 1, -1, 2, -2 ...

    The paper may be changed between; each time it is laid out as at the start, and turned. `pages` are
    those of the paper before the part; without a spine there is nothing to turn.
    """
    start = save(paper)
    reached = {0: start}
    yield 0
    spine = pages.spine
    if spine is None:
        return
    for k in range(1, MOST_ROUNDS + 1):
        for way in (1, -1):
            before = reached.get(way * (k - 1))
            if before is None:
                continue
            restore(paper, before)
            if _turn_leaf(paper, number, part, spine, way):
                reached[way * k] = save(paper)
                yield way * k
    restore(paper, start)


def _turn_leaf(paper: Folding, number: int, part: Part, spine: Line, way: int) -> bool:
    line = map_line(turn_since(paper, part.start), spine)
    turned = leaf_round(paper.state, line if way > 0 else flipped(line))
    for leaf in turned or ():
        turned_page(paper, number, leaf.after)
    return turned is not None


def refuse_other_pages(
    paper: Folding, part: Part, symmetry: Symmetry, folded: Sequence[Trace]
) -> None:
    """The pages must lie to the left and right as they did, but for what has been folded since."""
    motion = compose(turn_since(paper, part.start), symmetry.motion)
    whole = [Piece(f.outline, f.place, f.place) for f in part.before.facets]
    for place in astray(paper.state, symmetry.sheet, motion, whole, after=False):
        if not any(trace.holds(place) for trace in folded):
            raise _covered(f"the flap for {part.words} lies under others there")


def refuse_covered(paper: Folding, record: MoveRecord, sheet: Isometry) -> None:
    """The page with the image must be turned up before it can be folded as the original was."""
    for piece in moved_paper(record.before, record.after):
        place = polygons.centroid(piece.outline)
        over_and_under = [
            _layers_around(state, p)
            for state, p in ((record.before, place), (paper.state, sheet(place)))
        ]
        (above, below), (above_now, below_now) = over_and_under
        if above != above_now and below != below_now:
            raise _covered(f"the flap for step {record.step} lies under others there")


def _covered(message: str) -> Refusal:
    return Refusal("covered", message, "turn flaps like pages first: 'swing'")


def _layers_around(state: State, place: Point) -> tuple[int, int]:
    """Layers over and under a place of the sheet."""
    stack = state.facets_at(state.where(place))
    (mine, *_) = state.facets_on_sheet(place)
    k = stack.index(mine)
    return k, len(stack) - 1 - k


def turn_back(
    paper: Folding, number: int, part: Part, pages: Pages, trace: Trace, was: State
) -> None:
    """Turns pages until the part's own flap lies as it did, if that is possible.

    `was` is the paper before the repeat; `trace` where on the sheet the part is.
    """
    pieces = [
        Piece(common, f.place, f.place)
        for f in was.facets
        for q in trace.pieces
        if (common := polygons.intersection(f.outline, q))
    ]
    above, _ = _layers_around(was, trace.middle)
    for _ in paged(paper, number, part, pages):
        now = paper.state
        home = next(astray(now, IDENTITY, IDENTITY, pieces, after=False), None) is None
        if home and _layers_around(now, trace.middle)[0] == above:
            return
