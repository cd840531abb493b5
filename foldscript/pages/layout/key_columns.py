"""Columns of the key: each as wide as its widest sample and its longest name, so that more of them fit.

In: (name, small picture) of each sign, and a width. Out: a block for every column, none higher than need be,
its lines level with those of the others.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ...drawing.scene.scene import Scene
from .. import measures
from ..document import Block, Placed, stacked
from ..grid import Grid
from ..parts import DECORATION, Part, list_item, new_list
from ..trimming import trimmed_to_ink
from ..typesetting import Typesetter, text_block


@dataclass(frozen=True, slots=True)
class Entry:
    """A sign in the key: its name, and its sample without what is empty about it, so much reduced.

    `wide` is what the sample measures then, `long` what the name takes on one line; in points.
    """

    name: str
    sample: Scene
    scale: float
    wide: float
    long: float

    @staticmethod
    def of(name: str, scene: Scene, grid: Grid, typesetter: Typesetter) -> Entry:
        """An entry, its sample as large as suits the letters of the key, and no higher than a line."""
        sample = trimmed_to_ink(scene)
        usual = min(grid.key / measures.KEY.drawn_for, measures.KEY.sample_most)
        scale = min(usual, grid.key_pitch / sample.height)
        long = measures.TYPE.slack_alone * typesetter.width(name, grid.key, False)
        return Entry(name, sample, scale, scale * sample.width, long)

    def text(self, room: float, grid: Grid, typesetter: Typesetter) -> Block:
        """The name in lines that are no wider than the room."""
        return text_block(self.name, room, grid.key, typesetter, "text.key")

    def lines(self, room: float, grid: Grid, typesetter: Typesetter) -> int:
        """How many lines the name takes that are no wider than the room."""
        more = self.text(room, grid, typesetter).height / grid.key - 1.0
        return 1 + round(more / grid.leading)

    def block(
        self, picture: float, width: float, grid: Grid, typesetter: Typesetter, signs: Part
    ) -> Block:
        """Sample and name at mid height beside each other, the name so far in as samples are wide; as high as
        lines of the key are apart, for each of the name.

        Told as the body of an item of a list.
        """
        left = picture + measures.KEY.beside_sample * grid.key
        text = self.text(width - left, grid, typesetter).as_part(list_item(signs)[1])
        height = grid.key_pitch * self.lines(width - left, grid, typesetter)
        across = (picture - self.wide) / 2
        down = (height - self.scale * self.sample.height) / 2
        sample = Placed((across, down), self.sample, self.scale, DECORATION)
        return Block(width, height, (sample, *text.at(left, (height - text.height) / 2)))


def lowest_columns(
    entries: Sequence[Entry],
    width: float,
    grid: Grid,
    typesetter: Typesetter,
    above: int = 0,
) -> list[Block]:
    """Columns side by side in a width, their lines level: the lowest way, few names broken.

    The first column leaves so many lines free `above` its entries.
    """
    m = measures.KEY
    room = max(grid.key, width - max(one.wide for one in entries) - m.beside_sample * grid.key)
    best: tuple[float, float, list[range]] | None = None
    for most in _lengths(entries, room, m.length_step * grid.key):
        broken = [one.long > most + measures.ROUNDING for one in entries]
        lines = [
            one.lines(most, grid, typesetter) if long else 1
            for one, long in zip(entries, broken, strict=True)
        ]
        lines[0] += above
        more = m.breaking * sum(broken)
        limit = math.inf if best is None else best[0] - more
        found = _lowest(entries, lines, limit, most, width, grid)
        if found is not None:
            best = (found[0] + more, most, found[1])
    assert best is not None  # one column at least, of names as long as its room
    _, most, made = best
    signs = new_list()
    columns: list[Block] = []
    for share in made:
        some = entries[share.start : share.stop]
        picture, wide = max(one.wide for one in some), _width(some, most, grid)
        cells = [one.block(picture, wide, grid, typesetter, signs) for one in some]
        columns.append(stacked(cells, 0.0))
    return [columns[0].lowered(above * grid.key_pitch), *columns[1:]]


def _lengths(entries: Sequence[Entry], room: float, step: float) -> Iterator[float]:
    """How long names may be on a line, from the longest on, no two nearer to each other than a step."""
    last = math.inf
    for long in sorted({min(one.long, room) for one in entries}, reverse=True):
        if long <= last - step:
            last = long
            yield long


def _lowest(
    entries: Sequence[Entry],
    lines: Sequence[int],
    limit: float,
    most: float,
    width: float,
    grid: Grid,
) -> tuple[int, list[range]] | None:
    """How many lines the lowest columns have, and their entries; None where that is not below a limit."""
    low, high = max(lines), min(sum(lines), math.ceil(min(limit, sum(lines) + 1.0)) - 1)
    if low > high or (made := _shared(entries, lines, high, most, width, grid)) is None:
        return None
    while low < high:
        middle = (low + high) // 2
        tried = _shared(entries, lines, middle, most, width, grid)
        low, high = (middle + 1, high) if tried is None else (low, middle)
        made = tried or made
    evened = _shared(entries, lines, high, most, width, grid, measures.KEY.even)
    return high, evened or made


def _width(some: Sequence[Entry], most: float, grid: Grid) -> float:
    """Width of a column of entries, no name longer than `most`."""
    name = max(min(one.long, most) for one in some)
    return max(one.wide for one in some) + measures.KEY.beside_sample * grid.key + name


def _shared(
    entries: Sequence[Entry],
    lines: Sequence[int],
    limit: int,
    most: float,
    width: float,
    grid: Grid,
    even: Sequence[float] = (0.0,),
) -> list[range] | None:
    """Entries shared out to columns, none of more lines than the limit: the first of the ways that fits,
    which care so much for columns of one height; None where they are too wide even so, or too many.
    """
    gutter = measures.KEY.gutter * grid.key
    for care in even:
        shares = _narrowest(entries, lines, limit, most, grid, care)
        some = [entries[share.start : share.stop] for share in shares]
        wide = sum(_width(one, most, grid) + gutter for one in some) - gutter
        if len(shares) <= measures.KEY.columns and wide <= width + measures.ROUNDING:
            return shares
    return None


def _narrowest(
    entries: Sequence[Entry],
    lines: Sequence[int],
    limit: int,
    most: float,
    grid: Grid,
    care: float,
) -> list[range]:
    """The columns below a limit that are together as narrow as can be.

    Every column counts as wider by `care` times the square of its height, for these are least where columns
    are alike; the square is told in letters' size.
    """
    gutter, beside = (em * grid.key for em in (measures.KEY.gutter, measures.KEY.beside_sample))
    best: list[tuple[float, list[range]]] = [(-gutter, [])]
    for end in range(1, len(entries) + 1):
        ways: list[tuple[float, list[range]]] = []
        used, sample, name = 0, 0.0, 0.0
        for begin in range(end - 1, -1, -1):
            used += lines[begin]
            if used > limit and begin < end - 1:
                break
            one, (before, shares) = entries[begin], best[begin]
            sample, name = max(sample, one.wide), max(name, min(one.long, most))
            wide = (
                before
                + gutter
                + sample
                + beside
                + name
                + care * (used * grid.key_pitch) ** 2 / grid.key
            )
            ways.append((wide, [*shares, range(begin, end)]))
        best.append(min(ways, key=lambda way: way[0]))
    return best[-1][1]
