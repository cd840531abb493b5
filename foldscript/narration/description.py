"""How the paper lies: everything about one state that the narration looks up more than once.

In: a state and the creases made so far, each with its step. Out: a `StateDescription`: the outline with
its names, the creases and inner edges that fingers find, the corners of the sheet and where they lie.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from ..geometry import polygons
from ..geometry.isometries import map_segment
from ..geometry.lines import Point, Segment, distance, midpoint, overlap_of
from ..languages.wording import Number, Phrase, Template, phrase
from ..paper.seams import remainder
from ..paper.state import State
from .directions import RUNS, in_reading_order, run
from .outline import CLOSE, Outline, outline_of
from .stacks import Region, beside_each_other, depth_of, joined, open_parts, regions, upper_edges

#: (step, segment of the sheet) of every crease and fold made so far.
KnownCreases = tuple[tuple[int, Segment], ...]

_KINDS = {
    "raw": Phrase("the open edge on top"),
    "fold": Phrase("the folded edge on top"),
}
_SEVERAL: dict[str, Template] = {
    "crease": "creases from step {n}",
    "raw": "open edges on top",
    "fold": "folded edges on top",
}
_COUNTS = (
    Phrase("first"),
    Phrase("second"),
    Phrase("third"),
    Phrase("fourth"),
    Phrase("fifth"),
    Phrase("sixth"),
    Phrase("seventh"),
    Phrase("eighth"),
    Phrase("ninth"),
    Phrase("tenth"),
)
#: Of two lines that run from left to right, or from near to far.
_OF_TWO: dict[bool, tuple[Template, Template]] = {
    True: ("the near one of the two {lines}", "the far one of the two {lines}"),
    False: ("the left one of the two {lines}", "the right one of the two {lines}"),
}
_OUTERMOST: dict[bool, tuple[Template, Template]] = {
    True: ("the nearest of the {lines}", "the farthest of the {lines}"),
    False: ("the leftmost of the {lines}", "the rightmost of the {lines}"),
}


#: Lengths up to this are said in tenths (millimetres).
_SHORT = 10.0
#: How many edges on top a name may be told apart from.
_MOST = 3

#: Halves that match as well as this mirror each other (sheet units).
_EVEN = 1e-4


@dataclass(frozen=True)
class FeltLine:
    """A line that fingers find on the paper: 'crease', or a 'raw' or 'fold' edge on top.

    `alone` when its name needs no counting or direction, `plain` when fingers find it by its name.
    """

    kind: str
    segment: Segment
    step: int
    name: Phrase
    alone: bool
    plain: bool


def remembered(memory: KnownCreases, step: int, before: State, after: State) -> KnownCreases:
    """The memory with the creases and folds that `after` has beyond those of `before`."""
    known = [*before.creases, *(j.segment for j in before.joints if j.folded)]
    now = [*after.creases, *(j.segment for j in after.joints if j.folded)]
    fresh = remainder(now, [*known, *(s for _, s in memory)])
    return (*memory, *((step, s) for s in fresh if distance(*s) > 1e-5))


@dataclass(frozen=True)
class StateDescription:
    """The paper as it lies now."""

    state: State
    memory: KnownCreases = ()

    @property
    def unit_mm(self) -> float:
        return self.state.sheet.unit_mm

    def mm(self, length: float) -> Number:
        """A length in whole millimetres, as on a ruler; short ones in tenths, for there they matter."""
        size = length * self.unit_mm
        if size > _SHORT:
            return Number(str(int(size + 0.501)))
        return Number(f"{size + 1e-3:.1f}".removesuffix(".0"))

    @cached_property
    def outline(self) -> Outline:
        return outline_of(self.state)

    @cached_property
    def regions(self) -> tuple[Region, ...]:
        return regions(self.state)

    @cached_property
    def corners(self) -> tuple[tuple[str, Point], ...]:
        """(name, place) of every corner of the sheet."""
        return tuple((name, self.state.where(at)) for name, at in self.state.sheet.all_corners)

    def corners_at(self, p: Point) -> tuple[str, ...]:
        return tuple(name for name, at in self.corners if distance(at, p) < CLOSE)

    def open_corners_at(self, p: Point) -> tuple[str, ...]:
        """Corners of the sheet that lie open on top at a point."""
        sheet = self.state.sheet
        depths = [(n, depth_of(self.state, sheet.corner(n))) for n in self.corners_at(p)]
        return tuple(n for n, d in depths if not d.over)

    @cached_property
    def bounds(self) -> tuple[float, float, float, float]:
        """(left, near, right, far)."""
        return polygons.bounds(c.at for c in self.outline.corners)

    @property
    def centre(self) -> Point:
        x0, y0, x1, y1 = self.bounds
        return ((x0 + x1) / 2, (y0 + y1) / 2)

    @cached_property
    def middle(self) -> float | None:
        """Where the middle line runs (x): the left half of the shape mirrors the right; None without."""
        x = self.centre[0]
        return x if self.outline.kept_by(lambda p: (2 * x - p[0], p[1]), _EVEN) else None

    @cached_property
    def balanced(self) -> bool:
        """Whether the middle between left and right, near and far is plainly the middle of the shape."""
        x, y = self.centre
        return self.outline.kept_by(lambda p: (2 * x - p[0], 2 * y - p[1]), _EVEN)

    @cached_property
    def bare(self) -> StateDescription:
        """The same paper without the edges on top, for places that may not be named by these."""
        return self.without(inner_edges=())

    def without(self, **found: tuple[FeltLine, ...]) -> StateDescription:
        """The same paper with other creases or inner edges to tell places by; what is known is kept."""
        other = StateDescription(self.state, self.memory)
        known = {k: v for k, v in vars(self).items() if k not in ("lines", "bare", "upper_edges")}
        vars(other).update(known | found)
        return other

    @cached_property
    def creases(self) -> tuple[FeltLine, ...]:
        """Flat creases that can be felt on top."""
        by_step: dict[int, list[Segment]] = defaultdict(list)
        for seg in self.state.creases:
            for i, facet in enumerate(self.state.facets):
                piece = polygons.clip_segment(facet.outline, seg)
                if piece is not None:
                    placed = map_segment(facet.place, piece)
                    by_step[self._step_of(piece)] += open_parts(self.state, i, placed)
        rows = [
            (step, in_reading_order(s)) for step in sorted(by_step) for s in joined(by_step[step])
        ]
        return _named([("crease", s, step) for step, s in rows])

    def _step_of(self, seg: Segment) -> int:
        return next((n for n, s in self.memory if overlap_of(seg, s) is not None), 0)

    @cached_property
    def upper_edges(self) -> tuple[tuple[str, Segment], ...]:
        """('raw' or 'fold', segment) of all edges that lie open on top, also of the outline."""
        return upper_edges(self.state)

    def meets_another(self, line: FeltLine) -> bool:
        """Whether two edges lie side by side along a line, such as those of two doors."""
        return beside_each_other(self.state, line.kind, line.segment)

    @cached_property
    def inner_edges(self) -> tuple[FeltLine, ...]:
        """Open and folded edges that lie on top, within the outline."""
        found: list[tuple[str, Segment, int]] = []
        for kind in ("raw", "fold"):
            inside = [
                part
                for k, s in self.upper_edges
                if k == kind
                for part in remainder([s], [e.segment for e in self.outline.edges])
                if distance(*part) > 1e-4
            ]
            found += [(kind, in_reading_order(s), 0) for s in joined(inside)]
        return _named(found)

    @cached_property
    def lines(self) -> tuple[FeltLine, ...]:
        return (*self.creases, *self.inner_edges)


def _named(found: Iterable[tuple[str, Segment, int]]) -> tuple[FeltLine, ...]:
    """Lines with names that tell them apart: by kind and step, by their run, by counting."""
    rows = sorted(found, key=lambda r: (r[0], r[2], [round(x, 6) for p in r[1] for x in p]))
    alike = Counter((kind, step) for kind, _, step in rows)
    running = Counter((kind, step, run(s)) for kind, s, step in rows)
    seen: Counter[tuple[str, int, str]] = Counter()
    out: list[FeltLine] = []
    for kind, seg, step in sorted(rows, key=lambda r: _order(r[1])):
        base = _crease_name(step) if kind == "crease" else _KINDS[kind]
        name = base
        if alike[kind, step] > 1:
            key = (kind, step, run(seg))
            if running[key] == 1:
                name = phrase("{line} that runs {way}", line=base, way=RUNS[run(seg)])
            else:
                seen[key] += 1
                several = phrase(_several(kind, step), n=str(abs(step)))
                if len([1 for key_ in running if key_[:2] == (kind, step)]) > 1:
                    several = phrase("{lines} that run {way}", lines=several, way=RUNS[run(seg)])
                name = _counted(several, seen[key], running[key], run(seg) == "level")
        unique = alike[kind, step] == 1 or running[kind, step, run(seg)] == 1
        plain = (
            unique and len(rows) <= _MOST
            if kind != "crease"
            else (unique or running[kind, step, run(seg)] == 2)
        )
        out.append(FeltLine(kind, seg, step, name, alike[kind, step] == 1, plain))
    return tuple(sorted(out, key=lambda c: (c.kind, c.step, _order(c.segment))))


def _crease_name(step: int) -> Phrase:
    """By its step; below zero it is one of the base."""
    if not step:
        return Phrase("the crease made before")
    if step < 0:
        return phrase("the crease from step {n} of the base", n=str(-step))
    return phrase("the crease from step {n}", n=str(step))


def several_creases(step: int) -> Phrase:
    """'creases from step 2'."""
    return phrase(_several("crease", step), n=str(abs(step)))


def _several(kind: str, step: int) -> Template:
    if kind == "crease" and step <= 0:
        return _BASE if step else _BEFORE
    return _SEVERAL[kind]


_BASE: Template = "creases from step {n} of the base"
_BEFORE: Template = "creases made before"


def _counted(several: Phrase, k: int, total: int, level: bool) -> Phrase:
    """'the left one of the two creases from step 2', 'the third from the left of the creases ...'."""
    if k in (1, total):
        near, far = (_OF_TWO if total == 2 else _OUTERMOST)[level]
        return phrase(near if k == 1 else far, lines=several)
    template: Template = (
        "the {count} from the near side of the {lines}"
        if level
        else "the {count} from the left of the {lines}"
    )
    count = _COUNTS[k - 1] if k <= len(_COUNTS) else phrase("{n}th", n=str(k))
    return phrase(template, count=count, lines=several)


def _order(seg: Segment) -> tuple[float, float]:
    """From left to right; level lines from near to far."""
    m = midpoint(*seg)
    return (
        (round(m[1], 6), round(m[0], 6))
        if run(seg) == "level"
        else (round(m[0], 6), round(m[1], 6))
    )
