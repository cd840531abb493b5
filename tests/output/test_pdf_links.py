"""Links and outline of a booklet's PDF lead where they say."""

from __future__ import annotations

import io

import pikepdf
import pytest

from foldscript.drawing.style.styles import load_style
from foldscript.output.pdf import document_pdf
from foldscript.pages.document import Document, enlarged
from foldscript.pages.sizes import page_size
from tests.pages.bound import bound


def written(document: Document, style: str = "colour") -> pikepdf.Pdf:
    return pikepdf.open(io.BytesIO(document_pdf(document, load_style(style))))


@pytest.mark.parametrize("name", ["A4", "A5"])
def test_links_resolve(name: str) -> None:
    document = bound(page_size(name), (2, 2, 9, 13))
    wanted = [(i, link) for i, page in enumerate(document.pages) for link in page.links]
    assert len(wanted) == 4
    with written(document) as pdf:
        found = [(i, mark) for i, page in enumerate(pdf.pages) for mark in page.get("/Annots", [])]
        assert len(found) == 4
        places = {page.objgen: number for number, page in enumerate(pdf.pages)}
        high = float(page_size(name).height)
        for (source, link), (page, mark) in zip(wanted, found, strict=True):
            assert page == source
            assert str(mark.Subtype) == "/Link"
            assert places[mark.Dest[0].objgen] == link.page  # pyright: ignore[reportArgumentType]
            assert float(mark.Dest[3]) == pytest.approx(high - link.top, abs=0.01)
            left, low, right, top = (float(x) for x in mark.Rect)
            assert (left, right) == pytest.approx((link.box[0], link.box[2]), abs=0.01)
            assert (high - top, high - low) == pytest.approx((link.box[1], link.box[3]), abs=0.01)


def test_links_and_bookmarks_are_enlarged_with_their_page() -> None:
    small = bound(page_size("A5"), (2, 2, 9))
    a4 = page_size("A4")
    k = a4.width / page_size("A5").width
    with written(small) as before, written(enlarged(small, a4, k), "large") as after:
        for one, other in zip(before.pages, after.pages, strict=True):
            assert [float(x) for x in other.mediabox.as_list()][2:] == pytest.approx(  # pyright: ignore[reportArgumentType]
                [a4.width, a4.height], abs=0.01
            )
            for a, b in zip(one.get("/Annots", []), other.get("/Annots", []), strict=True):
                widths = [float(m.Rect[2]) - float(m.Rect[0]) for m in (a, b)]
                assert widths[1] == pytest.approx(k * widths[0], abs=0.05)


def test_outline_and_labels() -> None:
    document = bound(page_size("A5"))
    with written(document) as pdf:
        labels = [page.label for page in pdf.pages]
        assert labels == ["Cover", *(str(i) for i in range(2, len(labels))), "Back cover"]
        places = {page.objgen: number for number, page in enumerate(pdf.pages)}
        with pdf.open_outline() as outline:
            tops = [mark for mark in document.bookmarks if mark.level == 0]
            assert [item.title for item in outline.root] == [mark.title for mark in tops]
            for item, mark in zip(outline.root, tops, strict=True):
                assert item.destination is not None
                assert places[item.destination[0].objgen] == mark.page  # pyright: ignore
                assert item.is_closed or not item.children
        assert int(pdf.Root.Outlines.Count) == len(tops)
