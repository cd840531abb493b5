"""Paper sizes that handouts are printed on.

In: a size's usual name ('A4', 'Letter'). Out: its width and height in points (1/72 inch), exact.
Not to be confused with the sheet that is folded, which the script describes in millimetres.
"""

from __future__ import annotations

from dataclasses import dataclass
from difflib import get_close_matches

from ..source.diagnostics import Diagnostic, FoldscriptError, Hint

#: pt; width and height of a figure that is drawn for a slide, which fills any screen.
SCREEN = (330.0, 225.0)
POINTS_PER_MM = 72.0 / 25.4
POINTS_PER_INCH = 72.0


@dataclass(frozen=True, slots=True)
class PageSize:
    """A page, upright unless turned; width and height in points."""

    name: str
    width: float
    height: float

    def landscape(self) -> PageSize:
        """The same page lying on its long side."""
        return PageSize(
            f"{self.name} landscape", max(self.width, self.height), min(self.width, self.height)
        )

    def times(self, factor: float) -> PageSize:
        """A page of the same shape, so many times as wide and as high."""
        return PageSize(self.name, self.width * factor, self.height * factor)


def _mm(name: str, width: float, height: float) -> PageSize:
    return PageSize(name, width * POINTS_PER_MM, height * POINTS_PER_MM)


def _inch(name: str, width: float, height: float) -> PageSize:
    return PageSize(name, width * POINTS_PER_INCH, height * POINTS_PER_INCH)


#: ISO 216 A series in millimetres; Letter is size A of ANSI/ASME Y14.1; Legal, half letter and tabloid are
#: common North American practice.
PAGE_SIZES: tuple[PageSize, ...] = (
    _mm("A3", 297, 420),
    _mm("A4", 210, 297),
    _mm("A5", 148, 210),
    _mm("A6", 105, 148),
    _inch("Letter", 8.5, 11),
    _inch("Legal", 8.5, 14),
    _inch("Half letter", 5.5, 8.5),
    _inch("Tabloid", 11, 17),
)

_LANDSCAPE = "landscape"


def page_size(name: str) -> PageSize:
    """The page called `name`, however it is cased or spaced; 'A4 landscape' lies on its long side.

    Raises FoldscriptError ('unknown-page-size') with the names there are.
    """
    wanted = _key(name)
    turned = wanted.endswith(_LANDSCAPE)
    if turned:
        wanted = wanted.removesuffix(_LANDSCAPE)
    known = {_key(size.name): size for size in PAGE_SIZES}
    if wanted in known:
        return known[wanted].landscape() if turned else known[wanted]
    near = get_close_matches(wanted, known, n=1)
    hints = [Hint(f"did you mean {known[near[0]].name}?")] if near else []
    hints.append(Hint("page sizes: " + ", ".join(size.name for size in PAGE_SIZES)))
    raise FoldscriptError(
        Diagnostic("unknown-page-size", f"there is no page size '{name}'", hints=tuple(hints))
    )


def _key(name: str) -> str:
    return "".join(ch for ch in name.casefold() if ch.isalnum())
