"""Models in parts through every output: figures, pages, words, slides, creases, plans."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from foldscript.building.script import Script
from foldscript.classes.planning import amounts, plan_model
from foldscript.drawing.draw import DrawnFigure
from foldscript.drawing.scene.scene import Text
from foldscript.drawing.style.styles import load_style
from foldscript.output.drawn import Drawn
from foldscript.output.formats import creases, slides, states, words
from foldscript.pages.layout.head import facts
from foldscript.pages.sizes import page_size

from ..scripts import folds

SAMPLES = Path(__file__).parents[2] / "samples"
PAIR = """
model "Pair"
sheets 1 red, 2 blue
sheet square 90 mm, coloured side down
step "Fold the top third to the front."
  mark P at 2/3 of A D
  mark Q at 2/3 of B C
  valley along line P Q, moving D
assemble "Together"
step
  place unit 2, A of unit 2 to Q of unit 1 and B of unit 2 to P of unit 1, under D of unit 1
"""


@pytest.fixture
def drawn(tmp_path: Path) -> Drawn:
    path = tmp_path / "pair.foldscript"
    path.write_text(PAIR, "utf-8")
    return Script(path).drawn(load_style("colour"), page_size("A4"))


def texts(figure: DrawnFigure) -> list[str]:
    return [item.text for item in figure.scene.items if isinstance(item, Text)]


def test_figures_of_a_model_in_parts(drawn: Drawn) -> None:
    """A step, the finished unit without a number, and the step that puts two together."""
    assert [f.label for f in drawn.figures] == ["1", "", "2"]
    assert [f.heading for f in drawn.figures] == [
        "The unit: 1 sheet red and 2 sheets blue, square 90 mm",
        "",
        "Together",
    ]
    assert drawn.figures[1].caption == "The finished unit. Fold 3 of them."
    names = [name for name, _ in drawn.pictures()]
    assert names == ["pair-01", "pair-01-finished", "pair-02", "pair-finished"]


def test_units_bear_their_numbers_and_colours(drawn: Drawn) -> None:
    """Letters stand alone, numbers on the paper, and each unit has the colour of its sheet."""
    figure = drawn.figures[2]
    assert {"1", "2", "A", "B", "P", "Q", "D"} == set(texts(figure))
    roles = {item.role for item in figure.scene.items if not isinstance(item, Text)}
    assert {"paper.coloured.red", "paper.coloured.blue"} <= roles
    assert "unit.number" in figure.scene.signs


def test_the_finished_model_bears_no_numbers(drawn: Drawn) -> None:
    assert "unit.number" not in drawn.finished.signs
    assert not [item for item in drawn.finished.items if isinstance(item, Text)]


def test_a_unit_with_colours_of_its_own_is_numbered_once(drawn: Drawn) -> None:
    """Of the model's three units only two lie there, one red and one blue."""
    said = texts(drawn.figures[2])
    assert said.count("1") == said.count("2") == 1


def test_letters_of_units_stand_where_the_caption_speaks_of_them() -> None:
    """The caption speaks of Q alone, the move of A, B, P, Q and D of two units."""
    told = PAIR.replace("step\n  place", 'step "Slide it in, up to Q."\n  place')
    panel = folds(told).steps[-1].panels[0]
    assert {name for name, _ in panel.labels} > {"Q of unit 1", "P of unit 1"}
    assert [name for name, _ in panel.letters] == ["Q of unit 1"]


def test_one_sheet_bears_no_number(drawn: Drawn) -> None:
    assert texts(drawn.figures[1]) == []
    assert "unit.number" not in drawn.figures[0].scene.signs


def test_pages_have_a_heading_for_each_part(drawn: Drawn) -> None:
    said = list(drawn.lay_out().texts())
    assert "The unit: 1 sheet red and 2 sheets blue, square 90 mm" in said
    assert "Together" in said
    assert ("Sheets", "3 × square 90 mm, coloured side down") in facts(drawn.model, str)


def test_words_of_a_model_in_parts(drawn: Drawn) -> None:
    ((_, data),) = words.files(drawn)
    told = " ".join(data.decode().split())
    assert "In all there are 3 sheets, for these parts:" in told
    assert "Step 1 folds one unit. Do it 3 times, each with a sheet of its own." in told
    assert "Take unit 2. Lay it beside the others" in told
    assert "a shape of two parts that lie apart" in told
    assert "Slide unit 2 in between the layers, 71 mm away from you" in told


def test_slides_of_a_model_in_parts(drawn: Drawn) -> None:
    ((_, data),) = slides.files(drawn)
    page = data.decode()
    assert page.count('<section class="slide"') == 4  # three figures and the finished model
    assert "Together. Slide unit 2 in under the layer" in page


def test_states_of_a_model_in_parts(drawn: Drawn) -> None:
    ((_, data),) = states.files(drawn)
    document = json.loads(data)
    unit, whole = document["parts"]
    assert (unit["first"], unit["last"], unit["number"]) == (1, 1, 3)
    assert (whole["first"], whole["last"], whole["number"]) == (2, 2, 0)
    assert [len(part["sheets"]) for part in (unit, whole)] == [1, 2]
    assert document["states"][2]["sheets"] == 2


def test_a_crease_pattern_for_every_kind_of_sheet(tmp_path: Path) -> None:
    path = SAMPLES / "throwing-star.foldscript"
    found = Script(path).drawn(load_style("colour"), page_size("A4"))
    names = [name for name, _ in creases.files(found)]
    assert names == ["throwing-star-part-1-creases.svg", "throwing-star-part-2-creases.svg"]


def test_a_class_needs_every_sheet(drawn: Drawn) -> None:
    """Ten people with three sheets each: 30, and one spare for each five of them."""
    plan = plan_model(drawn.model, 10, ())
    (sheets,) = plan.sheets
    assert (sheets.amounts.people, sheets.amounts.with_spares) == (30, 36)
    assert sheets.amounts.children == (40, 50)
    assert sheets.sheet.colours == ("1 red", "2 blue")


def test_a_class_takes_the_time_of_every_unit(drawn: Drawn) -> None:
    """A fold a unit and one placing, a minute each: 2 are taught, and 2 units more are folded alone."""
    plan = plan_model(drawn.model, 10, ())
    assert plan.times.folding == 2 + 2
    assert plan.times.teaching == 10  # 3 x 2 + 2 = 8, in steps of five minutes


def test_amounts_of_one_sheet_are_as_they_were() -> None:
    need = amounts(10)
    assert (need.people, need.with_spares, need.children) == (10, 12, (20, 30))
