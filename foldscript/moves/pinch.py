"""Pinch: a crease made only where it is needed, as a short mark."""

from __future__ import annotations

from dataclasses import replace

from ..geometry import polygons
from ..geometry.lines import Point, Segment, meet
from ..languages.wording import Phrase, Template
from ..paper.flap import sheet_segments
from ..paper.refold import creased
from ..paper.signs import FoldLine
from ..source.diagnostics import Refusal
from .crease import with_sense
from .planning.alignment import reach
from .planning.claims import NothingMoves
from .planning.fingers import Pinched
from .planning.fold_clauses import PLACES
from .planning.near_misses import made_to_meet
from .planning.one_side import SingleFold
from .planning.pressed import guides
from .planning.request import Each, LineValue, Move, Outcome, PointValue, Request
from .planning.single_fold import arrow_of, choose
from .valley import sentence

AT_ONE: tuple[Template, Template, Template, Template] = (
    "Bring {what} up {where}{layers}. Pinch the fold only at {spot}, and unfold.",
    "Bring {what} down {where}{layers}. Pinch the fold only at {spot}, and unfold.",
    "Bring {what} over {where}{layers}. Pinch the fold only at {spot}, and unfold.",
    "Bend the paper {where}{layers}. Pinch the fold only at {spot}, and unfold.",
)
AT_SEVERAL: tuple[Template, Template, Template, Template] = (
    "Bring {what} up {where}{layers}. Pinch the fold only where it is marked, and unfold.",
    "Bring {what} down {where}{layers}. Pinch the fold only where it is marked, and unfold.",
    "Bring {what} over {where}{layers}. Pinch the fold only where it is marked, and unfold.",
    "Bend the paper {where}{layers}. Pinch the fold only where it is marked, and unfold.",
)

#: Half the length of a pinch mark, as a part of the figure's longer side.
HALF_MARK = 0.06


def make(request: Request) -> Outcome:
    """Folds, presses only at the places named (else at the ends of the crease), and unfolds."""
    request, sense = with_sense(request)
    spots_clause = [c for c in request.clauses if c.word == "at"]
    tail = False
    clauses = []
    spots: list[PointValue | LineValue] = []
    for clause in request.clauses:
        tail = clause.word == "at" or (tail and clause.word == "and")
        if tail:
            spots.extend(v for v in clause.values if isinstance(v, PointValue | LineValue))
        else:
            clauses.append(clause)
    fold, _ = choose(replace(request, clauses=tuple(clauses)), sense, need_side=False)
    if not spots_clause:
        raise Refusal(
            "pinch-where",
            "say where to pinch",
            "add 'at' and a point or a line that the crease meets, such as 'at edge A B'",
            span=request.span,
        )
    half = HALF_MARK * reach(request)
    pieces: list[tuple[int, Segment]] = []
    for value in spots:
        pieces.extend(_mark_at(request, fold, value, half))
    segments = sheet_segments(request.state, pieces)
    return Outcome(
        after=creased(request.state, segments),
        signs=(
            *guides(fold, pieces),
            FoldLine(sense, tuple(pieces), pinch=True),
            arrow_of(fold, "fold-unfold"),
            *fold.alignment.signs,
        ),
        wording=_sentence(fold, spots),
        creases=tuple(segments),
        letters=fold.alignment.letters,
        remarks=made_to_meet(fold.alignment),
        claims=(NothingMoves(),),
    )


def _sentence(fold: SingleFold, spots: list[PointValue | LineValue]) -> Phrase:
    """With one place the caption names it; several are marked in the figure."""
    base = sentence(fold, AT_ONE if len(spots) == 1 else AT_SEVERAL, what="the paper")
    spot = (("spot", spots[0].words),) if len(spots) == 1 else ()
    return Phrase(base.template, (*base.parts, *spot))


def _mark_at(
    request: Request, fold: SingleFold, value: PointValue | LineValue, half: float
) -> list[tuple[int, Segment]]:
    line = fold.flap.line
    if isinstance(value, LineValue):
        at = meet(line, value.line)
        if at is None:
            raise Refusal("pinch-where", "the crease never meets that line", span=value.span)
    else:
        at = value.at
    ux, uy = line.direction
    d = line.nx * at[0] + line.ny * at[1] - line.c
    if abs(d) > half:
        away = abs(d) * request.unit_mm
        raise Refusal(
            "pinch-where",
            f"the crease does not come near that place: it passes {away:.0f} mm away",
            "name a point that the crease goes through, or a line that it meets",
            span=value.span,
        )
    base: Point = (at[0] - d * line.nx, at[1] - d * line.ny)
    wanted = (
        (base[0] - ux * half, base[1] - uy * half),
        (base[0] + ux * half, base[1] + uy * half),
    )
    found: list[tuple[int, Segment]] = []
    for i, _ in fold.flap.creases:
        piece = polygons.clip_segment(request.state.placed[i], wanted)
        if piece is not None:
            found.append((i, piece))
    if not found:
        raise Refusal("pinch-where", "the crease does not come near that place", span=value.span)
    return found


MOVE = Move(
    "pinch",
    "mark a crease only where it is needed",
    tuple(form.format(verb="pinch") + ", at edge A B" for form in PLACES),
    make,
    each=Each(("", "moving")),
    fingers=Pinched(
        where=Phrase("Do not press the whole fold: pinch it only at {where}."),
        last=Phrase("Open it again: only the short pinch stays, which a fingernail can find."),
    ),
)
