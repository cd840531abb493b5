"""Points of several units in sentences: what stands between a letter and a number is a language's own."""

from __future__ import annotations

import pytest

from foldscript.languages.unit_names import of_unit, on_sheet, said, said_together
from foldscript.languages.wording import Phrase, Translate, phrase

from ..scripts import captions, folds


def rendered(words: Phrase | str, translate: Translate) -> str:
    return words if isinstance(words, str) else words.render(translate)


def german(template: str) -> str:
    return template.replace("{name} of unit {number}", "{name} von Teil {number}")


def test_a_name_of_one_sheet_stands_as_it_is() -> None:
    assert said("A") == "A"
    assert said_together("A", "M2") == "A M2"


def test_the_unit_is_said_in_the_language() -> None:
    assert rendered(said(of_unit("P", 2)), german) == "P von Teil 2"
    assert phrase("Ecke {c}", c=said(of_unit("A", 1))).render(german) == "Ecke A von Teil 1"


def test_a_corner_of_a_unit_is_not_one_of_the_sheet_too() -> None:
    assert on_sheet("A", "B").render() == "A and B of the sheet"
    assert on_sheet(of_unit("A", 2)).render() == "A of unit 2"


@pytest.mark.parametrize(
    ("names", "words"),
    [
        (("A", "B"), "AB"),
        ((of_unit("A", 2), of_unit("B", 2)), "AB von Teil 2"),
        ((of_unit("A", 2), of_unit("M2", 2)), "A M2 von Teil 2"),
        ((of_unit("A", 1), of_unit("B", 2)), "A von Teil 1 and B von Teil 2"),
    ],
)
def test_two_ends_of_a_line(names: tuple[str, str], words: str) -> None:
    assert rendered(said_together(*names), german) == words


ASSEMBLED = """sheets 2
sheet square 9 cm, coloured side down

step "Fold the top third to the front."
  mark P at 2/3 of A D
  mark Q at 2/3 of B C
  valley along line P Q, moving D

assemble
step
  place unit 2, A of unit 2 to Q of unit 1 and B of unit 2 to P of unit 1, under D of unit 1
"""


def test_captions_of_units_put_together_hold_no_english() -> None:
    model = folds(ASSEMBLED)
    said = [w.render(german) for step in model.steps for w in step.wording]
    assert said[-1] != captions(model)[-1]
    assert " of unit " not in said[-1]
