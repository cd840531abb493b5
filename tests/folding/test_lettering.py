"""Which points a figure letters: those that its caption speaks of."""

from __future__ import annotations

import pytest

from foldscript.folding.lettering import is_letter, mentioned
from foldscript.folding.steps import Model
from foldscript.geometry.tolerance import same_point

from ..scripts import SQUARE, folds


def model(body: str) -> Model:
    return folds(SQUARE + body)


@pytest.mark.parametrize(
    ("caption", "names"),
    [
        ("Fold along the line from P to Q.", ("P", "Q")),
        ("A roof of two flaps lies in front.", ()),
        ("Fold down. A second flap lies below; hold A.", ("A",)),
        ("Bring A, then P2, to A again.", ("A", "P2")),
        ("Fold the DVD sleeve, the T-shirt and B's collar.", ()),
        ("Llevad B a la esquina C.", ("B", "C")),
        ("C and D come to lie together.", ("C", "D")),
    ],
)
def test_letters_in_a_caption(caption: str, names: tuple[str, ...]) -> None:
    assert mentioned(caption) == names


def test_a_letter_is_a_capital_with_at_most_a_digit() -> None:
    assert [n for n in ("P", "P2", "PQ", "left", "P22", "p") if is_letter(n)] == ["P", "P2"]


def test_a_caption_of_its_own_tells_what_is_lettered() -> None:
    """The move names A and C; the caption speaks of C and of the centre, O, which it does not name."""
    body = 'step\n  mark O at centre\n\nstep "Fold the near corner over O to C."\n  valley A to C\n'
    (panel,) = model(body).steps[1].panels
    assert [name for name, _ in panel.labels] == ["A", "C"]
    assert [name for name, _ in panel.letters] == ["C", "O"]
    assert same_point(dict(panel.letters)["O"], (0.5, 0.5))


def test_without_a_caption_of_its_own_the_moves_tell_it() -> None:
    (panel,) = model("step\n  valley A to C\n").steps[0].panels
    assert [name for name, _ in panel.letters] == ["A", "C"]


def test_a_caption_in_another_language_counts_too() -> None:
    body = 'step "Fold the corner up."\n  caption es "Lleva A a C."\n  valley A to C\n'
    (panel,) = model(body).steps[0].panels
    assert [name for name, _ in panel.letters] == ["A", "C"]


def test_letters_that_name_no_point_are_words() -> None:
    (panel,) = model('step "Fold plan B: to C."\n  valley A to C\n').steps[0].panels
    assert [name for name, _ in panel.letters] == ["C", "B"]  # B is a corner of the sheet
    (panel,) = model('step "Fold plan X: to C."\n  valley A to C\n').steps[0].panels
    assert [name for name, _ in panel.letters] == ["C"]
