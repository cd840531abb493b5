"""An independent check of folded states: what `foldscript states` prints, judged without the package.

In: the document as a dictionary. Out: a list of faults, empty when every state is a sound flat
folding. Each fault reads 'step N: kind: what', where kind is one of

    format, sheet, steps          the document itself
    tiling, isometry, shows       plates tile the sheet and each is laid down rigidly
    tear                          plates that hold together stay together
    order                         one above value for each overlapping pair, none for others
    ring                          no layers above each other in a circle
    pierced, joint, interleaved   no layer goes through a fold, through a flat joint, or between
    Kawasaki, Maekawa             around every point inside the sheet where folds meet
    mark                          flat creases lie on the sheet and are not folded

Layer conditions: Justin (1997), Bern & Hayes (SODA 1996), Akitaya, Demaine & Ku (2024). Kawasaki's
and Maekawa's conditions: Hull, Ars Combinatoria 67 (2003) 175-188.
"""

from __future__ import annotations

import itertools
import math
from collections import defaultdict
from collections.abc import Mapping
from typing import Any

import networkx as nx
import numpy as np
from shapely import STRtree
from shapely.geometry import LineString, MultiPolygon, Point, Polygon
from shapely.ops import unary_union

from .plates import (
    EXACT,
    NEAR,
    THIN,
    TOUCH,
    Joint,
    Malformed,
    Plate,
    Vector,
    close_pairs,
    common_area,
    common_part,
    read_left,
    read_parts,
    read_plate,
    read_segments,
    read_sheet,
    shared_edges,
    thickness,
)


def faults(document: Mapping[str, Any]) -> list[str]:
    """Everything wrong with a document of folded states."""
    if not isinstance(document, Mapping):
        return ["format: the document is not an object"]
    found: list[str] = []
    if document.get("format") != "foldscript-states":
        found.append("format: format is not 'foldscript-states'")
    if document.get("version") != 1:
        found.append("format: version is not 1")
    sheet, states = document.get("sheet"), document.get("states")
    if not isinstance(sheet, Mapping) or not isinstance(states, list):
        return [*found, "format: sheet or states are missing"]
    if sheet.get("unit") != "mm":
        found.append("format: the sheet's unit is not mm")
    try:
        paper, size = read_sheet(sheet)
    except Malformed as bad:
        return [*found, f"sheet: {bad}"]
    if not states:
        found.append("steps: there is no state")
    begins, starts = read_parts(document, states)
    for k, one, unit, start in starts:
        found += [f"before step {k}: {f}" for f in _State(one, unit, start).faults(first=False)]
    cut = False
    for k, state in enumerate(states):
        if not isinstance(state, Mapping):
            found.append(f"format: state {k} is not an object")
            continue
        if k in begins:
            (paper, size), cut = begins[k], False
        try:
            left = read_left(state, size)
        except Malformed as bad:
            found.append(f"step {k}: format: {bad}")
            continue
        if left is not None:
            if not paper.buffer(EXACT, join_style="mitre").covers(left):
                found.append(f"step {k}: left: paper is there that was cut off or never was")
            paper = left
        elif cut:
            found.append(f"step {k}: left: paper is there that was cut off")
        cut = cut or left is not None
        if state.get("step") != k:
            found.append(f"steps: state {k} is numbered {state.get('step')}")
        check = _State(paper, size, state)
        found += [f"step {state.get('step')}: {fault}" for fault in check.faults(first=k == 0)]
    return found


