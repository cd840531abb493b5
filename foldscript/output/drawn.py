"""A model with its drawings: what every output format starts from."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:  # what has not changed is not drawn again
    from ..drawing.draw import DrawnFigure
    from ..drawing.scene.scene import Scene
    from ..drawing.style.styles import Style
    from ..folding.steps import Model
    from ..pages.document import Document
    from ..source.diagnostics import Diagnostic


def _unheard(note: Diagnostic) -> None:
    """Nobody asks for warnings."""


def _no_pages() -> Document:
    raise LookupError("these figures are on no pages")


@dataclass(frozen=True)
class Drawn:
    """A model, its figures, and how to get its pages when a format wants them.

    Attributes
    ----------
    figures : one a panel, in the order of folding
    finished : the finished model
    lay_out : gives the handout; pages need the caption font, so they are only made on demand
    on_screen : gives the same model drawn for a screen, where it was drawn for pages
    warn : takes what a reader should know about a file that is made all the same
    """

    model: Model
    figures: tuple[DrawnFigure, ...]
    finished: Scene
    style: Style
    lay_out: Callable[[], Document] = _no_pages
    on_screen: Callable[[], Drawn] | None = None
    warn: Callable[[Diagnostic], None] = _unheard

    def alone(self) -> tuple[Model, ...]:
        """A model for every kind of sheet that it is folded from."""
        from ..folding.alone import part_models

        return part_models(self.model)

    def pictures(self) -> Iterator[tuple[str, Scene]]:
        """File names without an ending, and scenes: 'cup-01', 'cup-03a', ..., 'cup-finished'.

        A part that is finished after step 6 is 'box-06-finished'. Nothing is cut off at their frames.
        """
        from ..drawing.scene.whole import whole

        stem = self.model.name
        digits = max(2, len(str(len(self.model.steps))))
        for figure in self.figures:
            part = figure.name if figure.label else "-finished"
            yield f"{stem}-{figure.step:0{digits}}{part}", whole(figure.scene)
        yield f"{stem}-finished", whole(self.finished)
