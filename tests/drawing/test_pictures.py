"""Whole models as they look, kept as pictures: every change of a line shows in the report.

The models are chosen for what they show: repeats and landmarks (cup), layers and a mountain fold
behind others (boat), a deep pack (fan), repeats over both sides and flaps (waterbomb), sixteen
layers and squashes (frog base).
"""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.building.script import Script
from foldscript.drawing.draw import draw, finished_figure
from foldscript.drawing.scene.scene import Text
from foldscript.drawing.style.styles import Style, load_style
from foldscript.output.page_svg import page_svg
from foldscript.pages.document import Page, Placed
from foldscript.pages.sizes import PageSize

from ..picture_report import Pictures

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
FRAME = (134.0, 136.0)
ACROSS = 5


def contact_sheet(path: Path, style: Style) -> bytes:
    """All figures of a model, in rows, each with its number."""
    model = Script(path).model
    scenes = [(figure.label, figure.scene) for figure in draw(model, style, FRAME)]
    scenes.append(("finished", finished_figure(model, style, FRAME)))
    items: list[Placed] = []
    for k, (label, scene) in enumerate(scenes):
        x, y = (k % ACROSS) * FRAME[0], (k // ACROSS) * (FRAME[1] + 12)
        items.append(Placed((x, y), scene))
        items.append(Placed((x + 4, y + FRAME[1] + 8), Text("text.note", (0, 0), label, 8.0)))
    deep = -(-len(scenes) // ACROSS) * (FRAME[1] + 12)
    size = PageSize("sheet", ACROSS * FRAME[0], deep)
    return page_svg(Page(size, "1", tuple(items)), style)


@pytest.mark.parametrize("name", ["cup", "boat", "fan", "waterbomb", "bases/frog-base"])
def test_a_model_looks_as_it_did(name: str, pictures: Pictures) -> None:
    sheet = contact_sheet(SAMPLES / f"{name}.foldscript", load_style("colour"))
    pictures.check(Path(name).name, sheet)


def test_the_report_shows_both_and_how_to_accept(tmp_path: Path) -> None:
    kept = tmp_path / "kept"
    run = Pictures(update=True, kept=kept)
    run.check("square", b"<svg>one</svg>")
    run = Pictures(kept=kept)
    run.check("square", b"<svg>one</svg>")
    assert run.write(tmp_path / "report.html") is None
    with pytest.raises(AssertionError, match="looks different"):
        run.check("square", b"<svg>two</svg>")
    with pytest.raises(AssertionError, match="is new"):
        run.check("circle", b"<svg>three</svg>")
    place = run.write(tmp_path / "out" / "report.html")
    assert place is not None
    text = place.read_text("utf-8")
    assert text.count("<img") == 2 + 2 + 1 + 1
    assert "--snapshot-update" in text
    assert "circle" in text
