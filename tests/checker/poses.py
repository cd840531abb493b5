"""An independent check of paper in space: the poses of a states document, judged without the package.

In: a document as a dictionary; of one state its plates and its `pose`. Out: a list of faults, empty when
the pose is one that this sheet can have. Each reads 'kind: what', where kind is one of

    format                  numbers that lead nowhere
    tiling, plate           pieces tile what is left of the sheet, each within one plate
    seam                    pieces that the sheet joins share the points between them, and the line is listed
    length, plane           sides and diagonals are as long as on the sheet; corners lie in a plane
    angle, sense            lines are folded by what is said; folds keep their sense
    through                 no piece goes through another
    order                   layers that are close lie over each other as they did
    touching                what lies together has an order, as it lay, with no ring in it

It measures otherwise than the package's own proof: pieces are laid into planes of their own and compared
there as polygons (shapely), never cut into triangles.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations
from typing import Any

import networkx as nx
import numpy as np
import shapely
from shapely import LineString, MultiPolygon, Polygon, STRtree
from shapely.affinity import scale
from shapely.ops import unary_union

from .planes import Piece, at_one_place, overlap, through
from .plates import (
    Malformed,
    Plate,
    Vector,
    points,
    read_left,
    read_parts,
    read_plate,
    read_segments,
    signed_area,
)


@dataclass(frozen=True)
class Allowed:
    """What is let pass: a share of a length, and millimetres."""

    stretch: float = 1e-4
    plane: float = 0.01
    through: float = 0.05
    swapped: float = 0.15


FINISHED = Allowed()
HALF_WAY = Allowed(5e-3, 0.5, 0.3, 0.3)

#: Millimetres: what is nearer on the sheet is in one place.
_SAME = 1e-4
#: Radians that a line may be folded by otherwise than it is said, and past flat or past closed.
_SAID, _PAST = 1e-3, 0.02
#: Layers nearer than this (mm) are close.
_CLOSE = 1.0


def pose_faults(document: Mapping[str, Any], allowed: Allowed = FINISHED) -> list[str]:
    """Everything wrong with the poses of a document of folded states."""
    outline = points(document["sheet"]["outline"], "outline", 3)
    paper: Polygon | MultiPolygon = Polygon(outline)
    begins, _ = read_parts(document, document["states"])
    found: list[str] = []
    for k, state in enumerate(document["states"]):
        if k in begins:
            shape, size = begins[k]
            paper = scale(shape, size, size, origin=(0, 0))
        left = read_left(state, 1.0)
        paper = paper if left is None else left
        if "pose" not in state:
            continue
        try:
            some = list(Standing(paper, state).faults(allowed))
        except Malformed as bad:
            some = [f"format: {bad}"]
        found += [f"step {state['step']}: {fault}" for fault in some]
    return found


def standing_of(document: Mapping[str, Any]) -> Standing:
    """The last pose of a document, to be looked at."""
    paper = Polygon(points(document["sheet"]["outline"], "outline", 3))
    return Standing(paper, next(s for s in reversed(document["states"]) if "pose" in s))


@dataclass(frozen=True)
class _Seam:
    """A line between two pieces; `angle` in radians, above 0 where the sheet's front is inside."""

    start: int
    end: int
    left: int
    right: int | None
    angle: float
    kind: str


