"""Moves of one step that differ only in what they move."""

from __future__ import annotations

from foldscript.captions.pairs import combined
from foldscript.languages.wording import Phrase, briefly, phrase
from foldscript.moves.planning import called
from foldscript.moves.planning.called import Kind, all_of, corner, edge, seen

from ..scripts import folded


def fold(what: Phrase, where: str = "O", template: str = "Fold {what} to {where}.") -> Phrase:
    return phrase(template, what=what, where=where)


def told(*phrases: Phrase) -> list[str]:
    return [p.render() for p in combined(phrases)]


def test_left_and_right() -> None:
    left, right = seen(Kind.CORNER, ("left",)), seen(Kind.CORNER, ("right",))
    assert told(fold(left), fold(right)) == ["Fold the left and right corners to O."]
    assert told(fold(right), fold(left)) == ["Fold the left and right corners to O."]


def test_named_ones_however_many() -> None:
    corners = [fold(corner(n)) for n in "ABCD"]
    assert told(*corners) == ["Fold corners A, B, C and D to O."]


def test_what_differs_otherwise_stays_apart() -> None:
    assert len(told(fold(corner("A")), fold(corner("B"), "P"))) == 2
    assert len(told(fold(corner("A")), fold(seen(Kind.CORNER, ("left",))))) == 2
    assert len(told(fold(corner("A")), fold(corner("B"), template="Tuck {what} {where}."))) == 2


def test_only_runs_come_together() -> None:
    a, b, c = fold(corner("A")), fold(corner("B"), "P"), fold(corner("C"))
    assert len(told(a, b, c)) == 3
    assert told(a, c, b) == ["Fold corners A and C to O.", "Fold corner B to P."]


def test_a_sentence_that_explains_a_term_stays_alone() -> None:
    a, b = (briefly(fold(corner(n)), Phrase("Fold again.")) for n in "AB")
    assert len(told(a, b)) == 2


def test_lists_of_unlike_things() -> None:
    assert all_of([corner("A"), seen(Kind.EDGE, ("top",))]).render() == "corner A and the top edge"
    assert all_of([corner("A"), edge("BC")]).render() == "corner A and edge BC"


def test_what_the_eye_tells() -> None:
    """Two that have a word in common; the words themselves decide nothing."""
    diagonals = [seen(Kind.DIAGONAL, ("bottom", "left")), seen(Kind.DIAGONAL, ("top", "left"))]
    assert all_of(diagonals).render() == "both diagonal creases"
    edges = [seen(Kind.EDGE, ("top", side)) for side in ("left", "right")]
    assert all_of(edges).render() == "both upper edges"
    assert all_of([edges[0], edges[0]]).render() == "the top left edge and the top left edge"
    assert called.together([Phrase("the left corner"), Phrase("the right corner")]) is None


def of_step(*moves: str, sheet: str = "sheet square 100 mm, corner A at the bottom\n") -> list[str]:
    model = folded(*moves, sheet=sheet)
    return [words.render() for words in combined(model.steps[-1].wording)]


def test_four_corners_whichever_way_each_goes() -> None:
    """Alone, the bottom corner goes up and the top one down."""
    seen = "; ".join(f"valley {way} corner to centre" for way in ("bottom", "right", "top", "left"))
    assert of_step(seen) == ["Fold all four corners over to the centre."]
    named = "; ".join(f"valley {corner} to centre" for corner in "ADCB")
    assert of_step(named) == ["Fold corners A, B, C and D over to the centre."]


def test_corners_and_edges_that_do_the_same_are_called_alike() -> None:
    marks = "mark M where h meets edge A D; mark N where h meets edge B C"
    half = f"crease bottom edge onto top edge as h; {marks}"
    corners = "valley A onto h, through M; valley B onto h, through N"
    moves = f"{corners}; valley line M D onto h; valley line N C onto h"
    sheet = "sheet rectangle 200 mm by 100 mm\n"
    assert of_step(half, moves, sheet=sheet) == [
        "Fold corners A, B, C and D over to the horizontal crease."
    ]
    # two that say through which point they run keep saying so
    assert len(of_step(half, corners, sheet=sheet)) == 2
