"""Page sizes against their standards."""

from __future__ import annotations

import pytest

from foldscript.pages.sizes import PAGE_SIZES, page_size
from foldscript.source.diagnostics import FoldscriptError

MM = 72 / 25.4


@pytest.mark.parametrize(
    ("name", "width", "height"),
    [
        # ISO 216: A series, trimmed sizes in mm
        ("A3", 297 * MM, 420 * MM),
        ("A4", 210 * MM, 297 * MM),
        ("A5", 148 * MM, 210 * MM),
        ("A6", 105 * MM, 148 * MM),
        # ANSI/ASME Y14.1: size A is 8.5 x 11 inches
        ("Letter", 612.0, 792.0),
        # common practice in North America: 8.5 x 14 and 5.5 x 8.5 inches
        ("Legal", 612.0, 1008.0),
        ("Half letter", 396.0, 612.0),
    ],
)
def test_size(name: str, width: float, height: float) -> None:
    size = page_size(name)
    assert (size.width, size.height) == pytest.approx((width, height), abs=1e-9)


def test_a4_in_points() -> None:
    """210 x 297 mm are 595.2756 x 841.8898 points of 1/72 inch (ISO 216; 1 inch = 25.4 mm)."""
    a4 = page_size("a4")
    assert (a4.width, a4.height) == pytest.approx((595.2756, 841.8898), abs=5e-5)


def test_letter_in_mm() -> None:
    """US Letter is 215.9 x 279.4 mm (ANSI/ASME Y14.1)."""
    letter = page_size("LETTER")
    assert (letter.width / MM, letter.height / MM) == pytest.approx((215.9, 279.4))


@pytest.mark.parametrize("name", ["half letter", "Half-Letter", "halfletter", "HALF LETTER"])
def test_names_are_read_loosely(name: str) -> None:
    assert page_size(name).name == "Half letter"


def test_landscape_lies_on_its_long_side() -> None:
    size = page_size("A5 landscape")
    assert size.width > size.height
    assert (size.height, size.width) == (page_size("A5").width, page_size("A5").height)


def test_unknown_size_lists_the_known_ones() -> None:
    with pytest.raises(FoldscriptError) as caught:
        page_size("leter")
    (diagnostic,) = caught.value.diagnostics
    assert diagnostic.code == "unknown-page-size"
    hints = " ".join(hint.text for hint in diagnostic.hints)
    assert "did you mean Letter?" in hints
    assert all(size.name in hints for size in PAGE_SIZES)
