"""What the script has named, and how messages speak of paper by those names."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from ...geometry import lines as geo
from ...geometry import polygons
from ...geometry.lines import Point, Segment
from ...geometry.tolerance import EPS, same_point
from ...languages.wording import Phrase
from ...moves.planning.request import PointValue
from ...paper.seams import remainder
from ...paper.sheet import Sheet
from ...paper.state import State
from ...source.diagnostics import Refusal, Span, write
from .landmarks import Kept

#: Nearer than this a place is told as that of a point.
_THERE_MM = 0.05


@dataclass
class Names:
    """Everything the script has named so far.

    `inherited` are names from what the script starts from: it may give them anew. What a call of a
    group has held on to as the eye saw it has its place and its words in `held_points` and
    `held_lines`, under keys that no script can write. `made` tells which step made a crease, `gone` which
    step cut off what a name stood for;
    `earlier` are the paper's creases before the step that is folded, which a folder sees in its figure;
    `found` are the landmarks of points that were measured.
    """

    points: dict[str, Point] = field(default_factory=dict)
    creases: dict[str, tuple[Segment, ...]] = field(default_factory=dict)
    inherited: frozenset[str] = frozenset()
    held_points: dict[str, tuple[Point, Phrase, Kept | None]] = field(default_factory=dict)
    held_lines: dict[str, tuple[tuple[Segment, ...], Phrase]] = field(default_factory=dict)
    made: dict[str, int] = field(default_factory=dict)
    gone: dict[str, int] = field(default_factory=dict)
    earlier: tuple[Segment, ...] | None = None
    found: dict[str, Kept] = field(default_factory=dict)

    @classmethod
    def of_sheet(cls, sheet: Sheet) -> Names:
        """Only the sheet's corners."""
        return cls(dict(sheet.all_corners))

    def copy(self) -> Names:
        return Names(
            dict(self.points),
            dict(self.creases),
            self.inherited,
            dict(self.held_points),
            dict(self.held_lines),
            dict(self.made),
            dict(self.gone),
            self.earlier,
            dict(self.found),
        )

    def name_point(self, name: str, at: Point) -> None:
        """Gives a place on the sheet a name, a new one or an inherited one."""
        self.creases.pop(name, None)
        self.gone.pop(name, None)
        self.found.pop(name, None)
        self.points[name] = at
        self.inherited -= {name}

    def name_crease(self, name: str, creases: tuple[Segment, ...], step: int = 0) -> None:
        """Gives a crease a name, a new one or an inherited one; `step` has made it."""
        self.points.pop(name, None)
        self.gone.pop(name, None)
        self.creases[name] = creases
        self.made.pop(name, None)
        if step:
            self.made[name] = step
        self.inherited -= {name}

    def cut_off(self, left: State, step: int) -> None:
        """Forgets what a step has cut off, but for the step."""
        points = {n: p for n, p in self.points.items() if left.facets_on_sheet(p)}
        creases = {
            n: parts
            for n, segments in self.creases.items()
            # each by itself: pieces of one line may have been made with either side inside
            if (parts := tuple(p for s in segments for p in left.on_paper((s,))))
        }
        lost = [n for n in self.known() if n not in points and n not in creases]
        self.gone.update(dict.fromkeys(lost, step))
        self.points, self.creases = points, creases

    def is_point(self, name: str) -> bool:
        """Whether a name is a point's."""
        return name in self.points or name in self.held_points

    def of_crease(self, creases: Sequence[Segment]) -> str:
        """The name of a crease that these are, or are part of, the shortest such; '' for none."""
        found = [
            (round(sum(geo.distance(*s) for s in named), 9), name)
            for name, named in self.creases.items()
            if not remainder(creases, named)
        ]
        return min(found)[1] if found else ""

    def known(self) -> list[str]:
        return [*self.points, *self.creases]


