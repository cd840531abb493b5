"""Models in parts: numbering, sheets and colours, what a part takes along and what it does not."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.building.script import Script
from foldscript.folding.alone import part_models
from foldscript.folding.fold import fold
from foldscript.folding.part_words import part_finished, part_heading
from foldscript.folding.resuming import FoldingCache
from foldscript.moves.registry import verbs
from foldscript.source.diagnostics import FoldscriptError, Source
from foldscript.syntax.parser import parse

from ..conftest import assert_sound
from ..scripts import folds, refused_text

BOX = """
model "Box with a lid"
colours red and white
part "Box"
sheet square 10 cm
step
  valley A to C as k
  mark M at midpoint of B D
step
  turn over
part "Lid"
sheet square 12 cm, coloured side up
sheets 1 blue, 2 green
step
  valley A to C as k
"""


def test_steps_are_numbered_through_all_parts() -> None:
    model = folds(BOX)
    assert_sound(model)
    assert [step.number for step in model.steps] == [1, 2, 3]
    assert [(p.title, p.first, p.last) for p in model.parts] == [("Box", 1, 2), ("Lid", 3, 3)]


def test_each_part_begins_with_its_own_sheet() -> None:
    model = folds(BOX)
    assert model.sheet.unit_mm == 100
    assert model.steps[2].before.sheet.unit_mm == 120
    assert len(model.steps[2].before.facets) == 1
    assert model.steps[2].before.sheet.front_coloured


def test_names_are_a_parts_own() -> None:
    """The crease k is named in both; M, of the first, is unknown in the second."""
    found = refused_text(BOX + "step\n  valley B to M\n")
    assert found.code == "unknown-name"


def test_every_sheet_has_its_colours() -> None:
    box, lid = folds(BOX).parts
    assert box.colours == (("red", "white"),)
    assert lid.colours == (("blue", "white"), ("green", "white"), ("green", "white"))
    assert folds(BOX).sheets == 4


def test_models_of_parts() -> None:
    box, lid = part_models(folds(BOX))
    assert (box.title, lid.title) == ("Box with a lid: Box", "Box with a lid: Lid")
    assert [step.number for step in lid.steps] == [3]
    assert lid.front_colour == "blue"
    assert lid.finished.sheet.unit_mm == 120


def test_what_is_said_of_parts() -> None:
    model = folds(BOX)
    assert part_heading(model, 1) == "Box: 1 sheet, square 10 cm"
    assert part_heading(model, 2) == ""
    assert part_heading(model, 3) == "Lid: 1 sheet blue and 2 sheets green, square 12 cm"
    assert part_finished(model, 2).render() == "Box is finished."


def test_steps_of_another_part_cannot_be_repeated() -> None:
    assert refused_text(BOX + "step\n  repeat step 1 behind\n").code == "step-of-another-part"
    assert refused_text(BOX + "step\n  unfold to step 1\n").code == "step-of-another-part"


def test_units_are_numbered_through_the_parts() -> None:
    """One box and three lids: unit 4 is the last lid, and as large as it is."""
    model = folds(BOX + "assemble\nstep\n  place unit 4, B of unit 4 to B of unit 1\n")
    assert_sound(model)
    one, four = model.finished.sheet.all
    assert (one.number, four.number) == (1, 4)
    assert (one.colours[0], four.colours[0]) == ("red", "green")
    (x0, _), (x1, _), *_ = four.outline
    assert x1 - x0 == pytest.approx(1.2)


def test_a_unit_that_is_not_flat_cannot_be_placed() -> None:
    text = "sheets 2\nstep\n  valley A to C\nstep\n  shape\nassemble\nstep\n  turn over\n"
    assert refused_text(text).code == "not-flat-any-more"


def test_another_script_cannot_start_from_several_sheets(tmp_path: Path) -> None:
    (tmp_path / "box.foldscript").write_text(BOX, "utf-8")
    path = tmp_path / "card.foldscript"
    path.write_text('start from "box.foldscript"\nstep\n  turn over\n', "utf-8")
    with pytest.raises(FoldscriptError) as error:
        _ = Script(path).model
    assert error.value.diagnostics[0].code == "several-sheets"


@pytest.mark.parametrize(
    ("old", "new", "kept"),
    [
        ("12 cm", "13 cm", 2),
        ("sheets 1 blue", "sheets 2 blue", 2),
        ("10 cm", "11 cm", 0),
        ("valley A to C as k\n  mark", "valley B to D as k\n  mark", 0),
    ],
)
def test_what_changes_is_folded_anew(old: str, new: str, kept: int) -> None:
    """A part that is said otherwise is folded anew, and so are those after it, not those before."""
    memory = FoldingCache()
    fold(parse(Source("test.foldscript", BOX), verbs()), None, memory)
    changed = parse(Source("test.foldscript", BOX.replace(old, new)), verbs())
    assert memory.unchanged(changed, ()) == kept
    assert fold(changed, None, memory) == fold(changed)
