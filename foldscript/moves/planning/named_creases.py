"""The lines that a collapse names, as creases on the layers that they are meant on.

In: a `Request` whose lines follow 'mountain', 'valley' and 'opening'. Out: for each line its creases on the
sheet and what becomes of it: a crease is all that its name stands for, `line P Q` the part between the points
on the layer that carries both, and with 'all layers' each is what lies under it on every layer.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from ...geometry.isometries import inverse, map_segment
from ...geometry.lines import Segment
from ...geometry.polygons import clip_segment
from ...paper.signs import Sense
from ...paper.state import State
from ...source.diagnostics import Refusal
from .fold_clauses import as_line, as_point, layer_count
from .request import LineValue, PointValue, Request

#: The words that lines follow, and the sense that each gives them.
_CREASES: dict[str, Sense | None] = {
    "valley": Sense.VALLEY,
    "mountain": Sense.MOUNTAIN,
    "opening": None,
}


@dataclass(frozen=True)
class Wanted:
    """A named line and the sense it is to have, as seen now; None for a fold that is to lie flat."""

    line: LineValue
    sense: Sense | None


#: Joint -> (which of the wanted lines, its sense; None for a fold that opens).
Named = Mapping[int, tuple[int, Sense | None]]


@dataclass(frozen=True)
class Asked:
    """What a collapse is to do.

    Attributes
    ----------
    wanted : the lines and their senses, in the order said
    holding : a point of the paper that stays
    lying : (upper, lower) points, whose layers are to lie over each other so
    """

    wanted: list[Wanted]
    holding: PointValue | None
    lying: tuple[tuple[PointValue, PointValue], ...]


def asked(request: Request) -> Asked:
    """The named lines on the sheet, the point that is held, what lies over what. Raises Refusal."""
    request.allow(*_CREASES, "and", "holding", "layers", "with", "over", "under")
    through = _through_all(request)
    wanted: list[Wanted] = []
    holding: PointValue | None = None
    what = ""
    for clause in request.clauses:
        if clause.word == "holding":
            holding = as_point(clause.values[0]) if clause.values else None
            continue
        if clause.word in ("layers", "with", "over", "under"):
            continue
        if clause.word != "and":
            what = clause.word
        for value in clause.values if what in _CREASES else ():
            line = as_line(value)
            on_sheet = _on_all_layers if through else _on_sheet
            wanted.append(Wanted(on_sheet(request.state, line), _CREASES[what]))
    if not wanted:
        raise Refusal(
            "collapse-what",
            "say which creases fold, and how, or which folds open",
            *(f"write it like: {form}" for form in request.forms[:2]),
            "give the creases names where they are made: 'crease A to C as d1'",
            span=request.span,
        )
    return Asked(wanted, holding, tuple(lying(request)))


def lying(request: Request) -> Iterator[tuple[PointValue, PointValue]]:
    """'with P over Q' and 'with Q under P': P, then Q."""
    moved: PointValue | None = None
    for clause in request.clauses:
        if clause.word not in ("with", "over", "under"):
            continue
        point = as_point(clause.values[0]) if len(clause.values) == 1 else None
        if point is None or (moved is None) != (clause.word == "with"):
            raise Refusal(
                "over-what",
                "say which layer comes to lie over which, by a point on each",
                "write it like: with P over Q",
                span=clause.span,
            )
        if moved is None:
            moved = point
            continue
        yield (moved, point) if clause.word == "over" else (point, moved)
        moved = None
    if moved is not None:
        raise Refusal(
            "over-what",
            "say which layer comes to lie over which, by a point on each",
            "write it like: with P over Q",
            span=moved.span,
        )


def _through_all(request: Request) -> bool:
    """Whether 'all layers' is said; a number of layers is refused."""
    clause = request.clause("layers")
    if clause is not None and layer_count(request, clause):
        raise Refusal(
            "collapse-layers",
            "a collapse folds the layers that its lines are named on, or all of them",
            "say 'all layers', or name points on the layers that fold: 'line P Q'",
            span=clause.span,
        )
    return clause is not None


def _on_all_layers(state: State, line: LineValue) -> LineValue:
    """A line as it lies now, on every layer there."""
    along = [line.segment] if line.segment is not None else []
    if line.creases:
        along = [
            map_segment(facet.place, part)
            for facet in state.facets
            for crease in line.creases
            if (part := clip_segment(facet.outline, crease)) is not None
        ]
    every = tuple(range(len(state.facets)))
    found = [
        part
        for segment in along
        for part in _on_sheet(
            state, replace(line, segment=segment, facets=every, creases=())
        ).creases
    ]
    return replace(line, creases=tuple(found))


def _on_sheet(state: State, line: LineValue) -> LineValue:
    """A line between two points as a crease: the part between them, on the layers that carry it."""
    if line.creases:
        return line
    parts: list[Segment] = []
    for i in line.facets:
        part = line.segment and clip_segment(state.placed[i], line.segment)
        if part is not None:
            parts.append(map_segment(inverse(state.facets[i].place), part))
    if not parts:
        raise Refusal(
            "collapse-what",
            f"{line.words.render()} does not say where on the paper it begins and ends",
            "name a crease, or say the part that folds as 'line P Q'",
            span=line.span,
        )
    return replace(line, creases=tuple(parts))


def will_fold(state: State, named: Named, joint: int, does: bool) -> bool:
    """Whether a joint is folded afterwards; `does`: whether it does as said, where it is named."""
    if joint not in named:
        return state.joints[joint].folded
    return does == (named[joint][1] is not None)
