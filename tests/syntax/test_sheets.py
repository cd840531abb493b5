"""The sheet line: shapes, sizes, corners, and what is no sheet."""

from __future__ import annotations

import math

import pytest

from foldscript.syntax.nodes import SheetSpec
from foldscript.syntax.papers import paper_size
from tests.syntax.scripts import faults, parsed


def sheet(words: str) -> SheetSpec:
    spec = parsed(f"sheet {words}\nstep\nturn over").head.sheet
    assert spec is not None
    return spec


def size(spec: SheetSpec) -> tuple[float, float]:
    xs, ys = zip(*spec.outline, strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


@pytest.mark.parametrize(
    ("words", "width", "height", "shape"),
    [
        ("square 15 cm", 150, 150, "square 15 cm"),
        ("square 6 inches", 152.4, 152.4, "square 6 inches"),
        ("square 3 1/2 in", 88.9, 88.9, "square 3.5 inches"),
        ("rectangle 20 cm by 10 cm", 200, 100, "rectangle 20 x 10 cm"),
        ("rectangle 20 by 10 cm", 200, 100, "rectangle 20 x 10 cm"),
        ("rectangle 200 mm by 10 cm, portrait", 100, 200, "rectangle 200 mm x 10 cm, portrait"),
        ("strip 3 cm by 40 cm", 30, 400, "strip 3 x 40 cm"),
        ("A4", 210, 297, "A4 (210 x 297 mm)"),
        ("A4 landscape", 297, 210, "A4 landscape (297 x 210 mm)"),
        ("letter portrait", 215.9, 279.4, "letter (215.9 x 279.4 mm)"),
        ("half letter", 139.7, 215.9, "half letter (139.7 x 215.9 mm)"),
        ("ratio 2 to 3, long side 21 cm", 140, 210, "ratio 2 to 3, long side 21 cm"),
        ("ratio 3 to 2, short side 10 cm", 150, 100, "ratio 3 to 2, short side 10 cm"),
        ("coloured side up", 150, 150, "square 15 cm"),
    ],
)
def test_rectangles(words: str, width: float, height: float, shape: str) -> None:
    spec = sheet(words)
    assert size(spec) == pytest.approx((width, height))
    assert spec.shape == shape
    assert spec.names == ("A", "B", "C", "D")
    assert spec.outline[0] == pytest.approx((0, 0))


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        # ISO 216
        ("A3", (297, 420)),
        ("A4", (210, 297)),
        ("A5", (148, 210)),
        ("A6", (105, 148)),
        ("A10", (26, 37)),
        ("B5", (176, 250)),
        ("B10", (31, 44)),
        # ANSI/ASME Y14.1
        ("letter", (215.9, 279.4)),
        ("tabloid", (279.4, 431.8)),
    ],
)
def test_standard_sizes(name: str, expected: tuple[float, float]) -> None:
    found = paper_size(name)
    assert found == pytest.approx(expected)


@pytest.mark.parametrize(
    ("words", "corners"),
    [("hexagon", 6), ("pentagon", 5), ("octagon", 8), ("triangle", 3), ("7-gon", 7)],
)
def test_regular_polygons(words: str, corners: int) -> None:
    spec = sheet(f"regular {words}, side 8 cm")
    ring = spec.outline
    assert len(ring) == corners == len(spec.names)
    sides = [math.dist(ring[i - 1], ring[i]) for i in range(corners)]
    assert sides == pytest.approx([80] * corners)
    assert ring[0][1] == pytest.approx(0)  # it lies on edge A B
    assert ring[1][1] == pytest.approx(0)
    assert ring[0][0] < ring[1][0]
    wide = sheet(f"regular {words}, width 12 cm")
    assert size(wide)[0] == pytest.approx(120)


def test_corners_by_coordinates() -> None:
    spec = sheet("polygon 0 0, 20 0, 24 12.5, 4 14 cm")
    assert spec.outline == ((0, 0), (200, 0), (240, 125), (40, 140))
    back = sheet("polygon 0 0, 4 14, 24 12, 20 0 cm, corners named P Q R S")
    assert back.names == ("P", "S", "R", "Q")
    assert back.outline[1] == pytest.approx((200, 0))


