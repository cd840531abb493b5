"""Signs that tell how a step ends: what goes, how far is unfolded, on what the model stands."""

from __future__ import annotations

from pathlib import Path as FilePath

import pytest
import shapely

from foldscript.building.script import Script
from foldscript.drawing.draw import draw
from foldscript.drawing.scene.outlines import item_box
from foldscript.drawing.scene.scene import Path, Text
from foldscript.drawing.scene.strokes import polylines
from foldscript.drawing.signs.area_discarded import hatched
from foldscript.drawing.signs.mark_opened import opened_sign
from foldscript.drawing.style.styles import load_style
from foldscript.paper.signs import Discarded, PointSign

from ..scripts import folded
from . import folded as f
from .composed import composed
from .test_visible import seen

STYLE = load_style("colour")
FRAME = (160.0, 160.0)
HALF = "valley the top edge onto the bottom edge"


@pytest.mark.parametrize("size", [1.0, 0.3, 0.05, 0.01])
def test_what_goes_is_hatched_all_over_and_nothing_else_is(size: float) -> None:
    """Also a snippet; three lines at least, within its outline."""
    view = seen(f.square()).view
    ring = ((0.0, 0.0), (size, 0.0), (0.0, size))
    lines = [line for path in hatched([Discarded((ring,))], view) for line in polylines([path])]
    assert len(lines) >= 3
    area = shapely.Polygon([view(p) for p in ring]).buffer(0.1)
    assert all(area.contains(shapely.LineString(line)) for line in lines)


def test_a_cut_figure_shows_what_goes_and_a_slit_shows_nothing() -> None:
    marks = "mark P at 1/4 of A B; mark Q at 1/4 of A D"
    off = draw(folded(f"{marks}; cut from P to Q, discarding A"), STYLE, FRAME)[-1]
    slit = draw(folded("mark P at midpoint of A B; cut from P to centre"), STYLE, FRAME)[-1]
    assert "area.discarded" in off.scene.signs
    assert "area.discarded" not in slit.scene.signs


def test_the_outline_after_unfolding_is_drawn_as_it_lies() -> None:
    """A sheet of two by one, taller than wide on the page when it stands."""
    for wide, high in ((2.0, 1.0), (1.0, 2.0)):
        ring = ((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high))
        (outline,) = (
            i for i in opened_sign((ring,)) if isinstance(i, Path) and i.role == "sign.open"
        )
        box = item_box(outline)
        assert box is not None
        assert (box[2] - box[0]) / (box[3] - box[1]) == pytest.approx(wide / high)


def test_unfolding_further_than_one_fold_is_told_and_one_fold_is_not() -> None:
    twice = (HALF, "valley the left edge onto the right edge, all layers")
    once = draw(folded(*twice, "unfold"), STYLE, FRAME)[-1]
    all_of_it = draw(folded(*twice, "unfold to step 0"), STYLE, FRAME)[-1]
    assert "mark.opened" not in once.scene.signs
    assert "mark.opened" in all_of_it.scene.signs


STANDS = """sheet square 100 mm
step
  valley the left edge onto the right edge, as k
step
  raise along k
step
  stand on A and D
"""


def test_a_model_that_is_put_down_has_a_table_and_dots_at_its_feet(tmp_path: FilePath) -> None:
    path = tmp_path / "model.foldscript"
    path.write_text(STANDS, encoding="utf-8")
    _, panel, ink = composed(Script(path).standing_model, STYLE, FRAME)[2]
    feet = [s for s in panel.signs if isinstance(s, PointSign) and s.kind == "foot"]
    assert len(feet) == len([g for g in ink.groups if g.kind == "ring"]) == 2
    (table,) = (g for g in ink.groups if g.kind == "table")
    assert table.box is not None
    paper = [g.box for g in ink.groups if g.kind == "paper" and g.box is not None]
    assert table.box[1] > max(box[3] for box in paper) - 30.0, "it stands low"


def test_where_paper_is_raised_in_the_same_step_the_table_stands_alone(tmp_path: FilePath) -> None:
    path = tmp_path / "model.foldscript"
    path.write_text(STANDS.replace("step\n  stand", "  stand"), encoding="utf-8")
    _, _, ink = composed(Script(path).standing_model, STYLE, FRAME)[1]
    assert [g.kind for g in ink.groups].count("table") == 1
    assert not any(g.kind == "ring" for g in ink.groups)


def test_how_far_layers_come_apart_is_told_where_it_is_said() -> None:
    pocket = (HALF, "spread midpoint of the bottom edge by 3 cm")
    figure = draw(folded(*pocket), STYLE, FRAME)[-1]
    assert "mark.apart" in figure.scene.signs
    assert "30 mm" in [i.text for i in figure.scene.items if isinstance(i, Text)]
    pulled = draw(folded(HALF, "pull D in front by 2 cm"), STYLE, FRAME)[-1]
    assert "20 mm" in [i.text for i in pulled.scene.items if isinstance(i, Text)]
