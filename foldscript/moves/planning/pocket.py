"""Pockets: where the layers of a model part into a front and a back.

In: a divided state and the mouth of the pocket, a place on the edge of the model where its layers lie
open. Out: ways to part the layers there, the likeliest first; each tells for every piece whether it
goes with the front or with the back.

What lies over a front layer goes with the front, what lies under a back layer with the back; the rest
goes with what it hangs on.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ...geometry.isometries import map_segment, reflection
from ...geometry.lines import (
    Line,
    Point,
    Segment,
    add,
    line_through,
    mirrored,
    on_line,
    point_on_segment,
    scale,
)
from ...paper.state import State

#: How far inside the mouth the layers are looked at, in sheet units.
STEP = 1e-3


@dataclass(frozen=True)
class Parted:
    """The pieces of a state that belong to the front of a pocket, and those of its back.

    `uneven` is by how many layers one of the two is thicker where they part.
    """

    front: frozenset[int]
    back: frozenset[int]
    uneven: int = 0


@dataclass(frozen=True)
class Mouth:
    """The layers at the edge where a pocket opens, and what goes on across its middle.

    stack : the pieces just inside the edge, topmost first, on the side where it is looked at
    mirror : those at the same place beyond the middle
    folds : the folds along the edge there, each with the two pieces that it joins
    flat : pairs of pieces that hold together unfolded, wherever they lie
    """

    stack: tuple[int, ...]
    mirror: tuple[int, ...]
    folds: tuple[tuple[int, int, Segment], ...]
    flat: tuple[tuple[int, int], ...]

    def parts(self) -> Iterator[int]:
        """How many layers may belong to the front, the most even first."""
        count = len(self.stack)
        yield from sorted(range(1, count), key=lambda k: (abs(2 * k - count), k))

    def barred(self, k: int) -> tuple[int, int, Segment] | None:
        """A fold along the edge that joins the upper k layers to the others."""
        front, back = self.stack[:k], self.stack[k:]
        return next(
            (
                f
                for f in self.folds
                if (f[0] in front) != (f[1] in front) and {f[0], f[1]} <= {*front, *back}
            ),
            None,
        )

    def seeds(self, k: int) -> Iterator[tuple[frozenset[int], frozenset[int]]]:
        """Front and back at the mouth: as many layers on either side of the middle, else on the one side."""
        front, back = frozenset(self.stack[:k]), frozenset(self.stack[k:])
        if len(self.mirror) == len(self.stack):
            one, other = front | set(self.mirror[:k]), back | set(self.mirror[k:])
            if not any(
                (a in one and b in other) or (a in other and b in one) for a, b in self.flat
            ):
                yield one, other
        yield front, back


def mouth_at(state: State, mouth: Point, along: Point, middle: Line) -> Mouth | None:
    """The layers at a mouth on the edge of the model; None where as much paper lies on either side of it."""
    inward = _inward(state, mouth, middle)
    if inward is None:
        return None
    beside = add(mouth, scale(along, STEP))
    spot = add(beside, scale(inward, STEP))
    return Mouth(
        state.facets_at(spot),
        state.facets_at(mirrored(middle, spot)),
        tuple((j.a, j.b, seg) for j, seg in state.fold_segments if point_on_segment(seg, beside)),
        tuple((j.a, j.b) for j in state.joints if not j.folded),
    )


def partings(state: State, mouth: Point, along: Point, middle: Line) -> Iterator[Parted]:
    """Ways to part the layers at the mouth of a pocket, the most even first.

    Parameters
    ----------
    mouth : a folded point on the edge of the model
    along : unit vector along that edge, toward where the layers are looked at
    middle : the line on which the mouth lies and in which the pocket's sides mirror each other
    """
    at = mouth_at(state, mouth, along, middle)
    if at is None:
        return
    for k in at.parts():
        if at.barred(k) is None:
            ways = (_spread(state, *seeds, middle) for seeds in at.seeds(k))
            parted = next((way for way in ways if way is not None), None)
            if parted is not None:
                yield Parted(parted.front, parted.back, abs(2 * k - len(at.stack)))


def _inward(state: State, mouth: Point, middle: Line) -> Point | None:
    """Which way along the middle line the paper lies; None where it lies alike both ways."""
    ways = [middle.direction, scale(middle.direction, -1.0)]
    one, other = (len(state.facets_at(add(mouth, scale(way, STEP)))) for way in ways)
    return None if one == other else ways[one < other]


def _spread(
    state: State, front_seeds: frozenset[int], back_seeds: frozenset[int], middle: Line
) -> Parted | None:
    """Every piece's side; None when one would have to go with both."""
    front, back = set(front_seeds), set(back_seeds)
    ties = _ties(state, front, back, middle)
    count = len(state.facets)
    while len(front) + len(back) < count:
        left = [i for i in range(count) if i not in front and i not in back]
        over = {i for i in left if any(state.above(i, k) for k in state.neighbours[i] & front)}
        under = {i for i in left if any(state.above(k, i) for k in state.neighbours[i] & back)}
        if over & under:
            return None
        if not over | under:
            over, under = next(
                (hung for links in ties if any(hung := _hung(links, front, back))), (set(), set())
            )
        if not over | under:
            return None
        front |= over
        back |= under
    return Parted(frozenset(front), frozenset(back))


def _hung(
    links: list[tuple[int, int]], front: set[int], back: set[int]
) -> tuple[set[int], set[int]]:
    """The pieces of neither side that hang on the front alone, and those that hang on the back alone."""
    on_front: set[int] = set()
    on_back: set[int] = set()
    for a, b in links:
        for one, other in ((a, b), (b, a)):
            if one not in front and one not in back:
                on_front |= {one} if other in front else set()
                on_back |= {one} if other in back else set()
    return on_front - on_back, on_back - on_front


def _ties(
    state: State, front: set[int], back: set[int], middle: Line
) -> tuple[list[tuple[int, int]], ...]:
    """Joints by how well they tell that two pieces go together: flat ones, folds, folds at the sides.

    The pocket's sides are where front and back are known to hold together, and their mirror images.
    """
    sides: list[Line] = []
    for joint, seg in state.fold_segments:
        if (joint.a in front and joint.b in back) or (joint.a in back and joint.b in front):
            for mapped in (seg, map_segment(reflection(middle), seg)):
                sides.append(line_through(*mapped))
    flat = [(j.a, j.b) for j in state.joints if not j.folded]
    folds: list[tuple[int, int]] = []
    at_sides: list[tuple[int, int]] = []
    for joint, (p, q) in state.fold_segments:
        there = any(on_line(side, p) and on_line(side, q) for side in sides)
        (at_sides if there else folds).append((joint.a, joint.b))
    return flat, folds, at_sides
