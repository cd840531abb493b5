"""Moves half way: the paper keeps its lengths, what is still stays, what moves is on its way."""

from __future__ import annotations

import math
from functools import cache
from pathlib import Path

import pytest

from foldscript.building.script import Script
from foldscript.geometry.isometries import reflection
from foldscript.geometry.lines import Line as Axis
from foldscript.moves.planning.request import MoveRecord
from foldscript.pose.halfway import Halfway, halfway

from ..scripts import folded

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
MOVES = [
    ("bases/preliminary-base", "collapse"),
    ("bases/waterbomb-base", "collapse"),
    ("bases/bird-base", "petal"),
    ("lily", "squash"),
    ("bases/fish-base", "rabbit ear"),
]


@cache
def record(sample: str, verb: str) -> MoveRecord:
    """The first such move of a sample."""
    model = Script(SAMPLES / f"{sample}.foldscript").model
    return next(r for step in model.steps for r in step.records if r.move and r.move.verb == verb)


@cache
def half(sample: str, verb: str) -> Halfway:
    made = record(sample, verb)
    found = halfway(made.before, made.after)
    assert found is not None
    return found


@pytest.mark.parametrize(("sample", "verb"), MOVES)
def test_plane_pieces_keep_their_lengths(sample: str, verb: str) -> None:
    pose = half(sample, verb).pose
    assert pose.proof.holds, pose.proof
    assert pose.proof.stretch < 1e-12
    assert pose.proof.crossing < 0.05


@pytest.mark.parametrize(("sample", "verb"), MOVES)
def test_still_paper_lies_where_it_lay(sample: str, verb: str) -> None:
    found = half(sample, verb)
    still = set(range(len(found.pose.pieces))) - set(found.moving)
    assert still
    for k in still:
        for v in found.pose.pieces[k].corners:
            x, y, z = found.pose.space[v]
            assert (x, y) == pytest.approx(found.before[v], abs=0.05)
            assert z == pytest.approx(0, abs=0.05)


@pytest.mark.parametrize(("sample", "verb"), MOVES)
def test_what_moves_stands_up_to_one_side(sample: str, verb: str) -> None:
    pose = half(sample, verb).pose
    heights = [z for _, _, z in pose.space]
    assert max(map(abs, heights)) > 10
    assert min(heights) > -0.05 or max(heights) < 0.05


@pytest.mark.parametrize(("sample", "verb"), MOVES)
def test_a_mirrored_move_is_mirrored_half_way(sample: str, verb: str) -> None:
    """Turned over side to side, the paper stands on the other side; every length and height is the same."""
    made = record(sample, verb)
    over = reflection(Axis(1.0, 0.0, 0.5))
    other = halfway(made.before.moved(over), made.after.moved(over))
    assert other is not None
    one = sorted(half(sample, verb).pose.space, key=lambda p: [round(v, 3) for v in p])
    unit = made.before.sheet.unit_mm
    back = [(unit - x, y, -z) for x, y, z in other.pose.space]
    for p in one:
        assert min(math.dist(p, q) for q in back) < 0.05


def test_a_plain_fold_has_no_figure() -> None:
    model = folded("valley the left edge onto the right edge")
    made = model.steps[0].records[0]
    assert halfway(made.before, made.after) is None


def test_a_pleat_has_no_figure() -> None:
    model = folded(
        "crease through 1/4 of A B perpendicular to edge A B, as k\n"
        "crease through 2/4 of A B perpendicular to edge A B, as m",
        "pleat along k and m, moving A",
    )
    made = model.steps[-1].records[-1]
    assert halfway(made.before, made.after) is None


def test_one_figure_for_each_kind_of_move() -> None:
    """The lily squashes once and again by repeats, and petals: two figures."""
    found = Script(SAMPLES / "lily.foldscript").half_done.found
    assert sorted(found) == [1, 5]
