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
from ...languages.wording import Translate
from ...source.diagnostics import FoldscriptError
from .. import measures
from ..document import Bookmark, Document, Link, Page, Placed, enlarged
from ..grid import Grid, grid
from ..layout.foot import foot_rule
from ..layout.handout import Opening
from ..layout.key import key_parts, notes
from ..layout.makeup import PageMakeup, height_of
from ..layout.pagination import ModelBlocks, page_count, paginate, paginate_together, sharing
from ..parts import DECORATION
from ..sizes import PageSize
from ..typesetting import TextWidth, Typesetter, paragraph, shortened
from . import contents, cover
from .chapters import Chapter, chapter_blocks
from .texts import BookletTexts
from .thumbs import thumb_marks


class ChapterError(FoldscriptError):
    """What keeps one of the models from its pages; `chapter` counts from 0."""

    def __init__(self, chapter: int, error: FoldscriptError) -> None:
        super().__init__(*error.diagnostics)
        self.chapter = chapter


def booklet(
    texts: BookletTexts,
    chapters: Sequence[Chapter],
    on_cover: Sequence[Scene],
    style: Style,
    page: PageSize,
    text_width: TextWidth,
    translate: Translate = lambda text: text,
) -> Document:
    """Lay a booklet out.

    Raises ChapterError where a caption or a head does not fit a page, and FoldscriptError
    ('cover-too-full') where the title does not fit the cover.
    """
    used = frozenset(key for one in chapters for cell in one.figures for key in cell.signs)
    colours = {(one.model.front_colour, one.model.back_colour) for one in chapters}
    alike = colours.pop() if len(colours) == 1 else ("", "")
    entries = legend(used, style, translate, alike) if texts.key else ()
    g, small = grid(page, style.enlarged), page.times(1 / style.enlarged)
    unprinted = measures.PRACTICE.unprinted / style.enlarged
    document = assemble(
        texts, chapters, on_cover, entries, g, small, text_width, translate, unprinted
    )
    return enlarged(document, page, style.enlarged)


def assemble(
    texts: BookletTexts,
    chapters: Sequence[Chapter],
    on_cover: Sequence[Scene],
    entries: Sequence[KeyEntry],
    g: Grid,
    page: PageSize,
    text_width: TextWidth,
    translate: Translate = lambda text: text,
    unprinted: float = measures.PRACTICE.unprinted,
) -> Document:
    """The booklet from figures and pictures already drawn.

    Laid out twice: where the models start is known only after the first time, and the lines of the
    contents are as high whatever number stands in them. `unprinted` is what a printer leaves white at
    the edges, in points of these pages.
    """
    typesetter = Typesetter(text_width, g.leading)
    blocks: list[ModelBlocks] = []
    for number, one in enumerate(chapters):
        try:
            opening = Opening(one.model, one.head, g, typesetter, translate)
            blocks.append(chapter_blocks(one, opening, g, page, typesetter))
        except FoldscriptError as error:
            raise ChapterError(number, error) from error
    making = _Making(
        texts, chapters, blocks, on_cover, entries, page, g, typesetter, translate, unprinted
    )
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

    texts: BookletTexts
    chapters: Sequence[Chapter]
    blocks: Sequence[ModelBlocks]
    on_cover: Sequence[Scene]
    entries: Sequence[KeyEntry]
    page: PageSize
    g: Grid
    typesetter: Typesetter
    translate: Translate
    unprinted: float

    def fill(self, starts: Sequence[_Start]) -> _Filled:
        """All pages, with these numbers in the contents."""
        pages = PageMakeup(self.g, self.page)
        filled = _Filled(self, pages)
        filled.mark(self.texts.title)
        pages.turn()
        pages.items[-1].extend(
            cover.front(self.texts, self.on_cover, self.page, self.g, self.typesetter)
        )
        filled.add_contents(starts)
        filled.add_before()
        filled.add_models()
        filled.add_credits()
        pages.turn()
        pictures = [one.picture for one in self.chapters]
        pages.items[-1].extend(
            cover.back(self.texts, pictures, self.page, self.g, self.typesetter, self.translate)
        )
        return filled


