"""The sheets of a booklet, folded on paper: what is printed is folded, nested and leafed through.

Faces of the sheets are found in the PDF itself; the folding below knows nothing of how the order of
the pages was worked out.
"""

from __future__ import annotations

import io
import re
import shutil
import subprocess
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pikepdf
import pytest

from foldscript.drawing.style.styles import load_style
from foldscript.output.imposed import imposed_pdf, printing
from foldscript.output.pdf import document_pdf
from foldscript.output.svg import ground
from foldscript.pages.booklet.imposition import sheet_for
from foldscript.pages.sizes import page_size
from tests.pages.bound import bound

STYLE = load_style("colour")
BLANK = ""
poppler = pytest.mark.skipif(
    any(shutil.which(tool) is None for tool in ("pdftotext", "pdfinfo", "pdftoppm")),
    reason="poppler's tools are not installed",
)


@dataclass(frozen=True)
class Sheet:
    """What is printed on a sheet: left and right half of its front and of its back."""

    front: tuple[str, str]
    back: tuple[str, str]


def folded(sheets: Sequence[Sheet]) -> list[str]:
    """Lays the sheets on each other, folds them, and reads the pages from the first to the last.

    Each sheet lies with its front on the table, the first at the bottom; a sheet turned about an
    upright line shows its back, and what was right on the front now lies left, underneath. Then the
    left halves are folded over onto the right ones: the fold is the spine, at the left.
    """
    left: list[tuple[str, str]] = []  # (face up, face down) of each left half, from the table up
    right: list[tuple[str, str]] = []
    for sheet in sheets:
        left.append((sheet.back[0], sheet.front[1]))
        right.append((sheet.back[1], sheet.front[0]))
    # Folding turns the pile of left halves over: lowest first, and each face the other way round.
    over = [(down, up) for up, down in left]
    leaves = [*over, *reversed(right)]
    return [face for leaf in leaves for face in leaf]


def test_the_folding_itself() -> None:
    """One sheet by hand: 4 | 1 outside, 2 | 3 inside (common practice)."""
    assert folded([Sheet(("4", "1"), ("2", "3"))]) == ["1", "2", "3", "4"]


def corners(pdf: bytes) -> list[list[tuple[str, float]]]:
    """For each side the pages drawn on it, and where the left edge of each lies."""
    found: list[list[tuple[str, float]]] = []
    with pikepdf.open(io.BytesIO(pdf)) as file:
        for page in file.pages:
            text = page.Contents.read_bytes().decode()
            drawn = re.findall(r"1 0 0 1 (\S+) \S+ cm /P(\d+) Do", text)
            found.append([(name, float(x)) for x, name in drawn])
    return found


@pytest.mark.parametrize("creep", [0.0, 0.1, 0.25])
def test_inner_pages_are_moved_to_the_spine(creep: float) -> None:
    """Worked out from the paper: how far each fore edge sticks out, and where the trimmed margin is.

    Sheet k, counted from the outside, lies k thicknesses inside the spine, so its fore edge is k
    thicknesses further out. Trimmed flush with the outermost one it loses k thicknesses there.
    """
    size, thick = page_size("A5"), creep * 72 / 25.4
    pdf = document_pdf(bound(size, (8, 6, 13)), STYLE)
    plain, moved = (
        corners(imposed_pdf(pdf, size, sheet_for(size), ground(STYLE), c)) for c in (0.0, thick)
    )
    middle = sheet_for(size).width / 2
    assert len(moved) == 6
    for side, (before, after) in enumerate(zip(plain, moved, strict=True)):
        sheet = side // 2
        for (name, x), (again, shifted) in zip(before, after, strict=True):
            assert name == again
            left = x < middle - 1
            lost = sheet * thick
            margin = shifted - x if left else x - shifted
            assert margin == pytest.approx(lost, abs=0.002), (
                "the trimmed margin is as on the outermost"
            )


def test_moved_pages_stay_on_their_half_and_leave_no_bare_paper() -> None:
    size, dark = page_size("A5"), load_style("dark")
    pdf = document_pdf(bound(size, (6, 13, 8)), dark)
    made = imposed_pdf(pdf, size, sheet_for(size), ground(dark), 1.0)
    with pikepdf.open(io.BytesIO(made)) as file:
        for page in list(file.pages)[2:]:
            text = page.Contents.read_bytes().decode()
            assert text.count(" re f Q") == 2, "both halves are painted whole"
            assert text.count(" re W n") == text.count(" Do Q")
    words = printing(len(pikepdf.open(io.BytesIO(pdf)).pages), sheet_for(size), 72 / 25.4)
    assert "trim the outer edge: inner pages are moved in by up to" in words
    assert "trim" not in printing(8, sheet_for(size))
    assert "trim" not in printing(4, sheet_for(size), 1.0), "one sheet has nothing inside"


