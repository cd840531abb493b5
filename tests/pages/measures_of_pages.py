"""What pages of the samples measure: how large figures are, how much paper a page shows, how full it is.

In: the scripts of `samples/`, folded, drawn and laid out as handouts. Out: a table, which `docs/pages.md`
keeps for the state before and after a change of the layout. Everything is read off the finished pages, ink
by ink, so that no measure of the layout itself is taken at its word.

    .venv/bin/python -m tests.pages.measures_of_pages            # the table
    .venv/bin/python -m tests.pages.measures_of_pages A4 --models  # of A4 alone, and a line for every model
    .venv/bin/python -m tests.pages.measures_of_pages A4 --kept    # what `pages_of_samples.toml` keeps
"""

from __future__ import annotations

import statistics
import sys
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from pathlib import Path as FilePath
from typing import TYPE_CHECKING

from foldscript.building.script import Script
from foldscript.drawing.scene.outlines import item_box
from foldscript.drawing.scene.scene import Path, Scene, Text
from foldscript.drawing.scene.strokes import polylines
from foldscript.drawing.signs.registry import glyphs
from foldscript.drawing.style.styles import load_style
from foldscript.folding.steps import Model
from foldscript.output.fonts import measure
from foldscript.pages.document import Page, Placed
from foldscript.pages.grid import Grid, grid
from foldscript.pages.layout.handout import handout
from foldscript.pages.sizes import POINTS_PER_MM, page_size

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

SAMPLES = FilePath(__file__).resolve().parents[2] / "samples"

#: What is measured: a name, a style and a size of paper.
KINDS = (
    ("A4", "colour", "A4"),
    ("Letter", "colour", "Letter"),
    ("A5", "colour", "A5"),
    ("large print, A4", "large", "A4"),
)
#: mm; space between rows that is more than this counts as empty.
GAP = 12.0
#: mm; figures whose longest side is shorter, told to a tenth, are too small.
SMALL = 30.0
#: Part of its height from which on a page is full.
FULL = 0.9
#: pt; areas of paper that are no farther apart are one piece.
_HAIR = 0.05


@dataclass(frozen=True)
class Measured:
    """One model's pages.

    sides : longest side of the paper of every figure, mm; figures : how many of them are numbered, those half
    way left out; halves : figures half way; foldless : numbered figures without a fold line; close_ups :
    figures of a part, and circles; changes : of scale; key : its height, mm, 0 for none;
    beside : whether it stands beside the last row; covered : part of the text area that boxes about the
    paper take, of every page; fills : part of its height that is used, feet : part that is empty below the
    last ink, of every page but the last
    """

    name: str
    sides: tuple[float, ...]
    figures: int
    halves: int
    foldless: int
    close_ups: tuple[int, int]
    changes: int
    key: float
    beside: bool
    covered: tuple[float, ...]
    fills: tuple[float, ...]
    feet: tuple[float, ...]

    @property
    def pages(self) -> int:
        """How many there are."""
        return len(self.covered)

    @property
    def small(self) -> int:
        """How many figures are too small."""
        return sum(1 for side in self.sides if round(side, 1) < SMALL)

    @property
    def sparse(self) -> int:
        """How many pages but the last are not full."""
        return sum(1 for fill in self.fills if fill < FULL)

    @property
    def kept(self) -> str:
        """What must not get worse, as a line of TOML."""
        median = statistics.median(self.sides)
        return (
            f"{self.name} = {{ pages = {self.pages}, small = {self.small}, sparse = {self.sparse}, "
            f"median = {median:.0f}, key = {self.key:.0f} }}"
        )


@cache
def models() -> tuple[Model, ...]:
    """The samples, folded, with all that stands and is shown half way; bases are no models of their own."""
    return tuple(Script(path).said()[0] for path in sorted(SAMPLES.glob("*.foldscript")))


