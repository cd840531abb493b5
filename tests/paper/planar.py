"""A sheet divided along segments: points, pieces of line, faces.

In: a convex outline and segments, which may cross and may end on each other. Out: a `Division`. What
the segments mean is not known here; `tests.paper.patterns` gives it meaning.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from foldscript.geometry.lines import (
    Point,
    Segment,
    cross,
    distance,
    dot,
    point_on_segment,
    subtract,
)
from foldscript.geometry.polygons import area, edges
from foldscript.geometry.tolerance import EPS
from foldscript.paper.corners import Corners

#: The source of pieces that belong to the outline.
RIM = -1


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of line from point `start` to point `end`, with faces on its left and right.

    `source` is the number of the segment it is part of, `RIM` for the outline. The face outside
    the outline is None.
    """

    start: int
    end: int
    source: int
    left: int | None
    right: int | None


@dataclass(frozen=True)
class Division:
    """Attributes
    ----------
    points : every point where pieces end
    on_rim : for each point, whether it lies on the outline
    around : for each point, its neighbours by segment as (angle in radians, source), anticlockwise
    pieces : pieces of the segments, in the order given, then of the outline
    faces : rings of point numbers, counter-clockwise, in reading order from the bottom left
    """

    points: tuple[Point, ...]
    on_rim: tuple[bool, ...]
    around: tuple[tuple[tuple[float, int], ...], ...]
    pieces: tuple[Piece, ...]
    faces: tuple[tuple[int, ...], ...]


def divide(outline: Sequence[Point], segments: Sequence[Segment]) -> Division:
    """Divides a convex outline along segments that lie in it and do not overlap each other."""
    corners = Corners(outline)
    rim = edges(tuple(outline))
    chains = _chains(corners, [*segments, *rim])
    ends: dict[tuple[int, int], int] = {}
    for k, chain in enumerate(chains):
        source = k if k < len(segments) else RIM
        for u, v in pairwise(chain):
            if (u, v) not in ends and (v, u) not in ends:
                ends[u, v] = source
    points = corners.points
    spokes = _spokes(points, ends)
    faces, face_of = _faces(points, spokes, ends)
    return Division(
        tuple(points),
        tuple(any(point_on_segment(side, p) for side in rim) for p in points),
        tuple(
            tuple((angle, source) for angle, _, source in spokes[k] if source != RIM)
            for k in range(len(points))
        ),
        tuple(
            Piece(u, v, source, face_of.get((u, v)), face_of.get((v, u)))
            for (u, v), source in ends.items()
        ),
        faces,
    )


def _chains(corners: Corners, segments: Sequence[Segment]) -> list[list[int]]:
    """For each segment the points on it, from its start to its end."""
    on: list[dict[int, float]] = [
        {corners.index(p): 0.0, corners.index(q): distance(p, q)} for p, q in segments
    ]
    reach = sorted(range(len(segments)), key=lambda k: min(p[0] for p in segments[k]))
    for n, i in enumerate(reach):
        far = max(p[0] for p in segments[i]) + EPS
        for j in reach[n + 1 :]:
            if min(p[0] for p in segments[j]) > far:
                break
            for p in _common_points(segments[i], segments[j]):
                k = corners.index(p)
                for m in (i, j):
                    on[m].setdefault(k, distance(segments[m][0], corners.points[k]))
    return [sorted(found, key=lambda k, found=found: found[k]) for found in on]


def _common_points(s: Segment, t: Segment) -> list[Point]:
    """Where two segments cross or touch; ends that touch are given as they stand."""
    found = [p for p in t if point_on_segment(s, p)] + [p for p in s if point_on_segment(t, p)]
    if found:
        return found
    u, v = subtract(s[1], s[0]), subtract(t[1], t[0])
    turn = cross(u, v)
    if abs(turn) <= EPS * distance(*s) * distance(*t):
        return []
    w = subtract(t[0], s[0])
    along, other = cross(w, v) / turn, cross(w, u) / turn
    if not (0.0 < along < 1.0 and 0.0 < other < 1.0):
        return []
    return [(s[0][0] + u[0] * along, s[0][1] + u[1] * along)]


Spoke = tuple[float, int, int]


def _spokes(points: Sequence[Point], ends: dict[tuple[int, int], int]) -> dict[int, list[Spoke]]:
    """For each point: (angle, neighbour, source) of every piece that ends there, anticlockwise."""
    spokes: dict[int, list[Spoke]] = defaultdict(list)
    for (u, v), source in ends.items():
        for a, b in ((u, v), (v, u)):
            dx, dy = subtract(points[b], points[a])
            spokes[a].append((math.atan2(dy, dx), b, source))
    for around in spokes.values():
        around.sort()
    return spokes


def _faces(
    points: Sequence[Point],
    spokes: dict[int, list[Spoke]],
    ends: dict[tuple[int, int], int],
) -> tuple[tuple[tuple[int, ...], ...], dict[tuple[int, int], int]]:
    """Faces, and which face lies on the left of each piece, walked either way."""
    following: dict[tuple[int, int], tuple[int, int]] = {}
    for v, around in spokes.items():
        for k, (_, u, _) in enumerate(around):
            following[u, v] = (v, around[k - 1][1])
    rings: list[tuple[int, ...]] = []
    seen: set[tuple[int, int]] = set()
    for u, v in ends:
        for first in ((u, v), (v, u)):
            if first in seen:
                continue
            ring: list[int] = []
            at = first
            while at not in seen:
                seen.add(at)
                ring.append(at[0])
                at = following[at]
            if area(tuple(points[k] for k in ring)) > 0:
                rings.append(tuple(ring))
    rings.sort(key=lambda ring: _reading_order([points[k] for k in ring]))
    face_of = {
        (ring[k], ring[(k + 1) % len(ring)]): f
        for f, ring in enumerate(rings)
        for k in range(len(ring))
    }
    return tuple(rings), face_of


def _reading_order(ring: Sequence[Point]) -> tuple[float, float]:
    n = len(ring)
    middle = (sum(p[0] for p in ring) / n, sum(p[1] for p in ring) / n)
    return round(dot(middle, (0.0, 1.0)), 7), round(middle[0], 7)
