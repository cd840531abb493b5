"""The PDF as a reader's program sees it: size, fonts, text, outline, and the same bytes each time."""

from __future__ import annotations

import io
import re
import shutil
import subprocess
import sys
from pathlib import Path

import cairocffi
import pikepdf
import pytest

from foldscript.drawing.style.styles import load_style
from foldscript.output import cairo
from foldscript.output.fonts import fonts_of, measure
from foldscript.output.pdf import document_pdf
from foldscript.pages.document import Document
from foldscript.pages.grid import finished_frame, grid
from foldscript.pages.sizes import page_size
from foldscript.source.diagnostics import FoldscriptError
from tests.pages.fakes import figures, handout_of, model, scene, signs

STYLE = load_style("colour")
CAPTIONS = (
    "Crème brûlée, Übergröße, łódź, žluťoučký.",
    "Сложите нижний край к верхнему, ещё раз.",
    "Fold <b>both</b> corners & press.",
)


def document(count: int = 6, page: str = "A4", captions: tuple[str, ...] = CAPTIONS) -> Document:
    size = page_size(page)
    return handout_of(
        model(count, title="Карточка & card"),
        figures(count, grid(size).frame, captions),
        scene(*finished_frame(size)),
        signs(4),
        size,
        measure,
    )


def written(count: int = 6, page: str = "A4") -> pikepdf.Pdf:
    return pikepdf.open(io.BytesIO(document_pdf(document(count, page), STYLE)))


@pytest.mark.parametrize(
    ("name", "width", "height"),
    [("A4", 595.2756, 841.8898), ("Letter", 612.0, 792.0), ("A5", 419.5276, 595.2756)],
)
def test_every_page_has_the_size_of_its_paper(name: str, width: float, height: float) -> None:
    """ISO 216 and ANSI/ASME Y14.1 in points; cairo writes them to a thousandth."""
    with written(14, name) as pdf:
        assert len(pdf.pages) > 1
        for page in pdf.pages:
            box = [float(value) for value in page.mediabox.as_list()]  # pyright: ignore[reportArgumentType]
            assert box == pytest.approx([0.0, 0.0, width, height], abs=0.01)


def test_same_document_same_bytes() -> None:
    assert document_pdf(document(), STYLE) == document_pdf(document(), STYLE)


