"""Paper and drawings are the same when a reader would see the same."""

from __future__ import annotations

from dataclasses import replace

import pytest

from foldscript.changes.prints import drawing_print, paper_prints
from foldscript.drawing.draw import draw
from foldscript.drawing.scene.outlines import shifted
from foldscript.drawing.scene.scene import Text
from foldscript.drawing.style.styles import load_style
from foldscript.folding.fold import fold
from foldscript.folding.steps import Model
from foldscript.moves.registry import verbs
from foldscript.source.diagnostics import Source
from foldscript.syntax.parser import parse

from .made import CARD, FOUR, HEAD, TWO

CREASES = (
    "  crease left edge onto right edge\n",
    "  crease bottom edge onto top edge\n",
    "  crease A to C\n",
    "  crease B to D\n",
)


def model(text: str) -> Model:
    return fold(parse(Source("card.foldscript", text), verbs()))


def last(body: str) -> object:
    return paper_prints(model(HEAD + "step\n" + body))[-1]


def test_one_for_the_sheet_and_one_for_each_step() -> None:
    prints = paper_prints(model(CARD))
    assert len(prints) == 5
    assert prints[0] != prints[1] != prints[2]


def test_the_order_of_creasing_does_not_matter() -> None:
    first = last("".join(CREASES))
    for k in range(1, 4):
        assert last("".join(CREASES[k:] + CREASES[:k])) == first
    assert last("".join(CREASES[:3])) != first


def test_twice_turned_over_it_lies_as_before() -> None:
    moved = "  valley bottom edge onto top edge\n"
    assert last(moved + "  turn over\n  turn over\n") == last(moved)
    assert last(moved + "  turn over\n") != last(moved)


def test_what_lies_above_matters() -> None:
    assert last("  valley bottom edge onto top edge\n") != last(
        "  mountain bottom edge onto top edge\n"
    )


def test_the_size_of_the_sheet_matters() -> None:
    assert paper_prints(model(CARD))[2] != paper_prints(model(CARD.replace("15", "16")))[2]


@pytest.mark.parametrize("by", [(3.0, 0.0), (-1.37, 2.111), (1e-9, 1e-9)])
def test_a_drawing_elsewhere_in_its_frame_is_the_same(by: tuple[float, float]) -> None:
    (one, *_), other = (draw(model(HEAD + b), load_style(), (160, 160)) for b in (TWO, FOUR))
    scene = one.scene
    moved = replace(scene, items=tuple(shifted(item, *by) for item in scene.items), title="x")
    assert drawing_print(moved) == drawing_print(scene)
    assert drawing_print(other[0].scene) != drawing_print(scene)


def test_a_letter_or_a_look_makes_another_drawing() -> None:
    scene = draw(model(HEAD + TWO), load_style(), (160, 160))[0].scene
    first = scene.items[0]
    assert not isinstance(first, Text)
    other = replace(scene, items=(replace(first, role="edge.raw"), *scene.items[1:]))
    assert drawing_print(other) != drawing_print(scene)
    lettered = replace(scene, items=(*scene.items, Text("label", (80.0, 80.0), "A", 9.0)))
    assert drawing_print(lettered) != drawing_print(scene)
