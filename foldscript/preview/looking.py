"""What a reader has in view, and which drawings are therefore made before the others.

In: the parts of pages that a browser shows, and pages as they were laid out last. Out: sets of
drawings as `drawing.draw.DrawingCache` calls them, the most urgent first.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ..drawing.draw import DrawnFigure
from ..drawing.scene.scene import Scene
from ..pages.document import Document, Page

#: Which drawing: the number of a figure in the row, from 0, or the name of another one.
Slot = int | str


@dataclass(frozen=True, slots=True)
class InView:
    """A part of a page, which counts from 0; `top` and `bottom` in hundredths of its height."""

    page: int
    top: int
    bottom: int


@dataclass(frozen=True, slots=True)
class _Lying:
    """Where on its page a drawing lies, in hundredths of the page's height."""

    slot: Slot
    page: int
    top: float
    bottom: float

    def within(self, view: InView) -> bool:
        """Whether its middle is in view."""
        return self.page == view.page and view.top <= (self.top + self.bottom) / 2 <= view.bottom


class Layout:
    """Where all drawings of a model lay when its pages were last made."""

    def __init__(self, figures: Sequence[DrawnFigure], document: Document) -> None:
        self._steps = tuple(max(figure.step, figure.last) for figure in figures)
        self._pages = len(document.pages)
        names: dict[str, Slot] = {figure.scene.title: k for k, figure in enumerate(figures)}
        self._lying = tuple(_lying(names, document.pages))

    def on_page(self, number: int) -> frozenset[Slot]:
        """The drawings on a page."""
        return frozenset(lying.slot for lying in self._lying if lying.page == number)

    def first(self, same: int, views: Sequence[InView]) -> Iterator[frozenset[Slot]]:
        """What is best in view, then all that is in view.

        `same` counts the steps, from the first one, that are as they were. Where nothing in view can
        have changed, the page of the first changed step comes first.
        """
        changed = next((k for k, step in enumerate(self._steps) if step > same), len(self._steps))
        news = [one for one in self._lying if isinstance(one.slot, str) or one.slot >= changed]
        at = next((one.page for one in news if one.slot == changed), self._pages - 1)
        seen = [view for view in views if any(one.within(view) for one in news)]
        before: frozenset[Slot] = frozenset()
        for view in seen or [InView(at, 0, 100)]:
            found = before.union(one.slot for one in self._lying if one.within(view))
            if found != before and (not before or view is seen[-1]):
                yield found
            before = found


def _lying(names: dict[str, Slot], pages: Sequence[Page]) -> Iterator[_Lying]:
    """The drawings that are not of the key.

    The first one that is no figure's is the portrait in the head; the finished model has its title.
    """
    finished: str | None = None
    for number, page in enumerate(pages):
        high = page.size.height / page.scale / 100
        for item in page.scenes:
            if not isinstance(item.content, Scene):
                continue
            title = item.content.title
            if title in names:
                slot = names[title]
            elif finished is None:
                slot, finished = "portrait", title
            elif title == finished:
                slot = "finished"
            else:
                continue
            top = item.at[1] / high
            yield _Lying(slot, number, top, top + item.scale * item.content.height / high)
