"""Units that are put together flat, closed to a hollow model: where each of them stands, and the proof.

In: flat paper of several sheets, and the creases at which they bend. Out: a `Pose`. Nothing is solved. What
lies in a pocket stays in it, so a tab and the face that takes it up are one rigid body; across a crease the
next body stands at a right angle, to the reader's side. That settles all of them. The tabs that lie in no
pocket of the flat paper have then to come to one by themselves: each onto a face of another unit, at an edge
where just one of its pockets is open. That hands can bend the last of them in is not proved.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from ..geometry.lines import Point
from ..paper.state import State
from ..paper.union_find import UnionFind
from ..source.diagnostics import Refusal
from .goals import Close
from .making import made, overlapping
from .pieces import Array, Pieces, cut_up
from .pose import Pose, Reached, Touching
from .proof import RIGID
from .turning import rotation

#: Millimetres that places which are to be one may be apart: far less than a hand folds to.
APART = 0.05
#: Overlaps below this area (square sheet units) are only shared edges.
_OVERLAP = 1e-5


@dataclass(frozen=True, eq=False)
class _Section:
    """Pieces of one unit that no hinge parts: `hinges` are its seams, they and `outline` lie in the flat
    plane; a tab has one line of hinges, a face has several.
    """

    sheet: int
    members: tuple[int, ...]
    outline: shapely.Geometry
    hinges: tuple[tuple[Point, Point], ...]

    @property
    def tab(self) -> bool:
        """Whether it hangs at one line."""
        return len({_line_of(*ends) for ends in self.hinges}) == 1


def closed_up(state: State, goal: Close) -> Pose:
    """The closed model. Raises Refusal where it does not close: a loose unit, a tab without a pocket."""
    return _Closing(state, goal).pose()


class _Closing:
    """Paper cut at its hinges, and what is worked out of it, one after the other."""

    def __init__(self, state: State, goal: Close) -> None:
        self.state, self.goal = state, goal
        self.pieces: Pieces = cut_up(state)
        self.hinges = self.pieces.on(goal.creases)
        place = [state.facets[f].place for f in self.pieces.facets]
        self.flat: list[list[Point]] = [
            [place[k](p) for p in self.pieces.polygon(k)] for k in range(len(self.pieces.rings))
        ]
        self.areas = [shapely.Polygon(ring) for ring in self.flat]
        self.sheets = [state.sheets[f] for f in self.pieces.facets]
        self.layers = overlapping(self.pieces)
        self.sections = self._sections()
        self.motion = self._motions()

    @property
    def unit_mm(self) -> float:
        return self.state.sheet.unit_mm

    def number(self, section: _Section) -> int:
        """The unit that a section is of."""
        return self.state.sheet.all[section.sheet].number

    # --- bodies ------------------------------------------------------------------------------------

    def _united(self, across: bool) -> UnionFind:
        """Pieces that keep together: of one unit, or `across` units too, where one lies on the other."""
        bent = set(self.hinges)
        found = UnionFind(len(self.pieces.rings))
        for k, seam in enumerate(self.pieces.seams):
            if seam.right >= 0 and k not in bent:
                found.unite(seam.left, seam.right)
        if across:
            for one, other, _, _ in self.layers:
                if self.sheets[one] != self.sheets[other]:
                    found.unite(one, other)
        return found

    def _ends(self, k: int) -> tuple[Point, Point]:
        """Ends of a seam in the flat plane."""
        seam = self.pieces.seams[k]
        ring = self.pieces.rings[seam.left]
        at = self.flat[seam.left]
        return at[ring.index(seam.start)], at[ring.index(seam.end)]

    def _sections(self) -> list[_Section]:
        out: list[_Section] = []
        for some in self._united(across=False).sets():
            members = tuple(sorted(some))
            ends = [
                self._ends(k)
                for k in self.hinges
                if {self.pieces.seams[k].left, self.pieces.seams[k].right} & set(members)
            ]
            outline = shapely.union_all([self.areas[k] for k in members], grid_size=1e-9)
            out.append(_Section(self.sheets[members[0]], members, outline, tuple(ends)))
        return sorted(out, key=lambda s: s.members)

    def _motions(self) -> list[Array]:
        """For each piece the motion (4 × 4) from the flat figure to where it stands."""
        united = self._united(across=True)
        body = [united.find(k) for k in range(len(self.pieces.rings))]
        near: dict[int, list[tuple[int, int]]] = {}
        for k in self.hinges:
            seam = self.pieces.seams[k]
            near.setdefault(body[seam.left], []).append((k, seam.right))
            near.setdefault(body[seam.right], []).append((k, seam.left))
        first = body[max(self.sections, key=lambda s: (s.sheet == 0, not s.tab)).members[0]]
        motion: dict[int, Array] = {first: np.eye(4)}
        waiting = deque([first])
        while waiting:
            here = waiting.popleft()
            for k, beyond in near.get(here, ()):
                there = motion[here] @ self._bend(k, beyond)
                known = motion.setdefault(body[beyond], there)
                if known is there:
                    waiting.append(body[beyond])
                    continue
                gap = float(np.abs(known - there).max()) * self.unit_mm
                if gap > APART:
                    raise Refusal(
                        "held-in-two",
                        f"unit {self._unit(beyond)} cannot bend there: it is held on both sides of the "
                        f"crease, and would gape by {gap:.1f} mm",
                        "a tab goes into a pocket as far as its crease, and no farther",
                    )
        for k, one in enumerate(body):
            if one not in motion:
                raise Refusal(
                    "loose-unit",
                    f"unit {self._unit(k)} hangs on none of the others: no tab of it is in a pocket, and no "
                    "tab in a pocket of it",
                    "place it with a tab in a pocket of a unit that lies there",
                )
        return [motion[one] for one in body]

    def _unit(self, piece: int) -> int:
        return self.state.sheet.all[self.sheets[piece]].number

    def _bend(self, k: int, beyond: int) -> Array:
        """What lies beyond a seam turned about it by a right angle, towards the reader."""
        (ax, ay), (bx, by) = self._ends(k)
        beside = np.mean(self.flat[beyond], axis=0)
        left = (bx - ax) * (beside[1] - ay) - (by - ay) * (beside[0] - ax) > 0
        way = np.array([bx - ax, by - ay, 0.0]) * (1.0 if left else -1.0)
        turn = rotation(way / np.sqrt(way @ way), math.pi / 2)
        at = np.array([ax, ay, 0.0])
        out = np.eye(4)
        out[:3, :3] = turn
        out[:3, 3] = at - turn @ at
        return out

    # --- pockets -----------------------------------------------------------------------------------

    def _seen_from(self, section: _Section, face: _Section) -> Array:
        """The motion that brings a section's flat place to where it stands over a face that lies flat."""
        return np.linalg.inv(self.motion[face.members[0]]) @ self.motion[section.members[0]]

    def _misses(self, tab: _Section, face: _Section) -> float:
        """How far a tab is from lying on a face, mm: the farthest of its corners."""
        seat = self._seen_from(tab, face)
        far = 0.0
        for k in tab.members:
            for x, y in self.flat[k]:
                u, v, w, _ = seat @ np.array([x, y, 0.0, 1.0])
                beside = float(shapely.distance(shapely.Point(u, v), face.outline))
                far = max(far, math.hypot(beside, float(w)))
        return far * self.unit_mm

    def _ranks(self, face: _Section) -> dict[int, int]:
        """The layers of a face, counted from below. Raises Refusal where they are woven into each other."""
        under: dict[int, list[int]] = {k: [] for k in face.members}
        for one, other, _, _ in self.layers:
            if one in under and other in under:
                under[other].append(one)
        rank: dict[int, int] = {}
        while len(rank) < len(under):
            ready = [k for k in under if k not in rank and all(j in rank for j in under[k])]
            if not ready:
                raise Refusal(
                    "woven-layers",
                    f"layers of unit {self.number(face)} are woven into each other, each under the next all "
                    "round: between which of them a tab goes is not known",
                    "fold the units so that the layers of each face lie one on the other",
                )
            for k in ready:
                rank[k] = 1 + max((rank[j] for j in under[k]), default=-1)
        return rank

    def _pocket(self, tab: _Section, face: _Section, rank: dict[int, int]) -> int:
        """The layer of the face that the tab lies on: under the next one, in a pocket that is open where
        the tab comes in. Raises Refusal.
        """
        seat = self._seen_from(tab, face)
        p, q = (_on_page(seat, p) for p in tab.hinges[0])
        bent = any(_along(p, q, *ends) for ends in face.hinges)
        shut: set[int] = set()
        for k, seam in enumerate(self.pieces.seams):
            if seam.left in rank and seam.right in rank and _along(p, q, *self._ends(k)):
                low, high = sorted((rank[seam.left], rank[seam.right]))
                shut.update(range(low, high))
        found = [g for g in range(max(rank.values())) if g not in shut and not bent]
        lies = self._lies_on(tab, rank)
        if lies is not None:
            found = [g for g in found if g == lies]
        if len(found) != 1:
            many = "more than one pocket is" if found else "no pocket is"
            raise Refusal(
                "no-pocket-there",
                f"{many} open where a tab of unit {self.number(tab)} comes to unit {self.number(face)}",
                "put the units together so that every tab comes to an edge with one pocket",
            )
        return found[0]

    def _lies_on(self, tab: _Section, rank: dict[int, int]) -> int | None:
        """The layer of a face that a tab lies on in the flat paper; None for one that is not there."""
        below = [rank[i] for i, j, _, _ in self.layers if i in rank and j in tab.members]
        above = [rank[j] for i, j, _, _ in self.layers if j in rank and i in tab.members]
        if not below and not above:
            return None
        return max(below, default=-1)

    def _packed(self) -> tuple[float, list[Touching]]:
        """Every tab in its pocket: the widest gap (mm), and what lies on what. Raises Refusal."""
        faces = [s for s in self.sections if not s.tab]
        self._refuse_doubled(faces)
        taken: dict[tuple[int, int], _Section] = {}
        widest = 0.0
        packs: dict[int, list[tuple[int, _Section]]] = {n: [] for n in range(len(faces))}
        for tab in (s for s in self.sections if s.tab):
            others = [n for n, face in enumerate(faces) if face.sheet != tab.sheet]
            gaps = {n: self._misses(tab, faces[n]) for n in others}
            n = min(gaps, key=lambda n: round(gaps[n], 6))
            if gaps[n] > APART:
                raise Refusal(
                    "does-not-close",
                    f"a tab of unit {self.number(tab)} comes to no pocket: it is {gaps[n]:.1f} mm off "
                    f"the face of unit {self.number(faces[n])}, the nearest one",
                    "see which units are placed, and at which creases they bend",
                )
            widest = max(widest, gaps[n])
            layer = self._pocket(tab, faces[n], self._ranks(faces[n]))
            if (n, layer) in taken:
                raise Refusal(
                    "pocket-taken",
                    f"tabs of unit {self.number(taken[n, layer])} and unit {self.number(tab)} come to "
                    f"one pocket of unit {self.number(faces[n])}",
                )
            taken[n, layer] = tab
            packs[n].append((layer, tab))
        return widest, [t for n, face in enumerate(faces) for t in self._touching(face, packs[n])]

    def _refuse_doubled(self, faces: Sequence[_Section]) -> None:
        """Faces may touch along edges only."""
        for k, one in enumerate(faces):
            for other in faces[k + 1 :]:
                seat = self._seen_from(other, one)
                ring = [seat @ np.array([x, y, 0.0, 1.0]) for x, y in _corners(other.outline)]
                if max(abs(p[2]) for p in ring) * self.unit_mm > APART:
                    continue
                common = shapely.intersection(shapely.Polygon([p[:2] for p in ring]), one.outline)
                if shapely.area(common) > _OVERLAP:
                    raise Refusal(
                        "face-on-face",
                        f"the faces of unit {self.number(one)} and unit {self.number(other)} come to lie on "
                        "each other",
                    )

    def _touching(self, face: _Section, tabs: Sequence[tuple[int, _Section]]) -> list[Touching]:
        """What lies on what in a face with its tabs."""
        level: dict[int, tuple[int, int]] = {k: (2 * r, 0) for k, r in self._ranks(face).items()}
        seats = dict.fromkeys(face.members, np.eye(4))
        for layer, tab in tabs:
            seat = self._seen_from(tab, face)
            upward = 1 if seat[2, 2] > 0 else -1
            level |= {k: (2 * layer + 1, upward * r) for k, r in self._ranks(tab).items()}
            seats |= dict.fromkeys(tab.members, seat)
        shapes = {k: shapely.Polygon([_on_page(seats[k], p) for p in self.flat[k]]) for k in level}
        row = sorted(level, key=lambda k: (level[k], k))
        out: list[Touching] = []
        for n, low in enumerate(row):
            facet = self.state.facets[self.pieces.facets[low]]
            front = facet.shows_front == bool(seats[low][2, 2] > 0)
            out += [
                Touching(low, high, front)
                for high in row[n + 1 :]
                if level[high] > level[low]
                and shapely.area(shapely.intersection(shapes[low], shapes[high])) > _OVERLAP
            ]
        return out

    # --- the pose ----------------------------------------------------------------------------------

    def pose(self) -> Pose:
        """The pose, proved like any other."""
        gap, touching = self._packed()
        places = np.zeros((len(self.pieces.points), 3))
        for k, ring in enumerate(self.pieces.rings):
            for point, (x, y) in zip(ring, self.flat[k], strict=True):
                places[point] = (self.motion[k] @ np.array([x, y, 0.0, 1.0]))[:3]
        pose = made(
            self.pieces,
            places,
            (),
            0,
            lambda edges, space: [Reached("tabs in their pockets", 0.0, gap, "mm", enough=True)],
            RIGID,
            touching=tuple(touching),
        )
        return replace(pose, goals=(self.goal,))


def _line_of(p: Point, q: Point) -> tuple[float, float, float]:
    """A line, alike for all parts of it."""
    (px, py), (qx, qy) = p, q
    a, b = py - qy, qx - px
    size = math.hypot(a, b) * (1 if (round(a, 9), round(b, 9)) > (0, 0) else -1)
    return tuple(round(v / size, 6) + 0.0 for v in (a, b, -(a * px + b * py)))  # type: ignore[return-value]


def _along(p: Point, q: Point, r: Point, s: Point) -> bool:
    """Whether two segments have more than a point in common."""
    one, other = shapely.LineString([p, q]), shapely.LineString([r, s])
    return float(shapely.length(shapely.intersection(shapely.buffer(one, 1e-6), other))) > 1e-4


def _on_page(seat: Array, p: Point) -> Point:
    x, y, _, _ = seat @ np.array([p[0], p[1], 0.0, 1.0])
    return float(x), float(y)


def _corners(outline: shapely.Geometry) -> list[Point]:
    return [
        (float(x), float(y)) for x, y in shapely.get_coordinates(shapely.convex_hull(outline))[:-1]
    ]
