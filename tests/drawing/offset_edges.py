"""Edges of layers as figures show them: where they end, whether they run true, whether any is missing.

In: the samples, drawn flat at the size of figures on A4. Out: flaws, each with its place in its figure:

- `air`: a line that ends where no other line is: at no edge, crease or fold line
- `askew`: a line that is not parallel to the edge that it stands for, but for the bend near a held corner
- `close`: two edges side by side that are nearer to each other than the eye parts, or that cross
- `missing`: an edge of a layer that ends where the layer over it ends, and that nothing hides, but that is
  drawn neither whole nor in part

    .venv/bin/python -m tests.drawing.offset_edges                # how many in each sample, and the worst
    .venv/bin/python -m tests.drawing.offset_edges crane frog     # of some
    .venv/bin/python -m tests.drawing.offset_edges --kept         # what the test keeps of every sample
"""

from __future__ import annotations

import math
import sys
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations, pairwise

import shapely

from foldscript.drawing.offsets.half_edges import HalfEdge, is_upper
from foldscript.drawing.offsets.layers import spread
from foldscript.drawing.row import Row
from foldscript.drawing.scene.strokes import polylines
from foldscript.drawing.sheet.ink_of_paper import creases
from foldscript.drawing.sheet.visible import Visible, line_points
from foldscript.drawing.style.styles import Style, load_style
from foldscript.folding.steps import Model
from foldscript.geometry.lines import Point, Segment, dot, subtract, unit
from foldscript.pages.grid import figure_frame
from foldscript.pages.sizes import page_size

from ..sample_scripts import SAMPLES, sample

#: pt; what is nearer is at one place, and how near a line is at which another one ends: their ink meets.
ONE, TOUCHING = 0.12, 0.8
#: pt; how far a line may slant, from end to end, against its edge, and how long lines are that are looked at.
TRUE, LONG = 0.5, 8.0
#: pt; lines that run nearer than this are read as one thick one (0.5 mm), over at least this length.
PARTED, BESIDE = 0.5 * 72 / 25.4, 6.0
#: pt; lines nowhere farther apart are read as one; lines that fan out from a corner do so within this.
ALIKE, FAN = 0.35, 24.0
#: pt; a missing edge is at least this long.
MISSED = 12.0
KINDS = ("air", "askew", "close", "missing")


@dataclass(frozen=True)
class Flaw:
    """One flaw: its figure, its kind, where on the page of the figure (points), and how bad (points)."""

    figure: str
    kind: str
    at: Point
    amount: float


@dataclass(frozen=True)
class Stroke:
    """One straight line of ink, and how far it is off the direction of the edge it stands for (points)."""

    ends: Segment
    drift: float

    @property
    def length(self) -> float:
        """Points."""
        return math.dist(*self.ends)

    @cached_property
    def middle(self) -> Point:
        """Where it is half way along."""
        (ax, ay), (bx, by) = self.ends
        return ((ax + bx) / 2, (ay + by) / 2)


def figures(model: Model, style: Style) -> Iterator[tuple[str, Visible]]:
    """Label and paper of every flat figure at its size on A4, close-ups whole; the finished model last."""
    row = Row(model)
    labels = [*(one.label or f"after {one.last}" for one in row.figures), "finished"]
    panels = [*(one.panel for one in row.figures), row.last]
    framings = row.framings(style, figure_frame(page_size("A4")))
    for label, panel, framing in zip(labels, panels, framings, strict=True):
        if panel.pose is None:
            view = framing.close_up.view if framing.close_up else framing.view
            gap, most = style.layer_gap / view.scale, style.layer_spread / view.scale
            yield f"{model.name} {label}", Visible(spread(panel.state, gap, most), view)


def strokes(visible: Visible) -> list[Stroke]:
    """Every straight line of the edges."""
    lines = [
        seg
        for edges in (visible.edges.raw, visible.edges.folded, visible.edges.under)
        for points in line_points(edges)
        for seg in pairwise(points)
    ]
    known = _drawn_edges(visible)
    bends = _bends(known)
    out: list[Stroke] = []
    for seg in lines:
        homes = [(h, a, b) for h, a, b in known if all(_off((a, b), p) < ONE for p in seg)]
        if not homes:
            out.append(Stroke(seg, 0.0))
            continue
        # of edges that are drawn on one line the truest is the one that it stands for
        long = math.dist(*seg)
        drift = min(
            0.0 if (h.facet, h.start) in bends else _drift(h, a, b) * long / math.dist(a, b)
            for h, a, b in homes
            if math.dist(a, b) > ONE
        )
        out.append(Stroke(seg, drift))
    return out