def measured(model: Model, style_name: str, size: str) -> Measured:
    """A model's handout, measured."""
    style, paper = load_style(style_name), page_size(size)
    pages = handout(model, style, paper, measure).pages
    g = grid(paper, style.enlarged)
    figured = [_figures(page, first=number == 0) for number, page in enumerate(pages)]
    scenes = [(p, page.scale) for page, some in zip(pages, figured, strict=True) for p in some]
    numbered = [p.content for p, _ in scenes if _is_step(p)]
    sides = [_side(p) * scale / POINTS_PER_MM for p, scale in scenes]
    return Measured(
        model.name,
        tuple(sides),
        len(numbered),
        sum(1 for p, _ in scenes if _is_half(p)),
        sum(1 for s in numbered if not any(i.role.startswith("fold.") for i in _items(s))),
        (_signed(numbered, "close-up"), _signed(numbered, "inset")),
        _signed(numbered, "scale"),
        sum(_key(page)[0] * page.scale for page in pages) / POINTS_PER_MM,
        any(_key(page)[1] > g.left + 1.0 for page in pages),
        tuple(_covered(some, g) for some in figured),
        tuple(_fill(page, g) for page in pages[:-1]),
        tuple(_foot(page, g) for page in pages[:-1]),
    )


def _items(content: Scene | Path | Text) -> Sequence[Path | Text]:
    return content.items if isinstance(content, Scene) else ()


def _figures(page: Page, first: bool) -> list[Placed]:
    """Figures of steps and of finished models, not the picture in the head nor the key's samples."""
    names = {glyph.name for glyph in glyphs().values()}
    found = [
        p for p in page.scenes if isinstance(p.content, Scene) and p.content.title not in names
    ]
    return found[1:] if first else found


def _signed(contents: Iterable[Scene | Path | Text], key: str) -> int:
    """How many figures have a sign."""
    return sum(1 for s in contents if isinstance(s, Scene) and key in s.signs)


def _title(placed: Placed) -> str:
    return placed.content.title if isinstance(placed.content, Scene) else ""


def _is_half(placed: Placed) -> bool:
    return _title(placed).startswith("Step ") and "half way" in _title(placed)


def _is_step(placed: Placed) -> bool:
    return _title(placed).startswith("Step ") and not _is_half(placed)


def _side(placed: Placed) -> float:
    """Longest side of the box about the longest piece of paper in a figure, in points of the page."""
    paper = _paper(placed)
    pieces = getattr(paper, "geoms", [paper])
    boxes = [piece.bounds for piece in pieces]
    return max(max(x1 - x0, y1 - y0) for x0, y0, x1, y1 in boxes) * placed.scale


def _paper(placed: Placed) -> BaseGeometry:
    """What paper covers in a figure, in points of the figure."""
    import shapely

    rings = [
        shapely.Polygon(ring)
        for item in _items(placed.content)
        if isinstance(item, Path) and item.is_paper
        for ring in polylines([item])
        if len(ring) > 3
    ]
    return shapely.union_all([ring.buffer(_HAIR) for ring in rings])


def _covered(figures: Sequence[Placed], g: Grid) -> float:
    """Part of the text area of a page that the boxes about the paper of its figures take."""
    total = 0.0
    for placed in figures:
        x0, y0, x1, y1 = _paper(placed).bounds
        total += (x1 - x0) * (y1 - y0) * placed.scale**2
    return total / (g.width * g.height)


def _extents(page: Page, g: Grid) -> list[tuple[float, float]]:
    """From where to where ink reaches down the text area, merged and in order."""
    spans: list[tuple[float, float]] = []
    for placed in page.items:
        for item in _items(placed.content) or (placed.content,):
            box = None if isinstance(item, Scene) else item_box(item)
            if box is not None and placed.at[1] + box[1] * placed.scale < g.bottom:
                y = placed.at[1]
                spans.append((y + box[1] * placed.scale, y + box[3] * placed.scale))
    out: list[tuple[float, float]] = []
    for lo, hi in sorted(spans):
        if out and lo <= out[-1][1]:
            out[-1] = (out[-1][0], max(out[-1][1], hi))
        else:
            out.append((lo, hi))
    return out


def _fill(page: Page, g: Grid) -> float:
    """Part of the height that is ink, or a gap no wider than rows are to have."""
    spans = _extents(page, g)
    most = GAP * POINTS_PER_MM / page.scale
    gaps = [max(0.0, below[0] - above[1]) for above, below in pairwise(spans)]
    empty = sum(max(0.0, gap - most) for gap in gaps)
    return 1.0 - (empty + max(0.0, g.bottom - spans[-1][1])) / g.height


