"""A laid-out document: pages of figures, text and rules at fixed places, before any file format.

In: nothing but scenes and words. Out: values that every page output (PDF, SVG, PNG) writes as they
stand. Lengths in points, y down, the page's top left corner at (0, 0). A page that is enlarged (in
large print) is laid out small, and its `scale` says how much larger it is printed.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from ..drawing.scene.scene import Draw, Move, Path, Point, Scene, Text
from .parts import DECORATION, Part, PartKind
from .sizes import PageSize


@dataclass(frozen=True, slots=True)
class Placed:
    """Something at a place.

    Attributes
    ----------
    at : where the content's own (0, 0) lies on the page
    content : a figure, a line of text, or a path such as a rule
    scale : how much a figure is reduced (1.0 as drawn); text and paths are never scaled
    part : what it is to someone who hears the page; None for what it looks like: a line of text is a
        paragraph, what tells of itself a figure, and a rule nothing
    """

    at: Point
    content: Scene | Text | Path
    scale: float = 1.0
    part: Part | None = field(default=None, compare=False)

    def shifted(self, dx: float, dy: float) -> Placed:
        """The same content further right and down."""
        at = (self.at[0] + dx, self.at[1] + dy)
        return Placed(at, self.content, self.scale, self.part)


def part_of(item: Placed) -> Part:
    """What an item is read as, one of its own where nothing says so."""
    if item.part is not None:
        return item.part
    if isinstance(item.content, Text):
        return Part(PartKind.PARAGRAPH)
    told = isinstance(item.content, Scene) and (item.content.description or item.content.title)
    return Part(PartKind.FIGURE) if told else DECORATION


@dataclass(frozen=True, slots=True)
class Block:
    """Things that belong together and are never parted, laid out from their own top left corner."""

    width: float
    height: float
    items: tuple[Placed, ...]

    def at(self, x: float, y: float) -> tuple[Placed, ...]:
        """The items with the block's top left corner at (x, y)."""
        return tuple(item.shifted(x, y) for item in self.items)

    def lowered(self, far: float) -> Block:
        """The block with so much room above its items."""
        return replace(self, height=self.height + far, items=self.at(0.0, far))

    def as_part(self, part: Part) -> Block:
        """The block, all of it one part."""
        return replace(self, items=tuple(replace(item, part=part) for item in self.items))


@dataclass(frozen=True, slots=True)
class Link:
    """A place on a page that leads to another: left, top, right, bottom; then page and height.

    `part` is what is read as the link, `says` where it leads.
    """

    box: tuple[float, float, float, float]
    page: int
    top: float
    part: Part | None = field(default=None, compare=False)
    says: str = ""


@dataclass(frozen=True)
class Page:
    """One page; `label` is the number a reader sees on it.

    `size` is the paper; what lies on it, the links and the bookmarks that lead here are laid out on
    a page `scale` times smaller.
    """

    size: PageSize
    label: str
    items: tuple[Placed, ...]
    links: tuple[Link, ...] = ()
    scale: float = 1.0

    @property
    def scenes(self) -> tuple[Placed, ...]:
        """The figures on it."""
        return tuple(item for item in self.items if isinstance(item.content, Scene))


@dataclass(frozen=True, slots=True)
class Bookmark:
    """An entry of the outline: what a reader jumps to. `page` counts from 0; `level` 0 is outermost.

    `shut` hides the entries below it until a reader opens them.
    """

    title: str
    page: int
    top: float
    level: int = 0
    shut: bool = False


@dataclass(frozen=True)
class Document:
    """Pages in order, with what a reader's program shows about them."""

    title: str
    author: str
    language: str
    pages: tuple[Page, ...]
    bookmarks: tuple[Bookmark, ...] = ()
    subject: str = ""

    def texts(self) -> Iterable[str]:
        """Every piece of text on the pages, in painting order, those inside the figures too."""
        for page in self.pages:
            for item in page.items:
                if isinstance(item.content, Text):
                    yield item.content.text
                elif isinstance(item.content, Scene):
                    yield from (t.text for t in item.content.items if isinstance(t, Text))


def enlarged(document: Document, size: PageSize, scale: float) -> Document:
    """The document printed so many times larger, on paper of that size."""
    pages = tuple(replace(page, size=size, scale=scale) for page in document.pages)
    return replace(document, pages=pages)


def stacked(blocks: Sequence[Block], gap: float) -> Block:
    """Blocks one below the other as one block."""
    items: list[Placed] = []
    y = 0.0
    for block in blocks:
        items.extend(block.at(0.0, y))
        y += block.height + gap
    return Block(max((b.width for b in blocks), default=0.0), max(0.0, y - gap), tuple(items))


def side_by_side(blocks: Sequence[Block], step: float, width: float) -> Block:
    """Blocks in columns that begin so far apart, at mid height, as one block of that width."""
    height = max(block.height for block in blocks)
    items = tuple(
        item
        for k, block in enumerate(blocks)
        for item in block.at(k * step, (height - block.height) / 2)
    )
    return Block(width, height, items)


def fitted(scene: Scene, width: float, height: float) -> tuple[float, float, float]:
    """(scale, width, height) of a scene in a space: as drawn where it fits, else reduced."""
    scale = min(1.0, width / scene.width, height / scene.height)
    return scale, scene.width * scale, scene.height * scale


def rule(length: float, role: str = "page.rule") -> Path:
    """A level line from (0, 0) to the right."""
    return Path(role, (Move((0.0, 0.0)), Draw((length, 0.0))))
