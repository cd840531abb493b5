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
from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import cached_property

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
from .sections import OVERLAP, Section, Tucked, along, corners, on_page, overlap
from .turning import rotation

#: Millimetres that places which are to be one may be apart: far less than a hand folds to.
APART = 0.05


def closed_up(state: State, goal: Close) -> Pose:
    """The closed model. Raises Refusal where it does not close: a loose unit, a tab without a pocket."""
    return Closing(state, goal).pose()


class Closing:
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

    @property
    def unit_mm(self) -> float:
        return self.state.sheet.unit_mm

    def number(self, section: Section) -> int:
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

    @cached_property
    def bodies(self) -> list[int]:
        """For each piece one of the pieces that it is rigid with, the same for all of them."""
        united = self._united(across=True)
        return [united.find(k) for k in range(len(self.pieces.rings))]

    def ends(self, k: int) -> tuple[Point, Point]:
        """Ends of a seam in the flat plane."""
        seam = self.pieces.seams[k]
        ring = self.pieces.rings[seam.left]
        at = self.flat[seam.left]
        return at[ring.index(seam.start)], at[ring.index(seam.end)]

    def _sections(self) -> list[Section]:
        """The parts of all units. Loose layers that hang at one line beside each other go as one tab."""
        found = self._united(across=False)
        out = [self._section(some) for some in found.sets()]
        for n, one in enumerate(out):
            for other in out[:n]:
                if one.sheet == other.sheet and one.tab and other.tab and one.beside(other):
                    found.unite(one.members[0], other.members[0])
        out = [self._section(some) for some in found.sets()]
        return sorted(out, key=lambda s: s.members)

    def _section(self, some: Sequence[int]) -> Section:
        members = tuple(sorted(some))
        ends = [
            self.ends(k)
            for k in self.hinges
            if {self.pieces.seams[k].left, self.pieces.seams[k].right} & set(members)
        ]
        outline = shapely.union_all([self.areas[k] for k in members], grid_size=1e-9)
        return Section(self.sheets[members[0]], members, outline, tuple(ends))

    @cached_property
    def motion(self) -> list[Array]:
        """For each piece the motion (4 × 4) from the flat figure to where it stands. Raises Refusal."""
        body = self.bodies
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
        (ax, ay), (bx, by) = self.ends(k)
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

    def _seen_from(self, section: Section, face: Section) -> Array:
        """The motion that brings a section's flat place to where it stands over a face that lies flat."""
        return np.linalg.inv(self.motion[face.members[0]]) @ self.motion[section.members[0]]

    def _misses(self, tab: Section, face: Section) -> float:
        """How far a tab is from lying on a face, mm: the farthest of its corners."""
        seat = self._seen_from(tab, face)
        far = 0.0
        for k in tab.members:
            for x, y in self.flat[k]:
                u, v, w, _ = seat @ np.array([x, y, 0.0, 1.0])
                beside = float(shapely.distance(shapely.Point(u, v), face.outline))
                far = max(far, math.hypot(beside, float(w)))
        return far * self.unit_mm

    def _footprint(self, tab: Section, face: Section) -> shapely.Geometry:
        """Where a tab lies on a face, in the flat plane of the face."""
        seat = self._seen_from(tab, face)
        rings = [[on_page(seat, p) for p in self.flat[k]] for k in tab.members]
        return shapely.union_all([shapely.Polygon(ring) for ring in rings], grid_size=1e-9)

    def ranks(self, face: Section, there: shapely.Geometry) -> dict[int, int]:
        """The layers of a face at a place, counted from below. Pieces of one layer have one rank, also where
        what lies below one of them leaves another bare; where whole layers go round, each piece has its own.
        Raises Refusal where even the pieces are woven into each other there.
        """
        here = {k: shapely.intersection(self.areas[k], there) for k in face.members}
        found = [k for k, area in here.items() if shapely.area(area) > OVERLAP]
        on = [
            (one, other)
            for one, other, _, _ in self.layers
            if one in found and other in found and overlap(here[one], here[other])
        ]
        for home in ({k: self.pieces.facets[k] for k in found}, {k: k for k in found}):
            rank = _counted(home.values(), [(home[one], home[other]) for one, other in on])
            if rank is not None:
                return {k: rank[home[k]] for k in found}
        raise Refusal(
            "woven-layers",
            f"layers of unit {self.number(face)} are woven into each other, each under the next all "
            "round: between which of them a tab goes is not known",
            "fold the units so that the layers of each face lie one on the other",
        )

    def _pocket(self, tab: Section, face: Section) -> Tucked:
        """The tab on one layer of the face and under the next, in a pocket that is open where it comes in.

        Raises Refusal.
        """
        there = self._footprint(tab, face)
        rank = self.ranks(face, there)
        seat = self._seen_from(tab, face)
        p, q = (on_page(seat, p) for p in tab.hinges[0])
        bent = any(along(p, q, *ends) for ends in face.hinges)
        shut: set[int] = set()
        for k, seam in enumerate(self.pieces.seams):
            if seam.left in rank and seam.right in rank and along(p, q, *self.ends(k)):
                low, high = sorted((rank[seam.left], rank[seam.right]))
                shut.update(range(low, high))
        found = [g for g in range(max(rank.values(), default=0)) if g not in shut and not bent]
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
        below = frozenset(k for k, r in rank.items() if r <= found[0])
        return Tucked(tab, below, frozenset(rank) - below, there)

    def _lies_on(self, tab: Section, rank: dict[int, int]) -> int | None:
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
        widest = 0.0
        packs: dict[int, list[Tucked]] = {n: [] for n in range(len(faces))}
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
            here = self._pocket(tab, faces[n])
            for other in packs[n]:
                if here.order(other) == 0 and overlap(here.area, other.area):
                    raise Refusal(
                        "pocket-taken",
                        f"tabs of unit {self.number(other.tab)} and unit {self.number(tab)} come to "
                        f"one pocket of unit {self.number(faces[n])}",
                    )
            packs[n].append(here)
        return widest, [t for n, face in enumerate(faces) for t in self._touching(face, packs[n])]

    def _refuse_doubled(self, faces: Sequence[Section]) -> None:
        """Faces may touch along edges only."""
        for k, one in enumerate(faces):
            for other in faces[k + 1 :]:
                seat = self._seen_from(other, one)
                ring = [seat @ np.array([x, y, 0.0, 1.0]) for x, y in corners(other.outline)]
                if max(abs(p[2]) for p in ring) * self.unit_mm > APART:
                    continue
                common = shapely.intersection(shapely.Polygon([p[:2] for p in ring]), one.outline)
                if shapely.area(common) > OVERLAP:
                    raise Refusal(
                        "face-on-face",
                        f"the faces of unit {self.number(one)} and unit {self.number(other)} come to lie on "
                        "each other",
                    )

    def _touching(self, face: Section, tabs: Sequence[Tucked]) -> list[Touching]:
        """What lies on what in a face with its tabs."""
        seats = dict.fromkeys(face.members, np.eye(4))
        rows = [self._among(face.members, turned=False)]
        for n, tucked in enumerate(tabs):
            seat = self._seen_from(tucked.tab, face)
            mine = tucked.tab.members
            seats |= dict.fromkeys(mine, seat)
            rows.append(self._among(mine, turned=bool(seat[2, 2] < 0)))
            rows.append([(k, m) for k in tucked.below for m in mine])
            rows.append([(m, k) for k in tucked.over for m in mine])
            for other in tabs[:n]:
                order = tucked.order(other)
                pairs = [(m, k) for m in mine for k in other.tab.members]
                rows.append(
                    [] if not order else [(k, m) if order > 0 else (m, k) for m, k in pairs]
                )
        shapes = {
            k: shapely.Polygon([on_page(seat, p) for p in self.flat[k]])
            for k, seat in seats.items()
        }
        out: list[Touching] = []
        for low, high in sorted({pair for row in rows for pair in row}):
            facet = self.state.facets[self.pieces.facets[low]]
            if overlap(shapes[low], shapes[high]):
                front = facet.shows_front == bool(seats[low][2, 2] > 0)
                out.append(Touching(low, high, front))
        return out

    def _among(self, members: Sequence[int], *, turned: bool) -> list[tuple[int, int]]:
        """Which of some pieces lies on which, the lower first; the other way round where they are turned."""
        pairs = [(i, j) for i, j, _, _ in self.layers if i in members and j in members]
        return [(j, i) if turned else (i, j) for i, j in pairs]

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


def _counted(layers: Iterable[int], on: Sequence[tuple[int, int]]) -> dict[int, int] | None:
    """Layers counted from below, of pairs of which the second lies on the first; None where they go round."""
    under: dict[int, list[int]] = {k: [] for k in layers}
    for one, other in on:
        under[other].append(one)
    rank: dict[int, int] = {}
    while len(rank) < len(under):
        ready = [k for k in under if k not in rank and all(j in rank for j in under[k])]
        if not ready:
            return None
        for k in ready:
            rank[k] = 1 + max((rank[j] for j in under[k]), default=-1)
    return rank
