"""Said is done: what a move claims is checked on the paper after it, apart from how it was planned."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import pytest

from foldscript.folding.fold import fold
from foldscript.folding.performing import perform
from foldscript.folding.performing.proving import ClaimBroken, prove
from foldscript.geometry.isometries import IDENTITY, reflection, rotation
from foldscript.geometry.lines import line_through
from foldscript.moves.planning.claims import (
    Carried,
    Claim,
    Folds,
    Lands,
    LiesAs,
    Moves,
    NothingMoves,
    OnlyBeyond,
    Onto,
    Reaches,
    Stays,
    Thickest,
    Together,
)
from foldscript.moves.registry import moves, verbs
from foldscript.paper.state import State
from foldscript.source.diagnostics import Source
from foldscript.syntax.parser import parse

from ..grammar.test_reference import EXAMPLES
from ..scripts import folded

A, B, C, D = (0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)
#: The diagonal with A on its left, and the sheet's left edge.
BD, AD = line_through(B, D), line_through(A, D)
FLAT, TRIANGLE = (folded("mark M at centre").finished, folded("valley A to C").finished)
BOOK = folded("valley A to C", "valley D to B").finished


@pytest.mark.parametrize(
    ("claim", "false"),
    [
        (Lands((A,), C), Lands((A,), (1.0, 0.999))),
        (Lands((B, A), C), Lands((B, D), C)),
        (Reaches((A,), line_through(B, C)), Reaches((A,), AD)),
        (Onto(((A, B),), line_through(B, C)), Onto(((A, B),), AD)),
        (Onto(((A, B), (C, D)), line_through(B, C)), Onto(((C, D),), line_through(C, D))),
        (Together((A,), (C,)), Together((A,), (D,))),
        (Moves((A,)), Moves((C,))),
        (Stays((B, C, D)), Stays((A, B))),
        (Folds(((B, D),)), Folds(((A, C),))),
        (OnlyBeyond((BD,), mirrored=True), OnlyBeyond((line_through(D, B),), mirrored=True)),
        (OnlyBeyond((BD,)), OnlyBeyond((AD,))),
        (Thickest(1), Thickest(2)),
        (LiesAs(TRIANGLE, IDENTITY), LiesAs(FLAT, IDENTITY)),
    ],
)
def test_of_a_fold(claim: Claim, false: Claim) -> None:
    """The corner A folded to C: each claim, and one that this paper does not show."""
    prove("valley", FLAT, TRIANGLE, [claim])
    with pytest.raises(ClaimBroken, match="'valley' has not done what it says"):
        prove("valley", FLAT, TRIANGLE, [false])


def test_of_paper_that_lies_as_it_lay() -> None:
    prove("crease", TRIANGLE, TRIANGLE, [NothingMoves()])
    for claim in (NothingMoves(), Carried(IDENTITY)):
        with pytest.raises(ClaimBroken):
            prove("crease", FLAT, TRIANGLE, [claim])


def test_of_the_whole_paper() -> None:
    half, over = rotation(1.0, C), reflection(AD)
    for motion, other in ((half, over), (over, half)):
        prove("rotate", TRIANGLE, TRIANGLE.moved(motion), [Carried(motion)])
        prove("unfold", FLAT, TRIANGLE.moved(motion), [LiesAs(TRIANGLE, motion)])
        with pytest.raises(ClaimBroken):
            prove("rotate", TRIANGLE, TRIANGLE.moved(motion), [Carried(other)])


def test_layers_are_counted_where_they_are_most() -> None:
    prove("valley", TRIANGLE, BOOK, [Thickest(2)])
    for wrong in (1, 3):
        with pytest.raises(ClaimBroken):
            prove("valley", TRIANGLE, BOOK, [Thickest(wrong)])


def test_a_mirror_image_alone_may_be_claimed() -> None:
    """Turned instead of mirrored, the paper lay beyond the line all the same."""
    below = line_through((0.0, -1.0), (1.0, -1.0))
    turned = FLAT.moved(rotation(0.1, B))
    prove("rotate", FLAT, turned, [OnlyBeyond((below,))])
    with pytest.raises(ClaimBroken):
        prove("rotate", FLAT, turned, [OnlyBeyond((below,), mirrored=True)])


def test_what_does_not_show_its_claim_is_never_drawn(monkeypatch: pytest.MonkeyPatch) -> None:
    """A plan that goes wrong ends as a fault of foldscript's, not as a figure."""
    real = prove

    def elsewhere(verb: str, before: State, after: State, claims: Iterable[Claim]) -> None:
        real(verb, before, before if verb == "valley" else after, claims)

    monkeypatch.setattr(perform, "prove", elsewhere)
    with pytest.raises(ClaimBroken, match="valley"):
        folded("valley A to C")


def test_every_move_says_what_can_be_checked(monkeypatch: pytest.MonkeyPatch) -> None:
    """All moves of the language's page, of a boat and of a helmet: none goes without a claim."""
    silent: set[str] = set()
    seen: set[str] = set()

    def noted(verb: str, before: State, after: State, claims: tuple[Claim, ...]) -> None:
        seen.add(verb)
        silent.update(() if claims else (verb,))

    monkeypatch.setattr(perform, "prove", noted)
    boat = Path("samples/hat-to-boat.foldscript").read_text(encoding="utf-8")
    helmet = Path("samples/helmet.foldscript").read_text(encoding="utf-8")  # opens at its edge
    helmet += "\nstep\n  spread top corner by 4 cm\n"
    star = Path("samples/star-box.foldscript").read_text(
        encoding="utf-8"
    )  # its floor is pressed flat
    for text in (*EXAMPLES, boat, helmet, star):
        fold(parse(Source("example.foldscript", text), verbs()))
    assert not silent
    assert seen >= set(moves()) - {
        "inflate",
        "blow into",
        "squeeze",
    }  # rows of one table (pointing)
