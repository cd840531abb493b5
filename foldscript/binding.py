"""The way from a booklet file to its PDF: every model through the stages, then all bound together.

In: a booklet file's path, and what the command line says over it. Out: files, or FoldscriptError
with all that is wrong in the booklet file and in its scripts.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from . import origins
from .booklets.booklet_file import read_booklet
from .booklets.plan import Listed, Plan
from .diagnostics import Diagnostic, FoldscriptError, Hint, Source
from .drawing.draw import draw
from .drawing.styles import Style, load_style
from .folding.lineage import lineage
from .folding.steps import Model
from .levels import LEVELS
from .moves.registry import verbs
from .output.fonts import glyph_warnings, measure
from .output.imposed import imposed_pdf, printing
from .output.pdf import document_pdf
from .output.record import RECORD, Result, read_record, record_bytes
from .output.svg import ground
from .output.writing import write_files
from .pages.booklet import ChapterError, Wording, booklet
from .pages.chapters import Chapter, chapter, pages_taken, saving_parts
from .pages.document import Document
from .pages.grid import figure_frame
from .pages.imposition import sheet_for
from .pages.sizes import PageSize, page_size
from .pipeline import Doing, check
from .syntax.parser import parse
from .syntax.reading import read_source

Bound = tuple[Listed, Model]

#: What the booklet is called in the record of its folder.
_RESULT = "booklet"


@dataclass(frozen=True)
class Wish:
    """What a person says over the booklet file; None and False leave it as it is.

    `fresh` binds it anew though nothing has changed.
    """

    page: PageSize | None = None
    style: Style | None = None
    imposed: bool = False
    fresh: bool = False


def wish(page: str, style: str, imposed: bool, fresh: bool = False) -> Wish:
    """A wish as given on the command line; '' for nothing. Raises FoldscriptError as `order` does."""
    return Wish(
        page_size(page) if page else None, load_style(style) if style else None, imposed, fresh
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

    Nothing is written before everything is made.
    """
    doing("reading")
    plan = read_booklet(path, wish.page, wish.style)
    plan = replace(plan, imposed=plan.imposed or wish.imposed)
    folder = out / plan.name
    before = read_record(folder, path.parent)
    if not wish.fresh and (kept := _kept(plan, path.parent, before, folder)) is not None:
        notes = (*plan.style.notes, *kept.notes)
        return Booklet(tuple(folder / name for name in kept.files), notes, kept.told, True)
    parts = _parts(plan, path.parent)
    models = _in_order(plan, _folded(plan, doing))
    document = _laid_out(plan, models, doing)
    doing("making the PDF of")
    notes = glyph_warnings(document.texts())
    count = len(document.pages)
    pdf = document_pdf(document, plan.style)
    files = {f"{plan.name}.pdf": pdf}
    told = [f"{plan.name}.pdf: {count} pages of {plan.page.name}"]
    if plan.imposed:
        sheet = sheet_for(plan.page)
        name = f"{plan.name}-imposed.pdf"
        files[name] = imposed_pdf(pdf, plan.page, sheet, ground(plan.style))
        told.append(f"{name}: {printing(count, sheet)}")
    results = before if parts is None else before | {_RESULT: Result.of(parts, files, notes, told)}
    record = {RECORD: record_bytes(results, path.parent)}
    written = write_files(folder, files, plan.name, record)
    return Booklet(tuple(written), (*plan.style.notes, *notes), tuple(told))


def _kept(plan: Plan, home: Path, before: Mapping[str, Result], folder: Path) -> Result | None:
    """The booklet as it was bound before, from the very same, when it is still there."""
    result = before.get(_RESULT)
    if result is None:
        return None
    scripts = [listed.script for listed in plan.models]
    same = result.parts == origins.of_booklet_now(plan, home, scripts, result.parts)
    return result if same and result.intact(folder) else None