def _drawn_edges(visible: Visible) -> list[tuple[HalfEdge, Point, Point]]:
    return [
        (h, *_placed(visible, h))
        for h in visible.spread.half_edges
        if h.mate is None or is_upper(visible.state, h)
    ]


def _bends(known: Sequence[tuple[HalfEdge, Point, Point]]) -> set[tuple[int, int]]:
    """(facet, first corner) of pieces of edges beside a longer one of the same edge that runs true."""
    true = {
        (h.facet, corner): (h.along, math.dist(a, b))
        for h, a, b in known
        if _drift(h, a, b) < ONE
        for corner in (h.start, h.end)
    }
    out: set[tuple[int, int]] = set()
    for h, a, b in known:
        for corner in (h.start, h.end):
            way, long = true.get((h.facet, corner), ((0.0, 0.0), 0.0))
            if dot(way, h.along) > 1 - 1e-9 and long > math.dist(a, b):
                out.add((h.facet, h.start))
    return out


def _placed(visible: Visible, half_edge: HalfEdge) -> Segment:
    """Where an edge is drawn."""
    ends = zip(half_edge.segment, (half_edge.start, half_edge.end), strict=True)
    moves = visible.spread.moves
    p, q = (visible.view((x + moves[v][0], y + moves[v][1])) for (x, y), v in ends)
    return (p, q)


def _drift(half_edge: HalfEdge, a: Point, b: Point) -> float:
    """How far the ends of an edge as drawn are off its true direction (points); y is down on the page."""
    x, y = half_edge.along
    u = (x, -y)
    run = subtract(b, a)
    return abs(run[0] * u[1] - run[1] * u[0])


def _off(seg: Segment, p: Point) -> float:
    """How far a point is from a segment."""
    n = math.dist(*seg)
    if n < 1e-9:
        return math.dist(seg[0], p)
    u = unit(subtract(seg[1], seg[0]))
    t = min(max(dot(subtract(p, seg[0]), u), 0.0), n)
    return math.dist(p, (seg[0][0] + t * u[0], seg[0][1] + t * u[1]))


def flaws(figure: str, visible: Visible, style: Style) -> list[Flaw]:
    """All that is found in one figure."""
    ink = strokes(visible)
    return [
        *(Flaw(figure, "air", at, 1.0) for at in _in_the_air(visible, ink, style)),
        *(
            Flaw(figure, "askew", s.middle, s.drift)
            for s in ink
            if s.drift > TRUE and s.length > LONG
        ),
        *(Flaw(figure, "close", at, PARTED - far) for at, far in _too_close(ink)),
        *(Flaw(figure, "missing", at, long) for at, long in _missing(visible, ink)),
    ]


def _in_the_air(visible: Visible, ink: Sequence[Stroke], style: Style) -> Iterator[Point]:
    """Ends of lines at which nothing else is."""
    folds = [
        (a, b)
        for path in creases(visible, style)
        for line in polylines([path])
        for a, b in pairwise(line)
    ]
    for k, one in enumerate(ink):
        for end in one.ends:
            others = (s.ends for j, s in enumerate(ink) if j != k)
            if not any(_off(seg, end) < TOUCHING for seg in (*others, *folds)):
                yield end


def _too_close(ink: Sequence[Stroke]) -> Iterator[tuple[Point, float]]:
    """Where lines side by side are too near, and how far they are apart; 0 where they cross."""
    for one, other in combinations([s for s in ink if s.length > BESIDE], 2):
        u = unit(subtract(one.ends[1], one.ends[0]))
        v = unit(subtract(other.ends[1], other.ends[0]))
        if abs(u[0] * v[1] - u[1] * v[0]) > 0.1:
            continue
        along = sorted(dot(subtract(p, one.ends[0]), u) for p in other.ends)
        lo, hi = max(0.0, along[0]), min(one.length, along[1])
        if hi - lo < BESIDE:
            continue
        off = [_across(one.ends[0], u, other.ends, t) for t in (lo, hi)]
        if max(map(abs, off)) < ALIKE:
            continue  # one line
        if off[0] * off[1] < 0 and min(map(abs, off)) > ONE:
            far = 0.0
        else:
            far = sum(map(abs, off)) / 2
            if min(map(abs, off)) < ALIKE and hi - lo < FAN:
                continue  # they fan out from a corner
        if far < PARTED - ONE:
            t = (lo + hi) / 2
            yield (one.ends[0][0] + t * u[0], one.ends[0][1] + t * u[1]), far


