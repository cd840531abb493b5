"""Any moves in any order on any sheet: what is accepted is sound, what is not is a diagnostic.

The statements are drawn without a look at the paper, so most make no sense; that is the point.
"""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foldscript.geometry.lines import distance
from foldscript.geometry.polygons import area
from foldscript.paper.state import State
from foldscript.source.diagnostics import FoldscriptError

from ..conftest import assert_sound
from ..scripts import folds, script, sheet_area

SHEETS = {
    "sheet square 150 mm": "ABCD",
    "sheet A4 portrait": "ABCD",
    "sheet rectangle 20 cm by 7 cm, corner B at the bottom": "ABCD",
    "sheet regular triangle, side 10 cm": "ABC",
    "sheet regular pentagon, side 8 cm": "ABCDE",
    "sheet regular hexagon, side 8 cm": "ABCDEF",
    "sheet polygon 0 0, 20 0, 24 12, 11 17, 4 14 cm": "ABCDE",
}
DIRECTIONS = (
    "top",
    "bottom",
    "left",
    "right",
    "top left",
    "top right",
    "bottom left",
    "bottom right",
)


@st.composite
def random_sheet(draw: st.DrawFn) -> tuple[str, str]:
    """A sheet line and its corners: one of the usual ones, or any convex polygon."""
    if draw(st.booleans()):
        return draw(st.sampled_from(sorted(SHEETS.items())))
    slopes = draw(st.lists(st.integers(0, 15), min_size=3, max_size=6, unique=True))
    corners = [_ON_AN_OVAL[k] for k in sorted(slopes)]
    if _turn(corners) < 3000:
        corners = [(0, 0), (200, 0), (160, 120)]
    line = "sheet polygon " + ", ".join(f"{x} {y}" for x, y in corners) + " mm"
    return line, "ABCDEF"[: len(corners)]


_ON_AN_OVAL = [
    (200, 70),
    (195, 98),
    (178, 121),
    (151, 135),
    (120, 140),
    (89, 135),
    (62, 121),
    (45, 98),
    (40, 70),
    (45, 42),
    (62, 19),
    (89, 5),
    (120, 0),
    (151, 5),
    (178, 19),
    (195, 42),
]


def _turn(corners: list[tuple[int, int]]) -> float:
    return area(tuple((float(x), float(y)) for x, y in corners))


class Words:
    """Draws the words of statements; `points` and `lines` are names given so far."""

    def __init__(self, data: st.DataObject, corners: str) -> None:
        self.data = data
        self.corners = corners
        self.points = list(corners)
        self.lines: list[str] = []

    def one(self, *options: str) -> str:
        return self.data.draw(st.sampled_from(options))

    def fill(self, *forms: str) -> str:
        """One of the forms, its holes filled: P points, N names, L lines, E edges, D directions."""
        fillers: dict[str, Callable[[], str]] = {
            "P": self.point,
            "N": lambda: self.one(*self.points),
            "L": self.line,
            "E": self.edge,
            "D": lambda: self.one(*DIRECTIONS),
        }
        parts = re.split(r"\{(\w)\}", self.one(*forms))
        return "".join(fillers[part]() if k % 2 else part for k, part in enumerate(parts))

    def edge(self) -> str:
        k = self.data.draw(st.integers(0, len(self.corners) - 1))
        return f"edge {self.corners[k - 1]} {self.corners[k]}"

    def point(self) -> str:
        return self.fill(
            *("{N}", "{N}", "{N}", "{D} corner", "the centre", "where {L} meets {L}"),
            *("midpoint of {N} {N}", "1/3 of {N} {N}", "2/5 of {E}"),
        )

    def line(self) -> str:
        return self.fill(
            *("{E}", "{D} edge", "line {N} {N}", "centre line", "horizontal centre line"),
            *("line through {N} at 22.5 degrees to {E}", "line bisecting {E} and {E}"),
            *self.lines,
        )

    def statement(self, number: int) -> str:
        verb = self.one("valley", "valley", "mountain", "crease", "pinch", "pleat", "other")
        if verb == "other":
            return self.fill(
                *("turn over", "turn over top to bottom", "rotate 90 degrees clockwise"),
                *("unfold", "unfold to step 1", *(f"unfold {k}" for k in self.lines)),
                f"mark M{number} at {{P}}",
            )
        if verb == "pleat":
            return self.fill("pleat along {L} and {L}, moving {P}")
        place = self.fill(
            *("{P} to {P}", "{P} to {P}", "{L} onto {L}", "through {P} {P}, moving {P}"),
            *("through {P} perpendicular to {L}, moving {P}", "{P} onto {L}, through {P}"),
            *("{P} onto {L}, perpendicular to {L}", "{P} onto {L} and {P} onto {L}"),
            "along {L}, moving {P}",
        )
        if verb == "pinch":
            return self.fill(f"pinch {place}, at {{L}}")
        layers = self.one("", "", "", ", all layers", ", 1 layer", ", 2 layers")
        choice = self.fill("", ", first", ", first", ", second", ", near {N}")
        name = f", as k{number}" if verb == "crease" else ""
        return f"{verb} {place}{layers}{choice}{name}"

    def accept(self, statement: str) -> None:
        """Takes in the name that a statement has given."""
        words = statement.split()
        if words[0] == "mark":
            self.points.append(words[1])
        elif ", as " in statement:
            self.lines.append(words[-1])


@settings(max_examples=50, deadline=None)
@given(st.data())
def test_accepted_states_are_sound_and_refusals_are_told(data: st.DataObject) -> None:
    sheet, corners = data.draw(random_sheet())
    words = Words(data, corners)
    done: list[str] = []
    for number in range(data.draw(st.integers(4, 12))):
        statement = words.statement(number)
        try:
            folds(script(*done, statement, sheet=sheet + "\n"))
        except FoldscriptError as error:
            for diagnostic in error.diagnostics:
                assert diagnostic.code
                assert diagnostic.message
                assert diagnostic.span is not None
                assert diagnostic.message.endswith(f"(in step {len(done) + 1})")
            continue
        done.append(statement)
        words.accept(statement)
    if done:
        model = folds(script(*done, sheet=sheet + "\n"))
        assert_sound(model)
        assert_even([step.after for step in model.steps], sheet_area(model.sheet))


def assert_even(states: list[State], whole: float) -> None:
    """Areas add up, and shared boundaries agree, within 1e-9 of the sheet's size."""
    for state in states:
        assert sum(area(f.outline) for f in state.facets) == pytest.approx(whole, abs=1e-9)
        for joint in state.joints:
            a, b = state.facets[joint.a].place, state.facets[joint.b].place
            assert all(distance(a(p), b(p)) < 1e-9 for p in joint.segment)
