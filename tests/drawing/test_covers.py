"""What lies hidden under layers: the same however much is worked out at once, and in little memory."""

from __future__ import annotations

import tracemalloc

import numpy
import pytest

from foldscript.drawing.offsets import covers
from foldscript.drawing.offsets.covers import Covers
from foldscript.geometry.polygons import centroid, inside

from . import folded as f


@pytest.mark.parametrize("at_once", [1, 50, 2_000_000])
def test_hidden_however_much_is_worked_out_at_once(
    monkeypatch: pytest.MonkeyPatch, at_once: int
) -> None:
    monkeypatch.setattr(covers, "_AT_ONCE", at_once)
    state = f.pinwheel()
    grid = [(x / 7, y / 7) for x in range(8) for y in range(8)]
    spots = [(i, p) for i, ring in enumerate(state.placed) for p in grid if inside(ring, p)]
    hidden = Covers(state).hidden(
        numpy.array([[p] for _, p in spots]), numpy.array([i for i, _ in spots])
    )
    assert hidden.tolist() == [
        any(state.above(j, i) and inside(state.placed[j], p) for j in state.neighbours[i])
        for i, p in spots
    ]
    assert any(hidden)
    assert not all(hidden)


def test_nothing_is_hidden_where_nothing_is_asked() -> None:
    found = Covers(f.pinwheel()).hidden(numpy.zeros((0, 1, 2)), numpy.zeros(0, dtype=int))
    assert found.tolist() == []


def test_a_high_stack_takes_little_memory() -> None:
    """128 layers, asked for what shows of each edge beside each other: some hundred megabytes at once."""
    state = f.stack(7)
    layers = Covers(state)
    owners = numpy.repeat(numpy.arange(len(state.facets)), 300)
    spots = numpy.array([centroid(ring) for ring in state.placed])[owners][:, None]
    tracemalloc.start()
    hidden = layers.hidden(spots, owners)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert len(hidden) - hidden.sum() == 300
    assert peak < 150e6
