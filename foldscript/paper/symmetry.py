"""Symmetries of a folded state: how the paper as it lies can be laid onto itself.

In: a state (or two states of one sheet). Out: every isometry of the sheet's outline that carries the
folds onto the folds, the cuts onto the cuts and the layers onto the layers, together with the motion
of the folded plane that goes with it. Computed, never asked for: an isosceles trapezoid has its two,
a square its eight. Creases that lie flat need not match.

Why two states: a model whose flaps have been turned like pages may look as it did before, with other
flaps in front; a repeat on those flaps goes through such a congruence.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

from ..geometry import polygons
from ..geometry.isometries import (
    IDENTITY,
    Isometry,
    compose,
    inverse,
    map_segment,
    reflection,
    same_isometry,
    translation,
)
from ..geometry.lines import Line, Point, Segment, distance, line_through, midpoint, unit
from ..geometry.polygons import Polygon, centroid, depth
from ..geometry.tolerance import EPS, same_point
from .overlaps import Overlaps
from .seams import merged, remainder
from .state import State

#: Leftover pieces of folds shorter than this are rounding.
SHORTEST = 1e-7
#: A place this deep inside a facet lies in no other.
DEEP = 1e-7


@dataclass(frozen=True, slots=True)
class Symmetry:
    """One way to lay a folded model onto itself.

    Attributes
    ----------
    sheet : isometry of the sheet's outline: which place takes the part of which
    motion : what it does in the folded plane: the image of a place lies at `motion(where it lies)`
    behind : whether the layers are reversed: what lay in front has its image behind
    """

    sheet: Isometry
    motion: Isometry
    behind: bool

    @property
    def mirrors(self) -> bool:
        """Whether hands at the image work mirror-wise (left for right), seen from its own face."""
        return self.motion.flips != self.behind

    @property
    def swaps_colours(self) -> bool:
        """Whether the image shows the other side of the paper, seen from its own face."""
        return (self.sheet.flips != self.motion.flips) != self.behind

    @property
    def is_identity(self) -> bool:
        """Whether it leaves everything where it is."""
        return same_isometry(self.sheet, IDENTITY) and not self.behind

    @property
    def axis(self) -> Line | None:
        """The mirror line in the folded plane, when the motion is a reflection without a slide."""
        return mirror_line(self.motion)


@dataclass(frozen=True, slots=True)
class Difference:
    """What keeps an isometry of the sheet from being a symmetry.

    kind is 'fold' or 'cut' (a place on the sheet has one and its image has none, or the other way
    round) or 'order' (two layers lie the other way round). `place` is a point of the sheet there,
    `image` where the isometry takes it; `amount` grows with how much differs.
    """

    kind: str
    place: Point
    image: Point
    amount: float


def mirror_line(motion: Isometry) -> Line | None:
    """Axis of a reflection; None for a rotation and for a reflection with a slide along its axis."""
    if not motion.flips:
        return None
    a, b = (0.31, 0.17), (-0.73, 0.59)
    p, q = midpoint(a, motion(a)), midpoint(b, motion(b))
    if distance(p, q) <= 1e-6:
        q = midpoint((2.0, 3.0), motion((2.0, 3.0)))
    line = line_through(p, q)
    return line if _close(reflection(line), motion) else None


def outline_isometries(outline: Polygon) -> tuple[Isometry, ...]:
    """Every isometry of the plane that carries a convex polygon onto itself, the identity first.

    Rotations come first, by the corner that takes the first one's part, then reflections.
    """
    ring = polygons.tidy(outline)
    n = len(ring)
    found: list[Isometry] = []
    for step in (1, -1):
        for k in range(n):
            image = [ring[(k + step * i) % n] for i in range(n)]
            m = _carrying(ring[0], ring[1], image[0], image[1], flips=step < 0)
            if m is not None and all(
                distance(m(p), q) <= 4 * EPS for p, q in zip(ring, image, strict=True)
            ):
                found.append(m)
    return tuple(found)


def _carrying(p: Point, q: Point, r: Point, s: Point, *, flips: bool) -> Isometry | None:
    """The isometry that carries p to r and q to s."""
    if abs(distance(p, q) - distance(r, s)) > 4 * EPS:
        return None
    ux, uy = unit((q[0] - p[0], q[1] - p[1]))
    vx, vy = unit((s[0] - r[0], s[1] - r[1]))
    if flips:
        # reflect in the x axis first, then turn (ux, -uy) to (vx, vy)
        co, si = vx * ux - vy * uy, vy * ux + vx * uy
        turn = Isometry(co, si, 0.0, si, -co, 0.0)
    else:
        co, si = vx * ux + vy * uy, vy * ux - vx * uy
        turn = Isometry(co, -si, 0.0, si, co, 0.0)
    tx, ty = turn(p)
    m = compose(translation((r[0] - tx, r[1] - ty)), turn)
    return IDENTITY if _close(m, IDENTITY) else m


def symmetries(state: State) -> tuple[Symmetry, ...]:
    """All symmetries of a state, the identity first.

    Where no two layers overlap, each is there twice: in front and behind.
    """
    return congruences(state, state)


def congruences(before: State, after: State) -> tuple[Symmetry, ...]:
    """Every way in which `after` looks as `before` does, in the order of `outline_isometries`."""
    one = _Features(before)
    two = one if after is before else _Features(after)
    found: list[Symmetry] = []
    for sheet in outline_isometries(before.sheet.outline):
        if _unmatched(one, two, sheet, quick=True):
            continue
        motion = _motion(before, two, sheet)
        if motion is None:
            continue
        found.extend(
            Symmetry(sheet, motion, behind)
            for behind in (False, True)
            if _wrong_order(one, two, sheet, behind) is None
        )
    return tuple(found)


def differences(before: State, after: State, sheet: Isometry, behind: bool) -> list[Difference]:
    """Why an isometry of the sheet is no congruence, the greatest difference first; [] if it is."""
    one, two = _Features(before), _Features(after)
    found = _unmatched(one, two, sheet, quick=False)
    if not found and _motion(before, two, sheet) is not None:
        pair = _wrong_order(one, two, sheet, behind)
        if pair is not None:
            found.append(Difference("order", pair, sheet(pair), 1.0))
    found.sort(key=lambda d: (-round(d.amount, 9), d.kind, d.place))
    return found


class _Features:
    """What has to match, worked out once for a state."""

    def __init__(self, state: State) -> None:
        self.state = state
        self.boxes = [polygons.bounds(f.outline) for f in state.facets]

    @cached_property
    def folds(self) -> list[Segment]:
        return merged(j.segment for j in self.state.joints if j.folded)

    @cached_property
    def cuts(self) -> list[Segment]:
        return merged(self.state.cuts)

    @cached_property
    def stacked(self) -> list[tuple[int, int, Point, Point, bool]]:
        """For every overlapping pair: a place on each layer, one over the other, and which is above."""
        out: list[tuple[int, int, Point, Point, bool]] = []
        overlaps = Overlaps(self.state.placed)
        back = [inverse(f.place) for f in self.state.facets]
        for (i, j), above in self.state.order.items():
            common = overlaps.common(i, j)
            if common:
                spot = centroid(common)
                out.append((i, j, back[i](spot), back[j](spot), above))
        return out

    def facet_at(self, p: Point, guess: int | None = None) -> int | None:
        """The facet that a place on the sheet lies deepest in; `guess` is looked at first."""
        best, found = -DEEP, None
        if guess is not None and depth(self.state.facets[guess].outline, p) > DEEP:
            return guess
        x, y = p
        for i, (x0, y0, x1, y1) in enumerate(self.boxes):
            if x0 - EPS <= x <= x1 + EPS and y0 - EPS <= y <= y1 + EPS:
                d = depth(self.state.facets[i].outline, p)
                if d > best:
                    best, found = d, i
                    if d > DEEP:
                        break
        return found


def _unmatched(one: _Features, two: _Features, sheet: Isometry, *, quick: bool) -> list[Difference]:
    """Folds and cuts of either state that have no partner in the other; `quick` stops at the first."""
    back = inverse(sheet)
    found: list[Difference] = []
    for kind, here, there in (("fold", one.folds, two.folds), ("cut", one.cuts, two.cuts)):
        if quick and abs(_total(here) - _total(there)) > SHORTEST:
            return [Difference(kind, (0.0, 0.0), (0.0, 0.0), 1.0)]
        for segments, others, forth in ((here, there, sheet), (there, here, back)):
            for seg in _long(remainder([map_segment(forth, s) for s in segments], others)):
                image = midpoint(*seg)
                place = inverse(forth)(image)
                found.append(Difference(kind, place, image, distance(*seg)))
                if quick:
                    return found
    return found


def _total(segments: Iterable[Segment]) -> float:
    return sum(distance(*s) for s in segments)


def _long(segments: Sequence[Segment]) -> list[Segment]:
    return [s for s in segments if distance(*s) > SHORTEST]


def _motion(before: State, features: _Features, sheet: Isometry) -> Isometry | None:
    """The motion of the folded plane that goes with an isometry under which all folds match.

    Placements follow from the folds by walking over the sheet, so one facet settles it; cuts are
    the exception (the paper may go round them), so the middles of all facets are compared too.
    """
    after = features.state
    motion: Isometry | None = None
    for f in sorted(before.facets, key=lambda f: -round(polygons.area(f.outline), 12)):
        c = centroid(f.outline)
        k = features.facet_at(sheet(c))
        if k is None:
            return None
        here = compose(compose(after.facets[k].place, sheet), inverse(f.place))
        if motion is None:
            motion = here
        elif not _close(motion, here) and not same_point(motion(f.place(c)), here(f.place(c))):
            return None
    return motion


def _wrong_order(one: _Features, two: _Features, sheet: Isometry, behind: bool) -> Point | None:
    """A place on the sheet where two layers do not lie as they should, None when all do."""
    image: dict[int, int | None] = {}  # of each facet, where it was looked for last
    for i, j, p, q, above in one.stacked:
        k = image[i] = two.facet_at(sheet(p), image.get(i))
        m = image[j] = two.facet_at(sheet(q), image.get(j))
        if k is None or m is None or two.state.above(k, m) is not (above != behind):
            return p
    return None


def _close(m: Isometry, n: Isometry) -> bool:
    return all(abs(x - y) <= 1e-7 for x, y in zip(m, n, strict=True))