class _State:
    """One state under check."""

    def __init__(
        self, paper: Polygon | MultiPolygon, size: float, state: Mapping[str, Any]
    ) -> None:
        self.paper = paper
        self.size = size
        self.state = state
        self.found: list[str] = []

    def faults(self, *, first: bool) -> list[str]:
        try:
            self._read()
        except Malformed as bad:
            return [f"format: {bad}"]
        self._isometries()
        self._tiling()
        self._joints()
        self._orders()
        self._rings()
        self._layers_at_joints()
        self._joints_against_each_other()
        self._vertices()
        self._marks()
        if first and any(j.folded for j in self.joints):
            self.say("steps", "the sheet is not flat before the first step")
        return self.found

    def say(self, kind: str, what: str) -> None:
        self.found.append(f"{kind}: {what}")

    def at(self, p: Vector) -> str:
        return f"({p[0] * self.size:.3f}, {p[1] * self.size:.3f})"

    def _read(self) -> None:
        listed = self.state.get("plates")
        if not isinstance(listed, list) or not listed:
            raise Malformed("plates are missing")
        self.plates: list[Plate] = [
            read_plate(p, f"plate {i}", self.size) for i, p in enumerate(listed)
        ]
        self.marks = read_segments(self.state.get("marks", []), "mark", self.size)
        self.cuts = read_segments(self.state.get("cuts", []), "cut", self.size)

    # each plate for itself, and all of them as a tiling

    def _isometries(self) -> None:
        for i, plate in enumerate(self.plates):
            m = plate.place[:, :2]
            if np.abs(m @ m.T - np.eye(2)).max() > EXACT:
                self.say("isometry", f"plate {i} is stretched or sheared")
            if plate.front == plate.flips:
                side = "front" if plate.front else "back"
                self.say("shows", f"plate {i} says {side}, its placement says otherwise")

    def _tiling(self) -> None:
        shapes = [p.shape for p in self.plates]
        whole = self.paper.area
        total = sum(s.area for s in shapes)
        if abs(total - whole) > EXACT * whole:
            self.say("tiling", f"the plates' areas add up to {total / whole:.9f} of the sheet")
        rim = self.paper.buffer(EXACT, join_style="mitre")
        for i, shape in enumerate(shapes):
            if not rim.covers(shape):
                self.say("tiling", f"plate {i} reaches over the edge of the sheet")
        for i, j in _near(shapes):
            if thickness(common_area(shapes[i], shapes[j])) > THIN:
                self.say("tiling", f"plates {i} and {j} cover the same part of the sheet")
        if self.paper.difference(unary_union(shapes)).area > EXACT * whole:
            self.say("tiling", "part of the sheet belongs to no plate")

    # how the plates hold together

    def _joints(self) -> None:
        self.joints: list[Joint] = []
        self.pattern: list[Joint] = []  # the folds, also where the paper is torn along them
        for i, j, a, b in shared_edges(self.plates, self.cuts):
            p, q = self.plates[i], self.plates[j]
            apart = max(float(np.linalg.norm(p.fold(x) - q.fold(x))) for x in (a, b))
            folded = p.flips != q.flips or apart > EXACT
            joint = Joint(i, j, a, b, p.fold(a), p.fold(b), folded)
            if folded:
                self.pattern.append(joint)
            if apart > EXACT:
                self.say(
                    "tear",
                    f"plates {i} and {j} come apart by {apart * self.size:.6f} mm "
                    f"along {self.at(a)} to {self.at(b)}",
                )
            else:
                self.joints.append(joint)

    # which plate lies above which

    def _orders(self) -> None:
        count = len(self.plates)
        self.graph: nx.DiGraph[int] = nx.DiGraph()
        self.graph.add_nodes_from(range(count))
        listed: list[tuple[int, int]] = []
        for pair in self.state.get("above", []):
            if (
                not isinstance(pair, list | tuple)
                or len(pair) != 2
                or not all(isinstance(k, int) and 0 <= k < count for k in pair)
                or pair[0] == pair[1]
            ):
                self.say("order", f"{pair} is no pair of plates")
                continue
            i, j = pair
            if (i, j) in listed:
                self.say("order", f"plate {i} above plate {j} is said twice")
            elif (j, i) in listed:
                self.say("order", f"plates {i} and {j} each lie above the other")
            listed.append((i, j))
            self.graph.add_edge(i, j)
        placed = [p.placed for p in self.plates]
        shared = {(i, j): thickness(common_area(placed[i], placed[j])) for i, j in _near(placed)}
        known = {tuple(sorted(pair)) for pair in listed}
        for (i, j), common in sorted(shared.items()):
            if common > THIN and (i, j) not in known:
                self.say("order", f"plates {i} and {j} overlap and neither is said to be above")
        for i, j in sorted(known):
            if shared.get((i, j), 0.0) <= TOUCH:
                self.say("order", f"plates {i} and {j} do not overlap, yet have an order")

    def above(self, i: int, j: int) -> bool | None:
        """Whether plate i lies above plate j; None when that is not said, or said both ways."""
        up, down = self.graph.has_edge(i, j), self.graph.has_edge(j, i)
        return None if up == down else up

    def _rings(self) -> None:
        """Among plates that all cover one spot a circle always holds one of three."""
        graph = self.graph
        for i, j in graph.edges:
            for k in sorted(set(graph.successors(j)) & set(graph.predecessors(i))):
                if i > min(j, k) or (self.above(i, j), self.above(j, k), self.above(k, i)) != (
                    True,
                    True,
                    True,
                ):
                    continue
                common = self.plates[i].placed
                for other in (j, k):
                    common = common_area(common, self.plates[other].placed)
                if thickness(common) > THIN:
                    self.say("ring", f"plates {i}, {j} and {k} lie above each other in a circle")

    # what joints demand of the order

    def between(self, k: int, joint: Joint) -> bool | None:
        """Whether plate k lies above just one side of a joint."""
        one, two = self.above(k, joint.first), self.above(k, joint.second)
        return None if one is None or two is None else one != two

    def _layers_at_joints(self) -> None:
        """A plate that runs on across a joint lies above both its sides or below both."""
        if not self.plates:
            return
        tree = STRtree([p.core for p in self.plates])
        for joint in self.joints:
            line = LineString([joint.a_folded, joint.b_folded])
            for k in sorted(int(n) for n in tree.query(line, predicate="intersects")):
                if k in (joint.first, joint.second):
                    continue
                if line.intersection(self.plates[k].core).length > THIN and self.between(k, joint):
                    self._crossed(k, joint)

    def _crossed(self, k: int, joint: Joint) -> None:
        pair = f"plates {joint.first} and {joint.second}"
        if joint.folded:
            self.say("pierced", f"plate {k} goes through the fold between {pair}")
        else:
            self.say("joint", f"plate {k} goes through the flat joint between {pair}")

    def _joints_against_each_other(self) -> None:
        """Joints that lie along one line when folded."""
        for m, n in close_pairs([(j.a_folded, j.b_folded) for j in self.joints]):
            one, two = self.joints[m], self.joints[n]
            part = common_part(one.a_folded, one.b_folded, two.a_folded, two.b_folded)
            if part is None or np.linalg.norm(part[1] - part[0]) <= THIN:
                continue
            if len({one.first, one.second, two.first, two.second}) < 4:
                continue
            way = float((one.b_folded - one.a_folded) @ (two.b_folded - two.a_folded))
            turn = 1 if way > 0 else -1
            a_side = one.sides(self.plates)[0]
            c_side = turn * two.sides(self.plates)[0]
            if one.folded and two.folded:
                if a_side != c_side:
                    continue
                inner, outer = self.between(two.first, one), self.between(two.second, one)
                if None not in (inner, outer) and inner != outer:
                    self.say(
                        "interleaved",
                        f"the fold between plates {one.first} and {one.second} and the fold "
                        f"between plates {two.first} and {two.second} run through each other",
                    )
            elif one.folded:
                k = two.first if c_side == a_side else two.second
                if self.between(k, one):
                    self._crossed(k, one)
            elif two.folded:
                k = one.first if a_side == c_side else one.second
                if self.between(k, two):
                    self._crossed(k, two)
            else:
                c, d = (two.first, two.second) if a_side == c_side else (two.second, two.first)
                values = self.above(one.first, c), self.above(one.second, d)
                if None not in values and values[0] != values[1]:
                    self.say(
                        "joint",
                        f"the flat joint between plates {one.first} and {one.second} goes through "
                        f"the one between plates {c} and {d}",
                    )

    # points inside the sheet where folds meet

    def valley(self, joint: Joint) -> bool | None:
        """Whether the fronts meet: the upper plate shows its back."""
        upper = self.above(joint.first, joint.second)
        if upper is None:
            return None
        return self.plates[joint.first if upper else joint.second].flips

    def _vertices(self) -> None:
        rim = self.paper.boundary
        slits = [LineString(c) for c in self.cuts]
        meeting: list[tuple[Vector, list[tuple[float, Joint]]]] = []
        cells: dict[tuple[int, int], list[int]] = defaultdict(list)
        for joint in self.pattern:
            for p, q in ((joint.a, joint.b), (joint.b, joint.a)):
                angle = math.atan2(q[1] - p[1], q[0] - p[0])
                x, y = round(p[0] / THIN), round(p[1] / THIN)
                around = [
                    v
                    for dx, dy in itertools.product((-1, 0, 1), repeat=2)
                    for v in cells.get((x + dx, y + dy), [])
                ]
                home = next((v for v in around if np.linalg.norm(meeting[v][0] - p) <= THIN), None)
                if home is None:
                    home = len(meeting)
                    meeting.append((p, []))
                    cells[x, y].append(home)
                meeting[home][1].append((angle, joint))
        for p, folds in meeting:
            spot = Point(p)
            if rim.distance(spot) <= THIN or any(s.distance(spot) <= THIN for s in slits):
                continue
            self._vertex(p, sorted(folds, key=lambda fold: fold[0]))

    def _vertex(self, p: Vector, folds: list[tuple[float, Joint]]) -> None:
        where = self.at(p)
        if len(folds) % 2:
            self.say("Kawasaki", f"{len(folds)} folds, an odd number, meet at {where}")
            return
        angles = [angle for angle, _ in folds]
        gaps = np.diff([*angles, angles[0] + 2 * math.pi])
        if abs(float(np.sum(gaps[::2])) - math.pi) > THIN:
            self.say(
                "Kawasaki",
                f"every other angle at {where} adds up to "
                f"{math.degrees(float(np.sum(gaps[::2]))):.4f} degrees",
            )
        senses = [self.valley(joint) for _, joint in folds]
        if None in senses:
            return
        valleys = senses.count(True)
        if abs(2 * valleys - len(senses)) != 2:
            self.say(
                "Maekawa",
                f"{valleys} valley and {len(senses) - valleys} mountain folds meet at {where}",
            )

    def _marks(self) -> None:
        rim = self.paper.buffer(NEAR, join_style="mitre")
        for k, (a, b) in enumerate(self.marks):
            if np.linalg.norm(b - a) <= EXACT:
                self.say("mark", f"mark {k} has no length")
                continue
            if not rim.covers(LineString([a, b])):
                self.say("mark", f"mark {k} leaves the sheet")
            for joint in self.joints:
                part = common_part(joint.a, joint.b, a, b) if joint.folded else None
                if part is not None and np.linalg.norm(part[1] - part[0]) > THIN:
                    self.say(
                        "mark",
                        f"mark {k} is folded, between plates {joint.first} and {joint.second}",
                    )


def _near(shapes: list[Polygon]) -> list[tuple[int, int]]:
    """Index pairs i < j of shapes that touch or overlap."""
    left, right = STRtree(shapes).query(shapes, predicate="intersects")
    return sorted(
        (int(i), int(j)) for i, j in zip(left.tolist(), right.tolist(), strict=True) if i < j
    )
