"""Practice sheets: the sheet itself at true size, with the folds of some steps lightly printed on it.

In: a script's path, and which steps. Out: a PDF in the model's folder.
"""

from __future__ import annotations

from pathlib import Path

from ..drawing.sheet.true_sheet import lines_of_steps
from ..drawing.style.lighter import lighter
from ..drawing.style.styles import load_style
from ..folding.alone import part_models
from ..folding.steps import Model
from ..languages.language import load_language
from ..output.fonts import fonts_of
from ..output.pdf import document_pdf
from ..output.shaping import measuring
from ..output.writing import write_files
from ..pages.sheets.practice import practice
from ..pages.sizes import PageSize, page_size
from ..source.diagnostics import Diagnostic, FoldscriptError, Hint, Severity, Source
from .editions import Built
from .script import Doing, Script, unheard


def practice_page(page: str, language: str) -> PageSize:
    """The page as given on the command line. Raises FoldscriptError where it or the language is unknown."""
    if language:
        load_language(language)
    return page_size(page)


def practise(
    path: Path,
    steps: tuple[int, int] | None,
    page: PageSize,
    out: Path,
    doing: Doing = unheard,
    language: str = "",
) -> Built:
    """Writes the practice sheet of some steps, or of all, into `out/<name>/<name>-practice.pdf`.

    A model in parts has one for each of its sheets: `<name>-part-1-practice.pdf`.

    Raises FoldscriptError ('no-such-step', 'too-many-pages') besides what folding raises.
    """
    script = Script(path, doing)
    model, warnings = script.said(language)
    first, last = steps or (1, len(model.steps))
    if not 1 <= first <= last <= len(model.steps):
        raise FoldscriptError(_no_such_step(script.source, model))
    doing("drawing")
    style = lighter(load_style("grey"))
    notes = [*warnings]
    files: dict[str, bytes] = {}
    empty = True
    for one in part_models(model):
        here = [step.number for step in one.steps if first <= step.number <= last]
        if not here and one.steps:
            continue
        span = (here[0], here[-1]) if here else (first, last)
        sheet = lines_of_steps(one, *span)
        try:
            document = practice(one, sheet, span, page, measuring(style), one.speech)
        except FoldscriptError as error:
            raise FoldscriptError(*script.placed(error, script.sheet_span)) from error
        notes += (note for note in fonts_of(style).warnings(document.texts()) if note not in notes)
        empty = empty and not any(line.step for line in sheet.lines)
        part = "" if steps is None else f"-{first}" if first == last else f"-{first}-{last}"
        files[f"{one.name}-practice{part}.pdf"] = document_pdf(document, style)
    if not files:
        raise FoldscriptError(
            Diagnostic(
                "no-sheet-there",
                f"steps {first} to {last} put units together: they have no sheet to print on",
                hints=(Hint("ask for steps that fold a sheet"),),
                source=script.source,
            )
        )
    if empty:
        notes.append(
            Diagnostic(
                "no-lines",
                f"nothing is folded in steps {first} to {last}: the practice sheet is empty",
                severity=Severity.WARNING,
                source=script.source,
            )
        )
    return Built(tuple(write_files(out / model.name, files, model.name)), tuple(notes))


def _no_such_step(source: Source, model: Model) -> Diagnostic:
    count = len(model.steps)
    return Diagnostic(
        "no-such-step",
        f"'{model.title or model.name}' has the steps 1 to {count}"
        if count
        else f"'{model.title or model.name}' has no steps",
        hints=(Hint(f"for instance --steps 1-{min(4, count)}"),) if count else (),
        source=source,
    )
