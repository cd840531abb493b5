"""One script on its way through the stages: read once, folded once, drawn when it is asked for.

    path ─read─▶ source ─parse─▶ program ─fold─▶ model ─say─▶ model in a language
                                                        ─draw─▶ figures ─lay out─▶ pages

In: the path of a script. Out: what each stage makes of it, when it is asked for and not before: whoever
only checks a script loads nothing that draws. This is the one place where the stages follow each other;
everything that is made of scripts (handouts, booklets, class plans, comparisons, the preview) starts here.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from contextlib import AbstractContextManager, nullcontext
from dataclasses import replace
from functools import cache, cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from ..source.diagnostics import Diagnostic, FoldscriptError, Source, Span
from ..source.reading import read_script

if TYPE_CHECKING:  # a stage is loaded when it is asked for
    from ..drawing.draw import DrawnFigure
    from ..drawing.kept import DrawingCache
    from ..drawing.scene.scene import Scene
    from ..drawing.style.styles import Style
    from ..folding.resuming import FoldingCache
    from ..folding.steps import Model
    from ..output.drawn import Drawn
    from ..pages.document import Document
    from ..pages.sizes import PageSize
    from ..pose.pose import Pose
    from ..syntax.nodes import Program
    from .standing import Halves, PoseCache, Standing

#: Told what is being done now ('folding'), for people who wait.
Doing = Callable[[str], None]


def unheard(stage: str) -> None:
    """A `Doing` that nobody listens to."""


class ScriptFault(FoldscriptError):
    """What only the pages bring to light, but the script is to blame for: nothing is written then."""


class Script:
    """A script's file, and what the stages make of it.

    Everything is made when it is first asked for, and kept: the file is read, parsed and folded once, and a
    drawing that is asked for again (in another language, or on another page) is taken as it is. `path` is
    the file as it was named. Every attribute but `path` raises FoldscriptError with all that is wrong in
    the script, each fault with its place.
    """

    def __init__(
        self, path: Path, doing: Doing = unheard, memory: FoldingCache | None = None
    ) -> None:
        """With a `memory`, steps that it remembers are taken from it."""
        self.path = path
        self._doing = doing
        self._memory = memory
        self._in_languages: dict[str, tuple[Model, tuple[Diagnostic, ...]]] = {}

    @cached_property
    def source(self) -> Source:
        """The text as read."""
        self._doing("reading")
        return read_script(self.path)

    @cached_property
    def program(self) -> Program:
        """The text as parsed."""
        from ..folding.unread import read

        return read(self.source, self.path, self._memory)

    @cached_property
    def ancestors(self) -> tuple[tuple[Path, Source], ...]:
        """Files and texts of the scripts that it starts from, nearest first."""
        from ..folding.lineage import ancestors

        return ancestors(self.program, self.path)

    @cached_property
    def model(self) -> Model:
        """The folded model, with captions as phrases that are in no language yet (`said`)."""
        from ..folding.fold import fold

        program = self.program
        self._doing("folding")
        return fold(program, self.path, self._memory)

    @cached_property
    def _poses(self) -> PoseCache:
        """Poses found up to now."""
        from .standing import PoseCache

        return PoseCache()

    @cached_property
    def standing(self) -> Standing:
        """How the model stands after steps that leave the plane; warnings where that was not found."""
        from .standing import standing

        model = self.model
        if any(record.goals for step in model.steps for record in step.records):
            self._doing("standing it up")
        found = standing(model, self._poses)
        return replace(found, warnings=self.placed(FoldscriptError(*found.warnings)))

    @cached_property
    def half_done(self) -> Halves:
        """Steps that are shown half way, too; warnings where that failed."""
        from .standing import half_done

        found = half_done(self.model, self._poses)
        return replace(found, warnings=self.placed(FoldscriptError(*found.warnings)))

    @cached_property
    def standing_model(self) -> Model:
        """The model with its poses, its steps half way, and what is warned of them."""
        found, halves = self.standing, self.half_done
        warnings = (*self.model.warnings, *found.warnings, *halves.warnings)
        return replace(self.model, poses=found.poses, halves=halves.found, warnings=warnings)

    def said(self, language: str = "") -> tuple[Model, tuple[Diagnostic, ...]]:
        """The model in a language, and all warnings about the script and its translation.

        `language` is a tag or a catalogue file; '' stands for the script's own.
        """
        if language not in self._in_languages:
            from ..captions.speaking import said

            self._in_languages[language] = said(
                self.standing_model, self.path, (language,) if language else ()
            )
        return self._in_languages[language]

    @property
    def sheet_span(self) -> Span | None:
        """Where the sheet is said, or what the script starts from instead."""
        head = self.program.head
        if head.sheet is not None and head.sheet.span.end > head.sheet.span.start:
            return head.sheet.span
        return head.start_span

    # --- drawing: the stages from here on are only loaded when something is drawn -----------------

    @cached_property
    def kept(self) -> DrawingCache:
        """Its drawings up to now."""
        from ..drawing.kept import DrawingCache

        return DrawingCache()

    def portrait(self, style: Style, frame: tuple[float, float], language: str = "") -> Scene:
        """The finished model as large as the frame (width and height in points) allows."""
        from ..drawing.draw import portrait

        return portrait(self.said(language)[0], style, frame, self.kept)

    def figures(
        self, style: Style, frame: tuple[float, float], language: str = ""
    ) -> tuple[DrawnFigure, ...]:
        """The numbered figures in frames of a size."""
        return self._drawn(style, frame, language).figures

    def drawn(self, style: Style, page: PageSize, language: str = "") -> Drawn:
        """The figures at the size that they have on the page, and the pages when they are asked for."""
        from ..pages.grid import figure_frame

        frame = figure_frame(page, style.enlarged)
        with self._drawn_meanwhile(style, frame, language):
            model, _ = self.said(language)
        drawn = self._drawn(style, frame, language)

        @cache
        def lay_out() -> Document:
            from ..output.shaping import measuring
            from ..pages.layout.handout import handout

            try:
                return handout(model, style, page, measuring(style), model.speech, kept=self.kept)
            except FoldscriptError as error:
                raise ScriptFault(*self.placed(error)) from error

        return replace(drawn, lay_out=lay_out, on_screen=lambda: self.screened(style, language))

    def screened(self, style: Style, language: str = "") -> Drawn:
        """The figures as they are drawn for a screen; there are no pages of them."""
        from ..pages.sizes import SCREEN

        return self._drawn(style, SCREEN, language)

    def _drawn(self, style: Style, frame: tuple[float, float], language: str) -> Drawn:
        from ..drawing.draw import draw, finished_figure
        from ..output.drawn import Drawn

        model, _ = self.said(language)
        self._doing("drawing")
        figures = draw(model, style, frame, self.kept)
        return Drawn(model, figures, finished_figure(model, style, frame, self.kept), style)

    def _drawn_meanwhile(
        self, style: Style, frame: tuple[float, float], language: str
    ) -> AbstractContextManager[None]:
        """While it is found how the model stands, helpers draw the steps that lie flat, if there are any."""
        from ..terminal.dividing import is_free

        if self.kept.help is None or "standing_model" in vars(self) or not is_free():
            return nullcontext()
        from ..captions.speaking import said
        from ..drawing.draw import figures_meanwhile

        try:
            flat, _ = said(self.model, self.path, (language,) if language else ())
        except FoldscriptError:  # is told when it is said
            return nullcontext()
        return figures_meanwhile(flat, style, frame, self.kept)

    def placed(self, error: FoldscriptError, span: Span | None = None) -> tuple[Diagnostic, ...]:
        """The faults of a later stage, which knows no text, as faults of this one; at `span` if given."""
        return tuple(
            replace(fault, span=span or fault.span, source=self.source)
            for fault in error.diagnostics
        )

    def poses_from(self, stored: Mapping[str, Pose]) -> None:
        """Takes poses that an earlier build has stored, where they are still those of its paper."""
        self._poses.stored.update(stored)

    @property
    def poses_by_key(self) -> dict[str, Pose]:
        """The poses that were asked for up to now, for the build cache."""
        return self._poses.by_key() if "_poses" in vars(self) else {}

    # --- a script that is being written ------------------------------------------------------------

    def renewed(self, source: Source | None = None) -> Script:
        """The script as its file is now, or as a `source` says that is not saved yet.

        Steps and drawings that are the same are taken from this one.
        """
        from ..folding.resuming import FoldingCache

        new = Script(self.path, self._doing, self._memory or FoldingCache())
        new.kept, new._poses = self.kept, self._poses
        if source is not None:
            new.source = source
        return new

    def unchanged_steps(self) -> int:
        """How many steps, from the first on, are as they were in the version before."""
        texts = [text for _, text in self.ancestors]
        return 0 if self._memory is None else self._memory.unchanged(self.program, texts)

    def unfinished(self, wrong: Sequence[Diagnostic]) -> Script | None:
        """The steps before the first that is `wrong`, which the pages say; None where that is in no step."""
        from ..folding.unfinished import until_refused

        found = until_refused(self.source, wrong)
        if found is None:
            return None
        short = self.renewed(self.source)
        short.program, refused = found
        short.model = replace(short.model, refused=refused)
        return short

    def beginning(self, steps: int) -> Script:
        """The script up to a step, with what is known of this one."""
        short = self.renewed(self.source)
        short.program = replace(self.program, steps=self.program.steps[:steps])
        return short
