"""How a model rests on a table: it is put down as it is held, and tips until it stands.

In: a pose, and a direction that is up at first. Out: the direction that is up when it rests. A model rests
where its centre of mass lies above the paper that touches the table; elsewhere it tips over the nearest
edge of that, until more paper touches. Its centre of mass sinks each time, so it comes to rest. Paper is as
heavy as its area, every layer counted. Source: the equilibrium of a body on a plane, as in any text on
statics.
"""

from __future__ import annotations

import numpy as np
import shapely

from ..geometry import polygons
from ..geometry.lines import point_on_segment
from .goals import Stand
from .pieces import Array
from .pose import Pose, Reached, Vector

#: Paper touches the table that is so near to it (share of the model's size).
_TOUCHES = 1e-3
#: Feet lie in one line that are nearer to it (share of the model's size).
_BROAD = 0.01
#: Millimetres on the sheet within which a point is on an edge.
_ON_EDGE = 1e-3
#: How often it may tip.
_TIPS = 60
#: Millimetres that a foot may be above the table, and the centre of mass beside its feet.
_FOOT, _BESIDE = 2.0, 0.5


def centre_of_mass(pose: Pose) -> Array:
    """The middle of all its paper, mm."""
    sheet, space = np.array(pose.sheet, dtype=float), np.array(pose.space, dtype=float)
    total, weight = np.zeros(3), 0.0
    for piece in pose.pieces:
        flat, solid = sheet[list(piece.corners)], space[list(piece.corners)]
        for k in range(1, len(flat) - 1):
            a, b = flat[k] - flat[0], flat[k + 1] - flat[0]
            area = float(a[0] * b[1] - a[1] * b[0]) / 2
            total = total + area * (solid[0] + solid[k] + solid[k + 1]) / 3
            weight += area
    return total / weight


def settled(pose: Pose, up: Vector) -> Vector:
    """What is up when it has come to rest, put down with `up` above."""
    space, mass = np.array(pose.space, dtype=float), centre_of_mass(pose)
    near = _TOUCHES * max(pose.size)
    u = np.array(up, dtype=float)
    for _ in range(_TIPS):
        one, two = _across(u)
        heights = space @ u
        touching = heights < heights.min() + near
        base = shapely.convex_hull(
            shapely.multipoints(np.c_[space[touching] @ one, space[touching] @ two])
        )
        here = shapely.Point(float(mass @ one), float(mass @ two))
        if shapely.distance(base, here) <= near:
            break
        x, y = shapely.get_coordinates(shapely.shortest_line(base, here))[0]
        out = np.array([here.x - x, here.y - y])
        out /= np.sqrt(out @ out)
        toward = out[0] * one + out[1] * two
        ahead = space @ toward - float(np.array([x, y]) @ out)
        turn = np.arctan2(heights - heights.min(), ahead)
        # what touches now lies on the axis or behind it; tipping by π would be for nothing
        least = float(turn[~touching].min(initial=np.pi))
        u = u * np.cos(least) - toward * np.sin(least)
        u /= np.sqrt(u @ u)
    return _rounded(u)


def upon(pose: Pose, goal: Stand, up: Vector) -> Vector:
    """What is up when the named points are its feet: the plane through them lies level, on one or two it is
    held so that its middle is above them, as near to `up` as that goes.
    """
    feet, mass = feet_of(pose, goal), centre_of_mass(pose)
    middle = feet.mean(axis=0)
    _, spread, ways = np.linalg.svd(feet - middle)
    size = max(pose.size)
    broad = int((spread > _BROAD * size).sum())
    u = np.array(up, dtype=float)
    if broad >= 2:
        u = ways[2] * (1.0 if float((mass - middle) @ ways[2]) >= 0 else -1.0)
    else:
        over = mass - middle
        if broad:
            over = over - ways[0] * float(over @ ways[0])
        if float(np.sqrt(over @ over)) > _BESIDE:
            u = over / np.sqrt(over @ over)
        elif broad:
            u = u - ways[0] * float(u @ ways[0])
            u /= np.sqrt(u @ u)
    return _rounded(u)


def stands(pose: Pose, goal: Stand, up: Vector) -> tuple[Reached, ...]:
    """Whether all its feet are on the table, and whether it tips over: how far its centre of mass lies beside
    them. On one or two points it is held.
    """
    space, feet = np.array(pose.space, dtype=float), feet_of(pose, goal)
    u = np.array(up, dtype=float)
    high = float((feet @ u).max() - (space @ u).min())
    found = [Reached("stand", 0.0, high, "mm above the table", high <= _FOOT)]
    named = _named(pose, goal)
    apart = float(np.ptp(named, axis=0).max())
    if len(named) > 2 and apart <= _FOOT:
        found.append(Reached("feet", _FOOT, apart, "mm apart", enough=False))
    one, two = _across(u)
    base = shapely.convex_hull(shapely.multipoints(np.c_[feet @ one, feet @ two]))
    if shapely.area(base) > 0.01 * max(pose.size) ** 2:
        mass = centre_of_mass(pose)
        off = float(shapely.distance(base, shapely.Point(float(mass @ one), float(mass @ two))))
        found.append(Reached("stand", 0.0, off, "mm beside its feet", off <= _BESIDE))
    return tuple(found)


def feet_of(pose: Pose, goal: Stand) -> Array:
    """Where it is to stand, in space: the named points; of an edge that has bent, as between a wall and its
    wings, all paper that lay along it, if that is one plane with the model on one side.
    """
    ends = _named(pose, goal)
    if not goal.edges:
        return ends
    space = np.array(pose.space, dtype=float)
    corners = sorted({k for piece in pose.pieces for k in piece.corners})
    on = [
        k
        for k in corners
        if any(point_on_segment(edge, pose.sheet[k], _ON_EDGE) for edge in goal.edges)
    ]
    feet = np.concatenate([ends, space[on]])
    middle = feet.mean(axis=0)
    _, (_, broad, off), ways = np.linalg.svd(feet - middle)
    heights = (space - middle) @ ways[2]
    near = _TOUCHES * max(pose.size)
    outermost = heights.min() > -near or heights.max() < near
    return feet if broad > _BROAD * max(pose.size) and off < near and outermost else ends


def _named(pose: Pose, goal: Stand) -> Array:
    """Where the points of the sheet that are named lie in space."""
    sheet, space = np.array(pose.sheet, dtype=float), np.array(pose.space, dtype=float)
    rings = [tuple(pose.sheet[k] for k in piece.corners) for piece in pose.pieces]
    out: list[Array] = []
    for at in goal.feet:
        on = max(range(len(rings)), key=lambda k: polygons.depth(rings[k], at))
        corners = list(pose.pieces[on].corners)
        flat = np.c_[sheet[corners], np.ones(len(corners))]
        affine, *_ = np.linalg.lstsq(flat, space[corners], rcond=None)
        out.append(np.array([*at, 1.0]) @ affine)
    return np.array(out)


def _across(u: Array) -> tuple[Array, Array]:
    """Two directions at right angles to u and to each other."""
    aside = np.eye(3)[int(np.argmin(np.abs(u)))]
    one: Array = np.cross(u, aside).astype(float)
    one /= np.sqrt(one @ one)
    return one, np.cross(u, one).astype(float)


def _rounded(u: Array) -> Vector:
    x, y, z = (round(float(c), 9) + 0.0 for c in u)
    return (x, y, z)
