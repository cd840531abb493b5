"""The measures of a page stand in one place: nothing else holds any, all are read, and each tells."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import fields, replace
from functools import cache
from pathlib import Path

import pytest

from foldscript.output.fonts import measure
from foldscript.pages import measures
from foldscript.pages.document import Document
from foldscript.pages.grid import finished_frame, grid
from foldscript.pages.sizes import page_size

from .bound import WORDS, bound
from .fakes import figures, handout_of, model, scene, signs

PAGES = Path(measures.__file__).parent
#: Measures, and the sizes that paper has by its standards.
DATA = ("measures.py", "sheet_measures.py", "sizes.py")
#: Numbers that count or halve, and say nothing about a page.
COUNTS = (0, 1, 2, 3, 4)

#: Tables of measures by name.
TABLES = {
    name: table
    for name, table in vars(measures).items()
    if name.isupper() and hasattr(table, "__dataclass_fields__")
}


def bare_numbers(source: str) -> Iterator[str]:
    """Numbers in a module that may be measures: every fraction, and what is more than a small count."""
    for node in ast.walk(ast.parse(source)):
        if not isinstance(node, ast.Constant) or type(node.value) not in (int, float):
            continue
        if node.value not in COUNTS or (isinstance(node.value, float) and node.value > 1.0):
            yield f"line {node.lineno}: {node.value}"


@pytest.mark.parametrize(
    "path",
    [path for path in sorted(PAGES.rglob("*.py")) if path.name not in DATA],
    ids=lambda path: path.relative_to(PAGES).as_posix(),
)
def test_no_other_module_holds_a_measure(path: Path) -> None:
    assert not list(bare_numbers(path.read_text(encoding="utf-8")))


def test_a_bare_measure_is_noticed() -> None:
    source = "_GAP = 12\nx = 0.4 * y\nz = 2 * y + 1.0\nf(8.0, last=-1)\n"
    assert [line.partition(":")[0] for line in bare_numbers(source)] == [
        "line 1",
        "line 2",
        "line 4",
    ]


@pytest.mark.parametrize("name", TABLES)
def test_every_measure_is_read(name: str) -> None:
    read = {
        node.attr
        for path in PAGES.rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Attribute)
    }
    assert {one.name for one in fields(TABLES[name])} <= read


@cache
def _width(text: str, size: float, bold: bool) -> float:
    return measure(text, size, bold)


def pages_of_all_sizes() -> list[Document]:
    """Handouts of hand-made figures on usual, small and tiny pages, and a booklet."""
    made: list[Document] = []
    for name, steps in (("A4", 13), ("A5", 7), ("A6", 3)):
        size = page_size(name)
        told = model(steps, notes=("Take thin paper and fold on a table. " * 5,))
        cells = figures(steps, grid(size).frame)
        picture = scene(*finished_frame(size))
        made.append(handout_of(told, cells, picture, signs(12), size, _width))
    bound.cache_clear()
    levels = ("simple", "complex")
    return [
        *made,
        bound(page_size("A5"), (2, 3), 5, words=replace(WORDS, levels=True), levels=levels),
    ]


#: Measures that change these pages: page and type, cells, head, key, foot, cover and contents.
TELLING = {
    "USUAL": "margin folio_height foot gutter frame_height row_gap_most caption_gap "
    "title heading caption key key_lines small number leading",
    "SMALL": "margin gutter row_gap caption key small leading",
    "TINY": "margin frame_most caption leading",
    "TYPE": "ascent descent capital slack bookmark",
    "CELL": "closing_height",
    "HEAD": "picture_width below_title below_credit above_rule notes",
    "KEY": "gutter below_heading beside_sample",
    "FOOT": "rule rule_lift",
    "COVER": "panel subtitle below_title title_foot picture_gap back_picture back_gap",
    "CONTENTS": "heading heading_rule below_heading picture_width below beside_picture beside_leader",
}


@pytest.fixture(scope="module")
def unchanged() -> list[Document]:
    return pages_of_all_sizes()


@pytest.mark.parametrize(
    ("table", "name"),
    [(table, name) for table, names in TELLING.items() for name in names.split()],
)
def test_a_changed_measure_changes_the_page(
    table: str, name: str, unchanged: list[Document], monkeypatch: pytest.MonkeyPatch
) -> None:
    value = getattr(TABLES[table], name)
    other = value + 3 if isinstance(value, int) else 0.8 * value
    monkeypatch.setattr(measures, table, replace(TABLES[table], **{name: other}))
    assert pages_of_all_sizes() != unchanged


def test_a_change_for_small_pages_leaves_the_others_alone(
    unchanged: list[Document], monkeypatch: pytest.MonkeyPatch
) -> None:
    a4, a5, *_ = unchanged
    monkeypatch.setattr(measures, "SMALL", replace(measures.SMALL, caption=9.0, leading=1.3))
    new_a4, new_a5, *_ = pages_of_all_sizes()
    assert new_a4 == a4
    assert new_a5 != a5
