"""The pages of a booklet: every script a chapter, then all bound.

In: a `BookletPlan` in one language, and its scripts, folded. Out: a `Document`. What does not fit is told at
the line of the booklet file that could be changed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from concurrent.futures import Executor
from contextlib import nullcontext
from dataclasses import replace
from functools import partial
from pathlib import Path

from ..drawing.style.styles import Style
from ..folding.steps import Model
from ..languages.language import load_language
from ..output.shaping import measuring
from ..pages.booklet.booklet import ChapterError, booklet
from ..pages.booklet.chapters import Chapter, chapter
from ..pages.booklet.texts import BookletTexts
from ..pages.document import Document
from ..pages.sizes import PageSize
from ..pose.pose import Pose
from ..source.diagnostics import Diagnostic, FoldscriptError, Hint, Source
from ..terminal.jobs import processes
from .booklet.plan import BookletPlan
from .gathering import ListedScript
from .kept_chapters import DrawnChapter, key_of
from .script import Doing, Script

#: A process takes about as long to begin as so many figures take to draw.
FIGURES_A_PROCESS = 12


def booklet_document(
    plan: BookletPlan,
    scripts: Sequence[ListedScript],
    language: str,
    doing: Doing,
    jobs: int = 1,
    kept: dict[str, DrawnChapter] | None = None,
) -> Document:
    """The pages. `language` is a tag or a catalogue file; up to `jobs` models are drawn at once.

    `kept` has chapters drawn before, by their keys; afterwards it has those of this booklet.
    Raises FoldscriptError.
    """
    keys = {one.name: key_of(one.script, plan.style, plan.page, language) for one in scripts}
    before = {} if kept is None else dict(kept)
    new = [one for one in scripts if keys[one.name] not in before]
    figures = sum(len(step.panels) for one in new for step in one.script.model.steps)
    jobs = min(jobs, len(new), figures // FIGURES_A_PROCESS)
    chapters: dict[str, Chapter] = {}
    with processes(jobs) if jobs > 1 else nullcontext() as pool:
        ways = {one.name: _way(plan, one.script, language, pool) for one in new}
        for one in scripts:
            drawn = before.get(keys[one.name])
            if drawn is not None:
                chapters[one.name] = _chapter_of(_titled(one.script, language), drawn)
                continue
            doing(f"drawing {one.name} for")
            try:
                chapters[one.name] = ways[one.name]()
            except FoldscriptError as error:
                raise FoldscriptError(*_too_small(plan, one, language, error)) from error
    if kept is not None:
        kept.clear()
        kept.update((keys[name], _drawn_part(made)) for name, made in chapters.items())
    on_cover = [chapters[name].picture for name in plan.cover]
    speech = load_language(language)
    try:
        return booklet(
            texts(plan),
            [*chapters.values()],
            on_cover,
            plan.style,
            plan.page,
            measuring(plan.style),
            speech,
        )
    except ChapterError as error:
        faults = _too_small(plan, scripts[error.chapter], language, error)
        raise FoldscriptError(*faults) from error
    except FoldscriptError as error:
        place = plan.title_location
        raise FoldscriptError(
            *(replace(f, span=place.span, source=place.source) for f in error.diagnostics)
        ) from error


def texts(plan: BookletPlan) -> BookletTexts:
    """What stands round the models."""
    return BookletTexts(
        title=plan.title,
        subtitle=plan.subtitle,
        publisher=plan.publisher,
        introduction=plan.introduction,
        credits=plan.credits,
        licence=plan.licence,
        language=plan.language,
        levels=plan.by_level,
        key=plan.key,
        link=plan.link,
    )


def _way(
    plan: BookletPlan, script: Script, language: str, pool: Executor | None
) -> Callable[[], Chapter]:
    """Gives the chapter when it is called; in the meantime another process of the `pool` draws it."""
    here = partial(_chapter, plan.style, plan.page, script, language)
    if pool is None:
        return here
    model = _titled(script, language)  # its poses are found now, and sent
    sent = (script.path, script.source, script.poses_by_key, plan.style, plan.page, language)
    result = pool.submit(_drawn, *sent)

    def fetched() -> Chapter:
        try:
            drawn = result.result()
        except Exception:  # that process has died: drawn here, what is wrong is told
            return here()
        if isinstance(drawn, DrawnChapter):
            return _chapter_of(model, drawn)
        raise FoldscriptError(*drawn)

    return fetched


def _drawn(
    path: Path,
    source: Source,
    poses: Mapping[str, Pose],
    style: Style,
    page: PageSize,
    language: str,
) -> DrawnChapter | tuple[Diagnostic, ...]:
    """Folds and draws a script that another process has read and stood up; or what is wrong with it."""
    script = Script(path)
    script.source = source
    script.poses_from(poses)
    try:
        made = _chapter(style, page, script, language)
    except FoldscriptError as error:
        return tuple(error.diagnostics)
    return _drawn_part(made)


def _drawn_part(one: Chapter) -> DrawnChapter:
    return DrawnChapter(one.figures, one.head, one.picture)


def _chapter_of(model: Model, drawn: DrawnChapter) -> Chapter:
    return Chapter(model, drawn.figures, drawn.head, drawn.picture)


def _chapter(style: Style, page: PageSize, script: Script, language: str) -> Chapter:
    model = _titled(script, language)
    return chapter(model, style, page, measuring(style), model.speech, script.kept)


def _titled(script: Script, language: str) -> Model:
    model, _ = script.said(language)
    return replace(model, title=model.title or model.name)


def _too_small(
    plan: BookletPlan, one: ListedScript, language: str, error: FoldscriptError
) -> Iterable[Diagnostic]:
    location = plan.page_location if plan.page_location.span else one.listed.location
    model, _ = one.script.said(language)
    title = model.title or model.name
    for fault in error.diagnostics:
        what = f"a page of {plan.page.name} is too small for '{title}': {fault.message}"
        hint = Hint(f"choose a larger page, or say less in '{one.script.path}'")
        yield location.diagnostic(fault.code, what, hint)