def test_same_bytes_in_another_process() -> None:
    """No clock, no random identifier, no order of a set."""
    root = Path(__file__).parents[2]
    program = (
        "import sys, hashlib\n"
        "from tests.output.test_pdf import document, document_pdf, STYLE\n"
        "print(hashlib.sha256(document_pdf(document(), STYLE)).hexdigest())\n"
    )
    runs = [
        subprocess.run(
            [sys.executable, "-c", program],
            cwd=root,
            env={"PYTHONHASHSEED": seed, "PYTHONPATH": str(root)},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    ]
    assert runs[0] == runs[1] != ""


def fonts(pdf: pikepdf.Pdf) -> list[pikepdf.Object]:
    found: dict[tuple[int, int], pikepdf.Object] = {}
    for page in pdf.pages:
        for _, font in page.resources.get("/Font", {}).items():
            found[font.objgen] = font
    return list(found.values())


def test_fonts_are_embedded_once_for_all_pages() -> None:
    with written(30) as pdf:
        names = []
        for font in fonts(pdf):
            outer = font
            if "/DescendantFonts" in font:
                font = font.DescendantFonts[0]
            names.append((str(outer.Subtype), str(outer.BaseFont)))
            assert "/FontFile2" in font.FontDescriptor
            assert "PTSans" in str(font.BaseFont)
        assert len(pdf.pages) > 2
        assert len(names) == len(set(names)) <= 4


def test_every_letter_can_be_searched_for() -> None:
    """Each font says which character its codes stand for: accented Latin and Cyrillic too."""
    wanted = {ch for text in document().texts() for ch in text if not ch.isspace()}
    known: set[str] = set()
    with written() as pdf:
        for font in fonts(pdf):
            known |= characters_of(font)
    assert {"ž", "й", "ß"} <= wanted
    assert wanted <= known


def characters_of(font: pikepdf.Object) -> set[str]:
    """Characters a font's codes stand for: its ToUnicode map (ISO 32000-1, 9.10.3)."""
    cmap = font.ToUnicode.read_bytes().decode("ascii")
    found: set[str] = set()
    for section in re.findall(r"beginbfchar(.*?)endbfchar", cmap, re.DOTALL):
        for _, code in re.findall(r"<(\w+)>\s*<(\w+)>", section):
            found.update(bytes.fromhex(code).decode("utf-16-be"))
    for section in re.findall(r"beginbfrange(.*?)endbfrange", cmap, re.DOTALL):
        for low, high, code in re.findall(r"<(\w+)>\s*<(\w+)>\s*<(\w+)>", section):
            count = int(high, 16) - int(low, 16) + 1
            found.update(chr(int(code, 16) + i) for i in range(count))
    return found


@pytest.mark.skipif(
    shutil.which("pdftotext") is None, reason="poppler's pdftotext is not installed"
)
def test_text_comes_out_as_it_went_in(tmp_path: Path) -> None:
    path = tmp_path / "handout.pdf"
    path.write_bytes(document_pdf(document(), STYLE))
    run = subprocess.run(
        ["pdftotext", "-enc", "UTF-8", str(path), "-"], capture_output=True, check=True
    )
    text = " ".join(run.stdout.decode("utf-8").split())
    for caption in CAPTIONS:
        assert caption in text
    assert "Карточка & card" in text


def test_metadata_outline_and_page_labels() -> None:
    with written(14, "A5") as pdf:
        assert str(pdf.docinfo["/Title"]) == "Карточка & card"
        assert str(pdf.docinfo["/Author"]) == "traditional"
        assert str(pdf.docinfo["/CreationDate"]).startswith("D:20000101")
        assert str(pdf.Root.Lang) == "en"
        assert bool(pdf.Root.ViewerPreferences.DisplayDocTitle)
        assert [page.label for page in pdf.pages] == [str(i + 1) for i in range(len(pdf.pages))]
        with pdf.open_outline() as outline:
            (root,) = outline.root
            assert root.title == "Карточка & card"
            assert [child.title.split()[0] for child in root.children[:-1]] == [
                str(i + 1) for i in range(14)
            ]


def test_missing_cairo_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    """As on a machine without the library: loading it raises OSError."""

    def fail() -> None:
        raise OSError('no library called "cairo-2" was found')

    monkeypatch.setattr(cairo, "ready_cairo", fail)
    with pytest.raises(FoldscriptError) as caught:
        document_pdf(document(), STYLE)
    (diagnostic,) = caught.value.diagnostics
    assert diagnostic.code == "missing-cairo"
    hints = " ".join(hint.text for hint in diagnostic.hints)
    assert "apt-get install -y --no-install-recommends libcairo2" in hints
    assert "brew install cairo" in hints
    assert "SVG" in hints


def test_missing_cairo_package_says_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "cairosvg", None)  # makes the import raise
    with pytest.raises(FoldscriptError) as caught:
        document_pdf(document(), STYLE)
    assert caught.value.diagnostics[0].code == "missing-cairo"


@pytest.mark.parametrize(("stroke", "outlined"), [("none", False), ("#ffffff", True)])
def test_only_letters_that_are_stroked_have_their_outline_made(
    monkeypatch: pytest.MonkeyPatch, stroke: str, outlined: bool
) -> None:
    made: list[str] = []
    usual = cairocffi.Context.text_path

    def text_path(context: cairocffi.Context, text: str) -> None:
        made.append(text)
        usual(context, text)

    monkeypatch.setattr(cairocffi.Context, "text_path", text_path)
    text = f'<text x="2" y="9" font-size="8" fill="#000000" stroke="{stroke}">AB</text>'
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" width="20pt" height="12pt">{text}</svg>'
    surface = cairocffi.PDFSurface(io.BytesIO(), 20, 12)
    cairo.draw_on(surface, svg.encode(), fonts_of(STYLE))
    surface.finish()
    assert made == (["A", "B"] if outlined else [])