@cache
def made(name: str = "A5", steps: tuple[int, ...] = (6, 13, 8), style: str = "colour") -> bytes:
    """An imposed booklet."""
    size, look = page_size(name), load_style(style)
    pdf = document_pdf(bound(size, steps), look)
    return imposed_pdf(pdf, size, sheet_for(size), ground(look))


def faces(pdf: bytes, width: float) -> list[tuple[str, str]]:
    """Name of the page drawn in the left and right half of every side, '' for a blank one."""
    found: list[tuple[str, str]] = []
    with pikepdf.open(io.BytesIO(pdf)) as file:
        for page in file.pages:
            content = page.Contents.read_bytes().decode("ascii")
            halves = [BLANK, BLANK]
            for x, name in re.findall(r"1 0 0 1 ([\d.]+) [\d.]+ cm (/P\d+) Do", content):
                halves[0 if float(x) < width / 2 - 1 else 1] = name
            found.append((halves[0], halves[1]))
    return found


def sheets_of(faces: Sequence[tuple[str, str]]) -> list[Sheet]:
    return [Sheet(front, back) for front, back in zip(faces[::2], faces[1::2], strict=True)]


@pytest.mark.parametrize("name", ["A4", "A5", "Letter", "half letter"])
@pytest.mark.parametrize("steps", [(1,), (2, 2), (6, 13, 8), (5, 20, 9, 7)])
def test_folded_and_leafed_through(name: str, steps: tuple[int, ...]) -> None:
    size = page_size(name)
    count = len(bound(size, steps).pages)
    pdf = made(name, steps)
    printed = faces(pdf, sheet_for(size).width)
    assert len(printed) % 2 == 0
    book = folded(sheets_of(printed))
    blanks = [i for i, page in enumerate(book) if page == BLANK]
    assert [page for page in book if page != BLANK] == [f"/P{i + 1}" for i in range(count)]
    assert blanks == list(range(count - 1, len(book) - 1))
    assert len(blanks) < 4


def test_twenty_pages_lie_as_a_printer_expects() -> None:
    """Outer sheet 20 | 1, behind it 2 | 19, and so on: the labels say it too."""
    size = page_size("A5")
    counts = {len(bound(size, (3,) * n).pages): n for n in range(1, 20)}
    pdf = made("A5", (3,) * counts[20])
    assert faces(pdf, sheet_for(size).width)[:3] == [
        ("/P20", "/P1"),
        ("/P2", "/P19"),
        ("/P18", "/P3"),
    ]
    with pikepdf.open(io.BytesIO(pdf)) as file:
        assert [page.label for page in file.pages][:3] == ["20 | 1", "2 | 19", "18 | 3"]
        assert len(file.pages) == 10


@pytest.mark.parametrize(
    ("name", "width", "height"), [("A5", 841.89, 595.28), ("Letter", 1224, 792)]
)
def test_sheets_are_the_paper_twice_as_large(name: str, width: float, height: float) -> None:
    """A4 lying on its side (ISO 216); 17 by 11 inches."""
    with pikepdf.open(io.BytesIO(made(name))) as file:
        for page in file.pages:
            box = [float(value) for value in page.mediabox.as_list()]  # pyright: ignore[reportArgumentType]
            assert box == pytest.approx([0, 0, width, height], abs=0.01)


def test_the_file_tells_the_printer() -> None:
    """ISO 32000-1, 12.2: viewer preferences for the print dialogue."""
    with pikepdf.open(io.BytesIO(made())) as file:
        wishes = file.Root.ViewerPreferences
        assert str(wishes.Duplex) == "/DuplexFlipShortEdge"
        assert str(wishes.PrintScaling) == "/None"
        assert str(file.Root.Lang) == "en"
        assert str(file.docinfo["/Title"]) == "Paper on the Quay"
        words = str(file.docinfo["/Keywords"])
    sheets = len(faces(made(), sheet_for(page_size("A5")).width)) // 2
    assert words.startswith(f"{sheets} sheets of A4: print on both sides")
    assert "short edge" in words
    assert printing(4, sheet_for(page_size("A5"))).startswith("1 sheet of A4:")


