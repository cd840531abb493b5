"""A booklet's PDF with two pages side by side on each sheet, to be printed, folded and stapled.

In: a PDF in reading order. Out: bytes, the same for the same input. Each page becomes a drawing (form
XObject) placed on a sheet, so fonts and text stay as they were; blank pages are added where the
sheets ask for them. The file asks the printer for both sides, the right edge, and true size.
"""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

from ..pages.booklet.imposition import (
    PAGES_A_SHEET,
    creep_shifts,
    padded_count,
    page_at,
    saddle,
    turned_on,
)
from ..pages.sizes import POINTS_PER_MM, PageSize

if TYPE_CHECKING:
    import pikepdf

#: mm; marks at either end of the fold, and where the staples go: shorter than a usual staple's back of 13 mm.
_TICK, _STAPLE = 4.0, 10.0
#: × height of the sheet.
_STAPLES = (0.25, 0.75)


def imposed_pdf(
    pdf: bytes, page: PageSize, sheet: PageSize, ground: str, creep: float = 0.0
) -> bytes:
    """The sheets, front and back of each in turn, labelled '20 | 1'; marks tell where to fold and staple.

    `page` is the size of the pages of `pdf`, which meet in the middle of the sheet; `ground` paints
    the blank ones, and what is left free where pages are moved to the spine: by `creep` points more
    on each sheet than on the one around it.
    """
    import pikepdf

    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(pdf)) as source, pikepdf.new() as file:
        count = len(source.pages)
        sides = list(saddle(padded_count(count)))
        forms = {
            f"/P{number + 1}": file.copy_foreign(source.pages[number].as_form_xobject())
            for number in range(count)
        }
        low = (sheet.height - page.height) / 2
        shifts = creep_shifts(padded_count(count), creep)
        for turn, side in enumerate(sides):
            shift = shifts[turn // 2]
            content: list[str] = []
            names: dict[str, pikepdf.Object] = {}
            for position, x, to_spine in (
                (side.left, sheet.width / 2 - page.width, shift),
                (side.right, sheet.width / 2, -shift),
            ):
                number = page_at(position, count)
                if number is None:
                    content.append(_blank(x, low, page, ground))
                    continue
                name = f"/P{number + 1}"
                names[name] = forms[name]
                if shift:
                    content.append(_blank(x, low, page, ground))
                    half = f"{x:.3f} {low:.3f} {page.width:.3f} {page.height:.3f} re W n"
                    content.append(
                        f"q {half} 1 0 0 1 {x + to_spine:.3f} {low:.3f} cm {name} Do Q\n"
                    )
                    continue
                content.append(f"q 1 0 0 1 {x:.3f} {low:.3f} cm {name} Do Q\n")
            if turn == 0:
                content.append(_marks(sheet))
            made = file.add_blank_page(page_size=(sheet.width, sheet.height))
            made.obj.MediaBox = [0, 0, round(sheet.width, 3), round(sheet.height, 3)]
            made.obj.Resources = pikepdf.Dictionary(XObject=pikepdf.Dictionary(names))
            made.obj.Contents = file.make_stream("".join(content).encode("ascii"))
        labels: list[int | pikepdf.Object] = []
        for place, side in enumerate(sides):
            words = pikepdf.String(f"{side.left + 1} | {side.right + 1}")
            labels += [place, pikepdf.Dictionary(P=words)]
        file.Root.PageLabels = pikepdf.Dictionary(Nums=pikepdf.Array(labels))
        file.Root.Lang = source.Root.Lang
        file.Root.ViewerPreferences = pikepdf.Dictionary(
            DisplayDocTitle=True,
            Duplex=pikepdf.Name(f"/DuplexFlip{turned_on(sheet).capitalize()}Edge"),
            PrintScaling=pikepdf.Name("/None"),
        )
        for key, value in source.docinfo.items():
            file.docinfo[key] = pikepdf.String(str(value))
        file.docinfo["/Keywords"] = pikepdf.String(printing(count, sheet, creep))
        file.save(out, deterministic_id=True, min_version="1.7")
    return out.getvalue()


def _marks(sheet: PageSize) -> str:
    """Where the sheets are folded and stapled, on the outside of the outermost one.

    A tick at either end of the fold, and two lines on it that lie under the staples when they are in; dark
    with a light rim, so that they are seen on any ground.
    """
    x, mm = sheet.width / 2, POINTS_PER_MM
    lines = [(0.0, _TICK * mm), (sheet.height - _TICK * mm, sheet.height)]
    for part in _STAPLES:
        middle, half = part * sheet.height, _STAPLE * mm / 2
        lines.append((middle - half, middle + half))
    strokes = "".join(f"{x:.3f} {low:.3f} m {x:.3f} {high:.3f} l " for low, high in lines)
    return f"q 1 G 1.2 w {strokes}S 0.2 G 0.4 w {strokes}S Q\n"


def _blank(x: float, low: float, page: PageSize, ground: str) -> str:
    """An empty page, painted."""
    colour = " ".join(f"{int(ground[i : i + 2], 16) / 255:.3f}" for i in (1, 3, 5))
    return f"q {colour} rg {x:.3f} {low:.3f} {page.width:.3f} {page.height:.3f} re f Q\n"


def printing(count: int, sheet: PageSize, creep: float = 0.0) -> str:
    """What to do at the printer with a booklet of `count` pages, in one line; `creep` in points."""
    sheets = padded_count(count) // PAGES_A_SHEET
    most = max(creep_shifts(padded_count(count), creep), default=0.0) / POINTS_PER_MM
    trim = f", trim the outer edge: inner pages are moved in by up to {most:.1f} mm" if most else ""
    paper = f"{sheets} sheet{'' if sheets == 1 else 's'} of {sheet.name}"
    return (
        f"{paper}: print on both sides at true size, turned on the {turned_on(sheet)} edge; "
        f"fold together, staple in the fold{trim}"
    )
