"""One script on the workbench: each time it is saved, only what the change affects is made again.

In: the script's file, a style and a page size. Out: what is to be seen, told as soon as it is known:
first the step that has changed, then the pages. Steps before the first changed one are not folded
again, figures that are the same are not drawn again, and a page that is the same keeps its picture.
When the text does not fold, the last good pages stay, with what is wrong beside them.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

from ..captions.side_file import side_files
from ..captions.speaking import said
from ..diagnostics import Diagnostic, FoldscriptError, Source
from ..drawing.draw import Kept, draw
from ..drawing.styles import Style
from ..folding.fold import fold
from ..folding.lineage import ancestors
from ..folding.resuming import Memory
from ..folding.steps import Model
from ..moves.registry import verbs
from ..output.fonts import glyph_warnings, measure
from ..output.page_svg import page_svg
from ..output.svg import scene_svg
from ..pages.document import Document, Page
from ..pages.grid import figure_frame
from ..pages.handout import handout
from ..pages.sizes import PageSize
from ..pages.trimming import trimmed_to_ink
from ..syntax.nodes import Program
from ..syntax.parser import parse
from ..syntax.reading import read_source
from .shown import Picture, Shown, trouble

#: A changed step is shown in a frame so large, in points.
CLOSE_UP = (300.0, 300.0)

#: Seconds after which pages are shown with what has been drawn of them, in the order of the steps.
PROMPT = 0.045
#: Seconds of drawing that are granted all the same when reading and folding took longer.
AT_LEAST = 0.02

#: Told what is to be seen now.
Tell = Callable[[Shown], None]


class Workbench:
    """A script, and everything that an earlier version of it has left to be used again."""

    def __init__(
        self, path: Path, style: Style, page: PageSize, languages: Sequence[str] = ()
    ) -> None:
        """`languages` names one to show the model in, or none."""
        self.path = path
        self.shown = Shown(str(path))
        self.ancestors: tuple[Path, ...] = ()  # the scripts that it starts from
        self._page, self._languages = page, languages
        self._memory, self._kept, self._near = Memory(), Kept(), Kept()
        self._texts: tuple[object, ...] = ()  # what the pages were made from; () when they are old
        self._model: Model | None = None
        self._shown_step = 0
        self._warnings: tuple[Diagnostic, ...] = ()
        self._sheets: tuple[tuple[Page, Picture], ...] = ()
        self.dress(style)

    def dress(self, style: Style) -> None:
        """Another style from now on."""
        self._style, self._near_style = style, replace(style, enlarged=1.0)
        self._texts, self._sheets = (), ()

    def make(self, tell: Tell) -> None:
        """Reads the script and makes again what has changed; nothing when it says what it said."""
        until = time.monotonic() + PROMPT
        try:
            source = read_source(self.path)
            program = parse(source, verbs())
            found = ancestors(program, self.path)
            self.ancestors = tuple(path for path, _ in found)
            lineage = [text for _, text in found]
            texts = (source, *lineage, *self._side_texts())
            if texts != self._texts:
                self._draw(self._folded(program, lineage, tell), until, tell)
                self._texts = texts
        except FoldscriptError as error:
            self.fail(error.diagnostics, tell)

    @property
    def sources(self) -> tuple[Path, ...]:
        """Every file whose change may change the pages."""
        return (self.path, *self.ancestors, *side_files(self.path).values())

    def _side_texts(self) -> list[str]:
        """The captions that lie beside the script, in whatever language."""
        found = side_files(self.path).values()
        return [path.read_text("utf-8", "replace") for path in found if path.is_file()]

    def fail(self, faults: Sequence[Diagnostic], tell: Tell) -> None:
        """Shows what is wrong, beside the last good pages."""
        self._texts = ()
        troubles = tuple(trouble(fault) for fault in faults)
        self._tell(tell, replace(self.shown, troubles=troubles, old=bool(self.shown.pages)))

    def _tell(self, tell: Tell, shown: Shown) -> None:
        self.shown = shown
        tell(shown)

    # --- stages -----------------------------------------------------------------------------

    def _folded(self, program: Program, lineage: Sequence[Source], tell: Tell) -> Model:
        """The model; the first step that is folded anew is shown before those after it are."""
        same = self._memory.unchanged(program, lineage)
        if self._model is not None and same < len(program.steps):
            short = replace(program, steps=program.steps[: same + 1])
            self._show_step(self._said(fold(short, self.path, self._memory)), same, tell)
        return self._said(fold(program, self.path, self._memory))

    def _said(self, model: Model) -> Model:
        """The model in the language that is wanted; what is to be known about it is kept."""
        spoken, self._warnings = said(model, self.path, self._languages)
        return spoken

    def _show_step(self, model: Model, number: int, tell: Tell) -> None:
        """Shows one step larger, at a scale of its own."""
        step, self._shown_step = model.steps[number], number
        style = self._near_style
        self._near.turn()
        figures = draw(replace(model, steps=(step,)), style, CLOSE_UP, self._near)
        scenes = [(f.label, trimmed_to_ink(f.scene)) for f in figures]
        close = tuple(
            Picture(label, scene_svg(scene, style), scene.width, scene.height)
            for label, scene in scenes
        )
        words = next((f.caption for f in figures if f.caption), "")
        self._tell(tell, replace(self.shown, close=close, words=words, title=model.title))

    def _draw(self, model: Model, until: float, tell: Tell) -> None:
        """Shows the pages: once with the figures that are drawn in good time, then all of them."""
        reworded = _reworded(self._model, model)
        if reworded is not None:
            self._show_step(model, reworded, tell)
        late = max(until, time.monotonic() + AT_LEAST)
        self._kept.until, self._kept.behind = late if self._sheets else None, False
        document = self._laid_out(model)
        if self._kept.behind:
            self._tell(tell, self._good(model, document))
            self._kept.until = None
            document = self._laid_out(model)
        self._kept.turn()
        self._model = model
        self._tell(tell, self._good(model, document))

    def _laid_out(self, model: Model) -> Document:
        """The pages; in a hurry some of their figures may be of the text before."""
        frame = figure_frame(self._page, self._style.enlarged)
        figures = draw(model, self._style, frame, self._kept)
        return handout(
            model, figures, self._style, self._page, measure, model.speech, kept=self._kept
        )

    def _good(self, model: Model, document: Document) -> Shown:
        self._sheets = tuple((page, self._picture(page)) for page in document.pages)
        texts = glyph_warnings(document.texts())
        warnings = (*self._style.notes, *self._warnings, *texts)
        gone = self._shown_step >= len(model.steps)
        return replace(
            self.shown,
            close=() if gone else self.shown.close,
            words="" if gone else self.shown.words,
            title=model.title or model.name,
            pages=tuple(picture for _, picture in self._sheets),
            troubles=tuple(trouble(warning) for warning in warnings),
            old=False,
        )

    def _picture(self, page: Page) -> Picture:
        for known, picture in self._sheets:
            if known == page:
                return picture
        svg = page_svg(page, self._style)
        return Picture(page.label, svg, page.size.width, page.size.height)


def _reworded(before: Model | None, now: Model) -> int | None:
    """The first step whose caption alone has changed, when no step was folded anew."""
    if before is None or len(before.steps) != len(now.steps):
        return None
    for number, (old, new) in enumerate(zip(before.steps, now.steps, strict=True)):
        if old.panels is not new.panels:
            return None
        if old.caption != new.caption:
            return number
    return None
