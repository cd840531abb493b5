"""What has become of each step between two versions of a model.

In: a pair of scripts. Out: a `ModelChange`: every step with what is different about it, and the figures
of both versions. A script that says the very same is not folded.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from enum import Enum
from pathlib import Path

from ..captions.side_file import side_files
from ..captions.speaking import said as said_in_its_language
from ..drawing.draw import DrawnFigure, Kept, draw, finished_figure
from ..drawing.scene.scene import Scene
from ..drawing.style.styles import Style
from ..folding.fold import fold
from ..folding.lineage import lineage
from ..folding.steps import Model
from ..moves.registry import verbs
from ..pages.grid import figure_frame
from ..pages.sizes import PageSize
from ..source.diagnostics import Diagnostic, FoldscriptError, Severity, Source
from ..source.reading import read_script
from ..syntax.nodes import Program
from ..syntax.parser import parse
from .matching import matched, said
from .prints import Print, drawing_print, paper_prints
from .versions import Pair, Version


class Kind(Enum):
    """What is different about a step, the weightiest that applies."""

    SAME = "as before"
    NUMBER = "only its number changed"
    WORDS = "only the words changed"
    DRAWING = "the drawing changed"
    PAPER = "the paper changed"
    NEW = "new"
    GONE = "gone"


@dataclass(frozen=True)
class StepChange:
    """A step in both versions: its number in each (None where it is not), and its figures."""

    kind: Kind
    old: int | None
    new: int | None
    before: tuple[DrawnFigure, ...] = ()
    after: tuple[DrawnFigure, ...] = ()


class Fate(Enum):
    """What has become of a model."""

    SAME = "as before"
    CHANGED = "changed"
    NEW = "new"
    GONE = "gone"
    BROKEN = "does not fold"


@dataclass(frozen=True)
class ModelChange:
    """A model in both versions.

    Attributes
    ----------
    name, title : the script's name below what was compared, and the model's title
    was : the script's name before
    head : what is different in the head of the page ('title', 'sheet', 'finished model')
    languages : in which its side file has changed
    finished : the finished model before and after, where that is different
    faults : why it could not be compared
    """

    name: str
    title: str
    fate: Fate
    steps: tuple[StepChange, ...] = ()
    head: tuple[str, ...] = ()
    languages: tuple[str, ...] = ()
    finished: tuple[Scene, Scene] | None = None
    faults: tuple[Diagnostic, ...] = ()
    was: str = ""

    @property
    def changed(self) -> tuple[StepChange, ...]:
        """The steps that are not as before."""
        return tuple(step for step in self.steps if step.kind is not Kind.SAME)


@dataclass(frozen=True)
class _Side:
    """One version of a model, folded and drawn."""

    program: Program
    model: Model
    figures: tuple[DrawnFigure, ...]
    finished: Scene
    papers: list[Print] = field(compare=False)


def compare(pair: Pair, old: Version, new: Version, style: Style, page: PageSize) -> ModelChange:
    """What has become of a model. Raises nothing: what is wrong with a script is told in `faults`."""
    return replace(_compared(pair, old, new, style, page), was=pair.was)


def _compared(pair: Pair, old: Version, new: Version, style: Style, page: PageSize) -> ModelChange:
    languages = _languages(pair)
    kept = Kept()
    try:
        texts = [_texts(path) for path in (pair.old, pair.new)]
        if texts[0] == texts[1]:
            fate = Fate.CHANGED if languages else Fate.SAME
            return ModelChange(pair.name, _title(texts[1]), fate, languages=languages)
    except FoldscriptError:
        pass  # told below
    before = _side(pair.old, style, page, kept, old)
    after = _side(pair.new, style, page, kept, new)
    if isinstance(after, tuple):
        return ModelChange(pair.name, pair.name, Fate.BROKEN, faults=after)
    if after is None:
        title = before.model.title if isinstance(before, _Side) else pair.name
        return ModelChange(pair.name, title, Fate.GONE)
    title = after.model.title or after.model.name
    if not isinstance(before, _Side):
        steps = tuple(
            StepChange(Kind.NEW, None, n, (), _of(after.figures, n))
            for n in range(1, len(after.model.steps) + 1)
        )
        faults = tuple(replace(fault, severity=Severity.WARNING) for fault in before or ())
        return ModelChange(pair.name, title, Fate.NEW, steps, faults=faults)
    steps = tuple(_steps(before, after))
    head = tuple(_head(before, after))
    finished = (before.finished, after.finished) if "finished model" in head else None
    same = not head and not languages and all(step.kind is Kind.SAME for step in steps)
    fate = Fate.SAME if same else Fate.CHANGED
    return ModelChange(pair.name, title, fate, steps, head, languages, finished)


def _texts(path: Path | None) -> tuple[Source, ...] | None:
    """A script and what it starts from; names of files do not count."""
    if path is None:
        return None
    source = read_script(path)
    program = parse(source, verbs())
    return tuple(Source("", text.text) for text in (source, *lineage(program, path)))


def _title(texts: tuple[Source, ...] | None) -> str:
    return parse(texts[0], verbs()).head.title if texts else ""


def _side(
    path: Path | None, style: Style, page: PageSize, kept: Kept, version: Version
) -> _Side | tuple[Diagnostic, ...] | None:
    """A version folded and drawn; what is wrong with it; None where it is not there."""
    if path is None:
        return None
    try:
        program = parse(read_script(path), verbs())
        model, _ = said_in_its_language(fold(program, path), path, ())
    except FoldscriptError as error:
        return tuple(version.named(fault) for fault in error.diagnostics)
    frame = figure_frame(page, style.enlarged)
    figures = draw(model, style, frame, kept)
    finished = finished_figure(model, style, frame, kept)
    return _Side(program, model, figures, finished, paper_prints(model))


def _steps(before: _Side, after: _Side) -> Iterable[StepChange]:
    for i, j in matched(said(before.program), said(after.program)):
        old = None if i is None else i + 1
        new = None if j is None else j + 1
        one = () if old is None else _of(before.figures, old)
        other = () if new is None else _of(after.figures, new)
        if old is None or new is None:
            yield StepChange(Kind.GONE if new is None else Kind.NEW, old, new, one, other)
            continue
        drawings = [[drawing_print(f.scene) for f in figures] for figures in (one, other)]
        words = [_words(side, n) for side, n in ((before, old), (after, new))]
        if before.papers[old] != after.papers[new]:
            kind = Kind.PAPER
        elif drawings[0] != drawings[1]:
            kind = Kind.DRAWING
        elif words[0] != words[1]:
            kind = Kind.WORDS
        else:
            kind = Kind.SAME if old == new else Kind.NUMBER
        yield StepChange(kind, old, new, one, other)


def _of(figures: Iterable[DrawnFigure], step: int) -> tuple[DrawnFigure, ...]:
    return tuple(figure for figure in figures if figure.step == step)


def _words(side: _Side, number: int) -> tuple[object, ...]:
    step = side.model.steps[number - 1]
    return tuple(f.caption for f in _of(side.figures, number)), step.captions


def _head(before: _Side, after: _Side) -> Iterable[str]:
    """What the head and the end of the pages show differently."""
    old, new = before.model, after.model
    for name in ("title", "credit", "licence", "level", "language", "notes"):
        if getattr(old, name) != getattr(new, name):
            yield name
    if (old.sheet.shape, old.sheet.front_coloured) != (new.sheet.shape, new.sheet.front_coloured):
        yield "sheet"
    if (old.front_colour, old.back_colour) != (new.front_colour, new.back_colour):
        yield "colours"
    if len(old.steps) != len(new.steps):
        yield "number of steps"
    if drawing_print(before.finished) != drawing_print(after.finished):
        yield "finished model"


def _languages(pair: Pair) -> tuple[str, ...]:
    """Languages whose side file says something else, has come or has gone."""
    old, new = (
        {} if path is None else {k: _bytes(p) for k, p in side_files(path).items()}
        for path in (pair.old, pair.new)
    )
    if pair.old is None or pair.new is None:
        return ()
    return tuple(sorted(k for k in {*old, *new} if old.get(k) != new.get(k)))


def _bytes(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError:
        return b""