def describe(state: State, names: Names, facet: int) -> str:
    """A layer in words: by a named point on it alone, by its order at one, or by its place."""
    plate = state.plate(facet)
    shared: str | None = None
    for name, at in names.points.items():
        holders = state.facets_on_sheet(at)
        if not any(i in plate for i in holders):
            continue
        kind = "corner" if state.sheet.is_corner(name) else "point"
        if all(i in plate for i in holders):
            return f"the layer with {kind} {name}"
        shared = shared or f"{_nth_layer(state, facet, state.where(at))} at {kind} {name}"
    if shared is not None:
        return shared
    middle = polygons.centroid(state.placed[facet])
    return f"the layer {locate(state, names, middle)}"


#: What layers are called from the top, as the language says it.
_NTH = (
    *("top", "second", "third", "fourth", "fifth"),
    *("sixth", "seventh", "eighth", "ninth", "tenth"),
)


def _nth_layer(state: State, facet: int, spot: Point) -> str:
    """'the top layer', 'the second layer': where a layer lies in the stack at a place."""
    plate_of = state.plate_of
    stack = list(dict.fromkeys(plate_of[i] for i in state.facets_at(spot)))
    place, count = stack.index(plate_of[facet]) + 1, len(stack)
    if place == count and count > 1:
        return "the bottom layer"
    if place > len(_NTH):
        return f"layer {place} of {count}"
    return f"the {_NTH[place - 1]} layer"


def locate(state: State, names: Names, spot: Point) -> str:
    """A folded point in words: 'on corner B', '12 mm from corner B'.

    Beside a place what can be seen is named, as long as anything with a name can be.
    """
    best: tuple[int, float, str] | None = None
    for name, at in names.points.items():
        away = geo.distance(state.where(at), spot)
        here = away * state.sheet.unit_mm < _THERE_MM
        rank = (0 if here else 2) + (not _seen(state, at))
        if best is None or rank < best[0] or (rank == best[0] and away < best[1] - EPS):
            kind = "corner" if state.sheet.is_corner(name) else "point"
            best = (rank, away, f"{kind} {name}")
    if best is None:
        return "somewhere on the paper"
    rank, away, words = best
    return f"on {words}" if rank < 2 else f"{away * state.sheet.unit_mm:.0f} mm from {words}"


def _seen(state: State, at: Point) -> bool:
    """Whether a point of the sheet lies on top of the figure."""
    stack = state.facets_at(state.where(at))
    return bool(stack) and stack[0] in state.facets_on_sheet(at)


def line_to_write(p: PointValue, q: PointValue) -> str:
    """How a script says the line through two points: 'line A C'."""
    return f"line {p.letter or 'P'} {q.letter or 'Q'}"


def bent_edge(state: State, names: Names, p: PointValue, q: PointValue, span: Span) -> Refusal:
    assert p.sheet is not None
    assert q.sheet is not None
    bends: list[str] = []
    for _, seg in state.raw_edges:
        for end in seg:
            if geo.point_on_segment((p.sheet, q.sheet), end) and not any(
                same_point(end, other) for other in (p.sheet, q.sheet)
            ):
                name = next((n for n, at in names.points.items() if same_point(at, end)), None)
                mm = geo.distance(end, p.sheet) * state.sheet.unit_mm
                text = name or f"{mm:.0f} mm from {p.words.render()}"
                if text not in bends:
                    bends.append(text)
    edge = f"edge {p.letter} {q.letter}"
    named = next((b for b in bends if b in names.points), None)
    hints = (
        (
            write(
                span, f"line {p.letter} {named}", f"say 'line {p.letter} {named}' for the one part"
            ),
            write(span, f"line {named} {q.letter}", f"or 'line {named} {q.letter}' for the other"),
        )
        if named
        else ("mark the place where it turns, then say 'line' from there to the corner you mean",)
    )
    return Refusal(
        "bent-edge", f"{edge} turns at {', '.join(bends) or 'a fold'}", *hints, span=span
    )
