"""Cutting sheets out of a page with straight cuts from edge to edge, as a trimmer makes them.

In: the page and the sheet in millimetres. Out: how many sheets come out of one page, the cuts in
order, and what is left over. As many sheets as such cuts can give, then as few cuts as possible,
then the largest leftover in one piece.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

#: Lengths are counted in hundredths of a millimetre, so that sums are exact.
_GRAIN = 100
#: A sheet may be this much larger than the page and still count as the page itself (mm).
_SLACK = 0.05
#: Up to so many sheets a page every pattern of cuts is looked at; more are cut strip by strip.
_ALL_WAYS = 16
#: More are laid in plain rows.
_MANY = 100


@dataclass(frozen=True, slots=True)
class Paper:
    """A page to cut from, in millimetres."""

    name: str
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Rectangle:
    """A piece of the page: left and upper edge, width and height, in millimetres."""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Cut:
    """What to do with pieces of one size: `count` of them, each cut at the same places.

    `across` cuts run from side to side and are measured from the top; the others run from top to
    bottom and are measured from the left.
    """

    count: int
    width: float
    height: float
    across: bool
    at: tuple[float, ...]


@dataclass(frozen=True)
class Cutting:
    """How a page is cut.

    Attributes
    ----------
    sheets : where the sheets lie on the page
    leftovers : what remains, largest first
    cuts : in the order in which they are made
    """

    paper: Paper
    width: float
    height: float
    sheets: tuple[Rectangle, ...]
    leftovers: tuple[Rectangle, ...]
    cuts: tuple[Cut, ...]

    @property
    def count(self) -> int:
        """Sheets from one page."""
        return len(self.sheets)


def cut(paper: Paper, width: float, height: float) -> Cutting | None:
    """Sheets of a size from one page; None where not one fits, whichever way it is turned."""
    page = _Page(_units(paper.width), _units(paper.height), _near(paper, width, height))
    root = page.best(page.width, page.height)
    if root.score[0] == 0:
        return None
    sheets, waste = [], []
    for x, y, node in _leaves(root, 0, 0):
        spot = Rectangle(*(v / _GRAIN for v in (x, y, node.width, node.height)))
        (sheets if node.sheet else waste).append(spot)
    waste.sort(key=lambda r: (-r.width * r.height, r.y, r.x))
    left = tuple(r for r in waste if min(r.width, r.height) >= 1.0)
    return Cutting(paper, width, height, tuple(sheets), left, tuple(_cuts(root)))


def saving_size(paper: Paper, width: float, height: float) -> tuple[float, float, int] | None:
    """A sheet at most a tenth smaller, in whole millimetres, of which one page gives more.

    Width, height and how many; None where so small a change saves nothing.
    """
    found = cut(paper, width, height)
    have = found.count if found else 0
    longer = max(width, height)
    for less in range(1, int(longer / 10) + 1):
        k = (int(longer) - less) / longer
        smaller = (round(width * k, 2), round(height * k, 2))
        if smaller[0] * smaller[1] * (have + 1) > paper.width * paper.height:
            continue
        better = cut(paper, *smaller)
        if better is not None and better.count > have:
            return (*smaller, better.count)
    return None


def _units(mm: float) -> int:
    return round(mm * _GRAIN)


def _near(paper: Paper, width: float, height: float) -> tuple[int, int]:
    """The sheet in units; sides that equal a side of the page but for rounding are that side."""
    sides = (paper.width, paper.height)

    def one(length: float) -> int:
        return next((_units(s) for s in sides if abs(s - length) <= _SLACK), _units(length))

    return one(width), one(height)


@dataclass(frozen=True, slots=True)
class _Node:
    """A rectangle of the page: a sheet, a leftover, or two or more parts of it.

    score: sheets, minus cuts, area of the largest leftover.
    """

    width: int
    height: int
    score: tuple[int, int, int]
    sheet: bool = False
    across: bool = False
    parts: tuple[_Node, ...] = ()


class _Page:
    """Finds the best way to cut any rectangle of one page."""

    def __init__(self, width: int, height: int, sheet: tuple[int, int]) -> None:
        self.width, self.height = width, height
        self.sheet = sheet
        self.lengths = sorted(set(sheet))
        bound = width * height // max(1, sheet[0] * sheet[1])
        self.all_ways = bound <= _ALL_WAYS
        if bound > _MANY:
            self.best = self._rows
        else:
            self.best = lru_cache(maxsize=None)(self._best)

    def _best(self, width: int, height: int) -> _Node:
        if (width, height) in (self.sheet, self.sheet[::-1]):
            return _Node(width, height, (1, 0, 0), sheet=True)
        best = _Node(width, height, (0, 0, width * height))
        if not any(w <= width and h <= height for w, h in (self.sheet, self.sheet[::-1])):
            return best
        for across, length in ((True, height), (False, width)):
            for at in self._places(length):
                if across:
                    parts = self.best(width, at), self.best(width, length - at)
                else:
                    parts = self.best(at, height), self.best(length - at, height)
                found = _joined(width, height, across, parts)
                if found.score > best.score:
                    best = found
        return best

    def _places(self, length: int) -> list[int]:
        """Where a cut may be worth making: at whole numbers of sheets, one way or the other."""
        if not self.all_ways:
            return [side for side in self.lengths if side < length]
        found = {0}
        for side in self.lengths:
            for start in sorted(found):
                found.update(range(start, length, side))
        return sorted(found - {0})

    def _rows(self, width: int, height: int) -> _Node:
        """Plain rows of sheets, lying the way that gives more."""
        w, h = max((self.sheet, self.sheet[::-1]), key=lambda s: (width // s[0]) * (height // s[1]))
        columns, rows = width // w, height // h
        sheets = tuple(_Node(w, h, (1, 0, 0), sheet=True) for _ in range(columns))
        rest = width - columns * w
        right = (_Node(rest, h, (0, 0, rest * h)),) if rest else ()
        row = _split(width, h, False, (*sheets, *right))
        rest = height - rows * h
        below = (_Node(width, rest, (0, 0, width * rest)),) if rest else ()
        return _split(width, height, True, (*(row for _ in range(rows)), *below))


def _joined(width: int, height: int, across: bool, parts: tuple[_Node, _Node]) -> _Node:
    """Two parts side by side; cuts of the same direction count as parts of one row."""
    flat: list[_Node] = []
    for part in parts:
        flat.extend(part.parts if part.parts and part.across == across else (part,))
    return _split(width, height, across, tuple(flat))


def _split(width: int, height: int, across: bool, parts: tuple[_Node, ...]) -> _Node:
    if len(parts) == 1:
        return parts[0]
    score = (
        sum(p.score[0] for p in parts),
        sum(p.score[1] for p in parts) - (len(parts) - 1),
        max(p.score[2] for p in parts),
    )
    return _Node(width, height, score, across=across, parts=parts)


def _leaves(node: _Node, x: int, y: int) -> Iterator[tuple[int, int, _Node]]:
    if not node.parts:
        yield x, y, node
    for part in node.parts:
        yield from _leaves(part, x, y)
        x, y = (x, y + part.height) if node.across else (x + part.width, y)


def _cuts(root: _Node) -> Iterator[Cut]:
    """Cuts from the whole page inwards; pieces that are cut alike are told once."""
    layer = [root]
    while layer:
        alike = Counter(node for node in layer if node.parts)
        for node, count in alike.items():
            at, places = 0, []
            for part in node.parts[:-1]:
                at += part.height if node.across else part.width
                places.append(at / _GRAIN)
            yield Cut(count, node.width / _GRAIN, node.height / _GRAIN, node.across, tuple(places))
        layer = [part for node in layer for part in node.parts]
