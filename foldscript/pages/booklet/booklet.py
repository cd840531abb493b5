"""The booklet: cover, contents, one key of all signs, the models, credits, back cover.

In: folded models with their drawn figures, in order. Out: a Document in the order it is read. The
contents link to the models; page numbers count from the cover and stand at the outer edge. Blank
pages for printing come in later (imposition.py).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ...drawing.scene.scene import Scene, Text
from ...drawing.signs.key import KeyEntry, legend
from ...drawing.style.styles import Style
from ...source.diagnostics import FoldscriptError
from ..document import Bookmark, Document, Link, Page, Placed, enlarged, rule
from ..filling import Filling, height_of
from ..grid import Grid, grid
from ..head import Translate
from ..key import key_rows, notes
from ..placing import Laid, place, place_together, sharing
from ..sizes import PageSize
from ..text import Measure, paragraph, shortened
from . import contents, cover
from .chapters import Chapter, lay_out_chapter


@dataclass(frozen=True)
class Wording:
    """What the booklet says beside its models; '' for what it does not say.

    `levels` sets the contents apart by level.
    """

    title: str
    subtitle: str = ""
    publisher: str = ""
    introduction: str = ""
    credits: str = ""
    licence: str = ""
    language: str = "en"
    levels: bool = False


class ChapterError(FoldscriptError):
    """What keeps one of the models from its pages; `chapter` counts from 0."""

    def __init__(self, chapter: int, error: FoldscriptError) -> None:
        super().__init__(*error.diagnostics)
        self.chapter = chapter


def booklet(
    wording: Wording,
    chapters: Sequence[Chapter],
    on_cover: Sequence[Scene],
    style: Style,
    page: PageSize,
    measure: Measure,
    translate: Translate = lambda text: text,
) -> Document:
    """Lay a booklet out.

    Raises ChapterError where a caption or a head does not fit a page, and FoldscriptError
    ('cover-too-full') where the title does not fit the cover.
    """
    used = frozenset(key for one in chapters for cell in one.figures for key in cell.scene.signs)
    colours = {(one.model.front_colour, one.model.back_colour) for one in chapters}
    alike = colours.pop() if len(colours) == 1 else ("", "")
    entries = legend(used, style, translate, alike)
    small = page.times(1 / style.enlarged)
    document = assemble(wording, chapters, on_cover, entries, small, measure, translate)
    return enlarged(document, page, style.enlarged)


def assemble(
    wording: Wording,
    chapters: Sequence[Chapter],
    on_cover: Sequence[Scene],
    entries: Sequence[KeyEntry],
    page: PageSize,
    measure: Measure,
    translate: Translate = lambda text: text,
) -> Document:
    """The booklet from figures and pictures already drawn.

    Laid out twice: where the models start is known only after the first time, and the lines of the
    contents are as high whatever number stands in them.
    """
    g = grid(page)
    laid: list[Laid] = []
    for number, one in enumerate(chapters):
        try:
            laid.append(lay_out_chapter(one, g, page, measure, translate))
        except FoldscriptError as error:
            raise ChapterError(number, error) from error
    making = _Making(wording, chapters, laid, on_cover, entries, page, g, measure, translate)
    starts = making.fill([_Start(0, 0.0)] * len(chapters)).starts
    return making.fill(starts).document()


@dataclass(frozen=True, slots=True)
class _Start:
    """Where a model starts: its page, counted from 0, and the height on it."""

    page: int
    top: float


@dataclass(frozen=True)
class _Making:
    """What is laid out, and with what."""

    wording: Wording
    chapters: Sequence[Chapter]
    laid: Sequence[Laid]
    on_cover: Sequence[Scene]
    entries: Sequence[KeyEntry]
    page: PageSize
    g: Grid
    measure: Measure
    translate: Translate

    def fill(self, starts: Sequence[_Start]) -> _Filled:
        """All pages, with these numbers in the contents."""
        pages = Filling(self.g, self.page)
        filled = _Filled(self, pages)
        words = cover.Words(self.wording.title, self.wording.subtitle, self.wording.publisher)
        filled.mark(self.wording.title)
        pages.turn()
        pages.items[-1].extend(cover.front(words, self.on_cover, self.page, self.g, self.measure))
        filled.add_contents(starts)
        filled.add_before()
        filled.add_models()
        filled.add_credits()
        pages.turn()
        pictures = [one.picture for one in self.chapters]
        pages.items[-1].extend(cover.back(words, pictures, self.page, self.g, self.measure))
        return filled


class _Filled:
    """Pages being filled, and what is known about them."""

    def __init__(self, making: _Making, pages: Filling) -> None:
        self.making = making
        self.pages = pages
        self.starts: list[_Start] = []
        self.links: dict[int, list[Link]] = {}
        self.running: dict[int, str] = {}  # page -> what its foot says

    def mark(self, title: str, shut: bool = False) -> None:
        """A bookmark to the page that is started next."""
        self.pages.marks.append(Bookmark(title, len(self.pages.items), 0.0, shut=shut))

    def add_contents(self, starts: Sequence[_Start]) -> None:
        """A line for each model, which leads to it."""
        m, pages = self.making, self.pages
        g, tell = m.g, m.translate
        self.mark(tell("Contents"))
        pages.turn()
        pages.put(contents.heading(tell("Contents"), g, m.measure), 0.9 * g.row_gap)
        entries = [
            contents.Entry(one.model, one.picture, str(start.page + 1))
            for one, start in zip(m.chapters, starts, strict=True)
        ]
        by_level = m.wording.levels and len({one.model.level for one in m.chapters}) > 1
        lines = contents.lines(entries, by_level, g.bottom - pages.y, g, m.measure, tell)
        for line, start in zip(lines, starts, strict=True):
            pages.put(line.block, line.below)
            bottom = pages.y - line.below
            box = (g.left, bottom - line.height, g.right, bottom)
            links = self.links.setdefault(len(pages.items) - 1, [])
            links.append(Link(box, start.page, start.top))

    def add_before(self) -> None:
        """The introduction, and the key of every sign in the booklet."""
        m, pages = self.making, self.pages
        g, tell = m.g, m.translate
        if not m.wording.introduction and not m.entries:
            return
        self.mark(tell("Before you fold"))
        pages.turn()
        pages.put(contents.heading(tell("Before you fold"), g, m.measure), g.row_gap)
        self._paragraphs(m.wording.introduction)
        left_over = list(m.entries)
        title = tell("Signs used in this booklet")
        while left_over:
            for count in range(len(left_over), 0, -1):
                parts = key_rows(left_over[:count], title, g.columns, g, m.measure)
                if height_of(parts) <= g.bottom - pages.y or (count == 1 and not pages.items[-1]):
                    break
            else:
                pages.turn()
                continue
            for part in parts:
                pages.put(part.block, part.below)
            del left_over[:count]
            title = tell("More signs")
            if left_over:
                pages.turn()

    def _paragraphs(self, text: str) -> None:
        g = self.making.g
        for words in filter(None, (part.strip() for part in text.split("\n\n"))):
            blocks = paragraph(" ".join(words.split()), g.width, g.caption, self.making.measure)
            for number, block in enumerate(blocks, 1):
                self.pages.put(block, g.row_gap if number == len(blocks) else 0.25 * g.caption)

    def add_models(self) -> None:
        """Each on a new page; several short ones may share one."""
        m, pages = self.making, self.pages
        number = 0
        while number < len(m.laid):
            start = len(pages.items)
            marked = len(pages.marks)
            shared = sharing(pages, m.laid[number:])
            if shared > 1:
                tops = place_together(pages, m.laid[number : number + shared])
            else:
                place(pages, m.laid[number])
                tops = [pages.grid.top]
            group = m.chapters[number : number + shared]
            inserted = 0
            for one, top in zip(group, tops, strict=True):
                self.starts.append(_Start(start, 0.0 if top <= pages.grid.top else top))
                mark = Bookmark(one.model.title, start, self.starts[-1].top, shut=True)
                pages.marks.insert(marked + inserted, mark)
                inserted += 1 + len(one.figures)
            names = " · ".join(one.model.title for one in group)
            for page in range(start, len(pages.items)):
                self.running[page] = names
            number += shared

    def add_credits(self) -> None:
        """Who made the models and the booklet, and what may be done with them."""
        m, pages = self.making, self.pages
        g, tell = m.g, m.translate
        title = tell("Credits and licences")
        self.mark(title)
        pages.turn()
        pages.put(contents.heading(title, g, m.measure), g.row_gap)
        models = [one.model for one in m.chapters]
        for block in contents.credit_lines(models, g, m.measure, tell):
            pages.put(block, g.row_gap)
        self._paragraphs(m.wording.credits)
        for part in notes(
            [m.wording.licence] if m.wording.licence else [], tell("Licence"), g, m.measure
        ):
            pages.put(part.block, part.below)

    def document(self) -> Document:
        """The pages with running feet, links and outline."""
        m, pages = self.making, self.pages
        last = len(pages.items) - 1
        out: list[Page] = []
        for number, items in enumerate(pages.items):
            label = str(number + 1)
            if number in (0, last):
                label = m.translate("Cover") if number == 0 else m.translate("Back cover")
                out.append(Page(m.page, label, tuple(items)))
                continue
            foot = self._foot(number)
            out.append(Page(m.page, label, (*items, *foot), tuple(self.links.get(number, ()))))
        credits = dict.fromkeys(one.model.credit for one in m.chapters if one.model.credit)
        return Document(
            title=m.wording.title,
            author=m.wording.publisher or ", ".join(credits),
            language=m.wording.language,
            pages=tuple(out),
            bookmarks=tuple(pages.marks),
            subject=m.wording.subtitle or m.translate("Folding steps"),
        )

    def _foot(self, number: int) -> tuple[Placed, ...]:
        """The page's number at the outer edge: left on even pages, as the booklet lies open."""
        m, g = self.making, self.making.g
        shown = str(number + 1)
        even = number % 2 == 1
        room = g.width - m.measure(shown, g.caption, True) - g.gutter
        words = m.wording.title if even else self.running.get(number, m.wording.title)
        words = shortened(words, room, g.small, m.measure)
        folio = Text("text.number", (0.0, 0.0), shown, g.caption, "start" if even else "end", True)
        said = Text("text.soft", (0.0, 0.0), words, g.small, "end" if even else "start")
        outer, inner = (g.left, g.right) if even else (g.right, g.left)
        return (
            Placed((g.left, g.bottom + 0.55 * (g.foot - g.bottom) - 2.0), rule(g.width)),
            Placed((outer, g.foot), folio),
            Placed((inner, g.foot), said),
        )
