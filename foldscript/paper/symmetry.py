"""Symmetries of a folded state: how the paper as it lies can be laid onto itself.

In: a state (or two states of one sheet). Out: every isometry of the sheet's outline that carries the
folds onto the folds, the cuts onto the cuts and the layers onto the layers, together with the motion
of the folded plane that goes with it. Computed, never asked for: an isosceles trapezoid has its two,
a square its eight. Creases that lie flat need not match.

Why two states: a model whose flaps have been turned like pages may look as it did before, with other
flaps in front; a repeat on those flaps goes through such a congruence.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from ..geometry import polygons
from ..geometry.isometries import (
    IDENTITY,
    Isometry,
    compose,
    inverse,
    map_segment,
    nearly_same,
    reflection,
    same_isometry,
    translation,
)
from ..geometry.lines import (
    Line,
    Point,
    Segment,
    distance,
    line_through,
    midpoint,
    total_length,
    unit,
)
from ..geometry.polygons import Polygon, centroid, depth
from ..geometry.tolerance import EPS, same_point
from .overlaps import Overlaps, same_area
from .seams import merged, remainder
from .sheet import Sheet
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
    return line if nearly_same(reflection(line), motion) else None


def outline_isometries(outline: Polygon) -> tuple[Isometry, ...]:
    """Every isometry of the plane that carries a polygon onto itself, the identity first.

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


def sheet_isometries(sheet: Sheet) -> tuple[Isometry, ...]:
    """Every isometry of the plane that carries a sheet with all its holes onto itself, the identity first."""
    spots = [centroid(hole) for hole in sheet.holes]

    def fits(m: Isometry) -> bool:
        images = [tuple(map(m, hole)) for hole in sheet.holes]
        return all(
            any(
                distance(centroid(image), spot) <= 4 * EPS
                and all(any(distance(p, q) <= 4 * EPS for q in hole) for p in image)
                for spot, hole in zip(spots, sheet.holes, strict=True)
            )
            for image in images
        )

    return tuple(m for m in outline_isometries(sheet.outline) if fits(m))


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
    return IDENTITY if nearly_same(m, IDENTITY) else m


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
    for sheet in sheet_isometries(before.sheet):
        if _unmatched(one, two, sheet, quick=True):
            continue
        image = _Image(one, two, sheet)
        motion = _motion(image)
        if motion is None:
            continue
        found.extend(
            Symmetry(sheet, motion, behind)
            for behind in (False, True)
            if _wrong_order(image, behind) is None
        )
    return tuple(found)


def differences(before: State, after: State, sheet: Isometry, behind: bool) -> list[Difference]:
    """Why an isometry of the sheet is no congruence, the greatest difference first; [] if it is."""
    one, two = _Features(before), _Features(after)
    found = _unmatched(one, two, sheet, quick=False)
    image = _Image(one, two, sheet)
    if not found and _motion(image) is not None:
        pair = _wrong_order(image, behind)
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
    def overlaps(self) -> Overlaps:
        return Overlaps(self.state.placed)

    def places(self, i: int, j: int) -> tuple[Point, Point] | None:
        """A place of the sheet on each of two facets, one over the other."""
        common = self.overlaps.common(i, j)
        if not common:
            return None
        spot = centroid(common)
        facets = self.state.facets
        return inverse(facets[i].place)(spot), inverse(facets[j].place)(spot)

    @cached_property
    def corners(self) -> dict[tuple[int, int], list[int]]:
        """Facets by the top left corner of the box around them on the sheet."""
        found: dict[tuple[int, int], list[int]] = {}
        for i, around in enumerate(self.boxes):
            found.setdefault(_top_left(around), []).append(i)
        return found

    def facet_at(self, p: Point) -> int | None:
        """The facet that a place on the sheet lies deepest in."""
        best, found = -DEEP, None
        x, y = p
        for i, (x0, y0, x1, y1) in enumerate(self.boxes):
            if x0 - EPS <= x <= x1 + EPS and y0 - EPS <= y <= y1 + EPS:
                d = depth(self.state.facets[i].outline, p)
                if d > best:
                    best, found = d, i
                    if d > DEEP:
                        break
        return found


def _top_left(around: Sequence[float]) -> tuple[int, int]:
    return round(around[0] * 1e6), round(around[3] * 1e6)


class _Image:
    """Where the facets of one state come to lie among another's under an isometry of the sheet."""

    def __init__(self, one: _Features, two: _Features, sheet: Isometry) -> None:
        self.one, self.two, self.sheet = one, two, sheet
        self._whole: dict[int, int | None] = {}

    def whole(self, i: int) -> int | None:
        """The facet that is the image of facet i, where it is one."""
        if i not in self._whole:
            ring = tuple(self.sheet(p) for p in self.one.state.facets[i].outline)
            ring = ring[::-1] if self.sheet.flips else ring
            near = self.two.corners.get(_top_left(polygons.bounds(ring)), ())
            others = self.two.state.facets
            self._whole[i] = next((k for k in near if same_area(ring, others[k].outline)), None)
        return self._whole[i]

    def facet(self, i: int, p: Point) -> int | None:
        """The facet that holds the image of a place on facet i."""
        k = self.whole(i)
        return self.two.facet_at(self.sheet(p)) if k is None else k


def _unmatched(one: _Features, two: _Features, sheet: Isometry, *, quick: bool) -> list[Difference]:
    """Folds and cuts of either state that have no partner in the other; `quick` stops at the first."""
    back = inverse(sheet)
    found: list[Difference] = []
    for kind, here, there in (("fold", one.folds, two.folds), ("cut", one.cuts, two.cuts)):
        if quick and abs(total_length(here) - total_length(there)) > SHORTEST:
            return [Difference(kind, (0.0, 0.0), (0.0, 0.0), 1.0)]
        for segments, others, forth in ((here, there, sheet), (there, here, back)):
            for seg in _long(remainder([map_segment(forth, s) for s in segments], others)):
                image = midpoint(*seg)
                place = inverse(forth)(image)
                found.append(Difference(kind, place, image, distance(*seg)))
                if quick:
                    return found
    return found


def _long(segments: Sequence[Segment]) -> list[Segment]:
    return [s for s in segments if distance(*s) > SHORTEST]


def _motion(image: _Image) -> Isometry | None:
    """The motion of the folded plane that goes with an isometry under which all folds match.

    Placements follow from the folds by walking over the sheet, so one facet settles it; cuts are
    the exception (the paper may go round them), so the middles of all facets are compared too.
    """
    facets, others = image.one.state.facets, image.two.state.facets
    motion: Isometry | None = None
    for i in sorted(range(len(facets)), key=lambda i: -round(polygons.area(facets[i].outline), 12)):
        f = facets[i]
        c = centroid(f.outline)
        k = image.facet(i, c)
        if k is None:
            return None
        here = compose(compose(others[k].place, image.sheet), inverse(f.place))
        if motion is None:
            motion = here
        elif not nearly_same(motion, here) and not same_point(motion(f.place(c)), here(f.place(c))):
            return None
    return motion


def _wrong_order(image: _Image, behind: bool) -> Point | None:
    """A place on the sheet where two layers do not lie as they should, None when all do."""
    above = image.two.state.above
    for (i, j), over in image.one.state.order.items():
        k, m = image.whole(i), image.whole(j)
        if k is not None and m is not None and above(k, m) is (over != behind):
            continue
        places = image.one.places(i, j)
        if places is None:
            continue
        k, m = image.facet(i, places[0]), image.facet(j, places[1])
        if k is None or m is None or above(k, m) is not (over != behind):
            return places[0]
    return None
