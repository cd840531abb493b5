"""A PDF as it is read aloud: its structure tree walked by another library (ISO 32000-1, 14.7, 14.8)."""

from __future__ import annotations

import io
import shutil
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader
from pypdf.generic import ContentStream, DictionaryObject, NullObject

from foldscript.building.script import Script
from foldscript.drawing.style.styles import load_style
from foldscript.output.fonts import measure
from foldscript.output.pdf import document_pdf
from foldscript.pages.document import Document
from foldscript.pages.grid import grid
from foldscript.pages.sizes import page_size
from tests.command import script
from tests.pages.bound import bound
from tests.pages.fakes import figures, handout_of, model, scene, signs
from tests.pages.test_class_page import laid

STYLE = load_style("colour")
#: What paints (ISO 32000-1, annex A), shadings and inline images among it.
PAINTING = {
    *["S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "Tj", "TJ", "'", '"', "Do", "sh", "EI"]
}


@dataclass
class Element:
    """A structure element: its type, what stands for it, what of which page it holds, and its children."""

    kind: str
    alt: str = ""
    says: str = ""
    marks: list[tuple[int, int]] = field(default_factory=list)
    links: list[Any] = field(default_factory=list)
    inner: list[Element] = field(default_factory=list)

    def all(self, *kinds: str) -> list[Element]:
        """Elements of these kinds, in reading order."""
        return [one for one in self.walk() if one.kind in kinds]

    def walk(self) -> Iterator[Element]:
        yield self
        for one in self.inner:
            yield from one.walk()


@dataclass
class Told:
    """A file as it is read."""

    reader: PdfReader
    root: Element

    @property
    def tree(self) -> DictionaryObject:
        return self.reader.trailer["/Root"]["/StructTreeRoot"]  # pyright: ignore


def told(pdf: bytes) -> Told:
    reader = PdfReader(io.BytesIO(pdf), strict=True)
    places = {page.indirect_reference.idnum: n for n, page in enumerate(reader.pages)}  # pyright: ignore

    def element(found: Any) -> Element:
        out = Element(
            found["/S"][1:], str(found.get("/Alt", "")), str(found.get("/ActualText", ""))
        )
        for child in [one.get_object() for one in found["/K"]]:
            if not hasattr(child, "keys"):
                out.marks.append((places[found.raw_get("/Pg").idnum], int(child)))
            elif child["/Type"] == "/MCR":
                out.marks.append((places[child.raw_get("/Pg").idnum], int(child["/MCID"])))
            elif child["/Type"] == "/OBJR":
                out.links.append(child.raw_get("/Obj"))
            else:
                assert child.raw_get("/P").get_object() == found
                out.inner.append(element(child))
        return out

    tree: Any = reader.trailer["/Root"]["/StructTreeRoot"]  # pyright: ignore
    (top,) = tree["/K"]
    return Told(reader, element(top.get_object()))


@cache
def card(folder: Path) -> Document:
    """A handout drawn for real."""
    made = Script(script(folder)).drawn(STYLE, page_size("A4"))
    return made.lay_out()


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("read")


@pytest.fixture(scope="module")
def handout(folder: Path) -> Told:
    return told(document_pdf(card(folder), STYLE))


def test_a_handout_says_what_it_is_in_reading_order(handout: Told) -> None:
    root: Any = handout.reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"] is not None
    assert bool(root["/MarkInfo"]["/Marked"])
    assert str(root["/Lang"]) == "en"
    assert handout.reader.metadata is not None
    assert handout.reader.metadata.title == "Card"
    assert handout.root.kind == "Document"
    (title,) = handout.root.all("H1")
    assert title.says == "Card"
    assert handout.root.inner[0] is title
    assert [one.says for one in handout.root.all("H2")] == ["Signs used"]


def test_steps_are_a_list_of_number_figure_and_caption(handout: Told) -> None:
    """The card folds twice and is turned over once between, which has no figure of its own."""
    steps = handout.root.all("L")[1]
    assert [item.kind for item in steps.inner] == ["LI", "LI"]
    captions = []
    for item in steps.inner:
        label, body = item.inner
        figure, caption = body.inner
        assert (label.kind, body.kind, figure.kind, caption.kind) == ("Lbl", "LBody", "Figure", "P")
        assert figure.alt.startswith(f"Step {label.says}. ")
        assert caption.says.rstrip(".") in figure.alt
        captions.append(caption.says)
    assert captions[0].startswith("Fold the bottom edge to the top edge.")
    assert captions[1] == "Fold in half again."


def test_every_figure_says_what_it_shows_and_where_it_lies(folder: Path, handout: Told) -> None:
    figures = handout.root.all("Figure")
    assert len(figures) == 4  # head, two steps, finished
    assert all(figure.alt for figure in figures)


def contents_of(reader: PdfReader) -> Iterator[tuple[int, int | None, bool]]:
    """For everything painted: page, mark, and whether it is an artifact."""
    for number, page in enumerate(reader.pages):
        stack: list[int | None] = []
        stream: Any = page["/Contents"].get_object()
        for operands, operator in ContentStream(stream, reader).operations:
            name = operator.decode()
            if name == "BDC":
                stack.append(int(operands[1]["/MCID"]))
            elif name == "BMC":
                assert operands[0] == "/Artifact"
                stack.append(None)
            elif name == "EMC":
                stack.pop()
            elif name in PAINTING:
                assert stack, f"{name} on page {number + 1} is neither read nor an artifact"
                yield number, stack[-1], stack[-1] is None


@pytest.mark.parametrize("kind", ["handout", "booklet", "class plan"])
def test_everything_painted_is_read_once_or_an_artifact(
    folder: Path, tmp_path: Path, kind: str
) -> None:
    document = {
        "handout": lambda: card(folder),
        "booklet": lambda: bound(page_size("A5"), (2, 9), keys=40),
        "class plan": lambda: laid(tmp_path, count=2),
    }[kind]()
    found = told(document_pdf(document, STYLE))
    painted = {(page, mark) for page, mark, artifact in contents_of(found.reader) if not artifact}
    marks = [mark for one in found.root.walk() for mark in one.marks]
    assert len(marks) == len(set(marks))
    assert painted <= set(marks)
    # and from a page's mark back to its element (14.7.4.4)
    numbers: Any = found.tree["/ParentTree"]["/Nums"]  # pyright: ignore
    by_key = {int(numbers[k]): numbers[k + 1].get_object() for k in range(0, len(numbers), 2)}
    for number, page in enumerate(found.reader.pages):
        row = by_key[int(page["/StructParents"])]  # pyright: ignore
        for mark, parent in enumerate(row):
            known = (number, mark) in set(marks)
            assert isinstance(parent.get_object(), NullObject) is not known


def test_page_numbers_and_running_feet_are_not_read(handout: Told) -> None:
    said = " ".join(one.says for one in handout.root.walk())
    assert "page 1 of" not in said
    assert said.count("Card") == 1


def test_a_booklet_has_contents_whose_links_lead(folder: Path) -> None:
    found = told(document_pdf(bound(page_size("A5"), (2, 2, 9)), STYLE))
    (contents,) = found.root.all("TOC")
    assert [entry.kind for entry in contents.inner] == ["TOCI"] * 3
    for number, entry in enumerate(contents.inner, 1):
        (link,) = entry.all("Link")
        assert link.says == f"Model {number}"
        (annotation,) = (ref.get_object() for ref in link.links)
        assert annotation["/Subtype"] == "/Link"
        assert annotation["/Contents"] == f"Model {number}"
    titles = [one.says for one in found.root.all("H1")]
    assert titles[:3] == ["Paper on the Quay", "Contents", "Before you fold"]
    assert titles[3:6] == ["Model 1", "Model 2", "Model 3"]


def test_a_key_that_runs_on_is_one_list_under_one_heading() -> None:
    size = page_size("A6")
    drawn = figures(2, grid(size).frame)
    document = handout_of(model(2), drawn, scene(60, 60), signs(60), size, measure)
    assert "More" in document.texts()
    found = told(document_pdf(document, STYLE))
    assert "More" not in [one.says for one in found.root.walk()]
    lists = [one for one in found.root.all("L") if len(one.inner) > 20]
    assert len({page for one in lists for item in one.walk() for page, _ in item.marks}) > 1


def test_a_class_plan_reads_its_rows_and_how_the_page_is_cut(tmp_path: Path) -> None:
    found = told(document_pdf(laid(tmp_path), STYLE))
    assert [one.says for one in found.root.all("H1")] == ["Shelf"]
    assert [one.says for one in found.root.all("H2")] == ["Paper 150 × 150 mm", "Card 0"]
    cutting = next(one for one in found.root.all("Figure") if "cut" in one.alt)
    assert "How the page is cut: 1. cut 210 × 297 across, 150 mm from the top" in cutting.alt
    labels = [one.says for one in found.root.all("Lbl")]
    assert {"People", "Sheets", "Cutting", "Level", "Time"} <= set(labels)


def test_the_same_bytes(folder: Path) -> None:
    again = replace(card(folder))
    assert document_pdf(card(folder), STYLE) == document_pdf(again, STYLE)


@pytest.mark.skipif(shutil.which("pdfinfo") is None, reason="poppler's pdfinfo is not installed")
def test_words_that_stand_for_lines_are_those_painted(folder: Path, tmp_path: Path) -> None:
    """A third reader gathers the letters under each mark; cairo writes no spaces."""
    path = tmp_path / "card.pdf"
    pdf = document_pdf(card(folder), STYLE)
    path.write_bytes(pdf)
    run = subprocess.run(
        ["pdfinfo", "-struct-text", str(path)], capture_output=True, check=True, encoding="utf-8"
    )
    painted: list[str] = []
    kind = ""
    for line in map(str.strip, run.stdout.splitlines()):
        if line[:1] == '"' and kind != "Figure":
            painted.append(line[1:-1])
        elif line[:1] not in ('"', "/"):
            kind = line.split(" ")[0].rstrip(":")
    said = ["".join(one.says.split()) for one in told(pdf).root.walk() if one.says]
    assert len(said) > 10
    assert [text for text in painted if text] == said