def _across(start: Point, u: Point, seg: Segment, t: float) -> float:
    """How far a segment is from a line through `start` along `u`, at `t` along it."""
    (a, b) = (subtract(p, start) for p in seg)
    ta, tb = dot(a, u), dot(b, u)
    ya, yb = u[0] * a[1] - u[1] * a[0], u[0] * b[1] - u[1] * b[0]
    return ya + (yb - ya) * (t - ta) / (tb - ta)


def _missing(visible: Visible, ink: Sequence[Stroke]) -> Iterator[tuple[Point, float]]:
    """Middle and length (points) of edges that end where the layer over them ends and that do not show."""
    found = visible.spread
    lower: dict[int, list[Segment]] = {}
    for _, low, seg in found.stacked:
        lower.setdefault(low, []).append(seg)
    told: list[tuple[Point, Point]] = []
    for low, segs in lower.items():
        half_edge = found.half_edges[low]
        for seg in segs:
            p, q = (visible.view(end) for end in seg)
            if math.dist(p, q) < MISSED or any(
                (math.dist(a, p) < ONE and math.dist(b, q) < ONE)
                or (math.dist(a, q) < ONE and math.dist(b, p) < ONE)
                for a, b in told
            ):
                continue
            beside = [s for s in ink if _runs_beside(s, (p, q))]
            if len(_ways(beside, (p, q))) < 2 and _in_sight(visible, half_edge, seg):
                told.append((p, q))
                yield ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2), math.dist(p, q)


def _runs_beside(stroke: Stroke, seg: Segment) -> bool:
    """Whether a line runs along another over half of it, no farther off than a stack is drawn apart."""
    n = math.dist(*seg)
    u = unit(subtract(seg[1], seg[0]))
    along = sorted(dot(subtract(p, seg[0]), u) for p in stroke.ends)
    off = [abs(u[0] * (p[1] - seg[0][1]) - u[1] * (p[0] - seg[0][0])) for p in stroke.ends]
    return min(along[1], n) - max(along[0], 0.0) > n / 2 and max(off) < 4.5


def _ways(found: Sequence[Stroke], seg: Segment) -> list[float]:
    """How far lines are off a segment, in the middle; those at one place once."""
    u = unit(subtract(seg[1], seg[0]))
    mid = math.dist(*seg) / 2
    far = sorted(_across(seg[0], u, s.ends, mid) for s in found)
    return [x for k, x in enumerate(far) if k == 0 or x - far[k - 1] > ONE]


def _in_sight(visible: Visible, half_edge: HalfEdge, seg: Segment) -> bool:
    """Whether a line just beyond the edge, as the paper truly lies, is hidden by no layer over it."""
    state, (x, y) = visible.state, half_edge.outward
    hair = 1e-4
    for part in (0.2, 0.5, 0.8):
        p = (
            seg[0][0] + part * (seg[1][0] - seg[0][0]) + hair * x,
            seg[0][1] + part * (seg[1][1] - seg[0][1]) + hair * y,
        )
        spot = shapely.Point(p)
        if any(
            state.above(j, half_edge.facet) and shapely.Polygon(state.placed[j]).covers(spot)
            for j in state.neighbours[half_edge.facet]
        ):
            return False
    return True


def found_in(names: Iterable[str]) -> list[Flaw]:
    """All flaws of some samples."""
    style = load_style("colour")
    return [
        flaw
        for name in names
        for figure, visible in figures(sample(name).model, style)
        for flaw in flaws(figure, visible, style)
    ]


def main() -> None:
    """Prints how many there are, and the worst of each kind; with '--kept', what is kept."""
    names = [a for a in sys.argv[1:] if not a.startswith("-")] or sorted(
        path.stem for path in SAMPLES.glob("*.foldscript")
    )
    every: list[Flaw] = []
    for name in names:
        found = found_in([name])
        every += found
        count = Counter(f.kind for f in found)
        print(f"{name} = {{ " + ", ".join(f"{kind} = {count[kind]}" for kind in KINDS) + " }")
    if "--kept" in sys.argv:
        return
    for kind in KINDS:
        some = sorted((f for f in every if f.kind == kind), key=lambda f: -f.amount)
        print(f"\n{kind}: {len(some)}")
        for f in some[:20]:
            print(f"  {f.figure}: {f.amount:.1f} at ({f.at[0]:.0f}, {f.at[1]:.0f})")


if __name__ == "__main__":
    main()
