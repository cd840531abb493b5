"""What a teacher takes along besides the drawings: class plans.

In: scripts, a folder or a booklet file, and what the class is. Out: a `ClassPlan` as text, JSON or pages.
Nothing is written before everything is made.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from ..classes.cutting import Paper
from ..classes.plan import ClassPlan
from ..classes.plan_rows import size_words
from ..classes.planning import first_cutting, plan_class, plan_model, sheet_need
from ..drawing.style.styles import Style, load_style
from ..folding.alone import part_models
from ..folding.steps import Model
from ..languages.language import load_language
from ..languages.wording import Template
from ..output.class_plan import class_plan_json, class_plan_text
from ..output.fonts import fonts_of
from ..output.pdf import document_pdf
from ..output.shaping import measuring
from ..output.writing import write_files
from ..pages.grid import grid
from ..pages.sheets.class_page import class_page, picture_frame
from ..pages.sheets.lesson_page import lesson_grid
from ..pages.sizes import PAGE_SIZES, POINTS_PER_MM, PageSize, page_size
from ..pages.trimming import trimmed_to_ink
from ..source.diagnostics import Diagnostic, FoldscriptError, Hint, Severity
from ..source.finding import scripts_below
from .booklet.file import BOOKLET_SUFFIX, read_booklet
from .editions import Built
from .script import Doing, Script, unheard

#: Pages to cut from where none is named: the first that a sheet fits on.
USUAL = ("A4", "A3")
#: What a plan of several scripts is called.
SEVERAL: Template = "Class"


@dataclass(frozen=True)
class Class:
    """Who folds, and what there is to cut from and to print on.

    `papers` are tried in order; `named` tells that a person named the paper, so that a sheet larger
    than it is a mistake. `language` is '' for that of the booklet or of the scripts.
    """

    people: int
    papers: tuple[Paper, ...]
    named: bool
    page: PageSize
    style: Style
    language: str = ""


@dataclass(frozen=True)
class Planned:
    """A plan, the scripts in its order, the language they were asked for, and what to know about it."""

    plan: ClassPlan
    scripts: tuple[Script, ...]
    language: str
    notes: tuple[Diagnostic, ...]


def class_of(people: int, paper: str, page: str, style: str, language: str = "") -> Class:
    """A class as given on the command line; '' for the usual paper.

    Raises FoldscriptError where a page size, a style or a language is unknown.
    """
    if language:
        load_language(language)
    papers = tuple(_paper(page_size(name)) for name in ([paper] if paper else USUAL))
    return Class(people, papers, bool(paper), page_size(page), load_style(style), language)


def plan(paths: Sequence[Path], who: Class, doing: Doing = unheard) -> Planned:
    """Folds every model and plans the class.

    Raises FoldscriptError with all that is wrong in any of the scripts, sheets larger than the paper
    ('sheet-larger-than-paper') among it.
    """
    places, name, title, language = _what(paths)
    wanted = who.language or language
    scripts = [
        Script(place, lambda stage, name=place.name: doing(f"{stage} {name} for"))
        for place in places
    ]
    faults: list[Diagnostic] = []
    notes: list[Diagnostic] = []
    plans = []
    for script in scripts:
        try:
            model, warnings = script.said(wanted)
        except FoldscriptError as error:
            faults.extend(error.diagnostics)
            continue
        notes += (note for note in warnings if note not in notes)
        made = plan_model(model, who.people, who.papers)
        for one, sheets in zip(part_models(model), made.sheets, strict=True):
            if sheets.cutting is None:
                fault = _too_large(script, one, who)
                (faults if who.named else notes).append(fault)
        if made.stated is not None and made.stated is not made.level:
            notes.append(_level_differs(script, made.level.words, made.stated.words, made.hardest))
        plans.append(made)
    if faults:
        raise FoldscriptError(*faults, *notes)
    spoken = wanted or scripts[0].said()[0].language
    only = plans[0] if len(plans) == 1 else None
    settled = plan_class(
        name or (only.name if only else "class"),
        load_language(spoken)(SEVERAL)
        if title == SEVERAL
        else title or (only.title if only else ""),
        who.people,
        spoken,
        plans,
    )
    return Planned(settled, tuple(scripts), wanted, tuple(notes))


def plan_text(planned: Planned) -> str:
    """The plan in plain words."""
    return class_plan_text(planned.plan, load_language(planned.plan.language))


def plan_json(planned: Planned) -> str:
    """The plan as JSON."""
    return class_plan_json(planned.plan)


def plan_pages(planned: Planned, who: Class, out: Path, doing: Doing = unheard) -> Built:
    """Writes the plan's pages into `out/<name>/<name>-plan.pdf`."""
    doing("drawing")
    style = replace(who.style, enlarged=1.0)
    frame = picture_frame(who.page)
    pictures = [
        trimmed_to_ink(script.portrait(style, frame, planned.language))
        for script in planned.scripts
    ]
    small = lesson_grid(grid(who.page, large_letters=True)).frame
    figures = [script.figures(style, small, planned.language) for script in planned.scripts]
    speech = load_language(planned.plan.language)
    plan = replace(planned.plan, language=speech.tag)
    document = class_page(plan, pictures, figures, who.page, measuring(style), speech)
    name = planned.plan.name
    files = {f"{name}-plan.pdf": document_pdf(document, style)}
    warnings = (*who.style.notes, *planned.notes, *fonts_of(style).warnings(document.texts()))
    return Built(tuple(write_files(out / name, files, name)), warnings)


