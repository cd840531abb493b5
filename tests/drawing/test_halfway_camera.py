"""From where a step half way is looked at: the view that shows most, found without looking at all of them."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
import shapely

from foldscript.building.script import Script
from foldscript.drawing.space import halfway
from foldscript.drawing.space.camera import Camera, aslant
from foldscript.drawing.space.hidden import visible, visible_of
from foldscript.drawing.space.seen import seen
from foldscript.pose.halfway import Halfway

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
VIEWS = [aslant(along, across) for across in (0.25, 0.45, -0.35) for along in (0.0, 0.35, -0.35)]


@cache
def half(name: str) -> Halfway:
    """The first step of a sample that is shown half way."""
    return next(iter(Script(SAMPLES / f"{name}.foldscript").half_done.found.values()))


@pytest.mark.parametrize("name", ["bases/preliminary-base", "lily"])
@pytest.mark.parametrize("camera", VIEWS)
def test_no_view_shows_more_than_was_thought_possible(name: str, camera: Camera) -> None:
    assert halfway._shown(half(name), camera) <= halfway._at_most(half(name), camera)


@pytest.mark.parametrize(
    ("worths", "most", "best", "looked_at"),
    [
        ([3.0, 5.0, 4.0], [9.0, 8.0, 7.0], 1, [0, 1, 2]),
        ([3.0, 5.0, 4.0], [4.0, 8.0, 4.5], 1, [1]),
        ([5.0, 5.0 + 1e-9, 1.0], [6.0, 7.0, 2.0], 0, [0, 1]),
        ([0.0, 0.0], [0.0, 0.0], 0, [0, 1]),
    ],
)
def test_views_that_cannot_be_the_best_are_not_looked_at(
    worths: list[float], most: list[float], best: int, looked_at: list[int]
) -> None:
    seen_at: list[int] = []

    def worth(k: int, quickly: bool) -> float:
        if not quickly:
            seen_at.append(k)
        return most[k] if quickly else worths[k]

    asked = [lambda quickly, k=k: worth(k, quickly) for k in range(len(worths))]
    assert halfway._best(asked) == best
    assert sorted(seen_at) == looked_at


@pytest.mark.parametrize("name", ["bases/preliminary-base", "lily"])
def test_pieces_alone_are_seen_as_among_all(name: str) -> None:
    before = seen(half(name).pose, VIEWS[1], 1.0)
    every = visible(before, 1.0)
    for k in half(name).moving:
        (alone, whole) = visible_of(before, 1.0, [k])[k], every[k]
        assert shapely.area(shapely.symmetric_difference(alone, whole)) == pytest.approx(
            0, abs=1e-3
        )
