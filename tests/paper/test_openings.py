"""Where models open: edges that no fold joins, tips of two flaps, nowhere on a single layer."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.geometry.lines import midpoint
from foldscript.paper.openings import layered, likeliest, opening_at
from foldscript.paper.signs import PointSign, Spot
from foldscript.paper.silhouette import corners_toward, edges_toward
from foldscript.paper.state import State
from foldscript.pipeline import check

SAMPLES = Path(__file__).resolve().parents[2] / "samples"


def before(sample: str, number: int) -> State:
    model = check(SAMPLES / f"{sample}.foldscript")
    return next(s for s in model.steps if s.number == number).panels[0].state


def test_the_hat_opens_along_its_whole_lower_edge_and_nowhere_else() -> None:
    hat = before("hat-to-boat", 10)
    (bottom,) = edges_toward(hat, ("bottom",))
    found = opening_at(hat, midpoint(*bottom))
    assert found is not None
    for end, corner in zip(sorted(found), sorted(bottom), strict=True):
        assert end == pytest.approx(corner)
    likely = likeliest(hat)
    assert likely is not None
    assert likely.edge == found
    assert likely.outward == pytest.approx((0.0, -1.0))
    for slope in ("top left", "top right"):  # its two halves hold together there
        (edge,) = edges_toward(hat, tuple(slope.split()))
        assert opening_at(hat, midpoint(*edge)) is None


def test_the_crane_opens_where_its_two_wings_end() -> None:
    crane = before("crane", 17)
    found = likeliest(crane)
    assert found is not None
    assert found.edge is None
    (tip,) = corners_toward(crane, ("bottom",))
    assert found.at == pytest.approx(tip, abs=1e-6)
    assert layered(crane, found.at)


def test_the_star_box_opens_on_the_side_that_has_no_twin() -> None:
    found = likeliest(before("star-box", 12))
    assert found is not None
    assert found.outward == pytest.approx((0.0, 1.0))


def test_an_open_sheet_opens_nowhere() -> None:
    sheet = before("hat-to-boat", 1)
    assert likeliest(sheet) is None
    assert not layered(sheet, sheet.placed[0][0])


def test_shaping_without_a_place_shows_the_sign_where_the_model_opens() -> None:
    model = check(SAMPLES / "lantern.foldscript")
    (sign,) = [s for s in model.steps[-1].panels[0].signs if isinstance(s, PointSign)]
    assert sign.kind is Spot.OPEN_OUT
    (bottom,) = edges_toward(model.steps[-1].panels[0].state, ("bottom",))
    assert sign.at == pytest.approx(midpoint(*bottom))
