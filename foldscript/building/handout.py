"""What is made of one script: pictures of its steps, a handout, slides, words, in one folder.

In: a script's path and what is wanted of it. Out: files, or FoldscriptError with all that is wrong.
`building/script.py` is the way that they take.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from functools import cache, partial
from pathlib import Path

from ..captions.choosing import asked_of, chosen, languages_of
from ..drawing.style.styles import Style, load_style
from ..output.drawn import Drawn
from ..output.formats import load_format
from ..pages.sizes import PageSize, page_size
from ..source.diagnostics import Diagnostic, FoldscriptError
from ..terminal.dividing import begin
from .editions import Built, Edition, Made, build_editions
from .script import Doing, Script, ScriptFault, unheard


@dataclass(frozen=True)
class BuildOptions:
    """What is wanted of every model.

    `fresh` also makes again what has not changed; `unfinished`, of a model that is wrong, what folds of it.

    `languages` are as `captions.choosing` gives them, () for the script's own.
    """

    formats: tuple[str, ...]
    page: PageSize
    style: Style
    fresh: bool = False
    languages: tuple[str, ...] = ()
    unfinished: bool = False


def build_options(
    formats: Iterable[str],
    page: str,
    style: str,
    fresh: bool = False,
    languages: Iterable[str] = (),
    unfinished: bool = False,
) -> BuildOptions:
    """Options as a person gives them. Raises FoldscriptError where something in them is unknown."""
    return BuildOptions(
        tuple(formats), page_size(page), load_style(style), fresh, chosen(languages), unfinished
    )


def build(path: Path, out: Path, options: BuildOptions, doing: Doing = unheard) -> Built:
    """Folds and draws one script into `out/<its name>/`, in several languages into folders below it.

    Nothing is written before everything is drawn, and then all of it. A format that this machine cannot
    make (a PDF without the cairo library) is left out and told in the notes. So is what is wrong in the
    script where the steps before that are wanted; else raises FoldscriptError with all of it.
    """
    script = Script(path, doing)
    wrong: tuple[Diagnostic, ...] = ()
    if options.unfinished:
        script, wrong = _as_far_as_it_folds(script)
    folder = out / path.stem
    languages = {folder: ""}
    if options.languages:
        tags = asked_of(options.languages, lambda: languages_of(script.program, path))
        languages = {folder / tag: name for tag, name in tags.items()}
    editions = [
        Edition(
            place,
            language,
            options.formats,
            (script,),
            replace(options, languages=(language,) if language else ()),
            _maker(script, options, language, doing),
        )
        for place, language in languages.items()
    ]
    notes = (*wrong, *options.style.notes)
    return build_editions(editions, folder, path.parent, options.fresh, notes)


def _as_far_as_it_folds(script: Script) -> tuple[Script, tuple[Diagnostic, ...]]:
    """The script, or the steps before what is wrong, with that. Raises FoldscriptError where it is in no
    step."""
    try:
        _ = script.standing_model
    except FoldscriptError as error:
        short = script.unfinished(error.diagnostics)
        if short is None:
            raise
        return short, error.diagnostics
    return script, ()


def _maker(
    script: Script, options: BuildOptions, language: str, doing: Doing
) -> Callable[[str], Made]:
    """Makes formats of a script that is drawn for the first of them."""

    @cache
    def drawn() -> Drawn:
        script.kept.help = partial(begin, doing=doing)
        return script.drawn(options.style, options.page, language)

    def make(name: str) -> Made:
        whole = drawn()
        doing(f"making {name} of")
        notes = list(script.said(language)[1])
        try:
            files = dict(load_format(name).files(replace(whole, warn=notes.append)))
        except ScriptFault:
            raise
        except FoldscriptError as error:
            return Made({}, (*notes, *error.diagnostics))
        return Made(files, notes)

    return make
