"""Moves of one step that differ only in what they move."""

from __future__ import annotations

from foldscript.captions.pairs import combined
from foldscript.languages.wording import Phrase, briefly, phrase
from foldscript.moves.planning.several import all_of


def fold(what: Phrase, where: str = "O", template: str = "Fold {what} to {where}.") -> Phrase:
    return phrase(template, what=what, where=where)


def corner(name: str) -> Phrase:
    return phrase("corner {name}", name=name)


def told(*phrases: Phrase) -> list[str]:
    return [p.render() for p in combined(phrases)]


def test_left_and_right() -> None:
    left, right = Phrase("the left corner"), Phrase("the right corner")
    assert told(fold(left), fold(right)) == ["Fold the left and right corners to O."]
    assert told(fold(right), fold(left)) == ["Fold the left and right corners to O."]


def test_named_ones_however_many() -> None:
    corners = [fold(corner(n)) for n in "ABCD"]
    assert told(*corners) == ["Fold corners A, B, C and D to O."]


def test_what_differs_otherwise_stays_apart() -> None:
    assert len(told(fold(corner("A")), fold(corner("B"), "P"))) == 2
    assert len(told(fold(corner("A")), fold(Phrase("the left corner")))) == 2
    assert len(told(fold(corner("A")), fold(corner("B"), template="Tuck {what} {where}."))) == 2


def test_only_runs_come_together() -> None:
    a, b, c = fold(corner("A")), fold(corner("B"), "P"), fold(corner("C"))
    assert len(told(a, b, c)) == 3
    assert told(a, c, b) == ["Fold corners A and C to O.", "Fold corner B to P."]


def test_a_sentence_that_explains_a_term_stays_alone() -> None:
    a, b = (briefly(fold(corner(n)), Phrase("Fold again.")) for n in "AB")
    assert len(told(a, b)) == 2


def test_lists_of_unlike_things() -> None:
    assert all_of([corner("A"), Phrase("the top edge")]).render() == "corner A and the top edge"
    diagonals = [
        Phrase("the diagonal crease from the bottom left to the top right"),
        Phrase("the diagonal crease from the top left to the bottom right"),
    ]
    assert all_of(diagonals).render() == "both diagonal creases"