def _parts(plan: Plan, home: Path) -> dict[str, Any] | None:
    """What the booklet is made from; None where a script cannot be read: folding says why."""
    texts: list[Source] = []
    started: dict[str, Source] = {}
    try:
        for listed in plan.models:
            texts.append(read_source(listed.script))
            program = parse(texts[-1], verbs())
            started |= {text.name: text for text in lineage(program, listed.script)}
    except FoldscriptError:
        return None
    return origins.of_booklet(plan, home, texts, started.values())


def _folded(plan: Plan, doing: Doing) -> list[Bound]:
    """Every model folded; raises FoldscriptError with what is wrong in any of them."""
    models: list[Bound] = []
    faults: list[Diagnostic] = []
    titles: dict[str, Bound] = {}
    for listed in plan.models:
        try:
            model = check(
                listed.script, lambda stage, said=listed: doing(f"{stage} {said.name} for")
            )
        except FoldscriptError as error:
            faults += (
                fault if fault.source else replace(fault, span=place.span, source=place.source)
                for fault in error.diagnostics
                for place in (listed.place,)
            )
            continue
        model = replace(model, title=model.title or model.name)
        models.append((listed, model))
        first = titles.setdefault(model.title.casefold(), (listed, model))
        if first[0] is not listed:
            what = f"'{first[0].script}' and '{listed.script}' have one title, '{model.title}'"
            hint = Hint(
                "say in a title what tells them apart: a reader looks for them in the contents"
            )
            faults.append(listed.place.diagnostic("same-title", what, hint))
    if faults:
        raise FoldscriptError(*faults)
    return models


def _in_order(plan: Plan, models: list[Bound]) -> list[Bound]:
    """As listed; or simple models first, and of one level those with few steps first."""
    if not plan.by_level:
        return models

    def difficulty(bound: Bound) -> tuple[int, int]:
        level = bound[1].level
        rank = LEVELS.index(level) if level in LEVELS else len(LEVELS)
        return rank, len(bound[1].steps)

    return sorted(models, key=difficulty)


def _laid_out(plan: Plan, models: Iterable[Bound], doing: Doing) -> Document:
    """The pages. What does not fit is told at the line of the booklet file that could be changed."""
    bound = list(models)
    chapters = []
    for listed, model in bound:
        doing(f"drawing {listed.name} for")
        try:
            chapters.append(_chapter(plan, model))
        except FoldscriptError as error:
            raise FoldscriptError(*_too_small(plan, listed, model, error)) from error
    by_name = {listed.name: made for (listed, _), made in zip(bound, chapters, strict=True)}
    wording = Wording(
        title=plan.title,
        subtitle=plan.subtitle,
        publisher=plan.publisher,
        introduction=plan.introduction,
        credits=plan.credits,
        licence=plan.licence,
        language=plan.language,
        levels=plan.by_level,
    )
    on_cover = [by_name[name].picture for name in plan.cover]
    try:
        return booklet(wording, chapters, on_cover, plan.style, plan.page, measure)
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


def _chapter(plan: Plan, model: Model) -> Chapter:
    """A model drawn in its frames; a little smaller where that saves a page."""
    page, style = plan.page, plan.style
    wide, high = figure_frame(page, style.enlarged)

    def made(part: float) -> Chapter:
        return chapter(model, draw(model, style, (part * wide, part * high)), style, page, part)

    whole = made(1.0)
    for part in saving_parts(whole, style, page, measure):
        smaller = made(part)
        if pages_taken(smaller, style, page, measure) < pages_taken(whole, style, page, measure):
            return smaller
    return whole


def _too_small(
    plan: Plan, listed: Listed, model: Model, error: FoldscriptError
) -> Iterable[Diagnostic]:
    place = plan.page_place if plan.page_place.span else listed.place
    for fault in error.diagnostics:
        what = f"a page of {plan.page.name} is too small for '{model.title}': {fault.message}"
        hint = Hint(f"choose a larger page, or say less in '{listed.script}'")
        yield place.diagnostic(fault.code, what, hint)
