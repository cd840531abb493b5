"""The key of signs: columns of samples with their names."""

from __future__ import annotations

from itertools import pairwise

import pytest

from foldscript.drawing.scene.scene import Draw, Move, Path, Scene, Text
from foldscript.output.fonts import measure
from foldscript.pages import measures
from foldscript.pages.document import Block, Placed
from foldscript.pages.grid import grid
from foldscript.pages.layout.cells import CellRow
from foldscript.pages.layout.key import key_parts
from foldscript.pages.layout.makeup import PageMakeup, SpacedBlock
from foldscript.pages.layout.pagination import ModelBlocks, paginate
from foldscript.pages.layout.row_places import Figure
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
    names, samples = names_and_samples([60.0, 20.0, *[20.0] * 22])
    columns = {round(name.at[0], 3) for name in names}
    assert 1 < len(columns) < len(names)
    wide, next_to_it = samples[:2]  # both in the first column
    assert names[0].at[0] == names[1].at[0]
    assert isinstance(wide.content, Scene)
    assert isinstance(next_to_it.content, Scene)
    assert wide.content.width > next_to_it.content.width


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


def test_columns_are_as_wide_as_what_stands_in_them() -> None:
    """Short names stand in narrow columns, so that more of them fit side by side than equal ones would."""
    entries = [
        *((f"a name as long as this one {k}", sample(20.0)) for k in range(4)),
        *((f"sign {k}", sample(20.0)) for k in range(8)),
    ]
    (part,) = key_parts(entries, "Signs used", G.width, G, Typesetter(measure, G.leading))
    names = [i for i in part.block.items if isinstance(i.content, Text) and i.content.size == G.key]
    lefts = sorted({round(name.at[0], 3) for name in names})
    steps = [then - here for here, then in pairwise(lefts)]
    assert len(lefts) > 3
    assert max(steps) > 1.3 * min(steps)


def test_the_heading_is_the_first_line_of_the_first_column() -> None:
    """And the lines of all columns are level, its own too."""
    entries = [(f"the name of a sign, number {k}", sample(20.0)) for k in range(30)]
    (part,) = key_parts(entries, "Signs used", G.width, G, Typesetter(measure, G.leading))
    title, *names = (i for i in part.block.items if isinstance(i.content, Text))
    lines = sorted({round(name.at[1], 3) for name in names})
    tops: dict[float, float] = {}
    for name in names:
        left = round(name.at[0], 3)
        tops[left] = min(tops.get(left, name.at[1]), name.at[1])
    assert title.at[1] == pytest.approx(lines[0])
    assert len(tops) > 1
    assert tops[min(tops)] == pytest.approx(lines[1])
    assert all(tops[left] == pytest.approx(lines[0]) for left in tops if left > min(tops))
    steps = [below - above for above, below in pairwise(lines)]
    assert steps == pytest.approx([G.key_pitch] * len(steps), abs=1e-2)


def test_a_high_sample_is_reduced_to_the_lines_of_the_key() -> None:
    high = Scene(30.0, 40.0, (Path("sign", (Move((2.0, 2.0)), Draw((28.0, 38.0)))),), "", "")
    entries = [("low", sample(30.0)), *[("high", high)] * 5]
    (part,) = key_parts(entries, "Signs used", G.column, G, Typesetter(measure, G.leading))
    drawn = [i for i in part.block.items if isinstance(i.content, Scene)]
    pitch = G.key_pitch
    for one in drawn[1:]:
        assert isinstance(one.content, Scene)
        assert one.scale * one.content.height <= pitch + measures.ROUNDING
    assert drawn[1].scale < drawn[0].scale


def test_a_heading_longer_than_the_first_column_is_wide_stands_over_all() -> None:
    entries = [(f"sign {k}", sample(20.0)) for k in range(60)]
    (part,) = key_parts(entries, "Signs " * 8, G.width, G, Typesetter(measure, G.leading))
    texts = [i for i in part.block.items if isinstance(i.content, Text)]
    title, names = texts[0], texts[1:]
    assert min(name.at[1] for name in names) > title.at[1] + G.key


def test_pages_with_a_high_key_beside_the_last_row_are_poorer() -> None:
    """So that sizes are preferred in which it stands across the page."""

    def waste(high: float) -> float:
        beside = SpacedBlock(Block(G.column, high, ()), G.row_gap)
        across = SpacedBlock(Block(G.width, 0.5 * G.height, ()), G.row_gap)
        row = CellRow(
            ((Figure("1", "", sample(20.0)), Block(G.column, 0.3 * G.height, ())),), 0.3 * G.height
        )
        blocks = ModelBlocks(Block(G.width, 0.3 * G.height, ()), (), (row,))
        pages = PageMakeup(G, page_size("A4"))
        paginate(pages, blocks, lambda width: (across if width > G.span(2) else beside,))
        assert len(pages.items) == 1
        return pages.waste

    assert waste(0.9 * G.key_most) == pytest.approx(waste(0.5 * G.key_most))
    assert waste(2.0 * G.key_most) > waste(0.9 * G.key_most) + 0.1
