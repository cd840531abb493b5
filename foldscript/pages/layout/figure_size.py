"""How large a model's figures are drawn, so that its pages are well filled: the one search for sizes.

In: a model's figures, each drawn for itself, and frames to try. Out: the pages of the best frame.
What a frame would come to is estimated first, so that little is drawn in vain; the few that promise most
are drawn. Few pages, well filled, with figures as large as is wanted: what each is worth against the
others, and which frames are tried, stands in `measures.FigureSizes`.
"""

from __future__ import annotations

import math
import statistics
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Generic, TypeVar

from ...drawing.draw import draw
from ...drawing.kept import DrawingCache
from ...drawing.row import Row
from ...drawing.signs.key import shown
from ...drawing.style.styles import Style
from ...folding.steps import Model
from ...languages.wording import Translate
from .. import measures
from ..grid import Grid
from ..typesetting import Typesetter
from .cells import LongCaption
from .drawn_cells import cell_scales, drawn_cells
from .extents import Extent, extent, fewest_pages, least_heights, stand_ins
from .makeup import PageMakeup
from .row_places import Figure

Pages = TypeVar("Pages")
Size = TypeVar("Size")


@dataclass(frozen=True, slots=True)
class Sized(Generic[Pages]):
    """Pages whose figures are drawn in some size, and what they cost: the less, the better."""

    pages: Pages
    cost: float


_Found = tuple[Sequence[Figure], PageMakeup]
Fill = Callable[[Sequence[Figure], Grid], PageMakeup]


@dataclass(frozen=True)
class Search:
    """The search for the size of a model's figures.

    g : the usual grid of its pages; above : height that is taken above the first row of figures, at least
    """

    model: Model
    style: Style
    g: Grid
    typesetter: Typesetter
    translate: Translate
    kept: DrawingCache | None
    above: float = 0.0

    @cached_property
    def _row(self) -> Row:
        return Row(self.model, self.g.gutter)

    def cells(self, g: Grid) -> list[Figure]:
        """The figures of the pages, drawn in a grid's frames."""
        return drawn_cells(self._row, self.style, g, self.translate, self.kept)

    @cached_property
    def _circled(self) -> frozenset[int]:
        """Places of the figures that have a part drawn larger in a circle, as far as is known.

        How far a circle stands out is only known once it is drawn.
        """
        return frozenset(
            number for number, cell in enumerate(self._alone.cells) if "inset" in cell.signs
        )

    def _with_circles(self, base: _Base, one: _Trial) -> _Base:
        """What is known of the figures, those with circles as they come out in a grid's frames."""
        drawn = draw(
            self.model, self.style, one.g.frame, self.kept, one.g.gutter, only=self._circled
        )
        cells, scales = list(base.cells), list(base.scales)
        for number in self._circled:
            scene = drawn[number].scene
            cells[number] = replace(cells[number], scene=replace(scene, signs=shown(scene)))
            scales[number] = one.scales[number]
        anew = self._base([cells[number] for number in sorted(self._circled)], one.g, ())
        extents = list(base.extents)
        for number, reach in zip(sorted(self._circled), anew.extents, strict=True):
            extents[number] = reach
        return _Base(cells, extents, scales)

    def best(self, fill: Fill, fewer_columns: bool = True) -> tuple[Sequence[Figure], PageMakeup]:
        """The best pages that `fill` makes with figures of some size, and the figures.

        Raises LongCaption where not even figures in the usual frame can fill any.
        """
        bases: dict[int, _Base] = {}  # what has been drawn last, in so many columns

        def sized(some: Sequence[Figure], g: Grid, sides: Sequence[float]) -> Sized[_Found]:
            pages = fill(some, g)
            cost = cost_of(len(pages.items), pages.waste, sides, g)
            return Sized((some, pages), cost)

        promises: dict[Grid, tuple[_Base, float | None]] = {}

        def estimate(one: _Trial) -> float | None:
            base = bases.get(one.g.columns, self._alone)
            if one.g not in promises or promises[one.g][0] is not base:
                promises[one.g] = (base, promise(one, base))
            return promises[one.g][1]

        def promise(one: _Trial, base: _Base) -> float | None:
            growths = base.growths(one)
            boxes = stand_ins(base.cells, base.extents, growths, one.g.frame)
            try:
                return sized(boxes, one.g, base.sides(growths)).cost
            except LongCaption:
                return None

        def least(one: _Trial) -> float:
            base = bases.get(one.g.columns, self._alone)
            growths = base.growths(one)
            rows = least_heights(base.cells, base.extents, growths, one.g, self.typesetter)
            count = fewest_pages(rows, one.g, self.above)
            return cost_of(count, 0.0, base.sides(growths), one.g)

        def drawn(one: _Trial) -> Sized[_Found] | None:
            try:
                return drawn_in(one.g, one.scales)
            except LongCaption:
                return None

        def drawn_in(g: Grid, scales: Sequence[float]) -> Sized[_Found]:
            some = self.cells(g)
            base = bases[g.columns] = self._base(some, g, scales)
            return sized(some, g, [extent.side for extent in base.extents])

        looked_at: set[Grid] = set()

        def look(one: _Trial) -> bool:
            """Draws the figures with circles, before all others; whether more is known then."""
            if not self._circled or one.g in looked_at or len(looked_at) >= measures.SIZES.looks:
                return False
            looked_at.add(one.g)
            base = bases.get(one.g.columns, self._alone)
            bases[one.g.columns] = self._with_circles(base, one)
            return True

        trials = list(self._trials((self.g, *grids_to_try(self.g, fewer_columns))))
        found = best_size(trials, estimate, drawn, measures.SIZES.gains, least, look)
        return found or drawn_in(self.g, cell_scales(self._row, self.g)).pages

    @cached_property
    def _alone(self) -> _Base:
        """The figures as they are drawn where no page has the signs between them, for first estimates.

        Whoever wants pages mostly wants pictures of the steps too, and then they are drawn already.
        """
        row = Row(self.model)
        cells = drawn_cells(row, self.style, self.g, self.translate, self.kept)
        return self._base(cells, self.g, cell_scales(row, self.g))

    def _base(self, cells: Sequence[Figure], g: Grid, scales: Sequence[float]) -> _Base:
        """Figures as they have been drawn in a grid at some scales, for estimates of other sizes."""
        digits, air = self.g.number_size, measures.CELL.number_air
        ends = [self.typesetter.width(cell.label, digits, True) + air for cell in cells]
        extents = [
            extent(cell, g.column / 2 - end, g.frame) for cell, end in zip(cells, ends, strict=True)
        ]
        return _Base(cells, extents, scales)

    def _trials(self, grids: Iterable[Grid]) -> Iterator[_Trial]:
        """The grids, without those in which figures come out as in one before."""
        seen: set[tuple[object, ...]] = set()
        for g in grids:
            scales = cell_scales(self._row, g)
            rounded = (round(scale / g.wanted, measures.SIZES.digits) for scale in scales)
            alike = (g.columns, *rounded)
            if alike not in seen:
                seen.add(alike)
                yield _Trial(g, scales)


