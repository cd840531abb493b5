"""A booklet's PDF with two pages side by side on each sheet, to be printed, folded and stapled.

In: a PDF in reading order, whose pages fill its sheets. Out: bytes, the same for the same input. Each
page becomes a drawing (form XObject) placed on a sheet, so fonts and text stay as they were. The file
asks the printer for both sides, the right edge, and true size.
"""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import Any

from ..pages.imposition import SheetSide, turned_on
from ..pages.sizes import PageSize


def imposed_pdf(pdf: bytes, sides: Sequence[SheetSide], page: PageSize, sheet: PageSize) -> bytes:
    """The sheets, front and back of each in turn, labelled '20 | 1'.

    `page` is the size of the pages of `pdf`; they meet in the middle of the sheet.
    """
    import pikepdf

    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(pdf)) as source, pikepdf.new() as file:
        forms: dict[int, pikepdf.Object] = {}
        for side in sides:
            for number in (side.left, side.right):
                forms[number] = file.copy_foreign(source.pages[number].as_form_xobject())
        low = (sheet.height - page.height) / 2
        for side in sides:
            content = "".join(
                f"q 1 0 0 1 {x:.3f} {low:.3f} cm /P{number + 1} Do Q\n"
                for number, x in (
                    (side.left, sheet.width / 2 - page.width),
                    (side.right, sheet.width / 2),
                )
            )
            names = {f"/P{n + 1}": forms[n] for n in (side.left, side.right)}
            made = file.add_blank_page(page_size=(sheet.width, sheet.height))
            made.obj.MediaBox = [0, 0, round(sheet.width, 3), round(sheet.height, 3)]
            made.obj.Resources = pikepdf.Dictionary(XObject=pikepdf.Dictionary(names))
            made.obj.Contents = file.make_stream(content.encode("ascii"))
        labels: list[Any] = []
        for place, side in enumerate(sides):
            words = pikepdf.String(f"{side.left + 1} | {side.right + 1}")
            labels += [place, pikepdf.Dictionary(P=words)]
        edge = turned_on(sheet)
        file.Root.PageLabels = pikepdf.Dictionary(Nums=pikepdf.Array(labels))
        file.Root.Lang = source.Root.Lang
        file.Root.ViewerPreferences = pikepdf.Dictionary(
            DisplayDocTitle=True,
            Duplex=pikepdf.Name(f"/DuplexFlip{edge.capitalize()}Edge"),
            PrintScaling=pikepdf.Name("/None"),
        )
        for key, value in source.docinfo.items():
            file.docinfo[key] = pikepdf.String(str(value))
        file.docinfo["/Keywords"] = pikepdf.String(printing(len(sides) // 2, sheet))
        file.save(out, deterministic_id=True, min_version="1.7")
    return out.getvalue()


def printing(sheets: int, sheet: PageSize) -> str:
    """What to do at the printer, in one line."""
    count = f"{sheets} sheet{'' if sheets == 1 else 's'} of {sheet.name}"
    return (
        f"{count}: print on both sides at true size, turned on the {turned_on(sheet)} edge; "
        "fold together, staple in the fold"
    )
