"""Edges of layers that lie together are drawn apart, run true, and end at other lines.

What is kept of every sample stands in `offset_edges_of_samples.toml`, written by `offset_edges --kept`; where
a change makes figures better, write it anew.
"""

from __future__ import annotations

import tomllib
from collections import Counter
from pathlib import Path

import pytest

from foldscript.drawing.style.styles import load_style

from ..sample_scripts import SAMPLES, sample
from .offset_edges import KINDS, figures, flaws, found_in

KEPT: dict[str, dict[str, int]] = tomllib.loads(
    Path(__file__).with_name("offset_edges_of_samples.toml").read_text(encoding="utf-8")
)


def test_all_samples_are_kept() -> None:
    assert sorted(KEPT) == sorted(path.stem for path in SAMPLES.glob("*.foldscript"))


@pytest.mark.parametrize("name", sorted(KEPT))
def test_no_sample_has_more_flaws(name: str) -> None:
    found = Counter(flaw.kind for flaw in found_in([name]))
    assert {k: found[k] for k in KINDS if found[k] > KEPT[name][k]} == {}


@pytest.mark.parametrize(
    ("name", "label"),
    [("frog", "8"), ("crane", "14"), ("footed-box", "3"), ("lily", "10–11")],
)
def test_layers_that_fan_out_from_a_point_soon_run_beside_each_other(name: str, label: str) -> None:
    """They would slant all the way: the point is too sharp for a bend close to it."""
    style = load_style("colour")
    ((figure, visible),) = (
        one for one in figures(sample(name).model, style) if one[0] == f"{name} {label}"
    )
    assert not [flaw for flaw in flaws(figure, visible, style) if flaw.kind == "askew"]
