"""A model in one language: every caption, title and note of it.

In: a folded model, and a language. Out: the same model, whose steps say what stands under their figures. A
caption is the teacher's own in that language, from the script or its side file; else the automatic one
in that language; else what the script says in its own. A term is explained the first time that an automatic
caption uses it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from pathlib import Path

from ..folding.lettering import lettered_as_told
from ..folding.steps import Model, Part, Step
from ..languages.language import load_language, no_catalogue, speaks
from ..languages.said_in import said_in, tags_of
from ..languages.wording import Language, Phrase, Template, sentences
from ..source.diagnostics import Diagnostic, FoldscriptError
from .pairs import combined
from .sheet_words import sheet_words
from .side_file import Original, SideFile, misnamed, read_side_file, said_twice, side_files

#: Credits that are no names, and have words of their own in every language.
_CREDITS: dict[str, Template] = {"traditional": "traditional"}

Spoken = tuple[Model, tuple[Diagnostic, ...]]


def in_language(model: Model, script: Path, language: Language) -> Spoken:
    """The model in a language, with what its script and side file say, and warnings about them.

    Raises FoldscriptError with all that is wrong in the side file.
    """
    said, warnings = _in_language(model, script, language)
    return said, warnings if speaks(language) else (*warnings, no_catalogue(language))


def _in_language(model: Model, script: Path, language: Language) -> Spoken:
    if same_language(language.tag, model.language):
        return spoken(model, language, None), ()
    files = side_files(script)
    tag = next((t for t in tags_of(language.tag) if t in files), "")
    if not tag:
        return spoken(model, language, None), ()
    side = read_side_file(files[tag], tag, original(model))
    twice = (s.number for s in model.steps if s.number in side.steps and said_in(s.captions, tag))
    warnings = (*side.warnings, *said_twice(files[tag], twice, tag))
    return spoken(model, language, side), warnings


def original(model: Model) -> Original:
    """What a model's script says itself."""
    return Original(
        model.title,
        model.credit,
        model.licence,
        model.own_notes,
        tuple(part.title for part in model.parts if part.title),
        tuple(step.caption for step in model.steps),
    )


def of_side_files(model: Model, script: Path) -> tuple[Diagnostic, ...]:
    """All that is wrong in the side files of a model that is in no language yet, or does not fit it."""
    found = [*misnamed(script)]
    for tag in side_files(script):
        try:
            found += _in_language(model, script, load_language(tag))[1]
        except FoldscriptError as error:
            found += error.diagnostics
    return tuple(found)


def said(model: Model, script: Path, names: Sequence[str]) -> Spoken:
    """The model in the language named, one or none: in that of its script then; and all warnings."""
    if names:
        told, notes = in_language(model, script, load_language(names[0]))
        return told, (*model.warnings, *notes)
    language = load_language(model.language)
    notes = () if speaks(language) else (no_catalogue(language),)
    return spoken(model, language, None), (*model.warnings, *notes)


def spoken(model: Model, language: Language, side: SideFile | None) -> Model:
    """The model with everything said in a language."""
    side = side or SideFile(language.tag)
    own = same_language(language.tag, model.language)
    credit = side.credit or model.credit
    if credit in _CREDITS:
        credit = language(_CREDITS[credit])
    return replace(
        model,
        title=(said_in(model.titles, language.tag) or side.title or model.title),
        credit=credit,
        licence=side.licence or model.licence,
        own_notes=tuple(_notes(model, language, side)),
        language=language.tag,
        speech=language,
        sheet=replace(model.sheet, shape=sheet_words(model.sheet.shape, language)),
        steps=tuple(_steps(model.steps, language, side, own)),
        parts=tuple(_parts(model.parts, language, side)),
    )


def _parts(parts: Sequence[Part], language: Language, side: SideFile) -> Iterable[Part]:
    """The parts with their titles and the words of their sheets in a language."""
    titles = iter(side.parts)
    for part in parts:
        sheet = replace(part.sheet, shape=sheet_words(part.sheet.shape, language))
        title = (next(titles, "") if part.title else "") or part.title
        yield replace(part, title=title, sheet=sheet)


def _steps(steps: Sequence[Step], language: Language, side: SideFile, own: bool) -> Iterable[Step]:
    explained: set[Template] = set()
    for step in steps:
        caption = said_in(step.captions, language.tag) or side.steps.get(step.number, "")
        if not caption and (own or not step.wording or not speaks(language)):
            caption = step.caption
        if caption:
            yield lettered_as_told(replace(step, caption=caption), ())
            continue
        told = [combined(words) for words in replace(step, caption="").told]
        panels = (replace(p, sentences=len(s)) for p, s in zip(step.panels, told, strict=True))
        wording = tuple(_briefly(words, explained) for some in told for words in some)
        said = replace(step, caption="", wording=wording, panels=tuple(panels))
        yield lettered_as_told(said, [sentences(some, language) for some in said.told])


def _briefly(words: Phrase, explained: set[Template]) -> Phrase:
    """The sentence, or its short form where the term in it has been explained."""
    if words.again is None:
        return words
    if words.template in explained:
        return words.again
    explained.add(words.template)
    return words


def _notes(model: Model, language: Language, side: SideFile) -> Iterable[str]:
    """The script's notes, translated one by one."""
    here = [text for tag, text in model.other_notes if tag in tags_of(language.tag)]
    translated = here or list(side.notes)
    for number, note in enumerate(model.own_notes):
        yield (translated[number] if number < len(translated) else "") or note


def same_language(one: str, other: str) -> bool:
    return one.lower() == other.lower()
