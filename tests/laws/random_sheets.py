"""Random statements for sheets of any shape, drawn without a look at the paper.

In: random choices. Out: a sheet line, and statements of which most make no sense; that is the point.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable

from foldscript.geometry.polygons import area

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


def random_sheet(rnd: random.Random) -> tuple[str, str]:
    """A sheet line and its corners: one of the usual ones, or any convex polygon."""
    if rnd.random() < 0.5:
        return rnd.choice(sorted(SHEETS.items()))
    slopes = rnd.sample(range(16), rnd.randint(3, 6))
    corners = [_ON_AN_OVAL[k] for k in sorted(slopes)]
    if _turn(corners) < 3000:
        corners = [(0, 0), (200, 0), (160, 120)]
    line = "sheet polygon " + ", ".join(f"{x} {y}" for x, y in corners) + " mm"
    return line, "ABCDEF"[: len(corners)]


def _turn(corners: list[tuple[int, int]]) -> float:
    return area(tuple((float(x), float(y)) for x, y in corners))


class SheetWords:
    """Draws a sheet and the words of statements; remembers the names that accepted ones have given."""

    def __init__(self, rnd: random.Random) -> None:
        self.rnd = rnd
        line, self.corners = random_sheet(rnd)
        self.sheet = line + "\n"
        self.steps = 0
        self._points = list(self.corners)
        self._lines: list[str] = []
        self._count = 0

    def statement(self) -> str:
        """The next one."""
        self._count += 1
        number = self._count
        verb = self._one("valley", "valley", "mountain", "crease", "pinch", "pleat", "cut", "other")
        if verb == "other":
            return self._fill(
                *("turn over", "turn over top to bottom", "rotate 90 degrees clockwise"),
                *("unfold", "unfold to step 1", *(f"unfold {k}" for k in self._lines)),
                f"mark M{number} at {{P}}",
                f"repeat step {self.rnd.randint(1, self.steps + 1)} behind",
            )
        if verb == "pleat":
            return self._fill("pleat along {L} and {L}, moving {P}")
        if verb == "cut":
            return self._fill("cut along {L}", "cut along {L}, 1 layer", "cut from {P} to {P}")
        place = self._fill(
            *("{P} to {P}", "{P} to {P}", "{L} onto {L}", "through {P} {P}, moving {P}"),
            *("through {P} perpendicular to {L}, moving {P}", "{P} onto {L}, through {P}"),
            *("{P} onto {L}, perpendicular to {L}", "{P} onto {L} and {P} onto {L}"),
            "along {L}, moving {P}",
        )
        if verb == "pinch":
            return self._fill(f"pinch {place}, at {{L}}")
        layers = self._one("", "", "", ", all layers", ", 1 layer", ", 2 layers")
        choice = self._fill("", ", first", ", first", ", second", ", near {N}")
        name = f", as k{number}" if verb == "crease" else ""
        return f"{verb} {place}{layers}{choice}{name}"

    def accept(self, statement: str) -> None:
        """Takes in the name that a statement has given."""
        self.steps += 1
        words = statement.split()
        if words[0] == "mark":
            self._points.append(words[1])
        elif ", as " in statement:
            self._lines.append(words[-1])

    def _one(self, *options: str) -> str:
        return self.rnd.choice(options)

    def _fill(self, *forms: str) -> str:
        """One of the forms, its holes filled: P points, N names, L lines, E edges, D directions."""
        fillers: dict[str, Callable[[], str]] = {
            "P": self._point,
            "N": lambda: self._one(*self._points),
            "L": self._line,
            "E": self._edge,
            "D": lambda: self._one(*DIRECTIONS),
        }
        parts = re.split(r"\{(\w)\}", self._one(*forms))
        return "".join(fillers[part]() if k % 2 else part for k, part in enumerate(parts))

    def _edge(self) -> str:
        k = self.rnd.randrange(len(self.corners))
        return f"edge {self.corners[k - 1]} {self.corners[k]}"

    def _point(self) -> str:
        return self._fill(
            *("{N}", "{N}", "{N}", "{D} corner", "the centre", "where {L} meets {L}"),
            *("midpoint of {N} {N}", "1/3 of {N} {N}", "2/5 of {E}"),
        )

    def _line(self) -> str:
        return self._fill(
            *("{E}", "{D} edge", "line {N} {N}", "centre line", "horizontal centre line"),
            *("line through {N} at 22.5 degrees to {E}", "line bisecting {E} and {E}"),
            *self._lines,
        )
