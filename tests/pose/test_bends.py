"""Paper that is bent where it has no crease: told, and refused where it would crumple."""

from __future__ import annotations

import math

import numpy as np
import pytest

from foldscript.pose.pose import Amiss, Edge, Fault, Line, Piece, Proof
from foldscript.pose.proof import BENT, prove


def bent(degrees: float, *meant: int) -> Proof:
    """A sheet of 10 mm by 20 mm, bent across its middle."""
    a = math.radians(degrees)
    sheet = np.array([[0, 0], [10, 0], [10, 10], [0, 10], [10, 20], [0, 20]], dtype=float)
    far = (10 + 10 * math.cos(a), 10 * math.sin(a))
    space = np.array([[0, 0, 0], [10, 0, 0], [10, 10, 0], [0, 10, 0], [10, *far], [0, *far]])
    pieces = (Piece((0, 1, 2, 3), 0, 0, 0), Piece((3, 2, 4, 5), 0, 0, 0))
    edges = (Edge(2, 3, 0, 1, a, Line.BEND),)
    return prove(sheet, space, pieces, edges, (), (0,), (), 0.0, BENT, meant)


def test_a_gentle_bend_is_told_and_let_pass() -> None:
    proof = bent(40)
    assert proof.bend == pytest.approx(40)
    assert proof.holds, proof


def test_paper_that_would_crumple_is_refused() -> None:
    assert bent(70).faults == (Fault(Amiss.CRUMPLED, "paper is bent by 70 degrees, and crumples"),)


def test_a_line_that_paper_is_meant_to_break_along_is_no_bend() -> None:
    proof = bent(70, 0)
    assert proof.bend == pytest.approx(0)
    assert proof.holds, proof
