"""What a layer order must satisfy, written down for one arrangement of facets.

In: facets as they would lie (convex, folded coordinates) and the joints between them. Out: the
conditions on 'i lies above j', one variable for every overlapping pair:

- across an unfolded joint the order to any third layer does not change;
- a layer that crosses a fold lies above both of its sides or below both (else it is pierced);
- two folds along a common segment with their layers on the same side do not interleave;
- no three layers with a common region form a ring.

Source: J. Justin (1997); M. Bern and B. Hayes, SODA 1996; H. Akitaya, E. Demaine and J. Ku (2024).
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, product
from typing import NamedTuple

from ..geometry.lines import Point, Segment, midpoint
from ..geometry.polygons import Polygon, clip_segment, strictly_inside
from ..geometry.tolerance import EPS
from .overlaps import Overlaps, Pair, box
from .seams import Interval, along_lines


@dataclass(frozen=True, slots=True)
class Hinge:
    """A joint in folded coordinates: facets a and b, the segment, whether it is folded.

    `opened` tells that it was folded until now: what lies along it has met no flat joint there yet.
    """

    a: int
    b: int
    segment: Segment
    folded: bool
    opened: bool = False


class Same(NamedTuple):
    """'x above y' has the same truth as 'u above v'; `reason` says why, `at` where."""

    x: int
    y: int
    u: int
    v: int
    reason: str
    at: Point


class Nested(NamedTuple):
    """The folds (a, b) and (c, d) must not interleave."""

    a: int
    b: int
    c: int
    d: int
    at: Point


@dataclass(frozen=True)
class Conditions:
    """Everything but the rings, which the solver looks for when it needs them."""

    same: tuple[Same, ...]
    nested: tuple[Nested, ...]


def conditions(
    placed: Sequence[Polygon],
    hinges: Sequence[Hinge],
    fresh: Collection[Pair] | None = None,
    overlaps: Overlaps | None = None,
) -> Conditions:
    """Conditions of an arrangement.

    Parameters
    ----------
    placed : facets in folded coordinates
    hinges : all joints, folded and unfolded
    fresh : pairs (i < j) whose order may be new; conditions among other pairs hold already and are
        left out, but for those of joints that have opened. None: all pairs.
    overlaps : what is known of the same facets already
    """
    return _Arrangement(placed, hinges, fresh, overlaps or Overlaps(placed)).conditions()


@dataclass(slots=True)
class _Stretch:
    """A stretch of a line along which hinges lie: from `lo` to `hi` along it, `segment` one of them.

    `hinges` are those on exactly this stretch, each with whether its facet a lies left of the line.
    """

    lo: float
    hi: float
    segment: Segment
    hinges: list[tuple[Hinge, bool]]

    def at(self, t: float) -> Point:
        """The point t along the line."""
        (px, py), (qx, qy) = self.segment
        k = (t - self.lo) / (self.hi - self.lo)
        return (px + (qx - px) * k, py + (qy - py) * k)


def bits(members: int) -> Iterator[int]:
    """The numbers of the bits that are set, the lowest first."""
    while members:
        bit = members & -members
        members ^= bit
        yield bit.bit_length() - 1


class _Arrangement:
    """Facets of one shape and hinges on one stretch are looked at together.

    `fresh[i]` has bit j set when the order of facets i and j may be new.
    """

    def __init__(
        self,
        placed: Sequence[Polygon],
        hinges: Sequence[Hinge],
        fresh: Collection[Pair] | None,
        overlaps: Overlaps,
    ) -> None:
        self.placed = placed
        self.hinges = hinges
        self.fresh = [-1 if fresh is None else 0] * len(placed)
        for i, j in fresh or ():
            self.fresh[i] |= 1 << j
            self.fresh[j] |= 1 << i
        stacks = [0] * len(overlaps.outline)  # facets of each shape, as bits
        for i, shape in enumerate(overlaps.shape):
            stacks[shape] |= 1 << i
        self.stacks = list(zip(overlaps.outline, overlaps.box, stacks, strict=True))

    def conditions(self) -> Conditions:
        same: list[Same] = []
        nested: list[Nested] = []
        fresh = self.fresh
        concerned = {k for k, h in enumerate(self.hinges) if fresh[h.a] | fresh[h.b]}
        opened = {k for k, h in enumerate(self.hinges) if h.opened}
        pool = range(len(self.hinges)) if opened else sorted(concerned)
        for line in along_lines([(k, self.hinges[k].segment) for k in pool]):
            if opened and not any(k in opened for _, _, _, k, _ in line):
                line = [entry for entry in line if entry[3] in concerned]
            stretches = self._stretches(line)
            for n, stretch in enumerate(stretches):
                same.extend(self._crossings(stretch))
                for one, two in combinations(stretch.hinges, 2):
                    self._against(one, two, stretch.at((stretch.lo + stretch.hi) / 2), same, nested)
                for other in stretches[n + 1 :]:
                    if other.lo >= stretch.hi - EPS:
                        break
                    lo, hi = max(stretch.lo, other.lo), min(stretch.hi, other.hi)
                    if hi - lo <= EPS:
                        continue
                    at = stretch.at((lo + hi) / 2)
                    for one, two in product(stretch.hinges, other.hinges):
                        self._against(one, two, at, same, nested)
        return Conditions(tuple(same), tuple(nested))

    def _stretches(self, line: Sequence[Interval]) -> list[_Stretch]:
        found: list[_Stretch] = []
        for lo, hi, forward, k, segment in sorted(line, key=lambda e: (e[0], e[1], e[3])):
            hinge = self.hinges[k]
            (px, py), (qx, qy) = segment
            dx, dy = qx - px, qy - py  # the whole facet lies on one side
            left = sum(dx * (y - py) - dy * (x - px) for x, y in self.placed[hinge.a]) > 0
            item = (hinge, left == forward)
            home = next(
                (s for s in reversed(found) if abs(s.lo - lo) <= EPS and abs(s.hi - hi) <= EPS),
                None,
            )
            if home is None:
                along = segment if forward else (segment[1], segment[0])
                found.append(_Stretch(lo, hi, along, [item]))
            else:
                home.hinges.append(item)
        return found

    def _crossings(self, stretch: _Stretch) -> Iterator[Same]:
        """Facets that run on across the stretch: above both sides of a hinge or below both."""
        x0, y0, x1, y1 = box(stretch.segment)
        fresh = self.fresh
        asked = [(h, (fresh[h.a] | fresh[h.b]) & ~(1 << h.a | 1 << h.b)) for h, _ in stretch.hinges]
        concerned = 0
        for _, new in asked:
            concerned |= new
        for outline, (left, low, right, high), stack in self.stacks:
            if not stack & concerned or x1 < left or x0 > right or y1 < low or y0 > high:
                continue
            part = clip_segment(outline, stretch.segment)
            if part is None or not strictly_inside(outline, at := midpoint(*part)):
                continue
            for hinge, new in asked:
                reason = "pierced" if hinge.folded else "joint"
                for c in bits(stack & new):
                    yield Same(c, hinge.a, c, hinge.b, reason, at)

    def _against(
        self,
        one: tuple[Hinge, bool],
        two: tuple[Hinge, bool],
        at: Point,
        same: list[Same],
        nested: list[Nested],
    ) -> None:
        """Two hinges that lie along each other, at a point of their common part."""
        (h, left), (k, other_left) = one, two
        a, b, c, d = h.a, h.b, k.a, k.b
        if a in (c, d) or b in (c, d):
            return
        fresh = self.fresh
        late = h.opened or k.opened
        if h.folded and k.folded:
            if left == other_left and (fresh[a] | fresh[b]) & (1 << c | 1 << d):
                nested.append(Nested(a, b, c, d, at))
            return
        if left != other_left:
            c, d = d, c
        if h.folded:  # c is the side of the flat joint where the fold's layers are
            if late or (fresh[a] | fresh[b]) >> c & 1:
                same.append(Same(c, a, c, b, "pierced", at))
        elif k.folded:
            a = a if left == other_left else b
            if late or fresh[a] & (1 << k.a | 1 << k.b):
                same.append(Same(a, k.a, a, k.b, "pierced", at))
        elif late or fresh[a] >> c & 1 or fresh[b] >> d & 1:
            same.append(Same(a, c, b, d, "joint", at))
