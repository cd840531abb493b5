"""The way from a script to its pages: the stages, in order, on one page of code.

    script --read, parse--> Program --fold--> Model --draw--> figures --lay out--> pages --write--> files

In: a script's path and what is wanted. Out: files, or FoldscriptError with all that is wrong. Each
stage is a function of plain frozen data that knows nothing of the stages after it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from .diagnostics import Diagnostic, FoldscriptError
from .drawing.draw import Kept, draw, finished_figure
from .drawing.styles import Style, load_style
from .folding.fold import fold
from .folding.steps import Model
from .moves.registry import verbs
from .output.drawn import Drawn
from .output.formats import load_format
from .output.writing import write_files
from .pages.document import Document
from .pages.grid import figure_frame
from .pages.sizes import PageSize, page_size
from .syntax.parser import parse
from .syntax.reading import read_source

#: Told what is being done now ('folding'), for people who wait.
Doing = Callable[[str], None]


@dataclass(frozen=True)
class Order:
    """What is wanted of every model."""

    formats: tuple[str, ...]
    page: PageSize
    style: Style


def order(formats: Iterable[str], page: str, style: str) -> Order:
    """An order as a person gives it. Raises FoldscriptError where a page or style is unknown."""
    return Order(tuple(formats), page_size(page), load_style(style))


@dataclass(frozen=True)
class Built:
    """What came of a script: the files written, and what to know about them or what is missing."""

    files: tuple[Path, ...]
    notes: tuple[Diagnostic, ...]


def build(path: Path, out: Path, order: Order, doing: Doing = lambda stage: None) -> Built:
    """Folds and draws one script into `out/<its name>/`.

    Nothing is written before everything is drawn. Raises FoldscriptError with all that is wrong in
    the script. A format that this machine cannot make (a PDF without the cairo library) is left out
    and told in the notes.
    """
    model = check(path, doing)
    doing("drawing")
    notes: list[Diagnostic] = list(order.style.notes)
    drawn = _drawn(model, order, notes.append)
    files: dict[str, bytes] = {}
    for name in order.formats:
        doing(f"making {name} of")
        try:
            files |= dict(load_format(name).files(drawn))
        except FoldscriptError as error:
            notes += error.diagnostics
    written = write_files(out / model.name, files, model.name) if files else []
    return Built(tuple(written), tuple(notes))


def check(path: Path, doing: Doing = lambda stage: None) -> Model:
    """Folds one script. Raises FoldscriptError with everything that is wrong in it."""
    doing("reading")
    program = parse(read_source(path), verbs())
    doing("folding")
    return fold(program, path)


def states(path: Path, doing: Doing = lambda stage: None) -> str:
    """The folded paper after every step, as JSON."""
    from .output.states import states_json

    return states_json(check(path, doing))


def _drawn(model: Model, order: Order, warn: Callable[[Diagnostic], None]) -> Drawn:
    """The figures, drawn at the size they have on the page, and the pages when asked for."""
    frame = figure_frame(order.page, order.style.enlarged)
    kept = Kept()
    figures = draw(model, order.style, frame, kept)

    @cache
    def lay_out() -> Document:
        from .output.fonts import measure
        from .pages.handout import handout

        return handout(model, figures, order.style, order.page, measure, kept=kept)

    finished = finished_figure(model, order.style, frame, kept)
    return Drawn(model, figures, finished, order.style, lay_out, warn)
