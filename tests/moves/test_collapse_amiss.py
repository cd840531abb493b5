"""Collapses that do not fold: at which point, and which single crease to change."""

from __future__ import annotations

import pytest

from ..scripts import folded, refused
from .test_collapse import STRIP, creases_across

#: Four level strips, pleated, creased on a slant through all layers and opened: parallelograms.
PARALLELOGRAMS = (
    "crease through 1/4 of A D perpendicular to edge A D as h1; "
    "crease through 2/4 of A D perpendicular to edge A D as h2; "
    "crease through 3/4 of A D perpendicular to edge A D as h3",
    "collapse valley h1, mountain h2, valley h3",
    "mark S at 1/4 of the bottom edge; mark T at 2/4 of the bottom edge; mark U at 3/4 of the bottom edge; "
    "crease along line through S at 80 degrees to bottom edge, all layers, as z1; "
    "crease along line through T at 80 degrees to bottom edge, all layers, as z2; "
    "crease along line through U at 80 degrees to bottom edge, all layers, as z3",
    "unfold to step 0",
    "; ".join(
        (
            *(
                f"mark L{k} where h{k} meets edge D A; mark R{k} where h{k} meets edge B C"
                for k in (1, 2, 3)
            ),
            *(
                f"mark P{n} at {n}/4 of line L1 R1; "
                f"mark Q{n} where h2 meets line through P{n} at 80 degrees to h1; "
                f"mark O{n} where h3 meets line through P{n} perpendicular to h1"
                for n in (1, 2, 3)
            ),
        )
    ),
)
ROWS = (
    "valley line L1 P1, mountain line P1 P2, valley line P2 P3, mountain line P3 R1, "
    "mountain line L2 Q1, valley line Q1 Q2, mountain line Q2 Q3, valley line Q3 R2, "
    "valley line L3 O1, mountain line O1 O2, {} line O2 O3, mountain line O3 R3, "
    "valley z1, mountain z2, valley z3"
)
A4 = "sheet A4 landscape\n"


def test_the_one_wrong_crease_of_many_is_named() -> None:
    """Maekawa, Justin: where creases meet, mountains and valleys differ by two. One is the wrong way."""
    folded(*PARALLELOGRAMS, f"collapse {ROWS.format('valley')}", sheet=A4)
    found = refused(*PARALLELOGRAMS, f"collapse {ROWS.format('mountain')}", sheet=A4)
    assert found.code == "not-flat"
    assert "on point O2), 4 mountains and 0 valleys come together" in found.message
    assert "here 3 of one and 1 of the other; 1 more place is amiss" in found.message
    assert found.hints == (
        "make line O2 O3 a valley instead of a mountain: then they fold together",
    )


def test_a_line_that_ends_beside_the_crossing_is_told() -> None:
    beside = "mark W where h1 meets line through 1/4 of A B at 80 degrees to edge A B"
    steps = (*PARALLELOGRAMS, beside)
    wrong = ROWS.format("valley").replace("L1 P1", "L1 W").replace("P1 P2", "W P2")
    found = refused(*steps, f"collapse {wrong}", sheet=A4)
    assert found.code == "both-ways"
    # S and P1 are one place; the strips are 52.5 mm high, and 52.5 mm / tan 80 degrees is 9.3 mm
    assert "crosses it at point W, the nearest does 9 mm from there, at point S" in found.message


PRELIMINARY = (
    "crease A to C as d1; crease B to D as d2",
    "turn over",
    "crease edge A B onto edge C D, as h; crease edge B C onto edge D A, as v",
)


@pytest.mark.parametrize(
    ("lines", "hint"),
    [
        ("mountain d2, valley h", "add 'valley v': then they fold together"),
        ("valley d2, valley h, valley v", "make 'd2' a mountain instead of a valley"),
    ],
)
def test_the_crease_to_change(lines: str, hint: str) -> None:
    sheet = "sheet square 100 mm, coloured side up, corner A at the bottom\n"
    found = refused(*PRELIMINARY, f"collapse {lines}, holding A", sheet=sheet)
    assert found.code == "not-flat"
    assert any(hint in told for told in found.hints), found.hints


def test_the_lines_whose_layers_collide_are_named() -> None:
    """All five valleys: a short panel between two longer ones cannot have both of them on one side."""
    said = ", ".join(f"valley p{k}" for k in range(1, 6))
    found = refused(creases_across(2, 3, 5, 6, 8), f"collapse {said}, holding A", sheet=STRIP)
    assert found.code == "layers-collide"
    told = found.message.split("; ")[1]
    assert told.startswith("'p3' and 'p4' collide so even without the others")
    alone = refused(
        creases_across(2, 3, 5, 6, 8), "collapse valley p3 and p4, holding A", sheet=STRIP
    )
    assert alone.code == "layers-collide"
