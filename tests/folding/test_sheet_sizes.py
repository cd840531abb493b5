"""Sheets that no hand folds are told of (30 mm and 2 m: common practice)."""

from __future__ import annotations

import pytest

from foldscript.source.diagnostics import Diagnostic

from ..scripts import folds


def warned(sheet: str) -> tuple[Diagnostic, ...]:
    return folds(f"{sheet}\nstep\n  turn over\n").warnings


@pytest.mark.parametrize(
    ("sheet", "instead"),
    [
        ("sheet square 15 mm", "sheet square 15 cm"),
        (
            "sheet rectangle 10 mm by 29 mm, white side up",
            "sheet rectangle 10 cm by 29 cm, white side up",
        ),
        ("sheet rectangle 10 by 20 mm", "sheet rectangle 10 by 20 cm"),
        ("sheet square 300 cm", "sheet square 300 mm"),
        ("sheet square 150 inches", "sheet square 150 cm"),
        ("sheet regular hexagon, side 8 mm", "sheet regular hexagon, side 8 cm"),
    ],
)
def test_a_unit_that_is_not_meant(sheet: str, instead: str) -> None:
    (warning,) = warned(sheet)
    assert warning.code == "sheet-size"
    edit = warning.hints[0].edit
    assert edit is not None
    assert edit.applied(f"{sheet}\n") == f"{instead}\n"
    assert warned(instead) == ()


def test_where_no_unit_makes_a_sheet_of_it() -> None:
    (warning,) = warned("sheet square 0.4 inches")
    assert [hint.edit for hint in warning.hints] == [None]


@pytest.mark.parametrize(
    "sheet",
    ["sheet square 30 mm", "sheet strip 10 mm by 25 cm", "sheet A0", "sheet square 2000 mm"],
)
def test_sheets_that_hands_fold(sheet: str) -> None:
    assert warned(sheet) == ()


def test_each_part_is_told_once() -> None:
    text = (
        'sheet square 15 mm\npart "One"\nstep\n  turn over\npart "Two"\nsheet square 20 mm\n'
        "step\n  turn over\n"
    )
    assert [one.code for one in folds(text).warnings] == ["sheet-size"] * 2
