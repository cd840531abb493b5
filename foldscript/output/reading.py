"""How a PDF is read aloud: its tags, and the tree of what it holds (ISO 32000-1, 14.7 and 14.8).

In: the items of pages, and the parts that they are read as. Out: runs of items that are marked in the pages'
content, and a tree over the marks: titles, paragraphs, lists, links, and figures with the words that stand
for them. Lines of text come with their words, for cairo writes no spaces. It numbers the marks of a page in
the order in which they are made; the tree that it makes of them has no words for figures (cairo 1.16 knows no
such attribute), so the tree is made here.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import count
from typing import TYPE_CHECKING

from ..drawing.scene.scene import Scene, Text
from ..pages.document import Page, Placed, part_of
from ..pages.parts import Part, PartKind

if TYPE_CHECKING:
    import pikepdf

#: Standard structure types (ISO 32000-1, 14.8.4).
_TYPES = {
    PartKind.TITLE: "H1",
    PartKind.HEADING: "H2",
    PartKind.PARAGRAPH: "P",
    PartKind.FIGURE: "Figure",
    PartKind.LIST: "L",
    PartKind.ITEM: "LI",
    PartKind.LABEL: "Lbl",
    PartKind.BODY: "LBody",
    PartKind.CONTENTS: "TOC",
    PartKind.ENTRY: "TOCI",
    PartKind.LINK: "Link",
    PartKind.DECORATION: "NonStruct",  # cairo has no mark for what is not read
}
_UNREAD = re.compile(rb"^/NonStruct << ?/MCID \d+ ?>> BDC$", re.MULTILINE)
_MARK = "read-as-"


@dataclass(frozen=True, slots=True)
class Run:
    """Neighbours on a page that are read as one part."""

    part: Part
    items: tuple[Placed, ...]

    @property
    def mark(self) -> str:
        """What a drawing names the run."""
        return _MARK + _TYPES[self.part.kind]


def runs_of(page: Page) -> tuple[Run, ...]:
    """The page's items in painting order."""
    out: list[Run] = []
    for item in page.items:
        part = part_of(item)
        if out and out[-1].part is part:
            out[-1] = Run(part, (*out[-1].items, item))
        else:
            out.append(Run(part, (item,)))
    return tuple(out)


def tag_of(mark: str | None) -> str:
    """The structure type of what is drawn under a run's mark, '' for what bears none."""
    return mark.removeprefix(_MARK) if mark and mark.startswith(_MARK) else ""


def tag(file: pikepdf.Pdf, pages: Sequence[Page], runs: Sequence[Sequence[Run]]) -> None:
    """Gives a file, whose pages are marked by their runs in order, the tree of what is read."""
    tree = _Tree(file)
    for number, (page, read) in enumerate(zip(pages, runs, strict=True)):
        tree.add_page(number, page, read)
    tree.close()


class _Tree:
    """The tree being made."""

    def __init__(self, file: pikepdf.Pdf) -> None:
        import pikepdf

        self.file = file
        self.root = file.make_indirect(
            pikepdf.Dictionary(Type=pikepdf.Name.StructTreeRoot, K=pikepdf.Array())
        )
        self.whole = self._element("Document", self.root)
        self.elements: dict[Part, pikepdf.Object] = {}
        self.parents: list[pikepdf.Object | int] = []
        self.links = count(len(file.pages))

    def add_page(self, number: int, page: Page, runs: Sequence[Run]) -> None:
        """The runs of a page, and its links."""
        import pikepdf

        here = self.file.pages[number].obj
        marks = pikepdf.Array()
        for mark, run in enumerate(runs):
            if run.part.kind is PartKind.DECORATION:
                marks.append(None)
                continue
            element = self._of(run.part)
            if "/Pg" not in element:
                element.Pg = here
            element.K.append(
                mark
                if element.Pg.objgen == here.objgen
                else pikepdf.Dictionary(Type=pikepdf.Name.MCR, Pg=here, MCID=mark)
            )
            if run.part.kind is PartKind.FIGURE:
                self._tell(element, page, run)
            else:
                self._say(element, run)
            marks.append(element)
        here.StructParents = number
        self.parents += [number, self.file.make_indirect(marks)]
        content = here.Contents.read_bytes()
        here.Contents = self.file.make_stream(_UNREAD.sub(b"/Artifact BMC", content))
        for link, annotation in zip(page.links, here.get("/Annots", ()), strict=True):
            if link.part is not None:
                self._link(self._of(link.part), here, annotation, link.says)

    def _say(self, element: pikepdf.Object, run: Run) -> None:
        """The words of lines of text, with the spaces that cairo leaves out between words and lines."""
        import pikepdf

        before = [str(element.ActualText)] if "/ActualText" in element else []
        lines = [item.content.text for item in run.items if isinstance(item.content, Text)]
        element.ActualText = pikepdf.String(" ".join([*before, *lines]))

    def _tell(self, element: pikepdf.Object, page: Page, run: Run) -> None:
        """What stands for a figure, and where it lies."""
        import pikepdf

        scenes = [(item, item.content) for item in run.items if isinstance(item.content, Scene)]
        said = run.part.instead or next((s.description or s.title for _, s in scenes), "")
        if "/Alt" not in element:
            element.Alt = pikepdf.String(said)
        if scenes:
            k, high = page.scale, page.size.height
            (left, top), (item, scene) = scenes[0][0].at, scenes[0]
            right, low = left + item.scale * scene.width, top + item.scale * scene.height
            box = (k * left, high - k * low, k * right, high - k * top)
            element.A = pikepdf.Dictionary(
                O=pikepdf.Name.Layout, BBox=[round(value, 2) for value in box]
            )

    def _link(
        self, element: pikepdf.Object, page: pikepdf.Object, annotation: pikepdf.Object, says: str
    ) -> None:
        """An annotation as what a link's part leads by."""
        import pikepdf

        annotation = self.file.make_indirect(annotation)
        element.K.append(pikepdf.Dictionary(Type=pikepdf.Name.OBJR, Pg=page, Obj=annotation))
        key = next(self.links)
        annotation.StructParent = key
        annotation.Contents = pikepdf.String(says)
        page.Tabs = pikepdf.Name.S
        self.parents += [key, element]

    def _of(self, part: Part) -> pikepdf.Object:
        """The element of a part, in that of the part it lies in."""
        found = self.elements.get(part)
        if found is None:
            above = self.whole if part.inside is None else self._of(part.inside)
            found = self.elements[part] = self._element(_TYPES[part.kind], above)
        return found

    def _element(self, kind: str, above: pikepdf.Object) -> pikepdf.Object:
        import pikepdf

        made = self.file.make_indirect(
            pikepdf.Dictionary(
                Type=pikepdf.Name.StructElem, S=pikepdf.Name(f"/{kind}"), P=above, K=pikepdf.Array()
            )
        )
        above.K.append(made)
        return made

    def close(self) -> None:
        """Puts the tree into the file, in place of cairo's."""
        import pikepdf

        self.root.ParentTree = pikepdf.Dictionary(Nums=pikepdf.Array(self.parents))
        self.root.ParentTreeNextKey = next(self.links)
        self.file.Root.StructTreeRoot = self.root
        self.file.Root.MarkInfo = pikepdf.Dictionary(Marked=True)
