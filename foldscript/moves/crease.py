"""Crease: fold and unfold, so that only the line stays. Valley unless `mountain` is said."""

from __future__ import annotations

from dataclasses import replace

from ..geometry.lines import Segment
from ..languages.wording import Template
from ..paper.flap import sheet_segments
from ..paper.refold import creased
from ..paper.seams import remainder
from ..paper.signs import Sense
from ..source.diagnostics import Refusal
from .planning.claims import NothingMoves
from .planning.fingers import CREASED
from .planning.fold_clauses import PLACES
from .planning.request import Clause, Move, Outcome, Remark, Request
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
    fold, _ = choose(request, sense, need_side=False)
    segments = sheet_segments(request.state, fold.flap.creases)
    state = request.state
    remarks: tuple[Remark, ...] = ()
    if not remainder(segments, [*state.creases, *(j.segment for j in state.joints if j.folded)]):
        remarks = _there_already(request, segments)
    return Outcome(
        after=creased(state, segments),
        signs=(fold_line(fold, sense), arrow_of(fold, "fold-unfold"), *fold.alignment.signs),
        wording=sentence(
            fold,
            MOUNTAIN if sense is Sense.MOUNTAIN else VALLEY,
            what="the paper",
            behind=sense is Sense.MOUNTAIN,
        ),
        creases=tuple(segments),
        letters=fold.alignment.letters,
        remarks=remarks,
        claims=(NothingMoves(),),
    )


def _there_already(request: Request, segments: list[Segment]) -> tuple[Remark, ...]:
    """A name is given to the crease that is there; without one there is nothing to do."""
    name = request.called(segments)
    called = f", and is called '{name}'" if name else ""
    if request.new_name:
        also = f", also '{request.new_name}' now" if name else f": now called '{request.new_name}'"
        return (
            Remark(
                "crease-there-already",
                f"this crease is there already{f' as {name!r}' if name else ''}{also}",
                (f"leave this out, and say '{name}' for it",) if name else (),
            ),
        )
    along = name or "..."
    raise Refusal(
        "crease-there-already",
        f"this crease is there already{called}",
        f"fold it with 'valley along {along}' or 'mountain along {along}', or leave the line out",
        *(() if name else ("or give it a name: 'crease ... as k'",)),
        span=request.span,
    )


MOVE = Move(
    "crease",
    "fold and unfold, leaving a crease",
    (*(form.format(verb="crease") for form in PLACES), "crease mountain A to C"),
    make,
    fingers=CREASED,
)