@dataclass(frozen=True, slots=True)
class _Base:
    """Drawn figures, how far each reaches, and its scale."""

    cells: Sequence[Figure]
    extents: Sequence[Extent]
    scales: Sequence[float]

    def growths(self, one: _Trial) -> list[float]:
        """How many times larger each figure is in a grid to try."""
        return [now / then for now, then in zip(one.scales, self.scales, strict=True)]

    def sides(self, growths: Sequence[float]) -> list[float]:
        """Longest sides of the figures when they are so many times larger."""
        return [growth * one.side for growth, one in zip(growths, self.extents, strict=True)]


@dataclass(frozen=True, slots=True)
class _Trial:
    """A grid to try, and the scales of the figures in its frames."""

    g: Grid
    scales: Sequence[float]


def best_size(
    sizes: Iterable[Size],
    estimate: Callable[[Size], float | None],
    drawn: Callable[[Size], Sized[Pages] | None],
    gains: Sequence[float],
    least: Callable[[Size], float] = lambda _: -math.inf,
    look: Callable[[Size], bool] = lambda _: False,
) -> Pages | None:
    """The pages that cost least of those of the sizes that promise most; None where none can be had.

    Sizes are drawn in the order of what `estimate` says that they cost, equal ones in the order given;
    those that promise nothing, never; at most one for each of the `gains`, and none that does not promise
    to cost less than what has been found, by more than its gain. Estimates are made anew after each, for
    more is known then. None from `estimate` or `drawn` tells that a size cannot be had. `least` tells without
    much work what no estimate of a size is below: where that is too much already, none is made. `look` learns
    more before a size is drawn, if it can; estimates are made anew then, too.
    """
    hopeful = list(sizes)
    best: Sized[Pages] | None = None
    for gain in gains:
        limit = math.inf if best is None else best.cost - gain
        number = _most_hopeful(hopeful, estimate, least, limit)
        while number is not None and look(hopeful[number]):
            number = _most_hopeful(hopeful, estimate, least, limit)
        if number is None:
            break
        found = drawn(hopeful.pop(number))
        if found is not None and (best is None or found.cost < best.cost):
            best = found
    return None if best is None else best.pages


def _most_hopeful(
    sizes: Sequence[Size],
    estimate: Callable[[Size], float | None],
    least: Callable[[Size], float],
    limit: float,
) -> int | None:
    """The number of the size that promises to cost least, the first of equal ones; None where none promises
    less than the limit."""
    picked: tuple[float, int] | None = None
    for lowest, number in sorted((least(size), number) for number, size in enumerate(sizes)):
        if lowest - measures.ROUNDING > (limit if picked is None else picked[0]):
            break
        cost = estimate(sizes[number])
        if cost is not None and cost < limit and (picked is None or (cost, number) < picked):
            picked = (cost, number)
    return None if picked is None else picked[1]


def cost_of(count: int, waste: float, sides: Sequence[float], g: Grid) -> float:
    """How poor pages are, in pages: their number, their emptiness, and the size of their figures.

    `sides` are the longest sides of figures; the grid says how long they should be in the middle.
    """
    m = measures.SIZES
    middle = statistics.median(sides) if sides else g.wanted
    off = math.log(middle / g.wanted)
    size = (m.smaller if off < 0 else m.larger) * off
    poor = m.poor * math.log(g.least / middle) if middle < g.least else 0.0
    below = (math.log(g.smallest / side) / m.small_by for side in sides if 0.0 < side < g.smallest)
    small = sum(min(1.0, part) for part in below)
    sheets = count - (m.one_page if count == 1 else 0.0)
    return sheets + waste + m.small_figure * small + poor - size


def grids_to_try(g: Grid, fewer_columns: bool = True) -> Iterator[Grid]:
    """Grids with frames of other sizes than the usual one `g`, also with one column less."""
    m = measures.SIZES
    for columns in range(g.columns, max(0, g.columns - 1 - fewer_columns), -1):
        of_columns = g.with_columns(columns)
        for width in m.widths:
            for higher in m.heights:
                wide, high = (width * side for side in of_columns.frame)
                yield replace(of_columns, frame=(wide, min(higher * high, m.highest * g.height)))