class _Filled:
    """Pages being filled, and what is known about them."""

    def __init__(self, making: _Making, pages: PageMakeup) -> None:
        self.making = making
        self.pages = pages
        self.starts: list[_Start] = []
        self.links: dict[int, list[Link]] = {}
        self.running: dict[int, str] = {}  # page -> what its foot says
        self.models: dict[int, range] = {}  # page -> which models stand on it

    def mark(self, title: str, shut: bool = False) -> None:
        """A bookmark to the page that is started next."""
        self.pages.marks.append(Bookmark(title, len(self.pages.items), 0.0, shut=shut))

    def add_contents(self, starts: Sequence[_Start]) -> None:
        """A line for each model, which leads to it."""
        m, pages = self.making, self.pages
        g, tell = m.g, m.translate
        self.mark(tell("Contents"))
        pages.turn()
        pages.put(
            contents.heading(tell("Contents"), g, m.typesetter),
            measures.CONTENTS.below_heading * g.row_gap,
        )
        entries = [
            contents.ContentsEntry(one.model, one.picture, str(start.page + 1))
            for one, start in zip(m.chapters, starts, strict=True)
        ]
        by_level = m.texts.levels and len({one.model.level for one in m.chapters}) > 1
        lines = contents.contents_lines(
            entries, by_level, g.bottom - pages.y, g, m.typesetter, tell
        )
        for line, start, one in zip(lines, starts, m.chapters, strict=True):
            pages.put(line.block, line.below)
            bottom = pages.y - line.below
            box = (g.left, bottom - line.height, g.right, bottom)
            links = self.links.setdefault(len(pages.items) - 1, [])
            links.append(Link(box, start.page, start.top, line.link, one.model.title))

    def add_before(self) -> None:
        """The introduction, and the key of every sign in the booklet."""
        m, pages = self.making, self.pages
        g, tell = m.g, m.translate
        if not m.texts.introduction and not m.entries:
            return
        self.mark(tell("Before you fold"))
        pages.turn()
        pages.put(contents.heading(tell("Before you fold"), g, m.typesetter), g.row_gap)
        self._paragraphs(m.texts.introduction)
        left_over = list(m.entries)
        title = tell("Signs used in this booklet")
        while left_over:
            for count in range(len(left_over), 0, -1):
                parts = key_parts(left_over[:count], title, g.width, g, m.typesetter, title)
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
        near = measures.CONTENTS.between_paragraph_parts * g.caption
        for words in filter(None, (part.strip() for part in text.split("\n\n"))):
            blocks = paragraph(" ".join(words.split()), g.width, g.caption, self.making.typesetter)
            for number, block in enumerate(blocks, 1):
                self.pages.put(block, g.row_gap if number == len(blocks) else near)

    def add_models(self) -> None:
        """Each on a new page, one of two pages on a left one; several short ones may share one."""
        m, pages = self.making, self.pages
        number = 0
        while number < len(m.blocks):
            shared = sharing(pages, m.blocks[number:])
            if shared == 1 and _is_left(len(pages.items) + 1) and self._is_spread(number):
                self._add_plate(number)
            start = len(pages.items)
            marked = len(pages.marks)
            if shared > 1:
                tops = paginate_together(pages, m.blocks[number : number + shared])
            else:
                paginate(pages, m.blocks[number])
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
                self.models[page] = range(number, number + shared)
            number += shared

    def _is_spread(self, number: int) -> bool:
        """Whether a model fills two pages, which a reader should see side by side."""
        m = self.making
        return page_count(m.blocks[number], m.g, m.page) == 2

    def _add_plate(self, number: int) -> None:
        """A page that shows the finished model before its steps, so that they begin on the left."""
        m, pages = self.making, self.pages
        one = m.chapters[number]
        pages.turn()
        pages.items[-1].extend(cover.plate(one.model.title, one.picture, m.g, m.typesetter))
        self.running[len(pages.items) - 1] = one.model.title
        self.models[len(pages.items) - 1] = range(number, number + 1)

    def add_credits(self) -> None:
        """Who made the models and the booklet, and what may be done with them."""
        m, pages = self.making, self.pages
        g, tell = m.g, m.translate
        title = tell("Credits and licences")
        self.mark(title)
        pages.turn()
        pages.put(contents.heading(title, g, m.typesetter), g.row_gap)
        models = [one.model for one in m.chapters]
        for block in contents.credit_lines(models, g, m.typesetter, tell):
            pages.put(block, g.row_gap)
        self._paragraphs(m.texts.credits)
        for part in notes(
            [m.texts.licence] if m.texts.licence else [], tell("Licence"), g, m.typesetter
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
            marks = thumb_marks(
                self.models.get(number, range(0)),
                len(m.chapters),
                _is_left(number),
                m.page,
                m.g,
                m.unprinted,
            )
            shown = (*items, *marks, *self._foot(number))
            out.append(Page(m.page, label, shown, tuple(self.links.get(number, ()))))
        credits = dict.fromkeys(one.model.credit for one in m.chapters if one.model.credit)
        return Document(
            title=m.texts.title,
            author=m.texts.publisher or ", ".join(credits),
            language=m.texts.language,
            pages=tuple(out),
            bookmarks=tuple(pages.marks),
            subject=m.texts.subtitle or m.translate("Folding steps"),
        )

    def _foot(self, number: int) -> tuple[Placed, ...]:
        """The page's number at the outer edge: left on even pages, as the booklet lies open."""
        m, g = self.making, self.making.g
        shown = str(number + 1)
        even = _is_left(number)
        room = g.width - m.typesetter.width(shown, g.caption, True) - g.gutter
        words = m.texts.title if even else self.running.get(number, m.texts.title)
        words = shortened(words, room, g.small, m.typesetter)
        folio = Text("text.number", (0.0, 0.0), shown, g.caption, "start" if even else "end", True)
        said = Text("text.soft", (0.0, 0.0), words, g.small, "end" if even else "start")
        outer, inner = (g.left, g.right) if even else (g.right, g.left)
        return (
            foot_rule(g),
            Placed((outer, g.foot), folio, part=DECORATION),
            Placed((inner, g.foot), said, part=DECORATION),
        )


def _is_left(number: int) -> bool:
    """Whether a page, counted from 0, lies at the left of the open booklet: those with even numbers."""
    return number % 2 == 1
