"""Views and framing: one scale, growth declared, nothing turned, signs between figures off the paper."""

from __future__ import annotations

import pytest

from foldscript.drawing.framing.framing import framings, outlined
from foldscript.drawing.scene.outlines import Box
from foldscript.drawing.scene.view import FACTORS, View, view_within, views
from foldscript.drawing.style.styles import load_style
from foldscript.folding.steps import Panel
from foldscript.geometry.isometries import rotation
from foldscript.geometry.polygons import bounds
from foldscript.paper.signs import Rotate, TurnOver
from foldscript.paper.state import State

from ..sample_scripts import sample
from . import folded as f

STYLE, FRAME = load_style(), (142.0, 145.0)
MIDDLE = (0.5, 0.5)


def test_y_runs_down_the_page_and_nothing_is_turned() -> None:
    view = View(100.0, (0.5, 0.5))
    assert view((0.5, 0.5)) == (0.0, 0.0)
    assert view((1.0, 0.5)) == pytest.approx((50.0, 0.0))
    assert view((0.5, 1.0)) == pytest.approx((0.0, -50.0))
    assert view.back(view((0.2, 0.9))) == pytest.approx((0.2, 0.9))


def test_figures_share_one_scale() -> None:
    """A model that stays above two thirds of its size is never enlarged."""
    found = views([MIDDLE] * 4, [100.0, 130.0, 100.0, 130.0])
    assert {v.scale for v in found} == {100.0}
    assert {v.factor for v in found} == {1.0}


def test_a_model_that_became_small_grows_by_a_declared_factor_and_keeps_it() -> None:
    found = views([MIDDLE] * 7, [100.0] * 3 + [430.0, 410.0, 430.0, 410.0])
    assert [v.factor for v in found] == [1.0, 1.0, 1.0, 4.0, 4.0, 4.0, 4.0]
    assert all(v.factor in FACTORS for v in found)


def test_no_scale_lets_a_figure_leave_its_room() -> None:
    fits = [100.0, 350.0, 180.0, 210.0, 420.0, 120.0]
    found = views([MIDDLE] * 6, fits)
    assert all(v.scale <= fit * (1 + 1e-9) for v, fit in zip(found, fits, strict=True))


def test_one_small_figure_among_large_ones_is_not_worth_a_change() -> None:
    found = views([MIDDLE] * 5, [100.0, 100.0, 210.0, 100.0, 100.0])
    assert {v.factor for v in found} == {1.0}


def test_the_paper_lies_in_the_frame_and_off_the_signs() -> None:
    """A square fills its frame, a diamond leaves the corners free: both keep clear of a turn sign."""
    diamond = f.square().moved(rotation(0.7853981633974483))
    for state in (f.square(), diamond, f.triangle()):
        for turn in (TurnOver(True), TurnOver(False), Rotate(90.0)):
            for panel in (
                Panel(state, (), before_turns=(turn,)),
                Panel(state, (), after_turns=(turn,)),
                Panel(state, (turn,)),
                Panel(state, (), before_turns=(turn,), after_turns=(turn, turn)),
            ):
                (framing,) = framings(outlined([panel]), STYLE, FRAME)
                signs = len(panel.before_turns) + len(panel.after_turns) + len(panel.signs)
                assert len(framing.turns) == signs
                x, y = framing.origin
                ring = [framing.view(p) for p in state.placed[0]]
                assert all(0 < x + p[0] < FRAME[0] and 0 < y + p[1] < FRAME[1] for p in ring)
                for box in framing.taken:
                    assert not _meets(state, framing.view, box)


def _meets(state: State, view: View, box: Box) -> bool:
    import shapely

    return any(
        shapely.intersects(shapely.Polygon([view(p) for p in ring]), shapely.box(*box))
        for ring in state.placed
    )


def test_a_turn_sign_does_not_shrink_a_diamond() -> None:
    diamond = f.square().moved(rotation(0.7853981633974483))
    plain, turned = Panel(diamond, ()), Panel(diamond, (), before_turns=(TurnOver(True),))
    found = framings(outlined([plain, turned]), STYLE, FRAME)
    (alone,) = framings(outlined([plain]), STYLE, FRAME)
    assert found[0].view.scale == pytest.approx(alone.view.scale, rel=0.12)


def test_view_within_a_room() -> None:
    view = view_within(f.triangle(), (50.0, 200.0))
    x0, _, x1, _ = bounds(view(p) for ring in f.triangle().placed for p in ring)
    assert x1 - x0 == pytest.approx(50.0)


@pytest.mark.parametrize("frame", [(60.0, 42.0), (8.0, 8.0), (4000.0, 3000.0)])
@pytest.mark.parametrize("name", ["crane", "letter", "fan", "six-unit-cube"])
def test_a_model_is_drawn_in_any_frame(name: str, frame: tuple[float, float]) -> None:
    """Paper goes out of a frame that has no room for it; that is no reason to draw nothing."""
    script = sample(name)
    figures = script.figures(STYLE, frame)
    assert figures
    assert all(figure.scene.items for figure in figures)
    assert script.portrait(STYLE, frame).items
