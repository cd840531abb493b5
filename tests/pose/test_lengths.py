"""Lengths made true: layers that were solved as one stay one, where nothing but rounding parts them."""

from __future__ import annotations

import numpy as np

from foldscript.pose.layers import layered
from foldscript.pose.lengths import true_lengths, true_together
from foldscript.pose.net import Net, knit
from foldscript.pose.pieces import Array

from ..scripts import folded


def strip() -> Net:
    """Three layers that stay together, the uppermost shorter than the others."""
    model = folded(
        "valley along line 30 mm from the left edge, moving the left edge",
        "valley along line 20 mm from the left edge, moving the left edge, all layers",
    )
    return knit(layered(model.steps[-1].after), [])


def nearly_plane(net: Net) -> Array:
    """The net bent by a hair, its lengths off by some millionths: what is left when springs are at rest."""
    rng = np.random.default_rng(7)
    places = net.start.copy()
    places[:, 2] = 0.02 * places[:, 0] ** 2
    return places + rng.normal(0, 3e-6, places.shape)


def stretch(net: Net, places: Array) -> float:
    pairs = {(r[k - 1], r[k]) for r in net.pieces.rings for k in range(len(r))}
    a, b = (np.array([p[k] for p in pairs]) for k in (0, 1))
    now = np.linalg.norm(places[a] - places[b], axis=1)
    rest = np.linalg.norm(net.pieces.points[a] - net.pieces.points[b], axis=1)
    return float(np.abs(now / rest - 1).max())


def parted(net: Net, places: Array) -> float:
    """How far points of the sheet that are one in the net have come apart."""
    return max(float(np.ptp(places[net.of == v], axis=0).max()) for v in range(len(net.start)))


def test_layers_solved_as_one_stay_together() -> None:
    net = strip()
    assert len(net.of) > len(net.start), "some layers lie together"
    places = true_together(net, nearly_plane(net))
    assert stretch(net, places) < 1e-12
    assert parted(net, places) < 1e-9


def test_each_layer_by_itself_goes_its_own_way() -> None:
    """Why the net is made true first: lengths off by millionths move paper that is nearly plane by a share of
    1e-3, the root of that (Pythagoras).
    """
    net = strip()
    places = true_lengths(net.pieces, nearly_plane(net)[net.of])
    assert stretch(net, places) < 1e-4
    assert parted(net, places) > 1e-6
