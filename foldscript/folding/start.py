"""The paper before the first step: a flat sheet, or what another script has left (`start from`).

In: the head of a script. Out: the paper as it lies, its names, and what the model starts from. A base
is looked up among those that ship with the package, by its name; any other script by its path, from
the folder of the script that names it.
"""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from ..geometry.isometries import IDENTITY, Isometry, rotation
from ..geometry.lines import distance
from ..geometry.polygons import bounds, centroid
from ..languages.wording import Name, Phrase, phrase
from ..moves.planning.request import MoveRecord
from ..moves.registry import verbs
from ..paper.sheet import Sheet
from ..paper.state import State, flat
from ..source.diagnostics import (
    Diagnostic,
    FoldscriptError,
    Hint,
    Refusal,
    Source,
    Span,
    in_words,
    write,
)
from ..source.finding import bases_folder
from ..source.reading import read_script
from ..syntax import nodes
from ..syntax.parser import parse
from .performing.perform import Folding
from .resolving.names import Names
from .resolving.resolved import ResolvedStatement
from .steps import Model, Step

SUFFIX = ".foldscript"
_BASE = f"-base{SUFFIX}"
_COLOURING = re.compile(r"\b(coloured|colored|white|plain)\s+side\b")
#: The part of a sheet's line that says so.
_COLOURED_SIDE = re.compile(r",\s*(coloured|colored|white|plain)\s+side\s+(up|down)\b")
#: Scripts that start from one another, in a row.
LONGEST_CHAIN = 10
#: Other names of bases.
ALSO_CALLED = {"square": "preliminary"}

#: Folds the script of a base: program, its path, the scripts that led there.
FoldOther = Callable[[nodes.Program, Path, tuple[Path, ...]], tuple[Model, Folding]]


@dataclass(frozen=True)
class Start:
    """What lies on the table before the first step.

    `sheet` is what was taken at first, before anything was cut off; `words` say what lies there, '' for a
    sheet, and `titles` the same in other languages; `steps` are those that led there; `history` and
    `statements` are what was done in them, as of step 0: it may be unfolded.
    """

    state: State
    names: Names
    sheet: Sheet
    words: str = ""
    titles: tuple[tuple[str, str], ...] = ()
    colours: tuple[str, str] = ("", "")
    steps: tuple[Step, ...] = ()
    history: tuple[MoveRecord, ...] = ()
    statements: tuple[ResolvedStatement, ...] = ()

    @property
    def told(self) -> Phrase | None:
        """What a reader is told to start from; None for a sheet."""
        if not self.words:
            return None
        return phrase("Start from: {base}.", base=Name(self.words, self.titles))


def start_of(
    program: nodes.Program, path: Path | None, chain: tuple[Path, ...], fold_other: FoldOther
) -> Start:
    """The paper that a script begins with.

    Raises
    ------
    FoldscriptError : when there is none to begin with, or what it starts from has mistakes
    """
    head = program.head
    try:
        if head.start_from:
            return _started(program, path, chain, fold_other)
        if head.sheet is None:
            raise Refusal(
                "no-sheet",
                "the script does not say which sheet to fold",
                "add a line such as: sheet square 15 cm, coloured side down",
                span=Span(0, 0),
            )
    except Refusal as refusal:
        raise FoldscriptError(
            Diagnostic(
                refusal.code,
                refusal.message,
                refusal.span or head.start_span,
                refusal.hints,
                source=program.source,
            )
        ) from None
    sheet = sheet_of(head.sheet)
    lies = flat(sheet, first_place(sheet, head.sheet.lowest))
    return Start(lies, Names.of_sheet(sheet), sheet)


# --- a flat sheet ------------------------------------------------------------------------------


def sheet_of(spec: nodes.SheetSpec) -> Sheet:
    """The kernel's sheet: longer side of the bounding box is one unit."""
    x0, y0, x1, y1 = bounds(spec.outline)
    unit = max(x1 - x0, y1 - y0)
    outline = tuple(((x - x0) / unit, (y - y0) / unit) for x, y in spec.outline)
    return Sheet(outline, spec.names, unit, spec.shape, spec.coloured_up)


