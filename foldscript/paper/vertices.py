"""Interior vertices of the sheet: where creases meet, and which of them can fold flat together.

In: a state and its joints. Out: for every interior point where joints end, the directions of these
joints around it; and whether a choice of them meets the flat-folding conditions there.

Source: Kawasaki and Justin: alternate angles sum to 180 degrees; Maekawa and Justin: mountains and
valleys differ by two.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from ..geometry.lines import Point, distance, point_on_segment
from ..geometry.tolerance import EPS
from .state import State


@dataclass(frozen=True)
class Vertex:
    """An interior point of the sheet and the joints that end there, counter-clockwise.

    angles[k] is the direction of joint joints[k] in radians.
    """

    at: Point
    joints: tuple[int, ...]
    angles: tuple[float, ...]


def interior_vertices(state: State) -> tuple[Vertex, ...]:
    """Every interior vertex of the state's joints, in a fixed order; those on cuts are left out."""
    spots: dict[tuple[int, int], list[tuple[Point, list[tuple[float, int]]]]] = defaultdict(list)
    for k, joint in enumerate(state.joints):
        p, q = joint.segment
        for here, there in ((p, q), (q, p)):
            if any(point_on_segment(edge, here) for edge in (*state.sheet.all_sides, *state.cuts)):
                continue
            angle = math.atan2(there[1] - here[1], there[0] - here[0])
            cell = (round(here[0] * 1e6), round(here[1] * 1e6))
            home = next(
                (
                    rays
                    for dx in (0, -1, 1)
                    for dy in (0, -1, 1)
                    for at, rays in spots.get((cell[0] + dx, cell[1] + dy), ())
                    if distance(at, here) <= 4 * EPS
                ),
                None,
            )
            if home is None:
                home = []
                spots[cell].append((here, home))
            home.append((angle, k))
    found: list[Vertex] = []
    for cell in sorted(spots):
        for at, rays in spots[cell]:
            rays.sort()
            found.append(Vertex(at, tuple(k for _, k in rays), tuple(a for a, _ in rays)))
    return tuple(found)


def alternate_sum(angles: Sequence[float]) -> float:
    """Sum of every other angle between consecutive directions (sorted), in degrees, starting with
    the first; 180 for a flat-foldable vertex. Needs an even number of directions."""
    total = 0.0
    n = len(angles)
    for k in range(0, n, 2):
        total += (angles[(k + 1) % n] - angles[k]) % (2 * math.pi)
    return math.degrees(total)


def folds_flat(angles: Sequence[float]) -> bool:
    """Kawasaki's condition for the directions of folded creases around an interior vertex."""
    if not angles:
        return True
    return len(angles) % 2 == 0 and len(angles) > 0 and abs(alternate_sum(angles) - 180) < 1e-6
