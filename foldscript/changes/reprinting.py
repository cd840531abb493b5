"""Which pages of a booklet are to be printed again.

In: a booklet file in two versions. Out: for each of its languages the pages that do not look as they did, and
the sheets that they lie on. A page is compared with the page of the same number: that is what lies in the
folder.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..building.binding import lay_out
from ..building.booklet.plan import BookletPlan
from ..building.script import Doing
from ..output.page_svg import page_svg
from ..pages.booklet.imposition import PAGES_A_SHEET, creep_shifts, padded_count, page_at, saddle
from ..pages.document import Document
from ..source.diagnostics import FoldscriptError
from .versions import Version


@dataclass(frozen=True)
class Reprint:
    """A booklet in both versions, in one language.

    Attributes
    ----------
    language : its tag
    pages : labels of the pages that are to be printed again
    count : how many it has now
    before : how many it had
    sheets : of the imposed booklet, counted from 1, the outermost first; () when it is not imposed
    sheet_count : how many it has now
    """

    name: str
    language: str
    pages: tuple[str, ...]
    count: int
    before: int
    sheets: tuple[int, ...] = ()
    sheet_count: int = 0

    @property
    def changed(self) -> bool:
        """Whether anything of it is to be printed again."""
        return bool(self.pages or self.sheets)


def reprint(
    old: Version, new: Version, doing: Doing, languages: Sequence[str] = ()
) -> tuple[Reprint, ...]:
    """Lays both versions out in every language of the new one, or in those named, and compares their pages.

    Raises FoldscriptError where the new one is wrong; of an old one that is wrong all is new.
    """
    try:
        now = lay_out(new.path, doing, languages)
    except FoldscriptError as error:
        raise FoldscriptError(*(new.named(fault) for fault in error.diagnostics)) from error
    try:
        before = lay_out(old.path, doing, languages)
    except FoldscriptError:
        before = {}
    return tuple(_reprint(tag, *edition, before.get(tag)) for tag, edition in now.items())


def _reprint(
    language: str,
    plan: BookletPlan,
    document: Document,
    before: tuple[BookletPlan, Document] | None,
) -> Reprint:
    """The booklet in one language; `before` is None where it was not there."""
    now = _prints(plan, document)
    then = [] if before is None else _prints(*before)
    creep = plan.creep if before is None else before[0].creep
    changed = [k for k, page in enumerate(now) if k >= len(then) or then[k] != page]
    labels = tuple(document.pages[k].label for k in changed)
    sheets: tuple[int, ...] = ()
    if plan.imposed:
        old_sheets, new_sheets = _sheets(then, creep), _sheets(now, plan.creep)
        sheets = tuple(
            k + 1
            for k, sheet in enumerate(new_sheets)
            if k >= len(old_sheets) or old_sheets[k] != sheet
        )
    total = padded_count(len(now)) // PAGES_A_SHEET if plan.imposed else 0
    return Reprint(plan.name, language, labels, len(now), len(then), sheets, total)


def _prints(plan: BookletPlan, document: Document) -> list[bytes]:
    return [page_svg(page, plan.style) for page in document.pages]


def _sheets(pages: list[bytes], creep: float) -> list[list[bytes | float | None]]:
    """The four pages of each sheet, None for a blank one, and how far they are moved to the spine."""
    count = len(pages)
    places = [page_at(k, count) for k in range(padded_count(count))]
    lies = [None if k is None else pages[k] for k in places]
    sides = [(lies[side.left], lies[side.right]) for side in saddle(len(lies))]
    shifts = creep_shifts(len(lies), creep)
    return [[*sides[2 * k], *sides[2 * k + 1], shift] for k, shift in enumerate(shifts)]