def test_fonts_stay_few() -> None:
    """However many pages, each font is in the file once."""
    with pikepdf.open(io.BytesIO(made(steps=(6,) * 8))) as file:
        fonts = {
            font.objgen
            for page in file.pages
            for form in page.Resources.XObject.values()
            for font in form.Resources.get("/Font", {}).values()
        }
    assert 1 <= len(fonts) <= 4


def test_same_bytes() -> None:
    made.cache_clear()
    first = made()
    made.cache_clear()
    assert made() == first


def test_blank_pages_of_a_dark_booklet_are_dark() -> None:
    size = page_size("A5")
    steps = next(
        s for s in ((2,), (2, 2), (3, 3, 3), (4, 4, 4, 4)) if len(bound(size, s).pages) % 4
    )
    with pikepdf.open(io.BytesIO(made("A5", steps, "dark"))) as file:
        contents = b"".join(page.Contents.read_bytes() for page in file.pages)
    assert b"0.059 0.078 0.090 rg" in contents


@poppler
@pytest.mark.parametrize("name", ["A4", "A5", "Letter", "half letter"])
def test_printed_numbers_run_on_when_the_sheets_are_folded(tmp_path: Path, name: str) -> None:
    """As above, but by what a reader sees: the number at the foot of every half."""
    path = tmp_path / "sheets.pdf"
    path.write_bytes(made(name))
    sheet = sheet_for(page_size(name))
    half = round(sheet.width / 2)
    count = len(bound(page_size(name)).pages)
    printed: list[tuple[str, str]] = []
    with pikepdf.open(path) as file:
        sides = len(file.pages)
    for side in range(1, sides + 1):
        seen = []
        for x in (0, half):
            area = ["-x", x, "-y", round(sheet.height) - 40, "-W", half, "-H", 40]
            text = said("pdftotext", "-f", side, "-l", side, *area, path, "-")
            seen.append(" ".join(re.findall(r"\d+", re.sub(r"Model \d+", "", text))))
        printed.append((seen[0], seen[1]))
    book = folded(sheets_of(printed))
    numbers = [str(i) if 1 < i < count else "" for i in range(1, len(book) + 1)]
    assert book == numbers


@poppler
@pytest.mark.parametrize("style", ["colour", "large", "dark"])
def test_poppler_has_nothing_to_say(tmp_path: Path, style: str) -> None:
    size, look = page_size("A5"), load_style(style)
    plain = document_pdf(bound(size), look)
    for name, pdf in (("plain", plain), ("sheets", made("A5", style=style))):
        path = tmp_path / f"{name}.pdf"
        path.write_bytes(pdf)
        said("pdfinfo", "-dests", path)
        said("pdftoppm", "-r", 20, "-png", path, tmp_path / name)
    assert list(tmp_path.glob("sheets-*.png"))


def said(*command: object) -> str:
    """Standard output of a tool that ends well and warns of nothing."""
    run = subprocess.run([str(word) for word in command], capture_output=True, check=True)
    assert run.stderr == b""
    return run.stdout.decode("utf-8")


def test_marks_tell_where_to_fold_and_staple_on_the_outside_alone() -> None:
    """On the fold, at half the width (A4 lying: 420.94 points); staples at a quarter from either end."""
    page = page_size("A5")
    sheet = sheet_for(page)
    pdf = document_pdf(bound(page), STYLE)
    with pikepdf.open(io.BytesIO(imposed_pdf(pdf, page, sheet, ground(STYLE)))) as file:
        first, *others = [one.Contents.read_bytes().decode("ascii") for one in file.pages]
    strokes = re.findall(r"([\d.]+) ([\d.]+) m ([\d.]+) ([\d.]+) l", first)
    lines = {tuple(float(v) for v in stroke) for stroke in strokes}
    assert {x for x, _, _, _ in lines} | {x for _, _, x, _ in lines} == {420.945}
    middles = sorted((low + high) / 2 / sheet.height for _, low, _, high in lines)
    assert middles == pytest.approx([0.0095, 0.25, 0.75, 0.9905], abs=1e-3)
    assert not any(re.search(r" m .* l ", content) for content in others)
