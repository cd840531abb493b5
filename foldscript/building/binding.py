"""The way from a booklet file to its PDF and its slides.

In: a booklet file's path, and what the command line says over it. Out: files, or FoldscriptError with all
that is wrong in the booklet file and in its scripts.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

from ..captions.choosing import asked_of, chosen
from ..drawing.style.styles import Style, load_style
from ..languages.language import load_language
from ..output.fonts import fonts_of
from ..output.imposed import imposed_pdf, printing
from ..output.pdf import document_pdf
from ..output.slides import slides_html, slides_language
from ..output.svg import ground
from ..pages.booklet.imposition import creep_shifts, padded_count, sheet_for
from ..pages.document import Document
from ..pages.grid import grid
from ..pages.sizes import POINTS_PER_MM, PageSize, page_size
from ..source.diagnostics import Diagnostic, FoldscriptError, Hint
from .booklet.file import read_booklet
from .booklet.plan import BookletPlan
from .booklet_pages import booklet_document, texts
from .editions import Built, Edition, Made, build_editions
from .gathering import ListedScript, folded, listed_scripts
from .kept_chapters import CHAPTERS, DrawnChapter
from .script import Doing, unheard


@dataclass(frozen=True)
class BookletOptions:
    """What a person says over the booklet file; None, False and () leave it as it is.

    `formats` are some of `booklet.plan.FORMATS`; `fresh` binds it anew though nothing has changed;
    `languages` are as `captions.choosing` gives them; `creep` is in millimetres a sheet; `jobs` is how many
    models may be drawn at once.
    """

    page: PageSize | None = None
    style: Style | None = None
    imposed: bool = False
    fresh: bool = False
    languages: tuple[str, ...] = ()
    formats: tuple[str, ...] = ()
    creep: float | None = None
    jobs: int = 1


def booklet_options(
    page: str,
    style: str,
    imposed: bool,
    fresh: bool = False,
    languages: Iterable[str] = (),
    formats: Iterable[str] = (),
    creep: float | None = None,
    jobs: int = 1,
) -> BookletOptions:
    """Options as given on the command line; '' for none.

    Raises FoldscriptError where something in them is unknown.
    """
    return BookletOptions(
        page_size(page) if page else None,
        load_style(style) if style else None,
        imposed,
        fresh,
        chosen(languages),
        tuple(formats),
        creep,
        jobs,
    )


def bind(path: Path, out: Path, options: BookletOptions, doing: Doing = unheard) -> Built:
    """Folds, draws and binds what a booklet file lists, into `out/<its name>/`.

    In several languages, or in those named on the command line, each goes into a folder below it.
    Nothing is written before everything is made, and then all of it.
    """
    doing("reading")
    plan = read_booklet(path, options.page, options.style)
    formats = options.formats or plan.formats
    plan = replace(plan, imposed=plan.imposed or options.imposed, formats=formats)
    if options.creep is not None:
        plan = replace(plan, creep=options.creep, creep_location=None)
    scripts = listed_scripts(plan, doing)
    in_order = cache(lambda: folded(scripts, plan.by_level))
    folder = out / plan.name
    plans = {folder: (plan, plan.language)}
    if options.languages or len(plan.languages) > 1:
        names = asked_of(options.languages or plan.languages, lambda: plan.languages)
        plans = {folder / tag: (plan.in_language(tag), name) for tag, name in names.items()}
    # A second language takes the drawings of the first, which only the process has that made them.
    jobs = options.jobs if len(plans) == 1 else 1
    fresh = options.fresh
    editions = [
        Edition(
            place,
            language,
            formats,
            tuple(one.script for one in scripts),
            one_plan,
            _Binder(one_plan, language, in_order, doing, jobs, None if fresh else place).made,
            kind="booklet",
        )
        for place, (one_plan, language) in plans.items()
    ]
    return build_editions(editions, folder, path.parent, options.fresh, plan.style.notes)


def lay_out(
    path: Path, doing: Doing = unheard, languages: Sequence[str] = ()
) -> dict[str, tuple[BookletPlan, Document]]:
    """What a booklet file asks for, and the pages that it stands for, by each of its languages.

    `languages`, as `chosen` gives them, stand in for the file's own.
    """
    whole = read_booklet(path)
    scripts = folded(listed_scripts(whole, doing), whole.by_level)
    names = languages or whole.languages
    tags = asked_of(names, lambda: whole.languages) or {whole.language: whole.language}
    several = bool(languages) or len(tags) > 1
    plans = {tag: (whole.in_language(tag) if several else whole) for tag in tags}
    return {
        tag: (plan, booklet_document(plan, scripts, tags[tag], doing))
        for tag, plan in plans.items()
    }


@dataclass(frozen=True)
class _Binder:
    """Binds a booklet in one language; `scripts` gives them folded, `before` is where it was bound before."""

    plan: BookletPlan
    language: str
    scripts: Callable[[], list[ListedScript]]
    doing: Doing
    jobs: int
    before: Path | None

    def made(self, name: str) -> Made:
        """A format."""
        said = (one.script.said(self.language)[1] for one in self.scripts())
        notes = list(dict.fromkeys(note for warnings in said for note in warnings))
        return self._pdf(notes) if name == "pdf" else self._slides(notes)

    def _pdf(self, notes: list[Diagnostic]) -> Made:
        plan = self.plan
        kept: dict[str, DrawnChapter] = {} if self.before is None else CHAPTERS.read(self.before)
        document = booklet_document(
            plan, self.scripts(), self.language, self.doing, self.jobs, kept
        )
        self.doing("making the PDF of")
        count = len(document.pages)
        pdf = document_pdf(document, plan.style)
        files = {f"{plan.name}.pdf": pdf}
        lines = [f"{plan.name}.pdf: {count} pages of {plan.page.name}"]
        if plan.imposed:
            sheet = sheet_for(plan.page)
            name = f"{plan.name}-imposed.pdf"
            creep = _creep(plan, count)
            files[name] = imposed_pdf(pdf, plan.page, sheet, ground(plan.style), creep)
            lines.append(f"{name}: {printing(count, sheet, creep)}")
        notes += fonts_of(plan.style).warnings(document.texts())
        return Made(files, notes, lines, {CHAPTERS.name: CHAPTERS.packed(kept)})

    def _slides(self, notes: list[Diagnostic]) -> Made:
        plan = self.plan
        shown = [one.script.screened(plan.style, self.language) for one in self.scripts()]
        speech = slides_language(load_language(self.language))
        name = f"{plan.name}-slides.html"
        html = slides_html(shown, plan.style, speech, speech.tag, texts(plan))
        return Made({name: html}, notes, [f"{name}: {len(shown)} models, one step a screen"])


def _creep(plan: BookletPlan, count: int) -> float:
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
    location = plan.creep_location or replace(plan.page_location, span=None)
    raise FoldscriptError(location.diagnostic("creep-too-large", what, hint))
