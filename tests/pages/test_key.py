"""The key of signs: columns of samples with their names."""

from __future__ import annotations

from foldscript.drawing.scene.scene import Draw, Move, Path, Scene, Text
from foldscript.output.fonts import measure
from foldscript.pages.document import Placed
from foldscript.pages.grid import grid
from foldscript.pages.layout.key import key_parts
from foldscript.pages.sizes import page_size
from foldscript.pages.typesetting import Typesetter

from .fakes import figures, handout_of, model, signs

G = grid(page_size("A4"))


def sample(wide: float) -> Scene:
    return Scene(wide, 12.0, (Path("sign", (Move((0.0, 6.0)), Draw((wide, 6.0)))),), "", "")


def names_and_samples(widths: list[float]) -> tuple[list[Placed], list[Placed]]:
    entries = [(f"sign {k}", sample(wide)) for k, wide in enumerate(widths)]
    (part,) = key_parts(entries, "Signs used", G.width, G, Typesetter(measure, G.leading))
    items = part.block.items
    names = [i for i in items if isinstance(i.content, Text) and i.content.role == "text.key"]
    return names, [i for i in items if isinstance(i.content, Scene)]


def test_names_begin_where_the_samples_of_their_own_column_end() -> None:
    names, samples = names_and_samples([60.0, 60.0, *[20.0] * 6])
    beside = [name.at[0] - one.at[0] for name, one in zip(names, samples, strict=True)]
    assert beside[0] > beside[-1] + 20.0
    for name, one in zip(names, samples, strict=True):
        assert isinstance(one.content, Scene)
        assert name.at[0] > one.at[0] + one.scale * one.content.width


def test_names_of_a_column_stand_below_each_other_whatever_their_samples() -> None:
    names, _ = names_and_samples([60.0, 20.0, *[20.0] * 6])
    first = [name.at[0] for name in names if isinstance(name.content, Text)][:2]
    assert first[0] == first[1]


def test_it_stands_beside_a_finished_model_that_is_alone_in_its_row() -> None:
    """Below it, the columns beside the finished model would stay empty."""
    size = page_size("A4")
    made = figures(6, grid(size).frame)
    (page,) = handout_of(model(6), made, None, signs(8), size, measure).pages
    texts = [(p, p.content) for p in page.items if isinstance(p.content, Text)]
    (head,) = (p for p, text in texts if text.text == "Signs used")
    (last,) = (p for p, text in texts if text.text == "The finished model.")
    assert head.at[0] > grid(size).left + grid(size).column
    assert head.at[1] < last.at[1]