class Standing:
    """One pose under check."""

    def __init__(self, paper: Polygon | MultiPolygon, state: Mapping[str, Any]) -> None:
        pose = state["pose"]
        self.paper = paper
        self.plates = [read_plate(p, f"plate {k}", 1.0) for k, p in enumerate(state["plates"])]
        self.above = {(int(i), int(j)) for i, j in state["above"]}
        self.cuts = [LineString(c) for c in read_segments(state.get("cuts", []), "cut", 1.0)]
        sheet, space = points(pose["sheet"], "sheet", 3), np.array(pose["space"], dtype=float)
        if space.shape != (len(sheet), 3) or not np.isfinite(space).all():
            raise Malformed("points in space are not those of the sheet")
        self.pieces: list[Piece] = []
        for k, one in enumerate(pose["pieces"]):
            ring = tuple(one["corners"])
            if len(set(ring)) != len(ring) or not all(0 <= v < len(sheet) for v in ring):
                raise Malformed(f"corners of piece {k}")
            if not Polygon(sheet[list(ring)]).is_valid or signed_area(sheet[list(ring)]) <= 0:
                raise Malformed(f"piece {k} is not counter-clockwise, or crosses itself")
            self.pieces.append(Piece(ring, sheet[list(ring)], space[list(ring)]))
        self.seams = [
            _Seam(e["from"], e["to"], e["left"], e["right"], math.radians(e["angle"]), e["kind"])
            for e in pose["edges"]
        ]
        self.touching = [(int(i), int(j), side == "front") for i, j, side in pose["touching"]]
        self.sheet, self.space = sheet, space

    def faults(self, allowed: Allowed) -> Iterator[str]:
        """One fault after the other."""
        yield from self._tiling()
        yield from self._seams()
        yield from self._shapes(allowed)
        yield from self._angles()
        yield from self._through(allowed)
        yield from self._orders(allowed)
        yield from self._together(allowed)

    def _tiling(self) -> Iterator[str]:
        shapes = [p.shape for p in self.pieces]
        total = sum(s.area for s in shapes)
        if abs(total - self.paper.area) > 1e-6 * self.paper.area:
            yield f"tiling: the pieces are {total / self.paper.area:.6f} of the sheet"
        off = self.paper.symmetric_difference(unary_union(shapes).buffer(0)).buffer(-_SAME)
        if not off.is_empty:
            yield "tiling: the pieces are not the sheet"
        for k, piece in enumerate(self.pieces):
            if self._plate_of[k] < 0:
                yield f"plate: piece {k} at {_at(piece.shape)} lies in no one plate"

    @cached_property
    def _plate_of(self) -> list[int]:
        """For each piece the plate that covers it; -1 where none does."""
        wide = [plate.shape.buffer(_SAME, join_style="mitre") for plate in self.plates]
        return [
            next((n for n, w in enumerate(wide) if w.covers(piece.shape)), -1)
            for piece in self.pieces
        ]

    def _seams(self) -> Iterator[str]:
        sides: dict[tuple[int, int], int] = {}
        for k, piece in enumerate(self.pieces):
            for side in zip(piece.ring, (*piece.ring[1:], piece.ring[0]), strict=True):
                if side in sides:
                    yield f"seam: pieces {sides[side]} and {k} lie on the same side of a line"
                sides[side] = k
        listed: set[tuple[int, int]] = set()
        for seam in self.seams:
            way, back = (seam.start, seam.end), (seam.end, seam.start)
            if sides.get(way) != seam.left or sides.get(back) != seam.right:
                yield f"seam: line {way} does not lie between pieces {seam.left} and {seam.right}"
            listed |= {way} if seam.right is None else {way, back}
        if listed != set(sides):
            yield f"seam: {len(set(sides) ^ listed)} sides of pieces and lines do not match"
        rim = unary_union([self.paper.boundary, *self.cuts]).buffer(_SAME)
        for seam in self.seams:
            if seam.right is None and not rim.covers(
                LineString(self.sheet[[seam.start, seam.end]])
            ):
                yield f"seam: the paper is torn from {self.sheet[seam.start]} to {self.sheet[seam.end]}"

    def _shapes(self, allowed: Allowed) -> Iterator[str]:
        for k, piece in enumerate(self.pieces):
            for i, j in combinations(range(len(piece.ring)), 2):
                was = math.dist(piece.sheet[i], piece.sheet[j])
                now = math.dist(piece.space[i], piece.space[j])
                if abs(now - was) > allowed.stretch * was + 1e-7:
                    yield f"length: piece {k} at {_at(piece.shape)}: {now:.6f} instead of {was:.6f} mm"
                    break
            if (off := float(np.abs(piece.heights(piece.space)).max())) > allowed.plane:
                yield f"plane: piece {k} at {_at(piece.shape)} is {off:.3f} mm out of plane"

    def _angles(self) -> Iterator[str]:
        for seam in self.seams:
            if seam.right is None:
                continue
            left, right = self.pieces[seam.left], self.pieces[seam.right]
            angle, where = self._folded_by(seam), f"at {_at(LineString(self._on_sheet(seam)))}"
            if (
                abs(math.remainder(angle - seam.angle, 2 * math.pi)) > _SAID
                and min(left.shape.area, right.shape.area) > 0.01
            ):
                yield (
                    f"angle: {math.degrees(seam.angle):.3f} degrees said {where}, "
                    f"it is {math.degrees(angle):.3f}"
                )
            sense = self._sense(seam)
            if sense and angle * sense < -_PAST and math.pi - abs(angle) > _PAST:
                yield f"sense: the fold {where} is folded the other way, by {math.degrees(angle):.2f}"
            if sense and seam.kind != "fold":
                yield f"sense: the fold {where} is called a {seam.kind}"

    def _on_sheet(self, seam: _Seam) -> Vector:
        return self.sheet[[seam.start, seam.end]]

    def _folded_by(self, seam: _Seam) -> float:
        """From the ways that lead off the line into each piece, square to it."""
        left, right = self.pieces[seam.left], self.pieces[seam.right or 0]
        along = self.space[seam.end] - self.space[seam.start]
        along = along / np.linalg.norm(along)
        into = np.cross(left.normal, along)  # left of the way, seen from the front
        off = np.cross(along, right.normal)
        return math.atan2(float(off @ left.normal), float(-(off @ into)))

    def _sense(self, seam: _Seam) -> int:
        """1 for a fold with the front inside, -1 with the back inside, 0 where the paper was flat."""
        a, b = (self._plate_of[k] for k in (seam.left, seam.right or 0))
        if a < 0 or b < 0 or a == b or self.plates[a].flips == self.plates[b].flips:
            return 0
        for upper, lower in ((a, b), (b, a)):
            if (upper, lower) in self.above:
                return 1 if self.plates[upper].flips else -1
        return 0

    @cached_property
    def _near(self) -> list[tuple[int, int]]:
        """Pairs whose boxes come near each other."""
        boxes = [shapely.box(*p.low[:2], *p.high[:2]) for p in self.pieces]
        left, right = STRtree(boxes).query(boxes, predicate="dwithin", distance=_CLOSE)
        return sorted(
            (int(i), int(j))
            for i, j in zip(left, right, strict=True)
            if i < j
            and self.pieces[i].low[2] <= self.pieces[j].high[2] + _CLOSE
            and self.pieces[j].low[2] <= self.pieces[i].high[2] + _CLOSE
        )

    def _through(self, allowed: Allowed) -> Iterator[str]:
        for i, j in self._near:
            one, two = self.pieces[i], self.pieces[j]
            if len(set(one.ring) & set(two.ring)) >= 2:
                continue
            if (depth := through(one, two)) > allowed.through:
                yield (
                    f"through: piece {i} at {_at(one.shape)} goes {depth:.3f} mm through piece {j} "
                    f"at {_at(two.shape)}"
                )

    def _orders(self, allowed: Allowed) -> Iterator[str]:
        """Close layers that lay over each other when flat do so still."""
        for i, j in self._near:
            side = self.flat_side(i, j)
            if side is None:
                continue
            heights = self._heights_over(i, j)
            if heights is None:
                continue
            wrong = min((h if side else -h) for h in heights)
            if -_CLOSE < wrong < -allowed.swapped:
                yield f"order: piece {j} lies {-wrong:.3f} mm on the wrong side of piece {i}"

    def flat_side(self, i: int, j: int) -> bool | None:
        """Whether piece j lay on the front of piece i when flat.

        None where they did not overlap, or where one has been turned over beside the other since, as a page
        under a board: it shows it its other side.
        """
        a, b = self._plate_of[i], self._plate_of[j]
        if (a, b) not in self.above and (b, a) not in self.above:
            return None
        alike = self.plates[a].flips == self.plates[b].flips
        if (float(self.pieces[i].normal @ self.pieces[j].normal) > 0) != alike:
            return None
        if overlap(
            _folded(self.pieces[i], self.plates[a]), _folded(self.pieces[j], self.plates[b])
        ):
            return ((b, a) in self.above) != self.plates[a].flips
        return None

    def _turned_through(self, i: int, j: int) -> bool:
        """Whether pieces that lay on each other lie together turned over about a line amid both."""
        a, b = self._plate_of[i], self._plate_of[j]
        if self.flat_side(i, j) is not None or not {(a, b), (b, a)} & self.above:
            return False
        one, two = self.pieces[i], self.pieces[j]
        common = overlap(_folded(one, self.plates[a]), _folded(two, self.plates[b]))
        if common is None:
            return False
        spots = shapely.get_coordinates(common)
        # where the other piece has these places now, and where this one has them, in the plane of this one
        now, still = (
            one.into(_carried(piece, self.plates[k], spots)) for piece, k in ((two, b), (one, a))
        )
        way = now - still
        far = way[int(np.argmax((way * way).sum(axis=1)))]
        size = float(np.linalg.norm(far))
        if size < 0.4:
            return False
        along = way @ (far / size)
        return bool(along.min() < -0.4)

    def _heights_over(self, i: int, j: int) -> Vector | None:
        """Heights of piece j over piece i, where it lies over it and along it; None elsewhere."""
        one, two = self.pieces[i], self.pieces[j]
        if abs(float(one.normal @ two.normal)) < 0.9:
            return None
        common = overlap(one.laid, Polygon(one.into(two.space)))
        if common is None:
            return None
        spots = shapely.get_coordinates(common)
        # The plane of the other piece over these places of this one.
        lift = float(two.normal @ one.normal)
        base = one.middle + spots[:, :1] * one.u + spots[:, 1:] * one.v
        return -((base - two.middle) @ two.normal) / lift

    def together(self) -> Iterator[tuple[int, int, Polygon]]:
        """Pieces that lie in one plane, and what they share there, in the axes of the first."""
        for i, j in self._near:
            heights = self._heights_over(i, j)
            if heights is None or np.abs(heights).max() > 0.02:
                continue
            one, two = self.pieces[i], self.pieces[j]
            common = overlap(one.laid, Polygon(one.into(two.space)))
            if common is not None:
                yield i, j, common

    def _together(self, allowed: Allowed) -> Iterator[str]:
        """What lies together: its order is said, agrees with how it lay, and has no ring at any place."""
        said: dict[tuple[int, int], bool] = {}
        for i, j, front in self.touching:
            if said.get((i, j), front) != front or (j, i) in said:
                yield f"touching: pieces {i} and {j} are said twice"
            said[(i, j)] = front
        ring: nx.DiGraph[int] = nx.DiGraph()
        for (i, j), front in said.items():
            if self._turned_through(i, j):
                yield f"touching: piece {j} has been turned through piece {i}"
            flat = self.flat_side(i, j)
            if flat is not None and flat != front:
                yield f"touching: pieces {i} and {j} lay the other way round when flat"
            heights = self._heights_over(i, j)
            wrong = 0.0 if heights is None else min((h if front else -h) for h in heights)
            if wrong < -allowed.swapped - allowed.through:
                yield f"touching: piece {j} lies {-wrong:.3f} mm on the other side of piece {i}"
        for i, j, _ in self.together():
            if (i, j) not in said and (j, i) not in said:
                yield f"touching: pieces {i} and {j} lie together, and none is said to be above"
                continue
            front = said[(i, j)] if (i, j) in said else said[(j, i)]
            base = self.pieces[i if (i, j) in said else j].normal
            upward = base[int(np.argmax(np.abs(base)))] > 0
            low, high = ((i, j) if (i, j) in said else (j, i))[:: 1 if upward == front else -1]
            ring.add_edge(low, high)
        for some in nx.simple_cycles(ring, length_bound=3):
            if at_one_place([self.pieces[k] for k in some]):
                yield f"touching: pieces {sorted(some)} lie on each other in a ring"


def _folded(piece: Piece, plate: Plate) -> Polygon:
    """A piece where it lay flat."""
    return Polygon(piece.sheet @ plate.place[:, :2].T + plate.place[:, 2])


def _carried(piece: Piece, plate: Plate, spots: Vector) -> Vector:
    """Where a piece has places of the folded plane now."""
    flat = piece.sheet @ plate.place[:, :2].T + plate.place[:, 2]
    affine, *_ = np.linalg.lstsq(np.c_[flat, np.ones(len(flat))], piece.space, rcond=None)
    return np.c_[spots, np.ones(len(spots))] @ affine


def _at(shape: Polygon | LineString) -> str:
    return f"({shape.centroid.x:.2f}, {shape.centroid.y:.2f})"
