"""Folded states made by hand, for tests of the validator: 100 mm squares unless a name says more.

Placements are written out as matrices and orders as piles; nothing here comes from the package.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from typing import Any

Ring = Sequence[tuple[float, float]]
Place = list[list[float]]

STAY: Place = [[1, 0, 0], [0, 1, 0]]
#: Mirrored in the diagonals y = x and x + y = 100.
SWAP: Place = [[0, 1, 0], [1, 0, 0]]
CROSS_SWAP: Place = [[0, -1, 100], [-1, 0, 100]]
#: A quarter turn about (50, 50): (x, y) -> (y, 100 - x), and the other way round.
QUARTER: Place = [[0, 1, 0], [-1, 0, 100]]
BACK_QUARTER: Place = [[0, -1, 100], [1, 0, 0]]

SQUARE: Ring = [(0, 0), (100, 0), (100, 100), (0, 100)]


def mirror_x(x: float) -> Place:
    """Reflection in the upright line at x."""
    return [[-1, 0, 2 * x], [0, 1, 0]]


def mirror_y(y: float) -> Place:
    return [[1, 0, 0], [0, -1, 2 * y]]


def slide(x: float) -> Place:
    return [[1, 0, x], [0, 1, 0]]


def box(x0: float, y0: float, x1: float, y1: float) -> Ring:
    return [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]


def plate(outline: Ring, place: Place) -> dict[str, Any]:
    flips = place[0][0] * place[1][1] - place[0][1] * place[1][0] < 0
    return {
        "outline": [list(p) for p in outline],
        "holes": [],
        "place": [list(row) for row in place],
        "shows": "back" if flips else "front",
    }


def document(
    plates: Sequence[tuple[Ring, Place]],
    *piles: Sequence[int],
    sheet: Ring = SQUARE,
    marks: Sequence[tuple[tuple[float, float], tuple[float, float]]] = (),
    cuts: Sequence[tuple[tuple[float, float], tuple[float, float]]] = (),
) -> dict[str, Any]:
    """A flat sheet and one folded state; each pile lists plates that all overlap, topmost first."""
    above = sorted({pair for pile in piles for pair in itertools.combinations(pile, 2)})
    flat = {"step": 0, "plates": [plate(sheet, STAY)], "above": [], "marks": []}
    folded: dict[str, Any] = {
        "step": 1,
        "plates": [plate(*p) for p in plates],
        "above": [list(pair) for pair in above],
        "marks": [{"from": list(a), "to": list(b)} for a, b in marks],
    }
    if cuts:
        folded["cuts"] = [{"from": list(a), "to": list(b)} for a, b in cuts]
    return {
        "format": "foldscript-states",
        "version": 1,
        "model": "made by hand",
        "sheet": {"outline": [list(p) for p in sheet], "unit": "mm"},
        "states": [flat, folded],
    }


def unfolded() -> dict[str, Any]:
    """Flat, creased along one diagonal, kept as two plates that meet there."""
    halves = [([(0, 0), (100, 0), (100, 100)], STAY), ([(0, 0), (100, 100), (0, 100)], STAY)]
    return document(halves, marks=[((0, 0), (100, 100))])


def diagonal() -> dict[str, Any]:
    """Corner D brought to B."""
    halves = [([(0, 0), (100, 0), (100, 100)], STAY), ([(0, 0), (100, 100), (0, 100)], SWAP)]
    return document(halves, [1, 0], marks=[((50, 50), (100, 0))])


def cupboard() -> dict[str, Any]:
    """Both sides brought to the middle: creases at a quarter and three quarters."""
    doors = [
        (box(0, 0, 25, 100), mirror_x(25)),
        (box(25, 0, 75, 100), STAY),
        (box(75, 0, 100, 100), mirror_x(75)),
    ]
    return document(doors, [0, 1], [2, 1])


def letter() -> dict[str, Any]:
    """Both sides folded in; the right flap, on top, reaches past the left fold."""
    thirds = [
        (box(0, 0, 25, 100), mirror_x(25)),
        (box(25, 0, 60, 100), STAY),
        (box(60, 0, 100, 100), mirror_x(60)),
    ]
    return document(thirds, [2, 0, 1])


def split_letter() -> dict[str, Any]:
    """The same with the right flap given as two plates, meeting right at the left fold."""
    parts = [
        (box(0, 0, 25, 100), mirror_x(25)),
        (box(25, 0, 60, 100), STAY),
        (box(60, 0, 95, 100), mirror_x(60)),
        (box(95, 0, 100, 100), mirror_x(60)),
    ]
    return document(parts, [2, 0, 1])


def book() -> dict[str, Any]:
    """Folded in half like a book, each half given as an upper and a lower plate."""
    quarters = [
        (box(0, 0, 50, 50), STAY),
        (box(50, 0, 100, 50), mirror_x(50)),
        (box(50, 50, 100, 100), mirror_x(50)),
        (box(0, 50, 50, 100), STAY),
    ]
    return document(quarters, [1, 0], [2, 3])


def half_split_book() -> dict[str, Any]:
    """The same with only the lower half given as two plates."""
    parts = [
        (box(0, 0, 50, 50), STAY),
        (box(50, 0, 100, 100), mirror_x(50)),
        (box(0, 50, 50, 100), STAY),
    ]
    return document(parts, [1, 0], [1, 2])


def strip(pile: Sequence[int]) -> dict[str, Any]:
    """A strip of equal cells, every crease folded; cell 0 stays."""
    n = len(pile)
    cells = [
        (box(10 * k, 0, 10 * k + 10, 10), slide(-10 * k) if k % 2 == 0 else mirror_x(5 * k + 5))
        for k in range(n)
    ]
    return document(cells, pile, sheet=box(0, 0, 10 * n, 10))


def quarters(pile: Sequence[int]) -> dict[str, Any]:
    """A square folded in half both ways: one point where four creases meet at right angles."""
    turn: Place = [[-1, 0, 100], [0, -1, 100]]
    cells = [
        (box(0, 0, 50, 50), STAY),
        (box(50, 0, 100, 50), mirror_x(50)),
        (box(50, 50, 100, 100), turn),
        (box(0, 50, 50, 100), mirror_y(50)),
    ]
    return document(cells, pile)


def preliminary() -> dict[str, Any]:
    """Corner A stays below, C lies on top: V creases to the edges' middles, M creases to B and D."""
    o, b, d = (50.0, 50.0), (100.0, 0.0), (0.0, 100.0)
    parts = [
        (box(0, 0, 50, 50), STAY),
        ([o, (50, 0), b], mirror_x(50)),
        ([o, b, (100, 50)], QUARTER),
        (box(50, 50, 100, 100), CROSS_SWAP),
        ([o, (50, 100), d], BACK_QUARTER),
        ([o, d, (0, 50)], mirror_y(50)),
    ]
    return document(parts, [3, 2, 1, 0], [3, 4, 5, 0], marks=[((0, 0), (50, 50))])


