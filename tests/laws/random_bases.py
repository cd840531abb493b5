"""Random statements for papers that lie folded already: every traditional base, and what can be named there.

In: random choices. Out: statements of every move. The words are drawn from what lies about: corners of
the sheet, corners that the eye sees, the base's creases and those that earlier statements have named.
Most do not fit the paper; those that do give states that no example would have thought of.
"""

from __future__ import annotations

import random
import re

BASES = (
    *("preliminary", "waterbomb", "kite", "fish", "bird", "frog", "windmill", "blintz"),
    "cupboard",
)
_POINTS = (
    *("A", "B", "C", "D", "top corner", "bottom corner", "left corner", "right corner", "centre"),
    *("midpoint of A B", "midpoint of C D", "1/3 of A C", "top layer at centre"),
)
_LINES = (
    *("centre line", "horizontal centre line", "bottom left edge", "top right edge", "line A C"),
    *("line through centre at 30 degrees to horizontal centre line", "line B D"),
    "line through 1/3 of A C perpendicular to line A C",
)
_FORMS = (
    *("inside reverse {P} to {P}", "inside reverse {P} along {L}", "outside reverse {P} along {L}"),
    *("squash {P} onto {L}", "squash {L} onto {L}", "petal {P} along {L}"),
    *("petal {P} through {P} {P}", "open sink {P} along {L}", "closed sink {P} along {L}"),
    *("spread sink {P} along {L}", "rabbit ear {P} between {P} and {P} to {P}"),
    *("double rabbit ear {P} between {P} and {P} to {P}", "crimp {P} along {L} and {L}"),
    *("swivel {L} onto {L}", "swing {P} to {P}", "pull out {P}", "tuck {P} to {P}, under {P}"),
    *("open out {P} and {P}", "collapse valley {L}, mountain {L}", "turn over", "unfold"),
    *("valley {P} to {P}{C}", "mountain {P} to {P}{C}", "valley {L} onto {L}{C}"),
    *(
        "crease {P} to {P}{C}, as k{#}",
        "crease {L} onto {L}{C}, as k{#}",
        "crease along {L}, as k{#}",
    ),
    *("crease mountain along {L}, as k{#}", "valley along {L}, moving {P}{C}", "unfold {L}"),
    *("cut along {L}{C}", "cut from {P} to {P}{C}", "pleat along {L} and {L}, moving {P}"),
    *(
        "open pocket {P}",
        "turn inside out {P} along {L}",
        "turn inside out through {P}",
        "collapse opening {L}",
        "collapse valley {L}, opening {L}, all layers",
    ),
    *("repeat step {S} behind", "repeat step {S} on the other side", "repeat step {S}, 3 times"),
)
_COUNTS = ("", "", "", ", all layers", ", 1 layer", ", 2 layers")


class BaseWords:
    """Draws statements; remembers the creases that accepted ones have named, and how many steps there are."""

    def __init__(self, rnd: random.Random, base: str = "") -> None:
        self.rnd = rnd
        self.base = base or rnd.choice(BASES)
        self.steps = 0
        self._creases: list[str] = []
        self._count = 0

    @property
    def sheet(self) -> str:
        """The line that a script begins with."""
        return f"start from {self.base} base\n"

    def statement(self) -> str:
        """The next one."""
        self._count += 1
        return re.sub(r"\{(.)\}", lambda hole: self._word(hole[1]), self.rnd.choice(_FORMS))

    def accept(self, statement: str) -> None:
        """Takes in the name that a statement has given."""
        self.steps += 1
        if ", as " in statement:
            self._creases.append(statement.rpartition(" ")[2])

    def _word(self, hole: str) -> str:
        if hole == "P":
            return self.rnd.choice(_POINTS)
        if hole == "L":
            return self.rnd.choice((*_LINES, *self._creases, *self._creases))
        if hole == "C":
            return self.rnd.choice(_COUNTS)
        return str(self._count if hole == "#" else self.rnd.randint(1, self.steps + 1))
