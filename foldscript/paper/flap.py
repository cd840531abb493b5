"""Simple folds: which paper moves about a line, whether it is free, and the fold itself.

In: a state, a line of the folded plane whose left side moves, the facets the reader points at. Out:
the flap (the connected component of those facets on the moving side) and the new state.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from ..geometry import polygons
from ..geometry.isometries import inverse, map_segment, reflection
from ..geometry.lines import Line, Point, Segment, signed_distance
from ..geometry.polygons import Polygon
from ..geometry.tolerance import EPS
from ..source.diagnostics import Refusal, Span
from .components import adjacency, component_beside, joints_beside, reached
from .conditions import Pair
from .layers import Collision
from .refold import Divided, divided, refold
from .signs import Sense
from .state import State
from .steady import steadied


@dataclass(frozen=True)
class Flap:
    """Paper that moves about a line.

    Attributes
    ----------
    line : fold line in folded coordinates; the flap lies on its left
    facets : facets of the state that have a part in the flap
    parts : for each of them, the moving part in folded coordinates
    creases : (facet, segment in folded coordinates) where the paper bends
    """

    line: Line
    facets: tuple[int, ...]
    parts: tuple[Polygon, ...]
    creases: tuple[tuple[int, Segment], ...]


class Blocked(Exception):
    """The flap is held: `blocker` lies over (or under) `moving`, both facets of the state."""

    def __init__(self, moving: int, blocker: int) -> None:
        super().__init__("blocked")
        self.moving = moving
        self.blocker = blocker


def moving_parts(state: State, line: Line) -> dict[int, Polygon]:
    """For every facet with area on the line's left: that part, in folded coordinates."""
    out: dict[int, Polygon] = {}
    for i, placed in enumerate(state.placed):
        part = polygons.split(placed, line)[0]
        if part:
            out[i] = part
    return out


def flap(
    state: State,
    line: Line,
    seeds: Iterable[int],
    *,
    whole_stack: bool = False,
    bending: bool = True,
    trapped: bool = True,
) -> Flap:
    """The smallest piece of paper that holds the seeds and is connected left of the line.

    Layers trapped between two of its layers belong to it, unless `trapped` is False: then only those that
    nothing else holds.

    With `whole_stack`, everything that lies over or under it on that side comes along. Without
    `bending`, the line may run along the edge of all the paper, where nothing bends.

    Raises
    ------
    Refusal : 'fold-misses-flap' when the line does not cross the flap, or nothing is held still
    """
    line = steadied(state, line)
    parts = moving_parts(state, line)
    todo = [i for i in seeds if i in parts]
    if not todo:
        raise misses(state, line)
    joined = adjacency(j for j in joints_beside(state, line) if j.a in parts and j.b in parts)
    members: set[int] = set()

    def stacked(i: int) -> Iterator[int]:
        for k in state.neighbours[i]:
            if k in parts and k not in members and polygons.overlap(parts[i], parts[k]):
                yield k

    while todo:
        members |= reached(joined, todo, stacked if whole_stack else None)
        todo = [
            k
            for k in _trapped(state, parts, members)
            if trapped or _rides_along(state, line, members, k)
        ]
    creases = bends(state, line, members)
    if bending and not creases:
        raise Refusal(
            "fold-misses-flap",
            "the fold line misses the flap: all of it would move and nothing would bend",
            "choose a line that crosses the flap",
        )
    chosen = tuple(sorted(members))
    return Flap(line, chosen, tuple(parts[i] for i in chosen), creases)


def rides_along(state: State, moving: Flap, blocker: int) -> bool:
    """Whether what lies in the way is held by the flap alone, along the fold line itself.

    Nothing else holds it, so it cannot stay where the flap leaves; a hand takes it along.
    """
    return _rides_along(state, moving.line, set(moving.facets), blocker)


def _rides_along(state: State, line: Line, members: set[int], blocker: int) -> bool:
    found = component_beside(state, line, [blocker])
    if any(polygons.half_plane_extent(state.placed[i], line)[0] < -EPS for i in found):
        return False
    return all(
        joint.a in found | members and joint.b in found | members
        for joint in state.joints
        if joint.a in found or joint.b in found
    )


