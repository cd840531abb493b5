"""Parts of a model that stand: in the colours of their own sheets, and finished when they stand."""

from __future__ import annotations

from foldscript.drawing.draw import draw
from foldscript.drawing.scene.scene import Path as Stroke
from foldscript.drawing.style.styles import load_style

from ..sample_scripts import sample


def test_a_lid_stands_in_the_colour_of_its_own_sheet() -> None:
    """The lid is folded from red paper, the box from yellow."""
    model = sample("box-and-lid").said()[0]
    figures = draw(model, load_style("colour"), (160.0, 140.0))
    (lid,) = (one for one in figures if one.caption == "Lid is finished.")
    for figure, own, other in ((lid, "red", "yellow"), (figures[-1], "yellow", "red")):
        roles = {item.role for item in figure.scene.items if isinstance(item, Stroke)}
        assert any(role.endswith(f".{own}") for role in roles), roles
        assert not any(role.endswith(f".{other}") for role in roles)
