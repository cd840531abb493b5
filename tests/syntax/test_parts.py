"""Scripts with several sheets: what their lines say, and what they may not."""

from __future__ import annotations

import pytest

from foldscript.moves.registry import verbs
from foldscript.source.diagnostics import FoldscriptError, Source
from foldscript.syntax import nodes
from foldscript.syntax.parser import parse

STEP = "step\nturn over\n"


def parsed(text: str) -> nodes.Program:
    return parse(Source("test.foldscript", text), verbs())


def codes(text: str) -> list[str]:
    with pytest.raises(FoldscriptError) as error:
        parsed(text)
    return [d.code for d in error.value.diagnostics]


def test_one_sheet_has_no_parts() -> None:
    assert parsed("sheet square 10 cm\n" + STEP).parts == ()


def test_sheets_that_are_alike() -> None:
    (part,) = parsed("sheets 6\n" + STEP).parts
    assert [(lot.count, lot.colour) for lot in part.head.lots] == [(6, "")]
    assert (part.first, part.assembles) == (0, False)


def test_sheets_of_several_colours() -> None:
    (part,) = parsed("sheets 2 red, 3 dark blue and 1 white\n" + STEP).parts
    lots = [(lot.count, lot.colour) for lot in part.head.lots]
    assert lots == [(2, "red"), (3, "dark blue"), (1, "white")]


def test_a_part_says_what_differs() -> None:
    text = (
        'model "Box"\nsheet square 15 cm\ncolours red and white\n'
        'part "Box"\n' + STEP + STEP + 'part "Lid"\nsheet square 16 cm\nsheets 2\n' + STEP
    )
    box, lid = parsed(text).parts
    assert [(p.title, p.first) for p in (box, lid)] == [("Box", 0), ("Lid", 2)]
    assert box.head.sheet is not None
    assert lid.head.sheet is not None
    assert (box.head.sheet.shape, lid.head.sheet.shape) == ("square 15 cm", "square 16 cm")
    assert (lid.head.front_colour, lid.head.title) == ("red", "Box")
    assert [sum(lot.count for lot in p.head.lots) for p in (box, lid)] == [0, 2]


def test_putting_together_begins_a_part() -> None:
    unit, whole = parsed("sheets 2\n" + STEP + 'assemble "The star"\n' + STEP).parts
    assert (unit.title, unit.assembles) == ("", False)
    assert (whole.title, whole.assembles, whole.first) == ("The star", True, 1)


def test_points_of_units() -> None:
    program = parsed(
        "sheets 2\n" + STEP + "assemble\nstep\nplace unit 2, A of unit 2 to corner B of unit 1\n"
    )
    first, second = program.steps[1].body[0].phrases
    unit, point = first.operands
    assert isinstance(unit, nodes.Amount)
    assert (unit.value, unit.unit) == (2, "unit")
    assert isinstance(point, nodes.Name)
    assert point.text == "A of unit 2"
    assert isinstance(second.operands[0], nodes.Name)
    assert second.operands[0].text == "B of unit 1"


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("sheets 0\n" + STEP, "not-a-count"),
        ("sheets 201\n" + STEP, "too-many-sheets"),
        ("sheets 2, 3 red\n" + STEP, "colour-missing"),
        (STEP + 'part "Lid"\n' + STEP, "part-after-step"),
        ('part ""\n' + STEP, "empty-text"),
        ('part "Box"\npart "Lid"\n' + STEP, "empty-part"),
        ("assemble\n" + STEP, "nothing-to-assemble"),
        ("sheets 2\n" + STEP + "assemble\n" + STEP + 'part "Lid"\n' + STEP, "assembled-last"),
        ('sheets 2\npart "Box"\n' + STEP, "sheets-of-which-part"),
        ('part "Box"\nlevel simple\n' + STEP, "head-after-step"),
        ("sheets 2\n" + STEP + "assemble\nsheet square 5 cm\n" + STEP, "no-sheet-here"),
        ('part "Box"\nturn over\n', "move-before-step"),
        ('part "Box"\ngroup g\nturn over\nend\n' + STEP, "group-after-step"),
        ('part "Box"\nsheets 2\nsheets 3\n' + STEP, "said-twice"),
    ],
)
def test_mistakes(text: str, code: str) -> None:
    assert code in codes(text)