def test_how_it_lies() -> None:
    spec = sheet(
        "square 15 cm, the coloured side up, corners named P Q R S, corner Q at the bottom"
    )
    assert spec.coloured_up
    assert spec.names == ("P", "Q", "R", "S")
    assert spec.lowest == ("Q",)
    assert sheet("A4, white side down, edge B A at bottom").coloured_up
    assert sheet("A4, edge B A at bottom").lowest == ("B", "A")
    assert not sheet("A4, plain side up").coloured_up


@pytest.mark.parametrize(
    ("words", "code", "part"),
    [
        ("square 0 cm", "sheet-empty", "greater than nothing"),
        ("square -3 cm", "sheet-empty", "greater than nothing"),
        ("square 15", "unit-missing", "no unit"),
        ("square 40 km", "unexpected-word", "'km' does not fit"),
        ("square 40 m", "unexpected-word", "'m' does not fit"),
        ("square 15,5 cm", "decimal-comma", "two ways"),
        ("square 2000 cm", "sheet-too-large", "20 m long"),
        ("square 1/2 mm", "sheet-too-small", "edge A B is 0.5 mm"),
        ("strip 2 mm by 500 cm", "sheet-too-thin", "too thin"),
        ("sqare 15 cm", "unknown-word", "'sqare'"),
        ("A11", "unknown-shape", "'A11'"),
        ("rectangle 20 cm", "unfinished-line", "'by'"),
        ("rectangle 20 x 10 cm", "unexpected-word", "'by'"),
        ("polygon 0 0, 10 0, 5 5, 10 10, 0 10 cm", "sheet-not-convex", "inwards at C"),
        ("polygon 0 0, 10 0, 0 10, 10 10 cm", "sheet-not-convex", "dents"),
        ("polygon 0 10, 6 -8, -9 3, 9 3, -6 -8 cm", "sheet-not-convex", "cross"),
        ("polygon 0 0, 5 0, 10 0, 0 10 cm", "sheet-corner-straight", "B lies on a straight edge"),
        ("polygon 0 0, 5 0, 10 0 cm", "sheet-empty", "no size"),
        ("polygon 0 0, 0 0, 10 0, 0 10 cm", "sheet-too-small", "edge A B"),
        ("polygon 0 0, 5 0, 3 cm", "bad-corner-count", "5 numbers"),
        ("polygon 0 0, 5 0, 3 3", "unit-missing", "no unit"),
        ("regular hexagon", "size-missing", "how large"),
        ("regular hexagon, side 3 cm, width 4 cm", "said-twice", "twice"),
        ("regular 2-gon, side 3 cm", "bad-corner-count", "from 3 to 24"),
        ("regular 99999999-gon, side 3 cm", "bad-corner-count", "from 3 to 24"),
        ("regular hexagn, side 3 cm", "unknown-shape", "'hexagn'"),
        ("square 15 cm, side 3 cm", "useless-size", "'side 3 cm'"),
        ("regular hexagon, side 3 cm, landscape", "not-a-rectangle", "landscape"),
        ("square 15 cm, corner E at the bottom", "unknown-corner", "'E'"),
        ("square 15 cm, edge A C at the bottom", "no-such-edge", "A to C"),
        ("square 15 cm, corner A at the top", "say-the-bottom", "bottom"),
        ("square 15 cm, corners named P Q R", "bad-corner-names", "4 corners, but 3"),
        ("square 15 cm, corners named P Q R P", "bad-corner-names", "'P'"),
        ("square 15 cm, corners named P Q R over", "reserved-name", "'over'"),
        ("A4, coloured side up, coloured side down", "said-twice", "second time"),
    ],
)
def test_what_is_no_sheet(words: str, code: str, part: str) -> None:
    (fault,) = faults(f"sheet {words}\nstep\nturn over")
    assert fault.code == code
    assert part in fault.message
