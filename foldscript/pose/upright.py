"""Which way is up for a model in space, and where its front is.

In: a pose. Out: two directions of space. What was raised from paper that lies on the table is put down as the
reader looks at it from above, and tips until it rests. What stands on feet that were named stands on those,
the side to the reader that the flat figure showed, if that is upright.
Where fingers open pockets while paper is raised, their mouths are above.
What was opened, blown or spread in the hand stands as the flat figure did, its upper end up. What
stands out to both sides of the page, as wings do, is held by the body between them: up is across the
creases that it was raised along, to the flat figure's upper end, or where they run upright there, from the
body to what was raised. A floor that was pressed flat is below, wherever its point lay: the walls at its
border rise from it. Flaps that are
spread all round stand as petals do, along the line that they share.
What is turned after that is seen from another side.
"""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray

from .goals import EXACT, WHOLE, Close, Fan, Floor, Part, Raise, Stand, Turned
from .pose import Pose, Vector
from .resting import settled, upon
from .turning import rotation

Array = NDArray[np.float64]

#: What rises less than this share of the model's size lies in the page.
_RISES = 0.02

#: Creases so nearly level on the page (cosine) leave the flat figure's upper end above.
_PAGE = 0.6

#: What is up is less than this (cosine) along the reader's way for a model that stands upright now.
_LIES = 0.7

#: Degrees from which on a fold that is opened flat with fingers in it is a floor.
_LEVEL = 179.95

PAGE_UP: Vector = (0.0, 1.0, 0.0)
READER: Vector = (0.0, 0.0, 1.0)
PAGE_DOWN: Vector = (0.0, -1.0, 0.0)


def upright(pose: Pose) -> tuple[Vector, Vector]:
    """(up, front): unit vectors at right angles."""
    up, front = _held(pose)
    lies = front == PAGE_DOWN
    whole = [goal for goal in pose.goals if isinstance(goal, WHOLE)]
    if lies and not any(isinstance(goal, Stand) for goal in whole):
        up = settled(pose, up)
        front = _square(front, up)
        if any(isinstance(goal, Close) for goal in pose.goals):
            front = _along_sides(pose, up, front)
    for goal in whole:
        if isinstance(goal, Stand):
            up = upon(pose, goal, up)
            front, lies = _square(_faces(front, up), up), False
            continue
        up, front = _turned(up, front, goal, lies)
        if lies and goal.over:
            up = settled(pose, up)
            front = _square(front, up)
    return up, front


def _turned(up: Vector, front: Vector, goal: Turned, lies: bool) -> tuple[Vector, Vector]:
    """Where up and front are on a model that has been turned as it stands.

    What lies on the table is turned over upside down, what stands to show its back: both as a page is turned.
    Turned round, either stays on the table.
    """
    u, f = np.array(up), np.array(front)
    page, upwards = (u, -f) if lies else (f, u)
    if goal.over:
        u, f = (rotation(upwards, np.pi) @ v for v in (u, f))
    axis = page if goal.over else u
    u, f = (rotation(axis, -np.radians(goal.degrees)) @ v for v in (u, f))
    return _vector(u), _vector(f)


def held(pose: Pose) -> bool:
    """Whether it is held by what lies between parts that stand out to both sides, as wings do."""
    raised = any(isinstance(goal, Raise) for goal in pose.goals)
    feet = any(isinstance(goal, Stand) for goal in pose.goals)
    return raised and not feet and not _parted(pose) and _both_sides(pose)


def _both_sides(pose: Pose) -> bool:
    """Whether it stands out to both sides of the page."""
    (_, _, low), (_, _, high) = pose.box
    least = _RISES * max(pose.size)
    return low < -least and high > least


def _parted(pose: Pose) -> bool:
    """Whether fingers were in it, that pushed it together or flat: what hangs down beside it is no wing."""
    return any(isinstance(goal, Part) for goal in pose.goals)


def _held(pose: Pose) -> tuple[Vector, Vector]:
    """(up, front) as hands hold it."""
    solved = [goal for goal in pose.goals if not isinstance(goal, WHOLE)]
    pressed = next((goal for goal in solved if isinstance(goal, Floor)), None)
    over = None if pressed is None else _over(pose, pressed)
    if over is not None:
        return over, _square(READER, over)
    rigid = all(isinstance(goal, (Part, *EXACT)) for goal in solved)
    raised = [goal for goal in solved if isinstance(goal, Raise | Close)]
    if not rigid or (solved and not raised) or any(isinstance(goal, Fan) for goal in raised):
        return PAGE_UP, READER
    floor = any(isinstance(goal, Raise) and goal.angle > _LEVEL for goal in pose.goals)
    mouths = [goal for goal in solved if isinstance(goal, Part)]
    if mouths and not floor:  # the fingers come from above
        return (READER if mouths[0].upward else (0.0, 0.0, -1.0)), PAGE_DOWN
    if _both_sides(pose):
        up = _from_body(pose)
        return (_floor_below(pose, up) if _parted(pose) else up), READER
    return READER, PAGE_DOWN


