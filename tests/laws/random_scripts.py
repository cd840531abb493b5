"""Random statements for scripts on a square, on words that stand for the paper as it lies.

In: random choices. Out: statements of every move, of which each may be refused. Nothing in them depends on a
side that a mirror image could not name: parts of the way count from a named point, and angles are
turned from named lines.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable

WAYS = ("top", "bottom", "left", "right", "top left", "top right", "bottom left", "bottom right")

REPEATED = ("behind", "on the other side", "again")

_PLACES = (
    *("{P} to {P}", "{P} to {P}", "{P} to {P}", "{L} onto {L}", "{L} onto {L}, near {N}"),
    *("through {P} {P}, moving {P}", "through {P} perpendicular to {L}, moving {P}"),
    *("{P} onto {L}, through {P}", "{P} onto {L}, through {P}, near {N}"),
    *("{P} onto {L}, perpendicular to {L}", "along {L}, moving {P}"),
    *("{P} onto {L} and {P} onto {L}", "{P} onto {L} and {P} onto {L}, near {N}"),
)
_FORMS = (
    *("valley {F}{C}",) * 6,
    *("mountain {F}{C}",) * 3,
    *("crease {F}{C}, as k{#}",) * 3,
    "crease mountain {F}, as k{#}",
    *("mark M{#} at {P}", "pinch {F}, at {E}", "pleat along {L} and {L}, moving {P}"),
    *("turn over side to side", "turn over top to bottom", "rotate 90 degrees clockwise"),
    *("rotate 45 degrees anticlockwise", "unfold", "unfold", "unfold {K}"),
    *("inside reverse {P} along {L}", "inside reverse {P} to {P}", "outside reverse {P} along {L}"),
    "repeat step {S} {T}",
    *("squash line {N} {N} onto line {N} {W} corner",) * 2,
    *("squash {P} onto {L}", "squash {L} onto {L}", "squash {L} onto {L}, along {L}"),
    *("petal {P} along {L}", "petal {P} through {P} {P}"),
    *("open sink {P} along {L}", "closed sink {P} along {L}", "spread sink {P} along {L}"),
    *(
        "rabbit ear {P} between {P} and {P} to {P}",
        "double rabbit ear {P} between {P} and {P} to {P}",
    ),
    *("crimp {P} along {L} and {L}", "crimp outside {P} along {L} and {L}", "swivel {P} along {L}"),
    *("swing {P} to {P}", "pull out {P}", "pull out {P} along {L}", "tuck {P} to {P}, under {P}"),
    *("open out {P} and {P}", "open out {P}", "pull apart {P} and {P}"),
    *(
        "collapse valley {K}, mountain {K}, valley {K}",
        "collapse mountain {K}, valley {K}, holding {N}",
        "collapse mountain {K}, valley {K}, valley {K}, holding {N}",
        "collapse mountain {K}, valley {K}, valley {K}, holding {N}, with {N} over {N}",
    ),
    *("cut along {L}, 1 layer", "cut from {P} to {P}"),
    *("open pocket at {W} corner", "open pocket {P}", "collapse valley {K}, opening {K}"),
    "cut from {P} to {P}, all layers, discarding {P}",
    "cut from {P} to {P} to {P}, all layers, keeping {P}",
    "cut along {L}, all layers, discarding {P}",
    "turn inside out {P} along {L}",
    "turn inside out through {P}",
    *("twist {R}", "twist {R}, behind"),
)
#: What makes a model stand in space.
STANDING = (
    *("raise along {L}", "raise along {L} and {L}", "raise along {L}, to 45 degrees"),
    *("raise along {K}", "raise along {K} and {K}", "raise along {K}, to 120 degrees"),
    *("raise along {L}, moving {P}", "raise along {K}, moving {P} and {P}"),
    *("raise along {L}, holding {P}", "raise along {K} until level", "press {P} until level"),
    *("raise along {L} to 60 degrees, along {K} until level with {P}", "press {P} until level"),
    *("open {W} edge", "open {W} edge by 2 cm", "spread {P} by 1 cm", "spread {P} by 3 cm"),
    *("open {W} edge by 1 cm, holding {P}", "spread {L}", "stand on {P}, {P} and {P}"),
    *("inflate at {P}", "blow into {P}", "squeeze {P} and {P}", "curl {P}", "hold {P}"),
    *("curl {P} in front", "curl {P} behind, round a pencil", "curl {L} outwards, by 15 mm"),
    *("pull {P} from {P} by 1 cm", "pull {P} from {P} by 3 cm", "pull {P} in front by 1 cm"),
    *("pull {P} in front by 2 cm, holding {P}", "pull {P} behind by 1 cm, holding {P}"),
    *("round out between {L} and {L}", "round out between {K} and {L} by 1 cm"),
)
#: Corners folded to the middle, over and over: pockets in fours, each with its mirror image.
FOUR_FLAPS = (
    *("mark S at midpoint of A B", "mark E at midpoint of B C"),
    *("mark N at midpoint of C D", "mark W at midpoint of D A", "mark O at centre"),
    *(
        "mark V1 at 1/4 of S W",
        "mark V2 at 1/4 of E S",
        "mark V3 at 1/4 of N E",
        "mark V4 at 1/4 of W N",
    ),
    *("valley A to O", "valley B to O", "valley C to O", "valley D to O", "turn over side to side"),
    *("valley bottom corner to centre", "valley right corner to centre"),
    *("valley top corner to centre", "valley left corner to centre", "turn over side to side"),
)
#: What makes compound moves possible at all.
BEGINNINGS: tuple[tuple[str, ...], ...] = (
    (),
    (),
    ("valley A to C",),
    ("valley bottom edge onto top edge", "valley left edge onto right edge"),
    (  # preliminary base
        *("crease A to C, as k1", "crease B to D, as k2", "turn over side to side"),
        *("crease bottom edge onto top edge, as k3", "crease left edge onto right edge, as k4"),
        "collapse mountain k2, valley k3, valley k4, holding A",
    ),
    (  # waterbomb base
        *("crease bottom edge onto top edge, as k1", "turn over side to side"),
        *("crease A to C, as k2", "crease B to D, as k3"),
        "collapse mountain k1, valley k2, valley k3, holding A",
    ),
    ("crease B to D, as k1", "valley edge A B onto k1", "valley edge A D onto k1"),
    FOUR_FLAPS,
    FOUR_FLAPS,
    (  # a small square in the middle, on its corner, to be twisted
        *("mark T1 at 1/4 of centre midpoint of B C", "mark T2 at 1/4 of centre midpoint of C D"),
        *("mark T3 at 1/4 of centre midpoint of D A", "mark T4 at 1/4 of centre midpoint of A B"),
    ),
    (  # four panels
        "crease bottom edge onto top edge, as k2",
        *("crease bottom edge onto k2, as k1", "crease top edge onto k2, as k3"),
    ),
    (  # a cupboard, its doors shut
        *("crease left edge onto right edge, as k1", "valley left edge onto k1"),
        "valley right edge onto k1",
    ),
    (  # bird base, its back flap still down
        *("mark O at centre", "mark M at midpoint of A B", "mark N at midpoint of B C"),
        *("crease A to C, as k1", "crease B to D, as k2", "turn over side to side"),
        *("crease bottom edge onto top edge, as k3", "crease left edge onto right edge, as k4"),
        "collapse mountain k2, valley k3, valley k4, holding D",
        *("crease line B M onto line B O, as k5", "crease line B N onto line B O, as k6"),
        *(
            "mark P where k5 meets line O M",
            "mark Q where k6 meets line O N",
            "petal B through P Q",
        ),
    ),
)


class Words:
    """Draws statements; remembers the names that accepted ones have given."""

    def __init__(self, rnd: random.Random, corners: str = "ABCD") -> None:
        self.rnd = rnd
        self.points = list(corners)
        self._corners = len(corners)
        self._edges = [
            f"edge {p} {q}" for p, q in zip(corners, corners[1:] + corners[0], strict=True)
        ]
        self.creases: list[str] = []
        self._count = 10
        self._steps = 0

    def statement(self) -> str:
        """The next one."""
        self._count += 1
        text = self.filled(self.rnd.choice(_FORMS))
        return text

    def accept(self, statement: str) -> None:
        """Takes in the name that a statement has given."""
        self._steps += 1
        if statement.startswith("mark "):
            self.points.append(statement.split()[1])
        elif ", as " in statement:
            self.creases.append(statement.rpartition(" ")[2])

    def filled(self, form: str) -> str:
        """A form with its holes filled: P points, N names, L lines, E edges, K creases, F places of folds."""
        fillers: dict[str, Callable[[], str]] = {
            "P": self._point,
            "N": lambda: self.rnd.choice(self.points),
            "L": self._line,
            "E": self._edge,
            "H": lambda: self.rnd.choice(("top", "bottom")),
            "W": lambda: self.rnd.choice(WAYS),
            "S": lambda: str(self.rnd.randrange(1, max(2, self._steps + 1))),
            "T": lambda: self.rnd.choice(REPEATED),
            "K": lambda: self.rnd.choice(self.creases or ["centre line"]),
            "F": lambda: self.filled(self.rnd.choice(_PLACES)),
            "C": lambda: self.rnd.choice(
                ("", "", "", "", ", all layers", ", 1 layer", ", 2 layers", ", 3 layers")
            ),
            "R": self._ring,
            "#": lambda: str(self._count),
        }
        parts = re.split(r"\{(.)\}", form)
        return "".join(fillers[part]() if k % 2 else part for k, part in enumerate(parts))

    def _ring(self) -> str:
        """Four points that may lie round a middle, either way round; mostly with a line through the first."""
        named = self.points[self._corners :][:4]
        ring = named if len(named) == 4 else self.points[:4]
        start = self.rnd.randrange(4)
        ring = (ring[start:] + ring[:start])[:: self.rnd.choice((1, -1))]
        angle = self.rnd.choice(("22.5", "45", "135", "157.5"))
        said = f"line through {ring[0]} at {angle} degrees to line {ring[0]} {ring[1]}"
        return " ".join(ring) + self.rnd.choice((f", along {said}",) * 3 + ("",))

    def _edge(self) -> str:
        return self.rnd.choice(self._edges)

    def _point(self) -> str:
        return self.filled(
            self.rnd.choice(
                ("{N}",) * 4
                + tuple(f"{way} corner" for way in WAYS)
                + ("centre", "where {L} meets {L}", "midpoint of {N} {N}", "1/3 of {N} {N}")
            )
        )

    def _line(self) -> str:
        return self.filled(
            self.rnd.choice(
                (
                    *("{E}", "{E}", "{K}", "{K}", "{K}", "line {N} {N}", "centre line"),
                    *(f"{way} edge" for way in WAYS),
                    *("horizontal centre line", "line through {N} at 22.5 degrees to {E}"),
                    "line {N} {N}",
                )
            )
        )


#: Units put to each other; what comes after a comma is there or not.
_PLACINGS = (
    "place unit {U}, {N} of unit {U} to {N} of unit 1",
    "place unit {U}, {N} of unit {U} to {N} of unit 1 and {N} of unit {U} to {N} of unit 1",
)
_TUCKED = (
    *("", "", ", under {N} of unit 1", ", over {N} of unit 1", ", behind", ", turned over"),
    ", over {N} of unit 1, under {N} of unit 1",
)


class Placings:
    """Draws statements that put units to each other, and some that fold what was put together."""

    def __init__(self, words: Words) -> None:
        self._words = words
        self._next = 2

    def statement(self) -> str:
        """The next one."""
        rnd = self._words.rnd
        if self._next > 3 or (self._next == 3 and rnd.random() < 0.4):
            form = (
                rnd.choice(("valley", "mountain")) + " {N} of unit 1 to {N} of unit 2, all layers"
            )
        else:
            form = (rnd.choice(_PLACINGS) + rnd.choice(_TUCKED)).replace("{U}", str(self._next))
        return self._words.filled(form)

    def accept(self, statement: str) -> None:
        """A unit that was put there is there."""
        self._next += statement.startswith("place")
