"""One script on the workbench: each time it is saved, only what the change affects is made again.

In: the script's file, a style, a page size, and which pages a reader has in view. Out: what is to be
seen, told as soon as it is known: first the step that has changed, then the page in view (or the page
of that step, where the one in view stays as it is), then all the others. Steps before the first changed
one are not folded again, figures that are the same are not drawn again, and a page that is the same
keeps its picture. When the text does not fold, what is wrong is told at once beside the last good pages;
then those of the steps before it take their place.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

from ..building.script import Script
from ..captions.side_file import side_files
from ..drawing.draw import draw
from ..drawing.kept import DrawingCache
from ..drawing.style.styles import Style
from ..folding.steps import Model
from ..output.fonts import fonts_of
from ..output.page_svg import page_svg
from ..output.svg import scene_svg
from ..output.turning import solid
from ..pages.document import Document, Page
from ..pages.sizes import PageSize
from ..pages.trimming import trimmed_to_ink
from ..source.diagnostics import Diagnostic, FoldscriptError
from ..source.reading import bytes_of
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
        language: str = "",
        in_view: Callable[[], Sequence[InView]] = tuple,
    ) -> None:
        """`language` is as `Script.said` takes it; `in_view` gives what a reader sees."""
        self.path = path
        self._in_view = in_view
        self.shown = Shown(str(path))
        self.ancestors: tuple[Path, ...] = ()  # the scripts that it starts from
        self._page, self._language = page, language
        self._script, self._near = Script(path), DrawingCache()
        self._texts: tuple[str, ...] = ()  # what the pages were made from; () when they are old
        self._model: Model | None = None
        self._shown_step = 0
        self._sheets: tuple[tuple[Page, Picture], ...] = ()
        self._layout: Layout | None = None
        self.dress(style)

    def dress(self, style: Style) -> None:
        """Another style from now on."""
        self.style, self._near_style = style, replace(style, enlarged=1.0)
        self._texts, self._sheets = (), ()

    def make(self, tell: Tell) -> None:
        """Reads the script and makes again what has changed; nothing when it says what it said."""
        self._script = script = self._script.renewed()
        try:
            self.ancestors = tuple(path for path, _ in script.ancestors)
            texts = (script.source.text, *self._other_texts(script))
            if texts != self._texts:
                same = script.unchanged_steps()
                self._fold(script, same, tell)
                self._draw(script, same, tell)
                self._texts = texts
        except FoldscriptError as error:
            self.fail(error.diagnostics, tell)
            with suppress(FoldscriptError):
                short = script.unfinished(error.diagnostics)
                if short is not None:
                    self._draw(short, short.unchanged_steps(), tell, error.diagnostics)

    @property
    def sources(self) -> tuple[Path, ...]:
        """Every file whose change may change the pages."""
        return (self.path, *self.ancestors, *side_files(self.path).values())

    def _other_texts(self, script: Script) -> Iterator[str]:
        """The scripts that it starts from, and the captions that lie beside it in whatever language."""
        for path, ancestor in script.ancestors:
            yield from (str(path), ancestor.text)
        for path in side_files(self.path).values():
            with suppress(OSError):  # it went, or is no file: making the pages says so
                yield bytes_of(path).decode("utf-8", "replace")

    def fail(self, faults: Sequence[Diagnostic], tell: Tell) -> None:
        """Shows what is wrong, beside the last good pages."""
        self._texts = ()
        troubles = tuple(trouble(fault) for fault in faults)
        self._tell(tell, replace(self.shown, troubles=troubles, old=bool(self.shown.pages)))

    def _tell(self, tell: Tell, shown: Shown) -> None:
        self.shown = shown
        tell(shown)

    # --- stages -----------------------------------------------------------------------------

    def _fold(self, script: Script, same: int, tell: Tell) -> None:
        """Shows the first step that is folded anew before those after it are."""
        if self._model is not None and same < len(script.program.steps):
            model, _ = script.beginning(same + 1).said(self._language)
            self._show_step(model, same, tell)

    def _show_step(self, model: Model, number: int, tell: Tell) -> None:
        """Shows one step larger, at a scale of its own."""
        step, self._shown_step = model.steps[number], number
        style = self._near_style
        self._near.turn()
        figures = draw(replace(model, steps=(step,), parts=()), style, CLOSE_UP, self._near)
        scenes = [(f.label, trimmed_to_ink(f.scene)) for f in figures]
        close = tuple(
            Picture(label, scene_svg(scene, style), scene.width, scene.height)
            for label, scene in scenes
        )
        words = next((f.caption for f in figures if f.caption), "")
        self._tell(tell, replace(self.shown, close=close, words=words, title=model.title))

    def _draw(
        self, script: Script, same: int, tell: Tell, wrong: Sequence[Diagnostic] = ()
    ) -> None:
        """Shows the pages, those in view first, with what is wrong.

        `same` counts the steps that are as they were.
        """
        model, warnings = script.said(self._language)
        reworded = _reworded(self._model, model)
        if reworded is not None:
            self._show_step(model, reworded, tell)
        layout, kept = self._layout if self._sheets else None, script.kept
        for wanted in (*(layout.first(same, self._in_view()) if layout else ()), None):
            kept.wanted, kept.behind = wanted, False
            # In a hurry some of the figures may be of the text before.
            drawn = script.drawn(self.style, self._page, self._language)
            document = drawn.lay_out()
            self._tell(tell, self._good(model, document, (*wrong, *warnings)))
            if not kept.behind:
                self._layout = Layout(drawn.figures, document)
                break
        kept.turn()
        self._model = model

    def _good(self, model: Model, document: Document, warnings: Sequence[Diagnostic]) -> Shown:
        self._sheets = tuple(self._sheet(k, page) for k, page in enumerate(document.pages))
        fonts = fonts_of(self.style).warnings(document.texts())
        notes = dict.fromkeys((*self.style.notes, *warnings, *fonts))
        gone = self._shown_step >= len(model.steps)
        return replace(
            self.shown,
            close=() if gone else self.shown.close,
            words="" if gone else self.shown.words,
            title=model.title or model.name,
            pages=tuple(picture for _, picture in self._sheets),
            troubles=tuple(trouble(note) for note in notes),
            solid=solid(model, self.style),
            old=False,
        )

    def _sheet(self, number: int, page: Page) -> tuple[Page, Picture]:
        """A page and its picture; in a hurry a page without anything wanted keeps what it showed."""
        kept, layout = self._script.kept, self._layout
        hurried = kept.behind and kept.wanted is not None and number < len(self._sheets)
        if hurried and layout and layout.on_page(number).isdisjoint(kept.wanted or ()):
            return self._sheets[number]
        for known, picture in self._sheets:
            if known == page:
                return page, picture
        svg = page_svg(page, self.style)
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
