"""Reading a document of folded states into shapes: plates as they lie on the sheet and folded.

In: the JSON of `foldscript states` as plain dictionaries. Out: frozen plates and joints in units of
the sheet's longer side. Written apart from the package, so that both cannot share a mistake.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from shapely import STRtree, intersection
from shapely.geometry import LineString, MultiLineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

#: What is thinner or shorter than this is not looked at (of the sheet's longer side).
THIN = 1e-6
#: Edges this close lie along each other.
NEAR = 1e-7
#: Plates that overlap by no more than this only touch; up to THIN an order is allowed, not asked for.
TOUCH = 1e-12
#: Numbers that must agree do so within this.
EXACT = 1e-9

Vector = np.ndarray


class Malformed(Exception):
    """The document does not have the agreed shape."""


@dataclass(frozen=True)
class Plate:
    """A flat piece: rings with the paper on their left, its place, and both shapes."""

    rings: tuple[Vector, ...]
    place: Vector  # 2 x 3
    front: bool  # as the document says
    shape: Polygon
    placed: Polygon
    core: BaseGeometry  # the placed shape without a rim of THIN

    @property
    def flips(self) -> bool:
        return float(np.linalg.det(self.place[:, :2])) < 0

    def fold(self, p: Vector) -> Vector:
        return self.place[:, :2] @ p + self.place[:, 2]


@dataclass(frozen=True)
class Joint:
    """Two plates holding together along a -> b, with the first one on its left on the sheet."""

    first: int
    second: int
    a: Vector
    b: Vector
    a_folded: Vector
    b_folded: Vector
    folded: bool

    def sides(self, plates: Sequence[Plate]) -> tuple[int, int]:
        """On which side of a_folded -> b_folded each plate lies: 1 left, -1 right."""
        return (-1 if plates[self.first].flips else 1), (1 if plates[self.second].flips else -1)


def points(value: Any, what: str, at_least: int) -> Vector:
    """An n x 2 array from a list of pairs."""
    try:
        array = np.array(value, dtype=float)
    except (TypeError, ValueError):
        raise Malformed(f"{what} is not a list of points") from None
    if array.ndim != 2 or array.shape[1] != 2 or len(array) < at_least:
        raise Malformed(f"{what} is not a list of at least {at_least} points")
    if not np.isfinite(array).all():
        raise Malformed(f"{what} holds a number that is not finite")
    return array


def signed_area(ring: Vector) -> float:
    x, y = ring[:, 0], ring[:, 1]
    return float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)) / 2


def common_area(a: BaseGeometry, b: BaseGeometry) -> BaseGeometry:
    """Common area of two shapes. On a fine grid, for shapes that differ by rounding alone.

    Lines and points in which they only touch are left out.
    """
    found = intersection(a, b, grid_size=1e-13)
    parts = [p for p in getattr(found, "geoms", [found]) if isinstance(p, Polygon)]
    return parts[0] if len(parts) == 1 else MultiPolygon(parts)


def thickness(shape: BaseGeometry) -> float:
    """Greatest thickness among a shape's parts, as twice the area over the rim's length."""
    parts = getattr(shape, "geoms", [shape])
    return max(
        (2 * p.area / p.length for p in parts if isinstance(p, Polygon) and p.length > 0),
        default=0.0,
    )


#: The paper that lies there, and its size in millimetres.
Paper = tuple[Polygon | MultiPolygon, float]


def read_sheet(sheet: Mapping[str, Any]) -> Paper:
    """The flat sheet; Malformed where its outline is none."""
    outline = points(sheet.get("outline"), "outline", 3)
    size = float(max(np.ptp(outline[:, 0]), np.ptp(outline[:, 1])))
    if size <= 0 or signed_area(outline) <= 0:
        raise Malformed("outline is not counter-clockwise, or has no size")
    paper = Polygon(outline / size)
    if not paper.is_valid:
        raise Malformed("outline crosses itself")
    return paper, size


def read_parts(
    document: Mapping[str, Any], states: Sequence[Mapping[str, Any]]
) -> tuple[dict[int, Paper], list[tuple[int, Polygon, float, Mapping[str, Any]]]]:
    """Where a document has parts: the paper of every state where another begins; how each part starts.

    A start is its first step, the paper, its size and the state. Sheets put together lie apart.
    """
    begins: dict[int, Paper] = {}
    starts: list[tuple[int, Polygon, float, Mapping[str, Any]]] = []
    for part in document.get("parts", []):
        sheets = [points(one["outline"], "outline", 3) for one in part["sheets"]]
        holes = [[points(h, "hole", 3) for h in one.get("holes", [])] for one in part["sheets"]]
        size = float(max(np.ptp(sheets[0][:, 0]), np.ptp(sheets[0][:, 1])))
        papers = [
            Polygon(one / size, [h / size for h in inner])
            for one, inner in zip(sheets, holes, strict=True)
        ]
        first, last = part["first"], part["last"]
        if part["number"]:
            begins[first] = (papers[0], size)
            starts.append((first, papers[0], size, part["start"]))
            continue
        whole = MultiPolygon(papers)
        if not whole.is_valid:
            raise Malformed("sheets put together lie on each other")
        for k in range(first, last + 1):
            begins[k] = (MultiPolygon(papers[: states[k].get("sheets", 1)]), size)
    return begins, starts


def read_plate(value: Any, name: str, size: float) -> Plate:
    """One plate of a state; Malformed when it cannot be checked further."""
    if not isinstance(value, dict):
        raise Malformed(f"{name} is not an object")
    outline = points(value.get("outline"), f"outline of {name}", 3) / size
    holes = [points(h, f"a hole of {name}", 3) / size for h in value.get("holes", [])]
    if signed_area(outline) <= 0:
        raise Malformed(f"outline of {name} is not counter-clockwise")
    try:
        place = np.array(value.get("place"), dtype=float)
    except (TypeError, ValueError):
        raise Malformed(f"place of {name} is not a 2x3 matrix") from None
    if place.shape != (2, 3) or not np.isfinite(place).all():
        raise Malformed(f"place of {name} is not a 2x3 matrix")
    if value.get("shows") not in ("front", "back"):
        raise Malformed(f"shows of {name} is neither front nor back")
    place[:, 2] /= size
    rings = (outline, *(h if signed_area(h) < 0 else h[::-1] for h in holes))
    shape = Polygon(outline, [h.tolist() for h in holes])
    if not shape.is_valid:
        raise Malformed(f"outline of {name} crosses or touches itself")

    def folded(ring: Vector) -> Vector:
        return ring @ place[:, :2].T + place[:, 2]

    placed = Polygon(folded(outline), [folded(h).tolist() for h in holes])
    core = placed.buffer(-THIN, join_style="mitre")
    return Plate(rings, place, value["shows"] == "front", shape, placed, core)


def read_segments(value: Any, name: str, size: float) -> list[tuple[Vector, Vector]]:
    """Segments given as {"from": [x, y], "to": [x, y]}."""
    out: list[tuple[Vector, Vector]] = []
    for k, item in enumerate(value):
        if not isinstance(item, dict):
            raise Malformed(f"{name} {k} is not an object")
        pair = points([item.get("from"), item.get("to")], f"{name} {k}", 2) / size
        out.append((pair[0], pair[1]))
    return out


def common_part(a: Vector, b: Vector, c: Vector, d: Vector) -> tuple[Vector, Vector] | None:
    """Where two segments lie along each other for more than NEAR, in the direction a -> b."""
    base, other, turned = (a, b), (c, d), False
    if np.linalg.norm(d - c) > np.linalg.norm(b - a):
        base, other = other, base
        turned = float((b - a) @ (d - c)) < 0
    n = float(np.linalg.norm(base[1] - base[0]))
    if n <= NEAR:
        return None
    u = (base[1] - base[0]) / n
    for p in other:
        if abs(u[0] * (p[1] - base[0][1]) - u[1] * (p[0] - base[0][0])) > NEAR:
            return None
    s, t = float((other[0] - base[0]) @ u), float((other[1] - base[0]) @ u)
    lo, hi = max(0.0, min(s, t)), min(n, max(s, t))
    if hi - lo <= NEAR:
        return None
    start, end = base[0] + u * lo, base[0] + u * hi
    return (end, start) if turned else (start, end)


def close_pairs(segments: Sequence[tuple[Vector, Vector]]) -> Iterable[tuple[int, int]]:
    """Index pairs i < j of segments that come near each other."""
    if not segments:
        return
    shapes = [LineString(s) for s in segments]
    left, right = STRtree(shapes).query(shapes, predicate="dwithin", distance=NEAR)
    for i, j in sorted(zip(left.tolist(), right.tolist(), strict=True)):
        if i < j:
            yield i, j


def shared_edges(
    plates: Sequence[Plate], cuts: Sequence[tuple[Vector, Vector]]
) -> list[tuple[int, int, Vector, Vector]]:
    """Every stretch where two plates touch side by side and the paper is not cut."""
    owners: list[int] = []
    sides: list[tuple[Vector, Vector]] = []
    for i, plate in enumerate(plates):
        for ring in plate.rings:
            for k in range(len(ring)):
                owners.append(i)
                sides.append((ring[k], ring[(k + 1) % len(ring)]))
    slit = unary_union([LineString(c) for c in cuts]).buffer(NEAR) if cuts else None
    found: list[tuple[int, int, Vector, Vector]] = []
    for i, j in close_pairs(sides):
        (a, b), (c, d) = sides[i], sides[j]
        if owners[i] == owners[j] or float((b - a) @ (d - c)) >= 0:
            continue
        part = common_part(a, b, c, d)
        if part is None:
            continue
        for start, end in _uncut(part, slit):
            found.append((owners[i], owners[j], start, end))
    return found


def _uncut(part: tuple[Vector, Vector], slit: BaseGeometry | None) -> list[tuple[Vector, Vector]]:
    if slit is None:
        return [part]
    left = LineString(part).difference(slit)
    pieces = left.geoms if isinstance(left, MultiLineString) else [left]
    way = part[1] - part[0]
    out: list[tuple[Vector, Vector]] = []
    for piece in pieces:
        if not isinstance(piece, LineString) or piece.length <= THIN:
            continue
        a, b = np.array(piece.coords[0]), np.array(piece.coords[-1])
        out.append((a, b) if float((b - a) @ way) > 0 else (b, a))
    return out


def read_left(state: Mapping[str, Any], size: float) -> Polygon | None:
    """What is left of the sheet, where a piece has been cut off."""
    left = state.get("left")
    if left is None:
        return None
    if not isinstance(left, Mapping) or not isinstance(left.get("holes"), list):
        raise Malformed("left is no paper with an outline and holes")
    outline = points(left.get("outline"), "outline of what is left", 3) / size
    holes = [points(h, "hole in what is left", 3) / size for h in left["holes"]]
    shape = Polygon(outline, [h.tolist() for h in holes])
    if signed_area(outline) <= 0 or not shape.is_valid:
        raise Malformed("what is left is not one piece of paper, counter-clockwise")
    return shape
