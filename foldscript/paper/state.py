"""A flat-folded state of the sheet, as a value.

The sheet is divided into convex **facets**, each with a placement (an isometry from sheet to folded
coordinates). **Plates** are the connected components of facets over joints that are not folded: one
placement, one flat piece. For every pair of facets whose placed images overlap the state says which
lies above, as the reader sees it (the layer order). Facets are convex so that a pair overlaps in one
connected part and one value a pair is enough, also where two non-convex plates overlap in several
parts.

Creases that lie flat now do not divide the sheet: they are kept as segments in sheet coordinates.
Only `foldscript.paper.refold` makes states; they are never changed. Sheets that are put together are one
state too (`foldscript.paper.assembly`): their outlines lie apart on the plane of the sheet, and nothing holds
the pieces of one sheet to those of another but the order of their layers.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from math import hypot
from types import MappingProxyType

from ..geometry import polygons
from ..geometry.cover import outlines
from ..geometry.isometries import IDENTITY, Isometry, compose, map_segment
from ..geometry.lines import Point, Segment
from ..geometry.polygons import Polygon
from ..geometry.tolerance import FOLDED
from .depths import chains
from .seams import collinear_overlaps, merged, remainder
from .sheet import Sheet
from .union_find import UnionFind

#: How far beside a facet's box a place is looked at, at least (sheet units): far above every slack.
_AIR = 1e-4


@dataclass(frozen=True, slots=True)
class Facet:
    """A convex piece of the sheet: outline counter-clockwise in sheet coordinates, and where it lies."""

    outline: Polygon
    place: Isometry

    @property
    def shows_front(self) -> bool:
        """Whether the reader sees the sheet's front here."""
        return not self.place.flips


@dataclass(frozen=True, slots=True)
class Joint:
    """Two facets holding together along a segment (sheet coordinates, counter-clockwise in `a`)."""

    a: int
    b: int
    segment: Segment
    folded: bool


