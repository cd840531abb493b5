"""The way from a script to its pages: the stages, in order, on one page of code.

    script --read, parse--> Program --fold--> Model --draw--> figures --lay out--> pages --write--> files

In: a script's path and what is wanted. Out: files, or FoldscriptError with all that is wrong. Each
stage is a function of plain frozen data that knows nothing of the stages after it. Files that were
made from the very same before, and are still there, are not made again. A model is folded once, and
then said, drawn and laid out in every language asked for.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cache, cached_property, partial
from pathlib import Path

from ..captions.choosing import asked_of, chosen
from ..captions.speaking import catalogues_of, languages_of, said
from ..drawing.draw import Kept, draw, finished_figure
from ..drawing.style.styles import Style, load_style
from ..folding.fold import fold
from ..folding.lineage import lineage
from ..folding.steps import Model
from ..moves.registry import verbs
from ..output.drawn import Drawn
from ..output.formats import load_format
from ..output.writing import write_files
from ..pages.document import Document
from ..pages.grid import figure_frame
from ..pages.sizes import PageSize, page_size
from ..source.diagnostics import Diagnostic, FoldscriptError, Source
from ..source.reading import read_script
from ..syntax.nodes import Program
from ..syntax.parser import parse
from .cache import ingredients as origins
from .cache.record import RECORD, Result, read_record, record_bytes

#: Told what is being done now ('folding'), for people who wait.
Doing = Callable[[str], None]


@dataclass(frozen=True)
class Order:
    """What is wanted of every model; `fresh` also makes again what has not changed.

    `languages` are as `captions.choosing` gives them, () for the script's own.
    """

    formats: tuple[str, ...]
    page: PageSize
    style: Style
    fresh: bool = False
    languages: tuple[str, ...] = ()


def order(
    formats: Iterable[str],
    page: str,
    style: str,
    fresh: bool = False,
    languages: Iterable[str] = (),
) -> Order:
    """An order as a person gives it. Raises FoldscriptError where something in it is unknown."""
    return Order(tuple(formats), page_size(page), load_style(style), fresh, chosen(languages))


@dataclass(frozen=True)
class Built:
    """What came of a script: its files, and what to know about them or what is missing.

    `unchanged` tells that the files were there already, made from the very same.
    """

    files: tuple[Path, ...]
    notes: tuple[Diagnostic, ...]
    unchanged: bool = False


def build(path: Path, out: Path, order: Order, doing: Doing = lambda stage: None) -> Built:
    """Folds and draws one script into `out/<its name>/`, in several languages into folders below it.

    Nothing is written before everything is drawn, and then all at one stroke. A format that this
    machine cannot make (a PDF without the cairo library) is left out and told in the notes. Raises
    FoldscriptError with all that is wrong in the script.
    """
    work = _Work(path, doing)
    folder = out / path.stem
    if order.languages:
        tags = asked_of(order.languages, lambda: languages_of(work.program, path))
        orders = {folder / tag: replace(order, languages=(name,)) for tag, name in tags.items()}
    else:
        orders = {folder: order}
    made = [work.made(place, one) for place, one in orders.items()]
    new = [one for one in made if one.files]
    if new:
        files = {one.within(folder, name): data for one in new for name, data in one.files.items()}
        records = {one.within(folder, RECORD): record_bytes(one.record, path.parent) for one in new}
        write_files(folder, files, path.stem, records)
    notes = dict.fromkeys((*order.style.notes, *(note for one in made for note in one.notes)))
    paths = tuple(one.folder / name for one in made for name in one.names)
    return Built(paths, tuple(notes), not new and bool(paths))


@dataclass(frozen=True)
class _Made:
    """What came of a script in one language: new files, the folder's record, and all names in it."""

    folder: Path
    files: dict[str, bytes]
    record: dict[str, Result]
    names: tuple[str, ...]
    notes: tuple[Diagnostic, ...]

    def within(self, whole: Path, name: str) -> str:
        """What one of its files is called in the folder of all languages."""
        return (self.folder.relative_to(whole) / name).as_posix()


class _Work:
    """A script on its way: read and folded once, however many languages it is made in."""

    def __init__(self, path: Path, doing: Doing) -> None:
        self.path = path
        self.doing = doing
        self.drawings = Kept()

    @cached_property
    def program(self) -> Program:
        self.doing("reading")
        return parse(read_script(self.path), verbs())

    @cached_property
    def model(self) -> Model:
        program = self.program
        self.doing("folding")
        return fold(program, self.path)

    def made(self, folder: Path, order: Order) -> _Made:
        """Everything that is wanted in the one language of the order."""
        before = read_record(folder, self.path.parent)
        kept = {} if order.fresh else _kept(self.path, order, before, folder)
        notes = [note for result in kept.values() for note in result.notes]
        files: dict[str, bytes] = {}
        made: dict[str, Result] = {}
        if wanted := [name for name in order.formats if name not in kept]:
            ancestors = lineage(self.program, self.path)
            own = catalogues_of(order.languages)
            parts = origins.of_model(self.program.source, ancestors, order, own)
            model, warnings = said(self.model, self.path, order.languages)
            self.doing("drawing")
            told: list[Diagnostic] = []
            drawn = _drawn(model, self.program.source, order, self.drawings, told.append)
            for name in wanted:
                self.doing(f"making {name} of")
                told[:] = warnings
                try:
                    new = dict(load_format(name).files(drawn))
                except ScriptFault:
                    raise
                except FoldscriptError as error:
                    told += error.diagnostics
                else:
                    made[name] = Result.of(parts, new, told)
                    files |= new
                notes += told
        names = (*files, *(name for result in kept.values() for name in result.files))
        return _Made(folder, files, {**before, **made}, names, tuple(notes))


def _kept(
    path: Path, order: Order, before: Mapping[str, Result], folder: Path
) -> dict[str, Result]:
    """Results wanted now that were made before, from the very same, and are still there."""
    own = catalogues_of(order.languages)
    now = partial(origins.of_model_now, path, order=order, catalogues=own)
    return {
        name: before[name]
        for name in order.formats
        if name in before
        and before[name].parts == now(before[name].parts)
        and before[name].intact(folder)
    }


def check(path: Path, doing: Doing = lambda stage: None) -> Model:
    """Folds one script. Raises FoldscriptError with everything that is wrong in it."""
    return _Work(path, doing).model


def states(path: Path, doing: Doing = lambda stage: None) -> str:
    """The folded paper after every step, as JSON."""
    from ..output.states import states_json

    return states_json(check(path, doing))


class ScriptFault(FoldscriptError):
    """What only the pages bring to light, but the script is to blame for: nothing is written then."""


def _drawn(
    model: Model, source: Source, order: Order, kept: Kept, warn: Callable[[Diagnostic], None]
) -> Drawn:
    """The figures, drawn at the size they have on the page, and the pages when asked for."""
    frame = figure_frame(order.page, order.style.enlarged)
    figures = draw(model, order.style, frame, kept)

    @cache
    def lay_out() -> Document:
        from ..output.fonts import measure
        from ..pages.layout.handout import handout

        try:
            return handout(
                model, figures, order.style, order.page, measure, model.speech, kept=kept
            )
        except FoldscriptError as error:
            raise ScriptFault(*(replace(f, source=source) for f in error.diagnostics)) from error

    finished = finished_figure(model, order.style, frame, kept)
    return Drawn(model, figures, finished, order.style, lay_out, warn)
