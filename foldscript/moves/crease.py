"""Crease: fold and unfold, so that only the line stays. Valley unless `mountain` is said."""

from __future__ import annotations

from dataclasses import replace

from ..geometry.isometries import map_segment
from ..geometry.lines import Segment, line_through, same_line
from ..geometry.polygons import clip_segment
from ..languages.wording import Phrase, Template
from ..paper.flap import sheet_segments
from ..paper.refold import creased
from ..paper.seams import remainder
from ..paper.signs import FoldLine, Sense
from ..source.diagnostics import Refusal, write
from .planning.claims import NothingMoves
from .planning.fingers import CREASED
from .planning.fold_clauses import PLACES, as_point
from .planning.near_misses import made_to_meet
from .planning.pressed import between, guides
from .planning.request import Clause, Each, Move, Outcome, Remark, Request
from .planning.single_fold import arrow_of, choose, fold_line
from .valley import sentence

VALLEY: tuple[Template, Template, Template, Template] = (
    "Fold {what} up {where}{layers}. Crease, and unfold.",
    "Fold {what} down {where}{layers}. Crease, and unfold.",
    "Fold {what} over {where}{layers}. Crease, and unfold.",
    "Fold {where}{layers}. Crease, and unfold.",
)
MOUNTAIN: tuple[Template, Template, Template, Template] = (
    "Fold {what} behind, up {where}{layers}. Crease, and unfold.",
    "Fold {what} behind, down {where}{layers}. Crease, and unfold.",
    "Fold {what} behind, {where}{layers}. Crease, and unfold.",
    "Fold {where} to the back{layers}. Crease, and unfold.",
)
PART: Template = "Bend the paper {where}{layers}. Crease only between the two points, and unfold."
PART_BEHIND: Template = (
    "Bend the paper to the back {where}{layers}. Crease only between the two points, and unfold."
)
#: How a crease between two points is told to fingers.
PARTLY = replace(
    CREASED,
    last=Phrase(
        "Do not press the whole fold: press it only between those two points, then open it again."
    ),
)


def with_sense(request: Request) -> tuple[Request, Sense]:
    """Takes 'valley' or 'mountain' out of the clauses; what follows it belongs to the verb."""
    sense = Sense.VALLEY
    clauses: list[Clause] = []
    for clause in request.clauses:
        if clause.word in ("valley", "mountain"):
            sense = Sense(clause.word)
            if clause.values:
                clauses.append(replace(clause, word=""))
        else:
            clauses.append(clause)
    return replace(request, clauses=tuple(clauses)), sense


def make(request: Request) -> Outcome:
    """Folds the flap and lays it back; the creases stay."""
    request, sense = with_sense(request)
    if request.clause("from") is not None:
        return _part(request, sense)
    fold, _ = choose(request, sense, need_side=False)
    segments = sheet_segments(request.state, fold.flap.creases)
    return Outcome(
        after=creased(request.state, segments),
        signs=(
            fold_line(request.state, fold, sense),
            arrow_of(fold, "fold-unfold"),
            *fold.alignment.signs,
        ),
        wording=sentence(
            fold,
            MOUNTAIN if sense is Sense.MOUNTAIN else VALLEY,
            what="the paper",
            behind=sense is Sense.MOUNTAIN,
        ),
        creases=tuple(segments),
        letters=fold.alignment.letters,
        remarks=(*made_to_meet(fold.alignment), *_there_already(request, segments)),
        claims=(NothingMoves(),),
    )


def _part(request: Request, sense: Sense) -> Outcome:
    """Creases from a point to a point and no farther: there only the fold is pressed."""
    request.allow("from", "to", "layers")
    ends = [c for c in request.clauses if c.word in ("from", "to")]
    if [c.word for c in ends] != ["from", "to"] or any(len(c.values) != 1 for c in ends):
        raise Refusal(
            "unclear-fold",
            "a crease that stops needs the two points between which it runs",
            "write it like: crease from P to Q",
            span=request.span,
        )
    p, q = (as_point(c.values[0]) for c in ends)
    span = ends[0].span.cover(ends[1].span)
    layers = tuple(c for c in request.clauses if c.word == "layers")
    through = Clause("through", (p, q), span)
    fold, _ = choose(replace(request, clauses=(through, *layers)), sense, need_side=False)
    pieces = between(request, fold, p, q, span)
    segments = sheet_segments(request.state, pieces)
    return Outcome(
        after=creased(request.state, segments),
        signs=(
            *guides(fold, pieces),
            FoldLine(sense, tuple(pieces)),
            arrow_of(fold, "fold-unfold"),
            *fold.alignment.signs,
        ),
        wording=sentence(fold, (PART,) * 4, what="the paper")
        if sense is Sense.VALLEY
        else sentence(fold, (PART_BEHIND,) * 4, what="the paper", behind=True),
        creases=tuple(segments),
        letters=fold.alignment.letters,
        remarks=(*made_to_meet(fold.alignment), *_there_already(request, segments)),
        claims=(NothingMoves(),),
        fingers=PARTLY,
    )


def _there_already(request: Request, segments: list[Segment]) -> tuple[Remark, ...]:
    """A name is given to a crease that is there; without one there is nothing to do. A name for a part of a
    crease whose parts have come to lie on several lines is what tells them apart.
    """
    state = request.state
    if remainder(segments, [*state.creases, *(j.segment for j in state.joints if j.folded)]):
        return ()
    name = request.called(segments)
    called = f", and is called '{name}'" if name else ""
    if request.new_name:
        if name and _scattered(request, name):
            return ()
        also = f", also '{request.new_name}' now" if name else f": now called '{request.new_name}'"
        return (
            Remark(
                "crease-there-already",
                f"this crease is there already{f' as {name!r}' if name else ''}{also}",
                (f"leave this out, and say '{name}' for it",) if name else (),
            ),
        )
    along = name or "..."
    fold_it = (
        f"fold it with 'valley along {along}' or 'mountain along {along}', or leave the line out"
    )
    raise Refusal(
        "crease-there-already",
        f"this crease is there already{called}",
        write(request.span, f"valley along {name}", fold_it) if name else fold_it,
        *(() if name else ("or give it a name: 'crease ... as k'",)),
        span=request.span,
    )


def _scattered(request: Request, name: str) -> bool:
    """Whether the parts of a named crease lie on more lines than one by now."""
    named = next(r for r in reversed(request.history) if r.name == name)
    state = request.state
    lines = [
        line_through(*map_segment(facet.place, part))
        for facet in state.facets
        for crease in named.creases
        for part in [clip_segment(facet.outline, crease)]
        if part is not None
    ]
    return any(not same_line(line, lines[0]) for line in lines)


MOVE = Move(
    "crease",
    "fold and unfold, leaving a crease",
    (
        *(form.format(verb="crease") for form in PLACES),
        "crease mountain A to C",
        "crease from P to Q",
    ),
    make,
    each=Each(("", "moving")),
    fingers=CREASED,
)