@dataclass(frozen=True)
class State:
    """One flat-folded state.

    Attributes
    ----------
    facets : the pieces, disjoint, together the whole sheet
    order : for every overlapping pair i < j, True when facet i lies above facet j
    creases : every crease that lies flat now, disjoint segments in sheet coordinates
    cuts : where the paper has been cut, segments in sheet coordinates
    """

    sheet: Sheet
    facets: tuple[Facet, ...]
    order: Mapping[tuple[int, int], bool]
    creases: tuple[Segment, ...] = ()
    cuts: tuple[Segment, ...] = ()

    def above(self, i: int, j: int) -> bool | None:
        """Whether facet i lies above facet j; None when they do not overlap."""
        if i < j:
            return self.order.get((i, j))
        value = self.order.get((j, i))
        return None if value is None else not value

    @cached_property
    def placed(self) -> tuple[Polygon, ...]:
        """Facets in folded coordinates, counter-clockwise."""
        return tuple(placed_outline(f) for f in self.facets)

    @cached_property
    def outlines(self) -> tuple[Polygon, ...]:
        """Outer boundaries of the silhouette, counter-clockwise, without collinear corners."""
        return outlines(self.placed)

    @cached_property
    def joints(self) -> tuple[Joint, ...]:
        """Every place where two facets hold together, folded or not."""
        sides: list[tuple[int, Segment]] = [
            (i, side) for i, f in enumerate(self.facets) for side in polygons.edges(f.outline)
        ]
        found: list[Joint] = []
        for (a, b), seg in collinear_overlaps(sides, opposite=True):
            pieces = remainder([seg], self.cuts) if self.cuts else [seg]
            folded = self.facets[a].shows_front != self.facets[b].shows_front
            found.extend(Joint(a, b, piece, folded) for piece in pieces)
        return tuple(found)

    @cached_property
    def raw_edges(self) -> tuple[tuple[int, Segment], ...]:
        """(facet, segment in sheet coordinates) of every free edge: the sheet's rim and cuts."""
        held: dict[int, list[Segment]] = defaultdict(list)
        for joint in self.joints:
            held[joint.a].append(joint.segment)
            held[joint.b].append(joint.segment)
        return tuple(
            (i, piece)
            for i, f in enumerate(self.facets)
            for side in polygons.edges(f.outline)
            for piece in remainder([side], held[i])
        )

    @cached_property
    def neighbours(self) -> tuple[frozenset[int], ...]:
        """For each facet, the facets that overlap it."""
        found: list[set[int]] = [set() for _ in self.facets]
        for i, j in self.order:
            found[i].add(j)
            found[j].add(i)
        return tuple(frozenset(s) for s in found)

    @cached_property
    def sheets(self) -> tuple[int, ...]:
        """For each facet, which of the sheets it is part of; 0 where there is only one."""
        if not self.sheet.others:
            return (0,) * len(self.facets)
        return tuple(
            max(
                range(len(self.sheet.all)),
                key=lambda k: polygons.depth(
                    self.sheet.all[k].outline, polygons.centroid(facet.outline)
                ),
            )
            for facet in self.facets
        )

    @cached_property
    def plates(self) -> tuple[tuple[int, ...], ...]:
        """Facets grouped into flat pieces (joined by unfolded joints), in facet order."""
        joined = UnionFind(len(self.facets))
        for joint in self.joints:
            if not joint.folded:
                joined.unite(joint.a, joint.b)
        return joined.sets()

    @cached_property
    def plate_of(self) -> dict[int, int]:
        """Facet -> index of the plate that it is part of."""
        return {i: k for k, plate in enumerate(self.plates) for i in plate}

    def plate(self, facet: int) -> frozenset[int]:
        """The facets of the plate that a facet is part of, itself among them."""
        return frozenset(self.plates[self.plate_of[facet]])

    @cached_property
    def fold_segments(self) -> tuple[tuple[Joint, Segment], ...]:
        """Folded joints with their segment in folded coordinates."""
        return tuple(
            (j, map_segment(self.facets[j.a].place, j.segment)) for j in self.joints if j.folded
        )

    def facets_at(self, spot: Point, *, among: Iterable[int] | None = None) -> tuple[int, ...]:
        """Facets whose placed image holds a point of the folded plane, topmost first."""
        pool = range(len(self.facets)) if among is None else among
        (x, y), boxes, placed = spot, self._placed_boxes, self.placed
        here: list[int] = []
        for i in pool:
            x0, y0, x1, y1 = boxes[i]
            if x0 <= x <= x1 and y0 <= y <= y1 and polygons.inside(placed[i], spot):
                here.append(i)
        return self.top_down(here)

    def top_down(self, members: Iterable[int]) -> tuple[int, ...]:
        """Facets sorted topmost first. Those that the order leaves open follow from the paper as far as it
        tells them apart (`_ranks`), and from their numbers only where they are alike."""
        left = sorted(members, key=lambda i: self._ranks[i])
        if not self._piled[2]:
            return tuple(left)
        out: list[int] = []
        while left:
            pick = next(
                (i for i in left if not any(self.above(j, i) for j in left if j != i)), left[0]
            )
            left.remove(pick)
            out.append(pick)
        return tuple(out)

    @cached_property
    def _piled(self) -> tuple[tuple[int, ...], tuple[int, ...], bool]:
        """How many layers lie over and under each facet, and whether some lie in a ring."""
        over: list[list[int]] = [[] for _ in self.facets]
        under: list[list[int]] = [[] for _ in self.facets]
        for (i, j), above in self.order.items():
            upper, lower = (i, j) if above else (j, i)
            over[lower].append(upper)
            under[upper].append(lower)
        depths, ringed = chains(over, under)
        heights, _ = chains(under, over)
        return tuple(depths), tuple(heights), ringed

    @cached_property
    def _ranks(self) -> tuple[tuple[int, float, int], ...]:
        """For each facet a key that sorts from the top down, and the other way round from the bottom up."""
        over, under, _ = self._piled
        return tuple(
            (o - u, round(polygons.area(facet.outline), 9), i)
            for i, (facet, o, u) in enumerate(zip(self.facets, over, under, strict=True))
        )

    @property
    def depths(self) -> tuple[int, ...]:
        """For each facet how many layers lie over it, counted along the longest row of them."""
        return self._piled[0]

    @cached_property
    def _boxes(self) -> tuple[tuple[float, float, float, float], ...]:
        """For each facet the box about it on the sheet, with an air that no slack for a place exceeds."""
        return tuple(_airy(f.outline) for f in self.facets)

    @cached_property
    def _placed_boxes(self) -> tuple[tuple[float, float, float, float], ...]:
        """The same in folded coordinates."""
        return tuple(_airy(ring) for ring in self.placed)

    def _near(self, p: Point) -> Iterator[int]:
        """Facets that a point of the sheet may lie on, in index order."""
        x, y = p
        return (
            i for i, (x0, y0, x1, y1) in enumerate(self._boxes) if x0 <= x <= x1 and y0 <= y <= y1
        )

    def facets_on_sheet(self, p: Point) -> tuple[int, ...]:
        """Facets that hold a point of the sheet (several on a joint), in index order."""
        return tuple(i for i in self._near(p) if polygons.inside(self.facets[i].outline, p))

    def deepest(self, p: Point) -> int:
        """The facet in which a point of the sheet lies deepest, or that which it is nearest to."""
        depths = {i: polygons.depth(self.facets[i].outline, p) for i in self._near(p)}
        if max(depths.values(), default=-1.0) < 0.0:
            depths = {i: polygons.depth(f.outline, p) for i, f in enumerate(self.facets)}
        return max(depths, key=lambda i: depths[i])

    def on_paper(self, segments: Iterable[Segment]) -> list[Segment]:
        """The parts of segments of the sheet that lie on what is left of it."""
        found = [polygons.clip_segment(f.outline, seg) for seg in segments for f in self.facets]
        return merged(part for part in found if part is not None)

    def where(self, p: Point) -> Point:
        """Folded position of a sheet point; ValueError when it is off the sheet."""
        best, where = -1.0, None
        for f in (self.facets[i] for i in self._near(p)):
            d = polygons.depth(f.outline, p)
            if d > best:
                best, where = d, f.place
                if d > 1e-7:  # in no other
                    break
        if where is None or best < -1e-7:
            raise ValueError("not a point of the sheet")
        return where(p)

    def places(self, p: Point) -> tuple[Point, ...]:
        """Folded positions of a sheet point, one as a rule; where a cut runs through it, one for each side
        that lies apart. ValueError when it is off the sheet."""
        found = [self.where(p)]
        for i in self.facets_on_sheet(p) if self.cuts else ():
            at = self.facets[i].place(p)
            if all(hypot(at[0] - q[0], at[1] - q[1]) > FOLDED for q in found):
                found.append(at)
        return tuple(found)

    def moved(self, motion: Isometry) -> State:
        """The whole model carried by a motion of the plane; a reflection turns it over."""
        facets = tuple(Facet(f.outline, compose(motion, f.place)) for f in self.facets)
        order = {k: not v for k, v in self.order.items()} if motion.flips else self.order
        return self.relaid(facets, order)

    def relaid(self, facets: tuple[Facet, ...], order: Mapping[tuple[int, int], bool]) -> State:
        """The same pieces laid elsewhere: they hold together where they did, folded or not."""
        state = replace(self, facets=facets, order=order)
        front = [f.shows_front for f in facets]
        if "_boxes" in self.__dict__:
            state.__dict__["_boxes"] = self._boxes
        state.__dict__["joints"] = tuple(
            j if j.folded == folded else Joint(j.a, j.b, j.segment, folded)
            for j in self.joints
            for folded in [front[j.a] != front[j.b]]
        )
        return state

    def with_creases(self, creases: tuple[Segment, ...]) -> State:
        """The same paper with other flat creases."""
        state = replace(self, creases=creases)
        state.__dict__["joints"] = self.joints
        if "_boxes" in self.__dict__:
            state.__dict__["_boxes"] = self._boxes
        return state


def _airy(ring: Polygon) -> tuple[float, float, float, float]:
    x0, y0, x1, y1 = polygons.bounds(ring)
    return (x0 - _AIR, y0 - _AIR, x1 + _AIR, y1 + _AIR)


def placed_outline(facet: Facet) -> Polygon:
    """Facet in folded coordinates, counter-clockwise."""
    a, b, tx, c, d, ty = facet.place
    ring = tuple([(a * x + b * y + tx, c * x + d * y + ty) for x, y in facet.outline])
    return ring[::-1] if facet.place.flips else ring


def flat(sheet: Sheet, place: Isometry = IDENTITY) -> State:
    """The unfolded sheet, front up, turned as `place` says."""
    return State(sheet, (Facet(sheet.outline, place),), MappingProxyType({}))