def first_place(sheet: Sheet, lowest: tuple[str, ...]) -> Isometry:
    """How the sheet lies before the first step: a named corner or edge at the bottom."""
    if not lowest:
        return IDENTITY
    middle = centroid(sheet.outline)
    if len(lowest) == 1:
        p = sheet.corner(lowest[0])
        angle = math.atan2(p[1] - middle[1], p[0] - middle[0])
    else:
        p, q = sheet.corner(lowest[0]), sheet.corner(lowest[1])
        i, j = sheet.corner_names.index(lowest[0]), sheet.corner_names.index(lowest[1])
        if (i + 1) % len(sheet.outline) != j:
            p, q = q, p
        angle = math.atan2(-(q[0] - p[0]), q[1] - p[1])
    turn = -math.pi / 2 - angle
    quarter = turn / (math.pi / 2)
    if abs(quarter - round(quarter)) < 1e-12 and round(quarter) % 4 == 0:
        return IDENTITY
    return rotation(turn, middle)


# --- another script ----------------------------------------------------------------------------


def base_names() -> list[str]:
    """Names of all bases, without the word 'base'."""
    files = bases_folder().glob(f"*{_BASE}")
    return sorted(p.name.removesuffix(_BASE).replace("-", " ") for p in files)


def _started(
    program: nodes.Program, path: Path | None, chain: tuple[Path, ...], fold_other: FoldOther
) -> Start:
    here = path if path is not None else Path(program.source.name)
    other, shown = find_other(program.head.start_from, here)
    row = chain or (here.resolve(),)
    if other.resolve() in row:
        links = [*row[row.index(other.resolve()) :], other.resolve()]
        raise Refusal(
            "start-circle",
            f"the scripts start from one another in a circle: {' -> '.join(p.name for p in links)}",
            "let one of them start from a sheet of paper",
        )
    if len(row) > LONGEST_CHAIN:
        raise Refusal(
            "start-too-deep",
            f"more than {LONGEST_CHAIN} scripts start from one another",
            "start from an earlier one of them",
        )
    try:
        source = read_script(other, shown)
        model, folding = fold_other(parse(source, verbs()), other, (*row, other.resolve()))
    except FoldscriptError as error:
        if all(d.source is None for d in error.diagnostics):
            first = error.diagnostics[0]
            raise Refusal(first.code, first.message, *in_words(first.hints)) from None
        told = Hint(f"{here.name} starts from {other.name}")
        raise FoldscriptError(
            *(replace(d, hints=(*d.hints, told)) for d in error.diagnostics)
        ) from None
    if folding.solid is not None:
        raise Refusal(
            "not-flat-any-more",
            f"'{model.title or other.name}' is not flat in the end: {folding.solid[1]} in its step "
            f"{folding.solid[0]}",
            "start from a model that is flat",
        )
    if model.parts:
        raise Refusal(
            "several-sheets",
            f"'{model.title or other.name}' is folded from several sheets",
            "start from a script that folds one sheet",
        )
    start = Start(
        folding.state,
        replace(
            folding.names,
            inherited=frozenset(folding.names.known()) - set(model.sheet.corner_names),
        ),
        model.sheet,
        (model.title or other.stem).strip(),
        model.titles,
        (model.front_colour, model.back_colour),
        (*model.begun, *model.steps),
        tuple(replace(record, step=0) for record in folding.history),
        tuple(folding.statements),
    )
    if program.head.sheet is None:
        return start
    return _on_own_sheet(start, program.head.sheet, program.source)