# --- what is meant ---------------------------------------------------------------------------------


def _what(paths: Sequence[Path]) -> tuple[list[Path], str, str, str]:
    """Scripts, and the plan's name, title and language, '' where nothing says them."""
    scripts: dict[Path, Path] = {}  # real place -> path as named
    name = title = language = ""
    faults: list[Diagnostic] = []
    for path in paths:
        found: Iterable[Path] = (path,)
        if path.is_dir():
            found = scripts_below(path, faults)
        elif path.suffix == BOOKLET_SUFFIX:
            booklet = read_booklet(path)
            found = [listed.script for listed in booklet.models]
            name, title, language = booklet.name, booklet.title, booklet.language
        for script in found:
            scripts.setdefault(script.resolve(), script)
    if faults:
        raise FoldscriptError(*faults)
    if len(paths) > 1:
        name, title = "class", title or SEVERAL
    elif paths[0].is_dir():
        name = paths[0].resolve().name or "class"
        title = name.replace("-", " ").replace("_", " ").capitalize()
    return list(scripts.values()), name, title, language


def _paper(page: PageSize) -> Paper:
    return Paper(page.name, *(round(x / POINTS_PER_MM, 4) for x in (page.width, page.height)))


# --- what is wrong ---------------------------------------------------------------------------------


def _too_large(script: Script, model: Model, who: Class) -> Diagnostic:
    """A sheet that no page gives: a mistake where a person named the page, else good to know."""
    need = sheet_need(model)
    size = f"{size_words(need.width, need.height)} mm"
    pages = " and ".join(f"{p.name} ({size_words(p.width, p.height)} mm)" for p in who.papers)
    fits = _fitting(model)
    hints = (
        [Hint("name a larger page: " + ", ".join(f"--from {_quoted(n)}" for n in fits))]
        if fits
        else []
    )
    hints.append(Hint("or fold a smaller sheet, or buy sheets ready cut"))
    return Diagnostic(
        "sheet-larger-than-paper",
        f"the sheet, {size}, is larger than {pages}: it cannot be cut from it",
        script.sheet_span,
        tuple(hints),
        Severity.ERROR if who.named else Severity.WARNING,
        script.source,
    )


def _fitting(model: Model) -> list[str]:
    need = sheet_need(model)
    return [p.name for p in PAGE_SIZES if first_cutting([_paper(p)], need) is not None]


def _quoted(name: str) -> str:
    return f'"{name}"' if " " in name else name


def _level_differs(script: Script, level: str, stated: str, hardest: Iterable[str]) -> Diagnostic:
    why = ", ".join(hardest)
    what = f"its moves ({why}) make it {level}" if why else f"all its moves are {level}"
    return Diagnostic(
        "level-differs",
        f"the head says '{stated}', but {what}",
        script.program.head.level_span,
        (
            Hint(
                f"write 'level {level}', or leave it as it is: the scale is common practice, no rule"
            ),
        ),
        Severity.WARNING,
        script.source,
    )
