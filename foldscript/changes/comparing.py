"""What has become of each step between two versions of a model.

In: a pair of scripts. Out: a `ModelChange`: every step with what is different about it, and the figures
of both versions. A script that says the very same is not folded.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from enum import Enum
from pathlib import Path

from ..building.script import Script
from ..captions.side_file import side_files
from ..drawing.draw import DrawnFigure
from ..drawing.scene.scene import Scene
from ..drawing.style.styles import Style
from ..folding.steps import Model
from ..output.drawn import Drawn
from ..pages.sizes import PageSize
from ..source.diagnostics import Diagnostic, FoldscriptError, Severity
from ..source.reading import bytes_of
from ..syntax.nodes import Program
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
    texts : the script before and after, '' where it is not there or cannot be read
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
    texts: tuple[str, str] = ("", "")

    @property
    def changed(self) -> tuple[StepChange, ...]:
        """The steps that are not as before."""
        return tuple(step for step in self.steps if step.kind is not Kind.SAME)


@dataclass(frozen=True)
class _Side:
    """One version of a model, folded and drawn."""

    program: Program
    drawn: Drawn
    papers: list[Print] = field(compare=False)


def compare(pair: Pair, old: Version, new: Version, style: Style, page: PageSize) -> ModelChange:
    """What has become of a model. Raises nothing: what is wrong with a script is told in `faults`."""
    texts = (_text(pair.old), _text(pair.new))
    return replace(_compared(pair, old, new, style, page), was=pair.was, texts=texts)


def _compared(pair: Pair, old: Version, new: Version, style: Style, page: PageSize) -> ModelChange:
    languages = _languages(pair)
    was, now = (None if path is None else Script(path) for path in (pair.old, pair.new))
    try:
        if now is not None and _texts(was) == _texts(now):
            title = now.program.head.title
            fate = Fate.CHANGED if languages else Fate.SAME
            return ModelChange(pair.name, title, fate, languages=languages)
    except FoldscriptError:
        pass  # told below
    if was is not None and now is not None:
        now.kept = was.kept  # what is the same is drawn once
    before = _side(was, style, page, old)
    after = _side(now, style, page, new)
    if isinstance(after, tuple):
        return ModelChange(pair.name, pair.name, Fate.BROKEN, faults=after)
    if after is None:
        title = before.drawn.model.title if isinstance(before, _Side) else pair.name
        return ModelChange(pair.name, title, Fate.GONE)
    title = after.drawn.model.title or after.drawn.model.name
    if not isinstance(before, _Side):
        steps = tuple(
            StepChange(Kind.NEW, None, n, (), _of(after.drawn.figures, n))
            for n in range(1, len(after.drawn.model.steps) + 1)
        )
        faults = tuple(replace(fault, severity=Severity.WARNING) for fault in before or ())
        return ModelChange(pair.name, title, Fate.NEW, steps, faults=faults)
    steps = tuple(_steps(before, after))
    head = tuple(_head(before, after))
    finished = (before.drawn.finished, after.drawn.finished) if "finished model" in head else None
    same = not head and not languages and all(step.kind is Kind.SAME for step in steps)
    fate = Fate.SAME if same else Fate.CHANGED
    return ModelChange(pair.name, title, fate, steps, head, languages, finished)


def _text(path: Path | None) -> str:
    try:
        return "" if path is None else Script(path).source.text
    except FoldscriptError:
        return ""


def _texts(script: Script | None) -> tuple[str, ...] | None:
    """A script and what it starts from; names of files do not count."""
    if script is None:
        return None
    return script.source.text, *(text.text for _, text in script.ancestors)


def _side(
    script: Script | None, style: Style, page: PageSize, version: Version
) -> _Side | tuple[Diagnostic, ...] | None:
    """A version folded and drawn; what is wrong with it; None where it is not there."""
    if script is None:
        return None
    try:
        drawn = script.drawn(style, page)
    except FoldscriptError as error:
        return tuple(version.named(fault) for fault in error.diagnostics)
    return _Side(script.program, drawn, paper_prints(drawn.model))


def _steps(before: _Side, after: _Side) -> Iterable[StepChange]:
    for i, j in matched(said(before.program), said(after.program)):
        old = None if i is None else i + 1
        new = None if j is None else j + 1
        one = () if old is None else _of(before.drawn.figures, old)
        other = () if new is None else _of(after.drawn.figures, new)
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
    return tuple(figure for figure in figures if figure.shows(step))


def _words(side: _Side, number: int) -> tuple[object, ...]:
    step = side.drawn.model.steps[number - 1]
    return step.caption or step.wording, step.captions


def _head(before: _Side, after: _Side) -> Iterable[str]:
    """What the head and the end of the pages show differently."""
    old, new = before.drawn.model, after.drawn.model
    for name in ("title", "credit", "licence", "level", "language", "notes"):
        if getattr(old, name) != getattr(new, name):
            yield name
    sheets, colours = zip(_papers(old), _papers(new), strict=True)
    if sheets[0] != sheets[1]:
        yield "sheet" if max(old.sheets, new.sheets) == 1 else "sheets"
    if colours[0] != colours[1]:
        yield "colours"
    if [part.title for part in old.parts] != [part.title for part in new.parts]:
        yield "titles of parts"
    if len(old.steps) != len(new.steps):
        yield "number of steps"
    if drawing_print(before.drawn.finished) != drawing_print(after.drawn.finished):
        yield "finished model"


def _papers(model: Model) -> tuple[list[object], list[object]]:
    """The sheets of a model, each with how many there are, and their colours."""
    parts = model.folded_parts
    sheets = [(p.sheet.shape, p.sheet.front_coloured, len(p.colours)) for p in parts]
    return [*sheets], [p.colours for p in parts]


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
        return bytes_of(path)
    except OSError:
        return b""