def find_other(words: str, here: Path) -> tuple[Path, str]:
    """The file that 'preliminary base' or a path stands for, and what to call it.

    Raises Refusal where there is none.
    """
    if words.endswith(SUFFIX):
        path = here.parent / words
        try:
            there = path.is_file()
        except (OSError, ValueError) as trouble:
            reason = (getattr(trouble, "strerror", None) or "the system refuses it").lower()
            shown = words if len(words) <= 60 else f"{words[:59]}…"
            raise Refusal(
                "no-such-file",
                f"'{shown}' cannot be read to start from: {reason}",
                "name a script that lies in a folder of yours",
            ) from None
        if not there:
            raise Refusal(
                "no-such-file",
                f"there is no file '{words}' to start from",
                f"the path is read from the folder of {here.name}",
            )
        return path, str(path)
    name = " ".join(words.lower().replace("-", " ").split()).removesuffix(" base")
    name = ALSO_CALLED.get(name, name)
    names = base_names()
    if name in names:
        file = f"{name.replace(' ', '-')}{_BASE}"
        return bases_folder() / file, f"bases/{file}"
    near = difflib.get_close_matches(name, names, 1, 0.6)
    raise Refusal(
        "unknown-base",
        f"there is no base called '{words}'",
        f"did you mean '{near[0]} base'?" if near else f"bases: {', '.join(names)}",
        f'another script stands in quotes, with its ending: "hat{SUFFIX}"',
    )


def _left_out(source: Source, spec: nodes.SheetSpec) -> tuple[Hint, ...]:
    """To leave out which side is coloured, where the sheet's line says it."""
    said = _COLOURED_SIDE.search(source.text, spec.span.start, spec.span.end)
    if said is None:
        return ()
    words = said[0].lstrip(", ")
    return (write(Span(*said.span()), "", f"leave out '{words}'"),)


def _on_own_sheet(start: Start, spec: nodes.SheetSpec, source: Source) -> Start:
    """The same folds on this script's own sheet, which must have the same shape."""
    sheet, was = sheet_of(spec), start.sheet
    alike = len(sheet.outline) == len(was.outline) and all(
        distance(p, q) < 1e-6 for p, q in zip(sheet.outline, was.outline, strict=True)
    )
    if not alike:
        raise Refusal(
            "other-shape",
            f"'{start.words}' is folded from another shape of paper: {was.shape}",
            "give the sheet the same shape in another size, or leave the line out",
            span=spec.span,
        )
    if spec.lowest or _COLOURING.search(source.text, spec.span.start, spec.span.end):
        raise Refusal(
            "lies-already",
            "how the paper lies, and which side is coloured, follows from what the model starts from",
            *_left_out(source, spec),
            "turn it with 'rotate' or 'turn over' in the first step",
            "give other colours with 'colours red and white'",
            span=spec.span,
        )
    plain = tuple(chr(ord("A") + k) for k in range(len(spec.names)))
    names = start.names.copy()
    kept = spec.names if spec.names != plain else was.corner_names
    called = dict(zip(was.corner_names, kept, strict=True))
    if kept != was.corner_names:
        for name in was.corner_names:
            names.points.pop(name, None)
        corners = dict(start.state.sheet.corners)
        corners = {called[name]: at for name, at in corners.items()}
        marks = {n: p for n, p in names.points.items() if n not in corners}
        names.points = {**corners, **marks}
        names.creases = {n: c for n, c in names.creases.items() if n not in corners}
        names.inherited -= set(corners)
        names.gone = {called.get(n, n): step for n, step in names.gone.items()}

    def own(state: State) -> State:
        corners = tuple(called[name] for name in state.sheet.corner_names)
        return replace(state, sheet=_sized(state.sheet, sheet, corners))

    history = tuple(
        replace(record, before=own(record.before), after=own(record.after))
        for record in start.history
    )
    whole = _sized(was, sheet, tuple(called[name] for name in was.corner_names))
    return replace(start, state=own(start.state), names=names, sheet=whole, history=history)


def _sized(paper: Sheet, like: Sheet, corners: tuple[str, ...]) -> Sheet:
    """A sheet, or what is left of it, in the size of another one, its corners called anew."""
    return replace(paper, corner_names=corners, unit_mm=like.unit_mm, shape=like.shape)
