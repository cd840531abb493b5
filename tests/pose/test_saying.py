"""Amounts in what is wrong with a pose are told as people write them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldscript.pose.pose import Piece, Reached
from foldscript.pose.proof import BENT, missed, prove
from foldscript.pose.saying import millimetres, plain, stretched


@given(st.floats(1e-30, 1e30))
def test_no_number_is_a_power_of_ten(value: float) -> None:
    assert "e" not in plain(value)
    assert "e+" not in millimetres(value)
    assert "e-" not in millimetres(value)
    assert float(plain(value, 4)) == pytest.approx(value, rel=1e-3)


@pytest.mark.parametrize(
    ("by", "over", "said"),
    [
        (0.346, 81.2, "paper would be stretched by 0.35 mm over 81 mm"),
        (250.0, 100.0, "the paper would be pulled to pieces"),
        (1e-7, 100.0, "paper would be stretched by less than 0.01 mm over 100 mm"),
    ],
)
def test_paper_is_stretched_by_millimetres(by: float, over: float, said: str) -> None:
    assert stretched(by, over) == said


def test_a_proof_tells_how_far_paper_is_stretched_where_that_is_most() -> None:
    """A triangle whose side of 30 mm has become 33 mm."""
    sheet = np.array([[0.0, 0.0], [40.0, 0.0], [0.0, 30.0]])
    space = np.array([[0.0, 0.0, 0.0], [40.0, 0.0, 0.0], [0.0, 33.0, 0.0]])
    proof = prove(sheet, space, [Piece((0, 1, 2), 0, 0, 0)], [], [], [], [], 0.0, BENT)
    assert proof.faults[0].text == "paper would be stretched by 3 mm over 30 mm"


def test_what_was_reached_is_told_in_plain_numbers() -> None:
    tiny = Reached("width", 40.0, 3.2e-7, "mm", False)
    assert missed(tiny).text == "width: 0.00000032 mm instead of 40 mm"
    big = replace(tiny, goal="hold", got=123456.0)
    assert missed(big).text == "hold: 123456 mm instead of 40 mm"
