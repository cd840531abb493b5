"""Practice sheets: true size, tiles that overlap, marks that meet, a ruler to check by."""

from __future__ import annotations

import itertools
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

import pytest

from foldscript.building.script import Script
from foldscript.drawing.scene.outlines import box_of
from foldscript.drawing.scene.scene import Path as Stroke
from foldscript.drawing.scene.scene import Text
from foldscript.drawing.sheet.true_sheet import TrueSheet, lines_of_steps
from foldscript.folding.steps import Model
from foldscript.geometry.lines import distance
from foldscript.output.fonts import measure
from foldscript.pages.document import Document, Page
from foldscript.pages.sheets.practice import practice, tiles
from foldscript.pages.sheets.true_size import clipped, ruler, step_numbers
from foldscript.pages.sizes import POINTS_PER_MM, page_size
from foldscript.paper.creases import Kind
from foldscript.source.diagnostics import FoldscriptError

MM = POINTS_PER_MM


def model(tmp_path: Path, sheet: str) -> Model:
    path = tmp_path / "made.foldscript"
    path.write_text(
        f"sheet {sheet}\nstep\n  crease left edge onto right edge as k\n"
        "step\n  crease bottom edge onto top edge\n",
        "utf-8",
    )
    return Script(path).model


def laid(tmp_path: Path, sheet: str, page: str = "A4") -> tuple[Document, TrueSheet]:
    made = model(tmp_path, sheet)
    lines = lines_of_steps(made, 1, 2)
    return practice(made, lines, (1, 2), page_size(page), measure), lines


def strokes(page: Page, role: str) -> list[Stroke]:
    return [
        i.content for i in page.items if isinstance(i.content, Stroke) and i.content.role == role
    ]


def texts(pages: Iterable[Page]) -> str:
    return " ".join(i.content.text for p in pages for i in p.items if isinstance(i.content, Text))


def test_the_ruler_is_fifty_millimetres_long() -> None:
    block = ruler()
    assert block.width == pytest.approx(50 / 25.4 * 72)
    ticks = [i for i in block.items if isinstance(i.content, Stroke)][1:]
    assert len(ticks) == 6


@pytest.mark.parametrize("page", ["A4", "Letter", "A5"])
def test_a_sheet_that_fits_stands_on_one_page_at_true_size(tmp_path: Path, page: str) -> None:
    document, lines = laid(tmp_path, "square 12 cm", page)
    (only,) = document.pages
    boxes = [box_of(s.segments) for s in strokes(only, "edge.raw")]
    left, right = min(b[0] for b in boxes if b), max(b[2] for b in boxes if b)
    assert right - left == pytest.approx(120 * MM)
    assert lines.width == pytest.approx(120 * MM)
    assert "Print at 100 % (actual size): the ruler must be 50 mm long." in texts([only])
    assert "steps 1 to 2" in document.title


def test_a_square_as_wide_as_the_page_shares_its_edges(tmp_path: Path) -> None:
    """A4 gives a square of 210 mm (common practice): one cut and no margin."""
    document, _ = laid(tmp_path, "square 21 cm")
    (only,) = document.pages
    boxes = [b for s in strokes(only, "edge.raw") if (b := box_of(s.segments))]
    assert [b[3] for b in boxes] == [pytest.approx(210 * MM)]
    assert "cut along the other lines" in texts([only])


def test_the_page_itself_can_be_the_sheet(tmp_path: Path) -> None:
    document, _ = laid(tmp_path, "A4 landscape")
    (only,) = document.pages
    assert only.size.width > only.size.height
    assert strokes(only, "edge.raw") == []
    assert "The page itself is the sheet" in texts([only])


@pytest.mark.parametrize(("sheet", "count"), [("square 25 cm", 2), ("square 50 cm", 9)])
def test_larger_sheets_take_several_pages(tmp_path: Path, sheet: str, count: int) -> None:
    document, _ = laid(tmp_path, sheet)
    assert len(document.pages) <= count
    assert [page.label for page in document.pages] == [
        str(k) for k in range(1, len(document.pages) + 1)
    ]
    assert f"page 1 of {len(document.pages)}" in texts(document.pages)
    assert "page 2 from here" in texts(document.pages[:1])


def test_tiles_cover_the_sheet_and_overlap_by_ten_millimetres(tmp_path: Path) -> None:
    lines = lines_of_steps(model(tmp_path, "rectangle 50 cm by 30 cm"), 1, 2)
    found = tiles(lines, 190 * MM, 240 * MM)
    assert len(found) == 6
    rows = [t for t in found if t.row == 0]
    assert rows[0].window[0] == pytest.approx(0)
    assert rows[-1].window[2] == pytest.approx(lines.width)
    for here, after in itertools.pairwise(rows):
        assert here.window[2] - after.window[0] == pytest.approx(10 * MM)
    assert all(t.window[2] - t.window[0] <= 190 * MM + 1e-6 for t in found)


