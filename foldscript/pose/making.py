"""A `Pose` from places that were found: measured, proved, put into the numbers that others read.

In: the pieces, places in space, goals stage by stage. Out: the `Pose` with its `Proof`, in millimetres. The
one way to a `Pose`.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Mapping, Sequence
from types import MappingProxyType

import numpy as np
import shapely

from ..geometry.lines import Point
from ..geometry.sides import parted
from ..geometry.tolerance import EPS
from .evenness import unevenness
from .goals import Stages
from .meeting import met
from .pieces import Array, Pieces
from .pose import Edge, Line, Piece, Pose, Reached, Touching
from .proof import Limits, lying, normal, prove, turned_by
from .stacking import concluded

#: Layers whose common place is one within this (mm) lie together still.
_TOGETHER = 0.3
#: Overlaps below this area (square sheet units) are only shared edges.
_OVERLAP = 1e-6

#: (one, other, on front, a place of the folded plane that both lie over): layers that overlap when flat.
Layer = tuple[int, int, bool, Point]
#: Measures a goal on the edges of a pose that is being made.
Measure = Callable[[Sequence[Edge], Array], Sequence[Reached]]


def made(
    pieces: Pieces,
    places: Array,
    stages: Stages,
    still: int,
    measure: Measure,
    limits: Limits,
    layers: Sequence[Layer] | None = None,
    passed: Sequence[Array] = (),
    meant: Collection[int] = (),
    ways: Mapping[int, float] = MappingProxyType({}),
    touching: tuple[Touching, ...] | None = None,
) -> Pose:
    """The pose of these places (n × 3, sheet units), proved within the limits.

    `layers` are those of `overlapping` whose order still counts; all of them when it is None. `passed` are
    places that the points had on their way, the last ones shortly before the end; `meant` are seams that
    paper is meant to break along. `ways` tells of seams by the sign of a number which side came inside, as
    no angle does once they are shut. `touching` is what lies together, where it is known.
    """
    state = pieces.state
    unit = state.sheet.unit_mm
    sheet, space = pieces.points * unit, np.round(places * unit, 12) + 0.0
    panels = pieces.panels()
    polygons = tuple(
        Piece(ring, facet, state.plate_of[facet], panel)
        for ring, facet, panel in zip(pieces.rings, pieces.facets, panels, strict=True)
    )
    normals = [normal(space[list(ring)]) for ring in pieces.rings]
    edges = tuple(
        _edge(pieces, k, space, normals, ways.get(k, 0.0)) for k in range(len(pieces.seams))
    )
    layers = overlapping(pieces) if layers is None else layers
    shows = [state.facets[f].shows_front for f in pieces.facets]
    over = [
        (one, other, on_front, shows[one] == shows[other]) for one, other, on_front, _ in layers
    ]
    senses = [round(seam.angle / math.pi) for seam in pieces.seams]
    reached = measure(edges, space)
    uneven = unevenness(state, stages, pieces.points, space) if stages else 0.0
    proof = prove(sheet, space, polygons, edges, over, senses, reached, uneven, limits, meant)
    known: tuple[Touching, ...] = ()
    if proof.holds:  # else nothing is drawn of it
        if touching is None:
            known, unsure = _touching(pieces, space / unit, edges, layers, passed)
        else:
            known, unsure = touching, 0
        proof = lying(proof, space, polygons, known, unsure)
    return Pose(
        tuple((float(x), float(y)) for x, y in sheet),
        tuple((float(x), float(y), float(z)) for x, y, z in space),
        polygons,
        edges,
        known,
        tuple(goal for some in stages for goal in some),
        still,
        state.sheet.front_coloured,
        proof,
    )


def _edge(pieces: Pieces, k: int, space: Array, normals: Sequence[Array], way: float) -> Edge:
    seam = pieces.seams[k]
    if seam.right < 0:
        return Edge(seam.start, seam.end, seam.left, None, 0.0, Line.RIM)
    planes = normals[seam.left], normals[seam.right]
    angle = turned_by(*planes, space[seam.start], space[seam.end])
    if (seam.angle or way) and math.pi - abs(angle) < 1e-6:  # which of π and -π, rounding hides
        angle = math.copysign(angle, seam.angle or way)
    return Edge(seam.start, seam.end, seam.left, seam.right, angle, seam.kind)


def overlapping(pieces: Pieces) -> list[Layer]:
    """(one, other, on front, a place of the folded plane that both lie over) for pieces that overlap when
    flat.

    `other` is the one above; it is on the front of `one` where that shows its front.
    """
    state = pieces.state
    flat = [
        shapely.Polygon([state.facets[f].place(p) for p in pieces.polygon(k)])
        for k, f in enumerate(pieces.facets)
    ]
    of: dict[int, list[int]] = {}
    for piece, facet in enumerate(pieces.facets):
        of.setdefault(facet, []).append(piece)
    pairs: list[tuple[int, int]] = []
    for (i, j), above in sorted(state.order.items()):
        upper, lower = (i, j) if above else (j, i)
        pairs += [(one, other) for one in of.get(lower, ()) for other in of.get(upper, ())]
    if not pairs:
        return []
    shapes = np.array(flat, dtype=object)
    rows = np.array(pairs)
    rings = [shapely.get_coordinates(shape)[:-1] for shape in flat]
    rows = rows[~parted(rings, rows[:, 0], rows[:, 1], _OVERLAP / 10)]
    rows = rows[shapely.intersects(shapes[rows[:, 0]], shapes[rows[:, 1]])]
    one, other = shapes[rows[:, 0]], shapes[rows[:, 1]]
    common = shapely.intersection(one, other)
    # Where triangles meet along sides nearly in line, GEOS 3.14 may give all of the one as shared.
    spots = shapely.centroid(common)
    sure = shapely.area(common) <= _OVERLAP
    sure |= shapely.contains(one, spots) & shapely.contains(other, spots)
    doubt = np.flatnonzero(~sure)
    common[doubt] = shapely.intersection(one[doubt], other[doubt], grid_size=EPS)
    shares = shapely.area(common) > _OVERLAP
    places = shapely.get_coordinates(shapely.centroid(common[shares]))
    return [
        (int(i), int(j), state.facets[pieces.facets[i]].shows_front, (float(x), float(y)))
        for (i, j), (x, y) in zip(rows[shares], places, strict=True)
    ]


def _touching(
    pieces: Pieces,
    places: Array,
    edges: Sequence[Edge],
    layers: Sequence[Layer],
    passed: Sequence[Array],
) -> tuple[tuple[Touching, ...], int]:
    """Pieces that lie together: layers of the flat state that still do, pieces that were folded together or
    met on their way, and what follows from these; and of how many pairs nothing tells the order.
    """
    near = _TOGETHER / pieces.state.sheet.unit_mm
    found = _together_still(pieces, places, layers, near)
    for edge in edges:
        if edge.right is not None and math.pi - abs(edge.angle) < 1e-3:
            pair = (edge.left, edge.right)
            if pair not in found and pair[::-1] not in found:
                found[pair] = edge.angle > 0
    meeting = met(pieces.rings, places, passed, near, {frozenset(pair) for pair in found})
    found |= {(one, other): front for one, other, front in meeting.sides}
    unsure = meeting.unsure
    if unsure:
        told = concluded(pieces.rings, places, edges, found, unsure)
        found |= told
        unsure = tuple(pair for pair in unsure if pair not in told)
    sides = tuple(Touching(one, other, front) for (one, other), front in found.items())
    return sides, len(unsure)


def _together_still(
    pieces: Pieces, places: Array, layers: Sequence[Layer], near: float
) -> dict[tuple[int, int], bool]:
    """Layers of the flat state that lie together yet; not those that were turned over beside each other,
    about a line through the place that they are looked at.
    """
    if not layers:
        return {}
    carried = np.array([_carrying(pieces, places, k) for k in range(len(pieces.rings))])
    normals = np.array([normal(places[list(ring)]) for ring in pieces.rings])
    shows = np.array([pieces.state.facets[f].shows_front for f in pieces.facets])
    pairs = np.array([layer[:2] for layer in layers])
    spots = np.array([(*layer[3], 1.0) for layer in layers])
    one, other = pairs.T
    apart = (spots[:, None, :] @ (carried[one] - carried[other]))[:, 0]
    facing = (normals[one] * normals[other]).sum(axis=1) > 0
    alike = facing == (shows[one] == shows[other])
    still = alike & (np.sqrt((apart * apart).sum(axis=1)) < near)
    return {layers[k][:2]: layers[k][2] for k in np.flatnonzero(still).tolist()}


def _carrying(pieces: Pieces, places: Array, piece: int) -> Array:
    """3 × 3: takes (x, y, 1) of the folded plane to where a piece carries it in space (sheet units)."""
    ring = list(pieces.rings[piece])
    place = pieces.state.facets[pieces.facets[piece]].place
    flat = np.array([(*place((float(x), float(y))), 1.0) for x, y in pieces.points[ring]])
    affine, *_ = np.linalg.lstsq(flat, places[ring], rcond=None)
    return np.asarray(affine, dtype=np.float64)
