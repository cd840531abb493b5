"""The way from a booklet file to its PDF and its slides: every model through the stages, then all bound.

In: a booklet file's path, and what the command line says over it. Out: files, or FoldscriptError
with all that is wrong in the booklet file and in its scripts.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from typing import Any

from ..captions.choosing import asked_of, chosen
from ..captions.speaking import catalogues_of, said
from ..drawing.draw import Kept, draw, finished_figure
from ..drawing.style.styles import Style, load_style
from ..folding.lineage import lineage
from ..folding.steps import Model
from ..languages.language import load_language
from ..languages.wording import Language
from ..moves.registry import verbs
from ..output.fonts import glyph_warnings, measure
from ..output.imposed import imposed_pdf, printing
from ..output.pdf import document_pdf
from ..output.slides import Show, slides_html, slides_language
from ..output.svg import ground
from ..output.writing import write_files
from ..pages.booklet.booklet import ChapterError, booklet
from ..pages.booklet.chapters import chapter
from ..pages.booklet.imposition import creep_shifts, padded_count, sheet_for
from ..pages.booklet.texts import BookletTexts
from ..pages.document import Document
from ..pages.grid import figure_frame, grid
from ..pages.sizes import POINTS_PER_MM, PageSize, page_size
from ..source.diagnostics import Diagnostic, FoldscriptError, Hint, Source
from ..source.reading import read_script
from ..syntax.parser import parse
from .booklet_file import read_booklet
from .booklet_plan import Listed, Plan
from .cache import ingredients as origins
from .cache.record import RECORD, Result, read_record, record_bytes
from .gathering import Bound, gathered
from .handout import Doing

#: What a format is called in the record of the booklet's folder.
_RESULTS = {"pdf": "booklet", "slides": "slides"}
#: Slides are drawn for this page and then fill any screen.
_SCREEN = "A4"


@dataclass(frozen=True)
class Wish:
    """What a person says over the booklet file; None, False and () leave it as it is.

    `formats` are some of `booklets.plan.FORMATS`; `fresh` binds it anew though nothing has changed;
    `languages` are as `captions.choosing` gives them.
    """

    page: PageSize | None = None
    style: Style | None = None
    imposed: bool = False
    fresh: bool = False
    languages: tuple[str, ...] = ()
    formats: tuple[str, ...] = ()
    creep: float | None = None


def wish(
    page: str,
    style: str,
    imposed: bool,
    fresh: bool = False,
    languages: Iterable[str] = (),
    formats: Iterable[str] = (),
    creep: float | None = None,
) -> Wish:
    """A wish as given on the command line; '' for nothing. Raises FoldscriptError as `order` does."""
    return Wish(
        page_size(page) if page else None,
        load_style(style) if style else None,
        imposed,
        fresh,
        chosen(languages),
        tuple(formats),
        creep,
    )


@dataclass(frozen=True)
class Booklet:
    """What came of a booklet file: files, warnings, and lines to tell about them.

    `unchanged` tells that the files were there already, made from the very same.
    """

    files: tuple[Path, ...]
    notes: tuple[Diagnostic, ...]
    told: tuple[str, ...]
    unchanged: bool = False


def bind(path: Path, out: Path, wish: Wish, doing: Doing = lambda stage: None) -> Booklet:
    """Folds, draws and binds what a booklet file lists, into `out/<its name>/`.

    In several languages, or in those named on the command line, each goes into a folder below it.
    Nothing is written before everything is made, and then all at one stroke.
    """
    doing("reading")
    plan = read_booklet(path, wish.page, wish.style)
    formats = wish.formats or plan.formats
    plan = replace(plan, imposed=plan.imposed or wish.imposed, formats=formats)
    if wish.creep is not None:
        plan = replace(plan, creep=wish.creep, creep_place=None)
    folder = out / plan.name
    work = _Work(plan, doing)
    plans = {folder: (plan, plan.language)}
    if wish.languages or len(plan.languages) > 1:
        names = asked_of(wish.languages or plan.languages, lambda: plan.languages)
        plans = {folder / tag: (plan.in_language(tag), name) for tag, name in names.items()}
    bound = [work.bound(one, name, place, wish.fresh) for place, (one, name) in plans.items()]
    new = [one for one in bound if one.files]
    if new:
        files = {one.within(folder, name): data for one in new for name, data in one.files.items()}
        records = {one.within(folder, RECORD): record_bytes(one.record, path.parent) for one in new}
        write_files(folder, files, plan.name, records)
    notes = dict.fromkeys((*plan.style.notes, *(note for one in bound for note in one.notes)))
    told = (
        f"{one.folder.relative_to(folder)}{os.sep}{line}" if one.folder != folder else line
        for one in bound
        for line in one.told
    )
    paths = tuple(one.folder / name for one in bound for name in one.names)
    return Booklet(paths, tuple(notes), tuple(told), not new)


def lay_out(path: Path, doing: Doing = lambda stage: None) -> tuple[Plan, Document]:
    """What a booklet file asks for, and the pages that it stands for, in its own language."""
    plan = read_booklet(path)
    return plan, _Work(plan, doing).laid_out(plan, plan.language)[0]


@dataclass(frozen=True)
class _Bound:
    """A booklet in one language: the files that are new, and the names of all."""

    folder: Path
    files: Mapping[str, bytes]
    record: Mapping[str, Result]
    names: tuple[str, ...]
    notes: tuple[Diagnostic, ...]
    told: tuple[str, ...]

    def within(self, whole: Path, name: str) -> str:
        """What one of its files is called in the folder of all languages."""
        return (self.folder.relative_to(whole) / name).as_posix()


class _Work:
    """A booklet on its way: its models are folded once, however many languages it is bound in."""

    def __init__(self, plan: Plan, doing: Doing) -> None:
        self.plan = plan
        self.doing = doing
        self.drawings: dict[str, Kept] = {}

    @cached_property
    def models(self) -> list[Bound]:
        return gathered(self.plan, self.doing)

    def spoken(self, language: str) -> tuple[list[Bound], list[Diagnostic]]:
        """The models in a language, and what to know about their captions."""
        notes: list[Diagnostic] = []
        models: list[Bound] = []
        for listed, model in self.models:
            spoken, warnings = said(model, listed.script, (language,))
            notes += (note for note in warnings if note not in notes)
            models.append((listed, replace(spoken, title=spoken.title or spoken.name)))
        return models, notes

    def laid_out(self, plan: Plan, language: str) -> tuple[Document, list[Diagnostic]]:
        """The pages in a language, and what to know about its captions."""
        models, notes = self.spoken(language)
        speech = load_language(language)
        return _laid_out(plan, models, speech, self.drawings, self.doing), notes

    def bound(self, plan: Plan, language: str, folder: Path, fresh: bool) -> _Bound:
        """The booklet in a language, by its tag or a catalogue file."""
        home = Path(plan.source.name).parent
        before = read_record(folder, home)
        own = catalogues_of((language,))
        found = (
            {}
            if fresh
            else {one: _kept(one, plan, home, before, folder, own) for one in plan.formats}
        )
        parts = _parts(plan, home, own) if None in found.values() or fresh else None
        record, files = dict(before), dict[str, bytes]()
        results: list[Result] = []
        for name in plan.formats:
            result = found.get(name)
            if result is None:
                made, notes, told = self._made(name, plan, language)
                result = Result.of(parts or {}, made, notes, told)
                files |= made
                record.pop(_RESULTS[name], None)
                if parts is not None:
                    record[_RESULTS[name]] = result
            results.append(result)
        return _Bound(
            folder,
            files,
            record,
            names=tuple(name for result in results for name in result.files),
            notes=tuple(note for result in results for note in result.notes),
            told=tuple(line for result in results for line in result.told),
        )

    def _made(
        self, name: str, plan: Plan, language: str
    ) -> tuple[dict[str, bytes], list[Diagnostic], list[str]]:
        """The files of a format, what to know about them, and a line about each."""
        return self._pdf(plan, language) if name == "pdf" else self._slides(plan, language)

    def _pdf(
        self, plan: Plan, language: str
    ) -> tuple[dict[str, bytes], list[Diagnostic], list[str]]:
        document, notes = self.laid_out(plan, language)
        self.doing("making the PDF of")
        notes += glyph_warnings(document.texts())
        count = len(document.pages)
        pdf = document_pdf(document, plan.style)
        files = {f"{plan.name}.pdf": pdf}
        told = [f"{plan.name}.pdf: {count} pages of {plan.page.name}"]
        if plan.imposed:
            sheet = sheet_for(plan.page)
            name = f"{plan.name}-imposed.pdf"
            creep = _creep(plan, count)
            files[name] = imposed_pdf(pdf, plan.page, sheet, ground(plan.style), creep)
            told.append(f"{name}: {printing(count, sheet, creep)}")
        return files, notes, told

    def _slides(
        self, plan: Plan, language: str
    ) -> tuple[dict[str, bytes], list[Diagnostic], list[str]]:
        models, notes = self.spoken(language)
        frame = figure_frame(page_size(_SCREEN), plan.style.enlarged)
        shows: list[Show] = []
        for listed, model in models:
            self.doing(f"drawing slides of {listed.name} for")
            kept = self.drawings.setdefault(listed.name, Kept())
            figures = draw(model, plan.style, frame, kept)
            shows.append(Show(model, figures, finished_figure(model, plan.style, frame, kept)))
        speech = slides_language(load_language(language))
        name = f"{plan.name}-slides.html"
        files = {name: slides_html(shows, plan.style, speech, speech.tag, _texts(plan))}
        return files, notes, [f"{name}: {len(shows)} models, one step a screen"]


def _kept(
    name: str,
    plan: Plan,
    home: Path,
    before: Mapping[str, Result],
    folder: Path,
    own: Iterable[Source],
) -> Result | None:
    """What was made of the booklet in a format before, from the very same, when it is still there."""
    result = before.get(_RESULTS[name])
    if result is None:
        return None
    scripts = [listed.script for listed in plan.models]
    same = result.parts == origins.of_booklet_now(plan, home, scripts, result.parts, own)
    return result if same and result.intact(folder) else None


def _parts(plan: Plan, home: Path, own: Iterable[Source]) -> dict[str, Any] | None:
    """What the booklet is made from; None where a script cannot be read: folding says why."""
    texts: list[Source] = []
    started: dict[str, Source] = {}
    try:
        for listed in plan.models:
            texts.append(read_script(listed.script))
            program = parse(texts[-1], verbs())
            started |= {text.name: text for text in lineage(program, listed.script)}
    except FoldscriptError:
        return None
    return origins.of_booklet(plan, home, texts, started.values(), own)


def _texts(plan: Plan) -> BookletTexts:
    return BookletTexts(
        title=plan.title,
        subtitle=plan.subtitle,
        publisher=plan.publisher,
        introduction=plan.introduction,
        credits=plan.credits,
        licence=plan.licence,
        language=plan.language,
        levels=plan.by_level,
    )


def _laid_out(
    plan: Plan,
    models: Iterable[Bound],
    speech: Language,
    drawings: dict[str, Kept],
    doing: Doing,
) -> Document:
    """The pages. What does not fit is told at the line of the booklet file that could be changed."""
    bound = list(models)
    chapters = []
    for listed, model in bound:
        doing(f"drawing {listed.name} for")
        try:
            kept = drawings.setdefault(listed.name, Kept())
            chapters.append(chapter(model, plan.style, plan.page, measure, model.speech, kept))
        except FoldscriptError as error:
            raise FoldscriptError(*_too_small(plan, listed, model, error)) from error
    by_name = {listed.name: made for (listed, _), made in zip(bound, chapters, strict=True)}
    on_cover = [by_name[name].picture for name in plan.cover]
    try:
        return booklet(_texts(plan), chapters, on_cover, plan.style, plan.page, measure, speech)
    except ChapterError as error:
        listed, model = bound[error.chapter]
        raise FoldscriptError(*_too_small(plan, listed, model, error)) from error
    except FoldscriptError as error:
        raise FoldscriptError(
            *(
                replace(fault, span=plan.title_place.span, source=plan.source)
                for fault in error.diagnostics
            )
        ) from error


def _creep(plan: Plan, count: int) -> float:
    """The allowance a sheet in points; raises FoldscriptError where it would move pages off the paper."""
    creep = plan.creep * POINTS_PER_MM
    most = max(creep_shifts(padded_count(count), creep), default=0.0)
    room = grid(plan.page).left
    if most <= room:
        return creep
    what = (
        f"with {plan.creep:g} mm a sheet the innermost pages are moved by {most / POINTS_PER_MM:.1f} mm, "
        f"more than their margin of {room / POINTS_PER_MM:.1f} mm"
    )
    hint = Hint("say the thickness of one sheet: about 0.1 mm for office paper")
    place = plan.creep_place or replace(plan.page_place, span=None)
    raise FoldscriptError(place.diagnostic("creep-too-large", what, hint))


def _too_small(
    plan: Plan, listed: Listed, model: Model, error: FoldscriptError
) -> Iterable[Diagnostic]:
    place = plan.page_place if plan.page_place.span else listed.place
    for fault in error.diagnostics:
        what = f"a page of {plan.page.name} is too small for '{model.title}': {fault.message}"
        hint = Hint(f"choose a larger page, or say less in '{listed.script}'")
        yield place.diagnostic(fault.code, what, hint)
