"""One script on the workbench: each time it is saved, only what the change affects is made again.

In: the script's file, a style, a page size, and which pages a reader has in view. Out: what is to be
seen, told as soon as it is known: first the step that has changed, then the page in view (or the page
of that step, where the one in view stays as it is), then all the others. Steps before the first changed
one are not folded again, figures that are the same are not drawn again, and a page that is the same
keeps its picture. When the text does not fold, the last good pages stay, with what is wrong beside them.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

from ..captions.side_file import side_files
from ..captions.speaking import said
from ..drawing.draw import DrawnFigure, Kept, draw
from ..drawing.style.styles import Style
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
from ..pages.layout.handout import handout
from ..pages.sizes import PageSize
from ..pages.trimming import trimmed_to_ink
from ..source.diagnostics import Diagnostic, FoldscriptError, Source
from ..source.reading import read_script
from ..syntax.nodes import Program
from ..syntax.parser import parse
from .looking import InView, Layout
from .shown import Picture, Shown, trouble

#: A changed step is shown in a frame so large, in points.
CLOSE_UP = (300.0, 300.0)

#: Told what is to be seen now.
Tell = Callable[[Shown], None]


class Workbench:
    """A script, and everything that an earlier version of it has left to be used again."""

    def __init__(
        self,
        path: Path,
        style: Style,
        page: PageSize,
        languages: Sequence[str] = (),
        in_view: Callable[[], Sequence[InView]] = tuple,
    ) -> None:
        """`languages` names one to show the model in, or none; `in_view` gives what a reader sees."""
        self.path = path
        self._in_view = in_view
        self.shown = Shown(str(path))
        self.ancestors: tuple[Path, ...] = ()  # the scripts that it starts from
        self._page, self._languages = page, languages
        self._memory, self._kept, self._near = Memory(), Kept(), Kept()
        self._texts: tuple[object, ...] = ()  # what the pages were made from; () when they are old
        self._model: Model | None = None
        self._shown_step = 0
        self._warnings: tuple[Diagnostic, ...] = ()
        self._sheets: tuple[tuple[Page, Picture], ...] = ()
        self._layout: Layout | None = None
        self.dress(style)

    def dress(self, style: Style) -> None:
        """Another style from now on."""
        self._style, self._near_style = style, replace(style, enlarged=1.0)
        self._texts, self._sheets = (), ()

    def make(self, tell: Tell) -> None:
        """Reads the script and makes again what has changed; nothing when it says what it said."""
        source: Source | None = None
        try:
            source = read_script(self.path)
            program = parse(source, verbs())
            found = ancestors(program, self.path)
            self.ancestors = tuple(path for path, _ in found)
            lineage = [text for _, text in found]
            texts = (source, *lineage, *self._side_texts())
            if texts != self._texts:
                same = self._memory.unchanged(program, lineage)
                self._draw(self._folded(program, same, tell), same, tell)
                self._texts = texts
        except FoldscriptError as error:
            faults = (
                fault if fault.source else replace(fault, source=source)
                for fault in error.diagnostics
            )
            self.fail(tuple(faults), tell)

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

    def _folded(self, program: Program, same: int, tell: Tell) -> Model:
        """The model; the first step that is folded anew is shown before those after it are."""
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

    def _draw(self, model: Model, same: int, tell: Tell) -> None:
        """Shows the pages, those in view first; `same` counts the steps that are as they were."""
        reworded = _reworded(self._model, model)
        if reworded is not None:
            self._show_step(model, reworded, tell)
        layout = self._layout if self._sheets else None
        for places in (*(layout.first(same, self._in_view()) if layout else ()), None):
            self._kept.wanted, self._kept.behind = places, False
            figures, document = self._laid_out(model)
            self._tell(tell, self._good(model, document))
            if not self._kept.behind:
                self._layout = Layout(figures, document)
                break
        self._kept.turn()
        self._model = model

    def _laid_out(self, model: Model) -> tuple[tuple[DrawnFigure, ...], Document]:
        """The pages; in a hurry some of their figures may be of the text before."""
        frame = figure_frame(self._page, self._style.enlarged)
        figures = draw(model, self._style, frame, self._kept)
        return figures, handout(
            model, figures, self._style, self._page, measure, model.speech, kept=self._kept
        )

    def _good(self, model: Model, document: Document) -> Shown:
        self._sheets = tuple(self._sheet(k, page) for k, page in enumerate(document.pages))
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

    def _sheet(self, number: int, page: Page) -> tuple[Page, Picture]:
        """A page and its picture; in a hurry a page without anything wanted keeps what it showed."""
        wanted, layout = self._kept.wanted, self._layout
        hurried = self._kept.behind and wanted is not None and number < len(self._sheets)
        if hurried and layout and layout.on_page(number).isdisjoint(wanted or ()):
            return self._sheets[number]
        for known, picture in self._sheets:
            if known == page:
                return page, picture
        svg = page_svg(page, self._style)
        return page, Picture(page.label, svg, page.size.width, page.size.height)


def _reworded(before: Model | None, now: Model) -> int | None:
    """The first step whose caption alone has changed, when no step was folded anew."""
    if before is None or len(before.steps) != len(now.steps):
        return None
    for number, (old, new) in enumerate(zip(before.steps, now.steps, strict=True)):
        if old.after is not new.after:
            return None
        if old.caption != new.caption:
            return number
    return None
