"""Where models open: edges that no fold joins, tips of two flaps, nowhere on a single layer."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.building.script import Script
from foldscript.geometry.lines import distance, midpoint
from foldscript.paper.openings import layered, likeliest, opening_at, slit_at
from foldscript.paper.signs import PointSign
from foldscript.paper.silhouette import centre, corners_toward, edges_toward
from foldscript.paper.state import State

from ..sample_scripts import sample as of

SAMPLES = Path(__file__).resolve().parents[2] / "samples"


def before(sample: str, number: int) -> State:
    model = of(sample).model
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


def test_shaping_without_a_place_shows_the_sign_where_the_model_opens(tmp_path: Path) -> None:
    text = (SAMPLES / "hat.foldscript").read_text("utf-8")
    path = tmp_path / "hat.foldscript"
    path.write_text(text.replace("open the bottom edge", "shape"), "utf-8")
    model = Script(path).model
    (sign,) = [s for s in model.steps[-1].panels[0].signs if isinstance(s, PointSign)]
    assert sign.kind == "open-out"
    (bottom,) = edges_toward(model.steps[-1].panels[0].state, ("bottom",))
    assert sign.at == pytest.approx(midpoint(*bottom))


def test_the_box_opens_along_the_slit_between_its_long_walls() -> None:
    """As far as the walls meet: they leave a quarter of the length free at either end."""
    box = before("masu", 6)
    (x0, x1), (y0, y1) = (
        (min(v), max(v)) for v in zip(*(p for r in box.placed for p in r), strict=True)
    )
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    slit = slit_at(box, middle)
    assert slit is not None
    (left, level), (right, _) = sorted(slit)
    quarter = (x1 - x0) / 4
    assert (left, level, right) == pytest.approx((x0 + quarter, middle[1], x1 - quarter))
    assert opening_at(box, middle) is None
    # beside the slit, and where a crease alone goes on along it, nothing opens
    assert slit_at(box, (middle[0], middle[1] + 0.02)) is None
    assert slit_at(box, (x0 + quarter / 2, level)) is None


def test_edges_that_a_fold_joins_are_no_slit() -> None:
    """The upright line of a waterbomb base's top flaps is folded, the one of a blintz base is open."""
    joined, loose = before("waterbomb", 5), before("masu", 1)
    (tip,), (low,) = corners_toward(joined, ("top",)), edges_toward(joined, ("bottom",))
    assert slit_at(joined, midpoint(tip, midpoint(*low))) is None
    for corner in corners_toward(loose, ("top",)) + corners_toward(loose, ("left",)):
        slit = slit_at(loose, midpoint(centre(loose), corner))
        assert slit is not None
        for end, wanted in zip(sorted(slit), sorted((centre(loose), corner)), strict=True):
            assert end == pytest.approx(wanted)


def test_a_slit_ends_where_paper_lies_over_it() -> None:
    """Under two roofs of 65 mm, on a hull that two strips as wide were folded in from: 297 mm less four."""
    model = of("boat-with-cabins").model
    boat = model.finished
    slit = slit_at(boat, boat.where(dict(model.steps[-1].named)["O"]))
    assert slit is not None
    assert distance(*slit) * boat.sheet.unit_mm == pytest.approx(297 - 4 * 65)
