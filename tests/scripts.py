"""Scripts in tests: folded and found sound, or refused with one diagnostic."""

from __future__ import annotations

from dataclasses import replace

import pytest

from foldscript.folding.fold import fold
from foldscript.folding.steps import Model
from foldscript.geometry.cover import union
from foldscript.geometry.lines import Point
from foldscript.geometry.polygons import area
from foldscript.moves.registry import verbs
from foldscript.output.states import StatesData, states
from foldscript.paper.sheet import Sheet
from foldscript.paper.state import State
from foldscript.pose.pose import Pose
from foldscript.source.diagnostics import Diagnostic, FoldscriptError, Severity, Source
from foldscript.syntax.parser import parse

from .conftest import assert_sound
from .following import circles

#: A square of 100 mm, so that millimetres are hundredths of the sheet.
SQUARE = "sheet square 100 mm\n"


def script(*steps: str, sheet: str = SQUARE) -> str:
    """A script of these steps; statements of one step are parted by line breaks or ';'."""
    return sheet + "".join("step\n" + step.replace(";", "\n") + "\n" for step in steps)


def folds(text: str) -> Model:
    """The folded model, not checked."""
    return fold(parse(Source("test.foldscript", text), verbs()))


def folded(*steps: str, sheet: str = SQUARE) -> Model:
    """The folded model, every state of it found sound."""
    model = folds(script(*steps, sheet=sheet))
    assert_sound(model)
    return model


def standing_document(model: Model, pose: Pose) -> StatesData:
    """What `foldscript states` prints of a model that stands so at its end."""
    return states(replace(model, poses={len(model.steps): pose}))


def refused(*steps: str, sheet: str = SQUARE) -> Refused:
    """The one diagnostic of a script that must not fold."""
    return refused_text(script(*steps, sheet=sheet))


def refused_text(text: str) -> Refused:
    """The one diagnostic of a whole script that must not fold."""
    with pytest.raises(FoldscriptError) as error:
        folds(text)
    (diagnostic,) = (d for d in error.value.diagnostics if d.severity is Severity.ERROR)
    assert circles(text, diagnostic) == []
    return Refused(text, diagnostic)


def told_of(text: str) -> tuple[Diagnostic, ...]:
    """The warnings of a whole script that folds."""
    return folds(text).warnings


def outcome(*steps: str, sheet: str = SQUARE) -> str:
    """'' for a script that folds soundly, else the code of what is wrong first."""
    try:
        folded(*steps, sheet=sheet)
    except FoldscriptError as error:
        return error.diagnostics[0].code
    return ""


class Refused:
    """A diagnostic, and the words of the script that it points at."""

    def __init__(self, text: str, diagnostic: Diagnostic) -> None:
        self.code = diagnostic.code
        self.message = diagnostic.message
        self.hints = tuple(hint.text for hint in diagnostic.hints)
        self.words = text[diagnostic.span.start : diagnostic.span.end] if diagnostic.span else ""


def lies(thing: Model | State, name: str) -> Point:
    """Where a corner of the sheet lies, in millimetres."""
    state = thing.finished if isinstance(thing, Model) else thing
    x, y = state.where(state.sheet.corner(name))
    return round(x * state.sheet.unit_mm, 6) + 0.0, round(y * state.sheet.unit_mm, 6) + 0.0


def spot(thing: Model | State, x: float, y: float) -> Point:
    """Where a place of the sheet lies; both in millimetres."""
    state = thing.finished if isinstance(thing, Model) else thing
    unit = state.sheet.unit_mm
    p = state.where((x / unit, y / unit))
    return round(p[0] * unit, 6) + 0.0, round(p[1] * unit, 6) + 0.0


def covered(thing: Model | State) -> float:
    """Area of the silhouette in parts of the sheet's area."""
    state = thing.finished if isinstance(thing, Model) else thing
    return union(state.placed).area / sheet_area(state.sheet)


def sheet_area(sheet: Sheet) -> float:
    """In square sheet units."""
    return area(sheet.outline)


def layers_at(thing: Model | State, x: float, y: float) -> int:
    """How many layers lie at a folded point, in millimetres."""
    state = thing.finished if isinstance(thing, Model) else thing
    return len(state.facets_at((x / state.sheet.unit_mm, y / state.sheet.unit_mm)))


def creases(thing: Model | State) -> list[tuple[Point, Point]]:
    """Flat creases on the sheet in millimetres, each from its lower left end, sorted."""
    state = thing.finished if isinstance(thing, Model) else thing
    unit = state.sheet.unit_mm
    found = []
    for seg in state.creases:
        p, q = sorted((round(x * unit, 6) + 0.0, round(y * unit, 6) + 0.0) for x, y in seg)
        found.append((p, q))
    return sorted(found)


def captions(model: Model) -> list[str]:
    """The automatic captions, in order."""
    return [words.render() for step in model.steps for words in step.wording]
