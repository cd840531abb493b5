"""Fold lines of moves that fold in several places: the layers told at them are those that bend there."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from foldscript.building.script import Script
from foldscript.folding.steps import Model
from foldscript.geometry.isometries import Isometry, compose, inverse, same_isometry
from foldscript.geometry.lines import Point, between, line_through
from foldscript.moves.planning.request import MoveRecord
from foldscript.paper.signs import FoldLine

from ..moves.starts import DIAMOND, PRELIMINARY
from ..scripts import folded

SAMPLES = sorted((Path(__file__).resolve().parents[2] / "samples").rglob("*.foldscript"))
_OFF = 2e-4


def compound(model: Model) -> Iterator[tuple[MoveRecord, FoldLine]]:
    """Every fold line that tells its layers, with the move that left it, where the paper is folded by it."""
    for step in model.steps:
        for record in step.records:
            if record.before.sheet == record.after.sheet and record.folded and record.solid is None:
                for sign in record.signs:
                    if isinstance(sign, FoldLine) and sign.layered and not sign.opens:
                        yield record, sign


def motion(record: MoveRecord, facet: int, spot: Point) -> Isometry:
    """How the paper of a facet at a spot moves, found on the sheet."""
    back = inverse(record.before.facets[facet].place)
    x, y = back(spot)
    (there, *_) = record.after.facets_on_sheet((x, y))
    return compose(record.after.facets[there].place, back)


def bends(record: MoveRecord, p: Point, q: Point, at: Point) -> tuple[set[int], set[int]]:
    """Layers at a place of a line that go on across it, and of them those that come apart in motion there."""
    line = line_through(p, q)
    left, right = (
        (at[0] + side * _OFF * line.nx, at[1] + side * _OFF * line.ny) for side in (1.0, -1.0)
    )
    both = set(record.before.facets_at(left)) & set(record.before.facets_at(right))
    apart = {
        i for i in both if not same_isometry(motion(record, i, left), motion(record, i, right))
    }
    return both, apart


@pytest.mark.parametrize("path", SAMPLES, ids=lambda p: p.stem)
def test_layers_that_bend_really_bend(path: Path) -> None:
    """Of layers that go on across the line: each that is told to bend moves there otherwise on the one side
    than on the other, and no other does. Found from the paper before and after alone.
    """
    for record, line in compound(Script(path).model):
        for layers, (p, q) in line.layered:
            for k in (0.3, 0.61):
                at = between(p, q, k)
                both, apart = bends(record, p, q, at)
                stacks = [
                    record.before.facets_at((at[0] + s * 1e-4 * n[0], at[1] + s * 1e-4 * n[1]))
                    for n in [line_through(p, q)[:2]]
                    for s in (1.0, -1.0)
                ]
                told = [
                    {i: moves for i, moves in zip(stack, layers, strict=True) if i in both}
                    for stack in stacks
                    if len(stack) == len(layers)
                ]
                assert any({i for i, moves in one.items() if moves} == apart for one in told)


def layers_of(*steps: str) -> dict[str, tuple[bool, ...]]:
    """Sense and layers of the fold lines of the last step."""
    signs = folded(*steps, sheet=DIAMOND).steps[-1].panels[-1].signs
    return {s.sense.value: s.layers for s in signs if isinstance(s, FoldLine) and s.layers}


def test_a_squash_bends_the_layer_in_front() -> None:
    """A preliminary base lies in four layers; the near layer of the flap that is squashed bends alone."""
    told = layers_of(*PRELIMINARY, "squash line O M onto centre line")
    assert told["valley"] == (True, False, False, False)


def test_an_inside_reverse_fold_of_a_triangle_bends_both_its_layers() -> None:
    told = layers_of(
        "valley the bottom corner to the top corner",
        "inside reverse the right corner along line through the top corner at 60 degrees to the bottom edge",
    )
    assert told["mountain"] == (True, True)


def test_a_collapse_of_a_single_layer_tells_none() -> None:
    told = layers_of(*PRELIMINARY)
    assert all(len(layers) < 2 for layers in told.values())