def test_lines_on_the_tiles_add_up_to_the_lines_of_the_sheet(tmp_path: Path) -> None:
    """Cut at the middle of each overlap, the pieces are as long as the whole."""
    lines = lines_of_steps(model(tmp_path, "square 50 cm"), 1, 2)
    found = tiles(lines, 190 * MM, 240 * MM)
    total = 0.0
    for tile in found:
        left, top, right, low = tile.window
        own = (
            left + (5 * MM if tile.column else 0),
            top + (5 * MM if tile.row else 0),
            right - (5 * MM if right < lines.width - 1 else 0),
            low - (5 * MM if low < lines.height - 1 else 0),
        )
        parts = [clipped(line.segment, own) for line in lines.lines]
        total += sum(distance(*part) for part in parts if part)
    assert total == pytest.approx(sum(distance(*line.segment) for line in lines.lines))


def test_register_marks_are_the_same_spots_on_both_pages(tmp_path: Path) -> None:
    """In the sheet's coordinates, every mark of a seam is on the page before it and after it."""
    document, lines = laid(tmp_path, "rectangle 15 cm by 40 cm")
    assert len(document.pages) == 2
    spots: list[set[tuple[float, float]]] = []
    tops = [0.0, (lines.height - 10 * MM) / 2]
    for page, top in zip(document.pages, tops, strict=True):
        margin = min(i.at[0] for i in page.items if i.at[0] > 0)
        rings = [
            (i.at, b)
            for i in page.items
            if isinstance(i.content, Stroke)
            and i.content.role == "page.rule"
            and (b := box_of(i.content.segments))
            and abs(b[2] - b[0] - 9.0) < 1e-6
            and abs(b[3] - b[1] - 9.0) < 1e-6
        ]
        assert len(rings) == 2
        spots.append(
            {
                (
                    round((b[0] + b[2]) / 2 + at[0] - margin, 2),
                    round((b[1] + b[3]) / 2 + at[1] - margin + top, 2),
                )
                for at, b in rings
            }
        )
    assert spots[0] == spots[1]


def test_a_sheet_as_large_as_a_wall_is_refused(tmp_path: Path) -> None:
    with pytest.raises(FoldscriptError) as caught:
        laid(tmp_path, "square 400 cm")
    assert caught.value.diagnostics[0].code == "too-many-pages"


def test_every_line_has_the_number_of_its_step(tmp_path: Path) -> None:
    _, lines = laid(tmp_path, "square 15 cm")
    assert [text.text for _, text in step_numbers(lines, 9.0)] == ["1", "2"]
    bare = replace(lines, lines=tuple(replace(line, step=0) for line in lines.lines))
    assert step_numbers(bare, 9.0) == []
    assert {line.kind for line in lines.lines} == {Kind.VALLEY}


#: Creases along both diagonals and both middles, from every corner: no place near them is free of itself.
MANY = """\
step
  crease bottom left corner to top right corner as k
step
  crease bottom right corner to top left corner as m
step
  crease left edge onto right edge as n
step
  crease bottom edge onto top edge as o
step
  valley bottom edge onto o
step
  valley left edge onto n
"""


def practised(tmp_path: Path, sheet: str, page: str = "A4") -> Page:
    path = tmp_path / "many.foldscript"
    path.write_text(f"sheet {sheet}\n{MANY}", "utf-8")
    made = Script(path).model
    (only,) = practice(made, lines_of_steps(made, 1, 6), (1, 6), page_size(page), measure).pages
    return only


@pytest.mark.parametrize("sheet", ["square 15 cm", "square 9 cm", "rectangle 18 by 12 cm"])
def test_no_line_runs_through_a_letter(tmp_path: Path, sheet: str) -> None:
    page = practised(tmp_path, sheet)
    letters = [
        i.content
        for i in page.items
        if isinstance(i.content, Text) and i.content.role == "text.soft"
    ]
    assert {"A", "B", "C", "D", "1", "2", "3", "4", "5", "6"} <= {t.text for t in letters}
    roles = ("fold.valley", "fold.mountain", "crease", "edge.raw")
    lines = [(s.segments[0].to, s.segments[1].to) for r in roles for s in strokes(page, r)]  # pyright: ignore
    for text in letters:
        wide, high = measure(text.text, text.size, False), 0.7 * text.size
        x, y = text.at
        box = (x - wide / 2, y - high, x + wide / 2, y)
        assert not [line for line in lines if clipped(line, box)], text


def test_a_sheet_lies_as_in_the_first_step_where_it_fits(tmp_path: Path) -> None:
    """The diagonal of 10 cm is 141.4 mm and fits A4; that of 15 cm is 212.1 mm and does not."""
    for side, fits in ((10, True), (15, False)):
        path = tmp_path / "diamond.foldscript"
        path.write_text(
            f"sheet square {side} cm, corner A at the bottom\nstep\n"
            "  crease bottom corner to top corner\nstep\n  crease left corner to right corner\n",
            "utf-8",
        )
        made = Script(path).model
        (page,) = practice(made, lines_of_steps(made, 1, 2), (1, 2), page_size("A4"), measure).pages
        box = box_of([p for s in strokes(page, "edge.raw") for p in s.segments])
        assert box is not None
        wide = side * 10 * (2**0.5 if fits else 1)
        assert (box[2] - box[0]) / MM == pytest.approx(wide, abs=0.1)
        lowest = max(
            (i.at[1] + i.content.at[1], i.content.text)
            for i in page.items
            if isinstance(i.content, Text) and i.content.text in ("A", "B", "C", "D")
        )
        assert lowest[1] == "A" or not fits
        assert "Corner A at the bottom." in texts([page])
