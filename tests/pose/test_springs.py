"""What pulls at paper: gradients against differences, values against forms known by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest

from foldscript.pose.springs import (
    Array,
    Contacts,
    Pull,
    Wanted,
    breath,
    fold_angles,
    gathered,
    lengths,
)
from foldscript.pose.symmetry import orbits

#: Two triangles that share the side from point 0 to point 1, and a third below them.
POINTS = np.array(
    [[0.0, 0.0, 0.1], [0.0, 1.0, 0.0], [-1.0, 0.4, 0.3], [0.9, 0.5, 0.2], [0.3, 0.1, -0.1]]
)
HINGE = np.array([[0, 1, 2, 3]])


def energy(x: Array) -> tuple[float, Array]:
    angle, slope = fold_angles(x, HINGE, np.zeros(1))
    touch = Contacts(
        np.array([[0, 3, 1]]), np.array([[4, 4, 2]]), np.array([[0.2, 0.5, 0.3]]), np.ones(1)
    )
    touch.watched[:] = True
    pulls = [
        lengths(x, np.array([[0, 2], [1, 3], [3, 4]]), np.array([0.9, 1.0, 0.8]), 3.0),
        Pull(HINGE, 2 * (angle - 0.4), 2 * slope),
        touch.pull(x, 1.5),
        Wanted(
            np.array([[2, 3]]),
            np.array([[1.0, -1.0]]),
            np.array([[0.0, 0.6, 0.8]]),
            np.ones(1),
            np.full(1, 4.0),
        ).pull(x),
    ]
    assert len(touch.pull(x, 1.5).misfit) == 1, "the layer below has come through"
    slope, _, total = gathered(pulls, orbits([], len(x)), {})
    return total, slope


def differences(x: Array, of: object) -> Array:
    out = np.zeros(x.size)
    for k in range(x.size):
        step = np.zeros(x.size)
        step[k] = 1e-6
        high, low = (of(x + sign * step.reshape(x.shape))[0] for sign in (1, -1))  # type: ignore[operator]
        out[k] = (high - low) / 2e-6
    return out


def test_slopes_are_those_of_the_energy() -> None:
    assert energy(POINTS)[1] == pytest.approx(differences(POINTS, energy), abs=1e-7)


def test_the_push_of_a_breath_is_the_slope_of_its_volume() -> None:
    skin = np.array([[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]])
    volume, push = breath(POINTS, skin, np.ones(4))
    a, b, c, d = POINTS[:4]
    assert volume == pytest.approx(float(np.linalg.det([b - a, c - a, d - a])) / 6)
    slope = differences(POINTS, lambda x: breath(x, skin, np.ones(4)))
    assert push.ravel() == pytest.approx(slope, abs=1e-8)


@pytest.mark.parametrize("degrees", [-170, -90, 0, 30, 90, 179])
def test_a_valley_seen_from_the_front_is_positive(degrees: float) -> None:
    """The left piece turned up by an angle about the y axis, the way of the shared side."""
    a = math.radians(degrees)
    x = np.array(
        [[0, 0, 0], [0, 1, 0], [-math.cos(a), 0, math.sin(a)], [1, 0, 0]], dtype=np.float64
    )
    angle, _ = fold_angles(x, HINGE, np.zeros(1))
    assert math.degrees(angle[0]) == pytest.approx(degrees)
