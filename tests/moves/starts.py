"""Steps that many tests of compound moves start with, and what is measured on their results."""

from __future__ import annotations

import math
from collections import Counter

from foldscript.folding.steps import Model
from foldscript.paper.signs import FoldLine, Sense, Sign

#: A diamond of 100 mm for the preliminary base, a square for the waterbomb base.
DIAMOND = "sheet square 100 mm, coloured side up, corner A at the bottom\n"
UPRIGHT = "sheet square 100 mm, coloured side up\n"

_MARKS = (
    "mark O at centre; mark M at midpoint of A B; mark N at midpoint of B C; "
    "mark K at midpoint of C D; mark L at midpoint of D A"
)
#: Open corners A, B, C, D at the bottom, O at the top; B in front, M on the left, N on the right.
PRELIMINARY = (
    _MARKS + "; crease A to C as d1; crease B to D as d2; turn over; "
    "crease edge A B onto edge C D, as h; crease edge B C onto edge D A, as v",
    "collapse mountain d2, valley h, valley v, holding A",
)
#: O at the top, edge C D in front at the bottom, C on the left.
WATERBOMB = (
    _MARKS + "; crease A to B as v; crease A to D as h; turn over; "
    "crease A to C as d1; crease B to D as d2",
    "collapse valley d1 and d2, mountain h, holding M",
)
#: D in front with its point up, B behind with its point up, A and C at the bottom.
BIRD = (
    *PRELIMINARY,
    "crease line B M onto line B O as k1; crease line B N onto line B O as k2; "
    "mark P where k1 meets line O M; mark Q where k2 meets line O N",
    "petal B through P Q",
    "turn over",
    "crease line D L onto line D O as k3; crease line D K onto line D O as k4; "
    "mark R where k3 meets line O L; mark T where k4 meets line O K",
    "petal D through R T",
)
#: The points A and C narrowed in front and behind; X is the crossing of their inner edges.
NARROWED = (
    *BIRD,
    "mark X where line P Q meets line O A; valley line R A onto line O A; valley line T C onto line O C",
    "turn over",
    "valley line P A onto line O A; valley line Q C onto line O C",
)


def signs(model: Model, step: int = -1) -> list[Sign]:
    """The signs of a step's first figure."""
    return list(model.steps[step].panels[0].signs)


def lines(model: Model, step: int = -1) -> Counter[Sense]:
    """How many pieces of fold lines of each sense a step draws."""
    found: Counter[Sense] = Counter()
    for sign in signs(model, step):
        if isinstance(sign, FoldLine):
            found[sign.sense] += len(sign.parts)
    return found


def rays_at(model: Model, x: float, y: float) -> list[float]:
    """Directions of the folds that meet at a place of the sheet (mm), in radians, sorted."""
    at = (x / 100, y / 100)
    found = []
    for joint, _ in model.finished.fold_segments:
        for p, q in (joint.segment, joint.segment[::-1]):
            if math.dist(p, at) < 1e-9:
                found.append(math.atan2(q[1] - p[1], q[0] - p[0]) % (2 * math.pi))
    return sorted(found)