def waterbomb() -> dict[str, Any]:
    """V creases along both diagonals, M creases to the middles of the lower and upper edge."""
    o, a, b, c, d = (50.0, 50.0), (0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)
    parts = [
        ([o, d, a], STAY),
        ([o, a, (50, 0)], SWAP),
        ([o, (50, 0), b], QUARTER),
        ([o, b, c], mirror_x(50)),
        ([o, c, (50, 100)], BACK_QUARTER),
        ([o, (50, 100), d], CROSS_SWAP),
    ]
    return document(parts, [3, 2, 1, 0], [3, 4, 5, 0])


def cut_flap() -> dict[str, Any]:
    """Cut from the middle of the lower edge to the centre, the freed quarter folded up."""
    rest = [(0, 0), (50, 0), (50, 50), (100, 50), (100, 100), (0, 100)]
    parts = [(rest, STAY), (box(50, 0, 100, 50), mirror_y(50))]
    return document(parts, [1, 0], cuts=[((50, 0), (50, 50))])


def window() -> dict[str, Any]:
    """Flat, with a square in the middle kept as a plate of its own inside the other's hole."""
    doc = document([(SQUARE, STAY), (box(40, 40, 60, 60), STAY)])
    doc["states"][1]["plates"][0]["holes"] = [[list(p) for p in box(40, 40, 60, 60)]]
    return doc