def _over(pose: Pose, floor: Floor) -> Vector | None:
    """Up from a floor: at right angles to the paper round its point, to the side of the walls at its border;
    None where these lie on neither side.
    """
    sheet, space = np.array(pose.sheet, dtype=float), np.array(pose.space, dtype=float)
    middle = int(np.argmin(np.abs(sheet - floor.tip).max(axis=1)))
    around = {k for k, piece in enumerate(pose.pieces) if middle in piece.corners}
    normal = np.zeros(3)
    for k in sorted(around):
        ring = space[list(pose.pieces[k].corners)] - space[middle]
        normal = normal + np.cross(ring, np.roll(ring, -1, axis=0)).sum(axis=0)
    normal = normal / np.sqrt(normal @ normal)
    walls = {
        beyond
        for edge in pose.edges
        if edge.right is not None
        for here, beyond in ((edge.left, edge.right), (edge.right, edge.left))
        if here in around and beyond not in around
    }
    rise = sum(
        float((space[list(pose.pieces[k].corners)] - space[middle]).mean(axis=0) @ normal)
        for k in sorted(walls)
    )
    if abs(rise) < _RISES * max(pose.size):
        return None
    return _vector(normal if rise > 0 else -normal)


def _floor_below(pose: Pose, up: Vector) -> Vector:
    """Up, or its opposite where the paper that lies level, as a floor does, would be a roof."""
    space, axis = np.array(pose.space, dtype=float), np.array(up)
    heights = space @ axis
    level, moment = 0.0, 0.0
    for piece in pose.pieces:
        ring = list(piece.corners)
        if float(np.ptp(heights[ring])) > _RISES * float(np.ptp(heights)):
            continue
        sides = space[ring] - space[ring[0]]
        doubled = np.cross(sides, np.roll(sides, -1, axis=0)).sum(axis=0)
        area = float(np.sqrt(doubled @ doubled))
        level += area
        moment += area * float(heights[ring].mean())
    middle = (float(heights.min()) + float(heights.max())) / 2
    return _vector(-axis) if moment > level * middle else up


def _faces(front: Vector, up: Vector) -> Vector:
    """Where the front is once it stands: on what lay uppermost in the flat figure, if that stands upright now
    rather than lies."""
    lay = front == PAGE_DOWN and abs(up[2]) < _LIES
    return READER if lay else front


def _square(front: Vector, up: Vector) -> Vector:
    """The front, or where that is up or down now, what was up on the page, at right angles to up."""
    u = np.array(up, dtype=float)
    for way in (front, PAGE_UP, READER):
        f = np.array(way, dtype=float)
        f = f - u * float(f @ u)
        if float(f @ f) > 0.1:
            break
    f /= np.sqrt(f @ f)
    return _vector(f)


def _along_sides(pose: Pose, up: Vector, front: Vector) -> Vector:
    """The side of the smallest box about a closed body that is nearest to its front: how units lay on the
    table says nothing of it."""
    u, f = np.array(up, dtype=float), np.array(front, dtype=float)
    side = np.cross(f, u)
    space = np.array(pose.space, dtype=float)
    box = shapely.oriented_envelope(shapely.multipoints(np.c_[space @ side, space @ f]))
    corners = shapely.get_coordinates(box)
    ways = [
        way for k in (0, 1) for way in (corners[k + 1] - corners[k], corners[k] - corners[k + 1])
    ]
    x, y = max(ways, key=lambda way: round(float(way[1]) / float(np.sqrt(way @ way)), 6))
    way = x * side + y * f
    return _vector(way / np.sqrt(way @ way))


def _vector(v: Array) -> Vector:
    x, y, z = (round(float(c), 9) + 0.0 for c in v)
    return (x, y, z)


def size(pose: Pose) -> Vector:
    """Width, depth and height in mm of the box round the model as it stands, its front to the reader."""
    up, front = upright(pose)
    space = np.array(pose.space, dtype=float)
    axes = np.array([np.cross(up, front), front, up]).T
    wide, deep, high = np.ptp(space @ axes, axis=0)
    return float(wide), float(deep), float(high)


def _from_body(pose: Pose) -> Vector:
    """In the page, across the creases that paper was raised along, to the side where that lies."""
    space = np.array(pose.space, dtype=float)
    turned = [
        edge
        for edge in pose.edges
        if edge.right is not None
        and 0.05 < abs(edge.angle) < 3.09
        and _level(space, edge.start, edge.end)
    ]
    if not turned:
        return PAGE_UP
    runs = np.array([space[e.end] - space[e.start] for e in turned])[:, :2]
    angles = np.arctan2(runs[:, 1], runs[:, 0])
    weights = np.hypot(runs[:, 0], runs[:, 1])
    double = (
        np.arctan2((weights * np.sin(2 * angles)).sum(), (weights * np.cos(2 * angles)).sum()) / 2
    )
    across = np.array([-np.sin(double), np.cos(double), 0.0])
    middle = _middle(pose, space, lying=True) - _middle(pose, space, lying=False)
    side = float(middle @ across)
    if abs(float(across[1])) > _PAGE or abs(side) < 1e-6:
        side = -float(across[1]) if abs(across[1]) > 1e-6 else -float(across[0])
    up = -np.sign(side) * across
    x, y, z = (round(float(c), 9) + 0.0 for c in up)
    return (x, y, z)


def _level(space: Array, start: int, end: int) -> bool:
    return abs(float(space[start, 2])) < 1.0 and abs(float(space[end, 2])) < 1.0


def _middle(pose: Pose, space: Array, *, lying: bool) -> Array:
    """Middle of the pieces that lie in the page still, or of those that were raised."""
    total, weight = np.zeros(3), 0.0
    for piece in pose.pieces:
        ring = space[list(piece.corners)]
        n = np.cross(ring - ring[0], np.roll(ring, -1, axis=0) - ring[0]).sum(axis=0)
        area = float(np.sqrt(n @ n)) / 2
        if area > 0 and (abs(float(n[2])) > 1.8 * area) == lying:
            total = total + area * ring.mean(axis=0)
            weight += area
    return total / weight if weight > 0 else total