def _trapped(state: State, parts: dict[int, Polygon], members: set[int]) -> list[int]:
    """Layers that lie between two layers of the flap: no hand could fold these and leave them."""
    found: list[int] = []
    for k in sorted({k for i in members for k in state.neighbours[i]} - members):
        if k not in parts:
            continue
        near = [
            i for i in sorted(state.neighbours[k] & members) if polygons.overlap(parts[i], parts[k])
        ]
        over = [i for i in near if state.above(i, k)]
        under = [i for i in near if not state.above(i, k)]
        if any(
            polygons.overlap(common, parts[j])
            for i in over
            if under and (common := polygons.intersection(parts[i], parts[k]))
            for j in under
        ):
            found.append(k)
    return found


def bends(state: State, line: Line, members: set[int]) -> tuple[tuple[int, Segment], ...]:
    """Where a moving set bends along the line: across facets, and along joints with what stays."""
    found: list[tuple[int, Segment]] = []
    for i in sorted(members):
        lo, hi = polygons.half_plane_extent(state.placed[i], line)
        if lo < -EPS and hi > EPS:
            seg = polygons.clip_line(state.placed[i], line)
            if seg is not None:
                found.append((i, seg))
    for joint in state.joints:
        for a, b in ((joint.a, joint.b), (joint.b, joint.a)):
            if a in members and b not in members:
                seg = map_segment(state.facets[a].place, joint.segment)
                if all(-EPS <= signed_distance(line, p) <= EPS for p in seg):
                    found.append((a, seg))
    return tuple(found)


def blockers(state: State, moving: Flap, sense: Sense) -> list[tuple[int, int]]:
    """(moving facet, facet that holds it) for everything that lies in the way.

    A valley fold needs the flap free in front, a mountain fold free behind.
    """
    inside = set(moving.facets)
    found: list[tuple[int, int]] = []
    for i, part in zip(moving.facets, moving.parts, strict=True):
        for k in sorted(state.neighbours[i] - inside):
            if state.above(k, i) == (sense is Sense.VALLEY):
                other = polygons.split(state.placed[k], moving.line)[0]
                if other and polygons.overlap(part, other):
                    found.append((i, k))
    return found


def misses(state: State, line: Line, span: Span | None = None) -> Refusal:
    """What is said of a fold line with nothing to move on that side."""
    message = "the fold line misses the flap: nothing of it lies on the side that should move"
    hint = "choose another line, or say which side moves with 'moving ...'"
    if not any(polygons.clip_line(part, line) for part in state.placed):
        message = "the fold line crosses no paper: it runs past it, or touches only its rim"
        hint = "choose a line that crosses the paper"
    return Refusal("fold-misses-flap", message, hint, span=span)


def fold_flap(state: State, moving: Flap, sense: Sense) -> State:
    """Reflects the flap in its line, in front (valley) or behind (mountain).

    Raises
    ------
    Blocked : when other paper lies in the way
    Refusal, Collision : as `refold`
    """
    held = blockers(state, moving, sense)
    if held:
        raise Blocked(*held[0])
    fine = divided(state, moving.line, moving.facets)
    movers = beyond(fine, moving.facets, moving.line)
    motion = reflection(moving.line)
    still = sorted(set(range(len(fine.parent))) - set(movers))
    orders: dict[Pair, bool] = {(m, s): sense is Sense.VALLEY for m in movers for s in still}
    try:
        return refold(fine.state, dict.fromkeys(movers, motion), dict.fromkeys(movers, 0), orders)
    except Collision as clash:
        raise fine.undivided(clash) from None


def beyond(fine: Divided, facets: Iterable[int], line: Line) -> list[int]:
    """Pieces of some facets (of the undivided state) that lie on a line's left."""
    inside = set(facets)
    return [
        k
        for k, parent in enumerate(fine.parent)
        if parent in inside and polygons.half_plane_extent(fine.state.placed[k], line)[1] > EPS
    ]


def sheet_segments(state: State, creases: Sequence[tuple[int, Segment]]) -> list[Segment]:
    """Creases given on facets in folded coordinates, as segments of the sheet."""
    return [map_segment(inverse(state.facets[i].place), seg) for i, seg in creases]


def far_point(moving: Flap) -> Point:
    """A point of the flap far from the crease and near its middle: where a finger would hold it."""
    line = moving.line
    reach = max(signed_distance(line, p) for part in moving.parts for p in part)
    far = [p for part in moving.parts for p in part if signed_distance(line, p) > reach - 1e-6]
    return (sum(p[0] for p in far) / len(far), sum(p[1] for p in far) / len(far))


def moved_points(state: State, moving: Flap) -> tuple[Point, ...]:
    """A place on the sheet in every piece of the flap, to find it again later."""
    return tuple(
        inverse(state.facets[i].place)(polygons.centroid(part))
        for i, part in zip(moving.facets, moving.parts, strict=True)
    )
