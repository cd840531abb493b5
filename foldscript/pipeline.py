"""The way from a script to its pages: the stages, in order, on one page of code.

    script --read, parse--> Program --fold--> Model --draw--> figures --lay out--> pages --write--> files

In: a script's path and what is wanted. Out: files, or FoldscriptError with all that is wrong. Each
stage is a function of plain frozen data that knows nothing of the stages after it. Files that were
made from the very same before, and are still there, are not made again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from . import origins
from .diagnostics import Diagnostic, FoldscriptError
from .drawing.draw import Kept, draw, finished_figure
from .drawing.styles import Style, load_style
from .folding.fold import fold
from .folding.lineage import lineage
from .folding.steps import Model
from .moves.registry import verbs
from .output.drawn import Drawn
from .output.formats import load_format
from .output.record import RECORD, Result, read_record, record_bytes
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
    """What is wanted of every model; `fresh` also makes again what has not changed."""

    formats: tuple[str, ...]
    page: PageSize
    style: Style
    fresh: bool = False


def order(formats: Iterable[str], page: str, style: str, fresh: bool = False) -> Order:
    """An order as a person gives it. Raises FoldscriptError where a page or style is unknown."""
    return Order(tuple(formats), page_size(page), load_style(style), fresh)


@dataclass(frozen=True)
class Built:
    """What came of a script: its files, and what to know about them or what is missing.

    `unchanged` tells that the files were there already, made from the very same.
    """

    files: tuple[Path, ...]
    notes: tuple[Diagnostic, ...]
    unchanged: bool = False


def build(path: Path, out: Path, order: Order, doing: Doing = lambda stage: None) -> Built:
    """Folds and draws one script into `out/<its name>/`.

    Nothing is written before everything is drawn. Raises FoldscriptError with all that is wrong in
    the script. A format that this machine cannot make (a PDF without the cairo library) is left out
    and told in the notes.
    """
    folder = out / path.stem
    before = read_record(folder, path.parent)
    kept = {} if order.fresh else _kept(path, order, before, folder)
    notes: list[Diagnostic] = [*order.style.notes, *(n for r in kept.values() for n in r.notes)]
    files: dict[str, bytes] = {}
    if wanted := [name for name in order.formats if name not in kept]:
        doing("reading")
        program = parse(read_source(path), verbs())
        parts = origins.of_model(program.source, lineage(program, path), order)
        doing("folding")
        model = fold(program, path)
        doing("drawing")
        said: list[Diagnostic] = []
        drawn = _drawn(model, order, said.append)
        made: dict[str, Result] = {}
        for name in wanted:
            doing(f"making {name} of")
            del said[:]
            try:
                new = dict(load_format(name).files(drawn))
            except FoldscriptError as error:
                said += error.diagnostics
            else:
                made[name] = Result.of(parts, new, said)
                files |= new
            notes += said
        record = {RECORD: record_bytes({**before, **made}, path.parent)}
        if files:
            write_files(folder, files, path.stem, record)
    names = (*files, *(n for r in kept.values() for n in r.files))
    return Built(tuple(folder / n for n in names), tuple(notes), not wanted)


def _kept(
    path: Path, order: Order, before: Mapping[str, Result], folder: Path
) -> dict[str, Result]:
    """Results wanted now that were made before, from the very same, and are still there."""
    return {
        name: before[name]
        for name in order.formats
        if name in before
        and before[name].parts == origins.of_model_now(path, before[name].parts, order)
        and before[name].intact(folder)
    }


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
