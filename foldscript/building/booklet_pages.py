"""The pages of a booklet: every script a chapter, then all bound.

In: a `BookletPlan` in one language, and its scripts, folded. Out: a `Document`. What does not fit is told at
the line of the booklet file that could be changed.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from ..languages.language import load_language
from ..output.fonts import measure
from ..pages.booklet.booklet import ChapterError, booklet
from ..pages.booklet.chapters import Chapter, chapter
from ..pages.booklet.texts import BookletTexts
from ..pages.document import Document
from ..source.diagnostics import Diagnostic, FoldscriptError, Hint
from .booklet.plan import BookletPlan
from .gathering import ListedScript
from .script import Doing, Script


def booklet_document(
    plan: BookletPlan, scripts: Sequence[ListedScript], language: str, doing: Doing
) -> Document:
    """The pages. `language` is a tag or a catalogue file. Raises FoldscriptError."""
    chapters: dict[str, Chapter] = {}
    for one in scripts:
        doing(f"drawing {one.name} for")
        try:
            chapters[one.name] = _chapter(plan, one.script, language)
        except FoldscriptError as error:
            raise FoldscriptError(*_too_small(plan, one, language, error)) from error
    on_cover = [chapters[name].picture for name in plan.cover]
    speech = load_language(language)
    try:
        return booklet(
            texts(plan), [*chapters.values()], on_cover, plan.style, plan.page, measure, speech
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


def _chapter(plan: BookletPlan, script: Script, language: str) -> Chapter:
    model, _ = script.said(language)
    titled = replace(model, title=model.title or model.name)
    return chapter(titled, plan.style, plan.page, measure, model.speech, script.kept)


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