def _foot(page: Page, g: Grid) -> float:
    """Part of the height that is empty below the last ink."""
    return max(0.0, g.bottom - _extents(page, g)[-1][1]) / g.height


def _key(page: Page) -> tuple[float, float]:
    """Height of the key of signs on a page, heading and all, and its left side."""
    names = {glyph.name for glyph in glyphs().values()}
    heads = [
        (p.at[1] - p.content.size, p.at[0])
        for p in page.items
        if isinstance(p.content, Text) and p.content.text in ("Signs used", "More signs")
    ]
    lows = [
        p.at[1] + 0.25 * p.content.size
        for p in page.items
        if isinstance(p.content, Text) and p.content.role == "text.key"
    ]
    lows += [
        p.at[1] + p.content.height * p.scale
        for p in page.scenes
        if isinstance(p.content, Scene) and p.content.title in names
    ]
    return (max(lows) - min(heads)[0], heads[0][1]) if heads else (0.0, 0.0)


def rows(kinds: Iterable[tuple[str, str, str]] = KINDS) -> Iterator[tuple[str, list[Measured]]]:
    """Every kind of page with all samples measured on it."""
    for name, style, size in kinds:
        yield name, [measured(model, style, size) for model in models()]


def summary(found: Sequence[Measured]) -> list[tuple[str, str]]:
    """The measures of many models in a few numbers, each with its name."""
    sides = [side for one in found for side in one.sides]
    keys = [one.key for one in found if one.key]
    across = [one.key for one in found if one.key and not one.beside]
    shares = [share for one in found for share in one.covered]
    fills = [fill for one in found for fill in one.fills]
    feet = [foot for one in found for foot in one.feet]
    return [
        ("longest side of a figure, median (mm)", f"{statistics.median(sides):.1f}"),
        (f"figures under {SMALL:.0f} mm", f"{sum(one.small for one in found)}"),
        ("smallest figure (mm)", f"{min(sides):.1f}"),
        ("text area taken by paper, boxes about it (%)", f"{100 * statistics.mean(shares):.1f}"),
        (
            "pages but the last under 90 % full",
            f"{sum(one.sparse for one in found)} of {len(fills)}",
        ),
        ("the same, least full (%)", f"{100 * min(fills):.0f}"),
        ("foot more than 8 % empty, but the last", f"{sum(1 for f in feet if f > 0.08)}"),
        ("most empty foot (%)", f"{100 * max(feet):.0f}"),
        ("key, median and highest (mm)", f"{statistics.median(keys):.0f}, {max(keys):.0f}"),
        ("key, highest that is not beside the last row (mm)", f"{max(across, default=0.0):.0f}"),
        ("changes of scale", f"{sum(one.changes for one in found)}"),
        (
            "numbered figures without a fold",
            f"{sum(one.foldless for one in found)} of {sum(one.figures for one in found)}",
        ),
        ("figures half way", f"{sum(one.halves for one in found)}"),
        (
            "parts drawn larger: as the figure, in a circle",
            ", ".join(f"{sum(one.close_ups[k] for one in found)}" for k in (0, 1)),
        ),
        ("pages", f"{sum(one.pages for one in found)}"),
    ]


def main() -> None:
    """Prints the table, and with '--models' a line for every model on the first kind, or what is kept."""
    asked = [kind for kind in KINDS if kind[0] in sys.argv]
    if "--kept" in sys.argv:
        for _, found in rows(asked[:1] or KINDS[:1]):
            print(*(one.kept for one in found), sep="\n")
        return
    columns = list(rows(asked or KINDS))
    told = [summary(found) for _, found in columns]
    print("| measure | " + " | ".join(name for name, _ in columns) + " |")
    print("|---|" + "---|" * len(columns))
    for index, (label, _) in enumerate(told[0]):
        print(f"| {label} | " + " | ".join(one[index][1] for one in told) + " |")
    if "--models" in sys.argv:
        for one in columns[0][1]:
            fills = " ".join(f"{100 * f:.0f}" for f in one.fills)
            print(
                f"{one.name}: {one.pages} pages, {statistics.median(one.sides):.0f} mm (from"
                f" {min(one.sides):.0f}), paper {100 * statistics.mean(one.covered):.0f} %, full {fills}"
                f" %, key {one.key:.0f} mm, {one.changes} changes of scale"
            )


if __name__ == "__main__":
    main()
