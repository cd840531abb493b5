"""The key: every sign that can be drawn has a name and a sample that shows it."""

from __future__ import annotations

import pytest

from foldscript.drawing.scene.outlines import item_box, polyline, union_box
from foldscript.drawing.scene.scene import Path, Scene
from foldscript.drawing.signs import key
from foldscript.drawing.style.styles import load_style

from .seen import items_of

STYLE = load_style("colour")


def test_names_are_different_and_say_something() -> None:
    names = [name for name, _ in key.legend(key.sign_keys(), STYLE)]
    assert len(set(names)) == len(names) == len(key.sign_keys())
    assert all(name[0].isupper() and len(name) > 3 for name in names)


@pytest.mark.parametrize("sign", key.sign_keys())
def test_a_sample_fits_its_place(sign: str) -> None:
    ((_, scene),) = key.legend([sign], STYLE)
    box = union_box(item_box(i) for i in scene.items)
    assert box is not None
    assert box[0] > -0.5
    assert box[1] > -0.5
    assert box[2] < scene.width + 0.5
    assert box[3] < scene.height + 0.5
    assert abs((box[0] + box[2]) / 2 - scene.width / 2) < scene.width / 4


def test_a_sample_is_the_sign_of_the_page() -> None:
    ((_, scene),) = key.legend(["fold.mountain"], STYLE)
    assert items_of(scene, "fold.mountain")
    ((_, scene),) = key.legend(["arrow.mountain"], STYLE)
    assert items_of(scene, "arrow.hidden")


def test_only_what_was_used_in_a_settled_order() -> None:
    few = key.legend(["turn-over", "fold.valley", "no such sign"], STYLE)
    assert [s.signs for _, s in few] == [{"fold.valley"}, {"turn-over"}]


def test_a_side_that_shows_as_a_hairline_is_not_to_be_found() -> None:
    def paper(role: str, wide: float) -> Path:
        return Path(role, polyline(((0, 0), (wide, 0), (wide, 80), (0, 80)), closed=True))

    def found(wide: float) -> frozenset[str]:
        items = (paper("paper.coloured.green", 60.0), paper("paper.plain", wide))
        signs = frozenset({"paper.coloured", "paper.plain", "fold.valley"})
        return key.shown(Scene(90.0, 90.0, items, signs=signs))

    assert found(1.5) == {"paper.coloured", "fold.valley"}
    assert found(4.0) == {"paper.coloured", "paper.plain", "fold.valley"}


def test_samples_show_the_colours_of_the_paper() -> None:
    signs = ["paper.coloured", "paper.plain", "arrow.mountain"]
    green = [scene for _, scene in key.legend(signs, STYLE, colours=("green", "white"))]
    assert items_of(green[0], "paper.coloured.green")
    assert items_of(green[1], "paper.plain.white")
    assert items_of(green[2], "paper.coloured.green")
    assert STYLE.ink("paper.coloured.green") != STYLE.ink("paper.coloured")
    plain = [scene for _, scene in key.legend(signs, STYLE)]
    assert {i.role for i in items_of(plain[0], "paper")} == {"paper.coloured"}
