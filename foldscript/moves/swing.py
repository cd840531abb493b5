"""Swing: a flap is turned like the page of a book, along creases that are there.

In: a `Request` that names a point of the flap and where it goes, or the line it turns about. Out: the
flap lies on the other side of that line. Nothing is creased anew: a flap that would need that is
refused. `behind` swings a flap at the back; `A to C and D to B behind` one in front and one at the back.
"""

from __future__ import annotations

from dataclasses import replace

from ..geometry import polygons
from ..geometry.lines import Line, Segment
from ..geometry.tolerance import EPS
from ..languages.wording import Phrase, phrase
from ..paper.flap import moved_points, sheet_segments
from ..paper.seams import remainder
from ..paper.signs import Sense, Sign
from ..paper.silhouette import centre
from ..paper.state import State
from ..source.diagnostics import Refusal, Span
from .planning.claims import Claim, OnlyBeyond, Thickest
from .planning.fingers import PAGE
from .planning.fold_clauses import as_point
from .planning.one_side import SingleFold
from .planning.request import Clause, LineValue, Move, Outcome, PointValue, Request
from .planning.single_fold import arrow_of, choose

FLANKS = ("left", "right")
FORMS = (
    "swing A to C",
    "swing A to C behind",
    "swing A to C and D to B behind",
    "swing A along k",
    "swing A left",
)


def make(request: Request) -> Outcome:
    """Swings one flap, or one in front and one behind."""
    state = request.state
    after = state
    signs: list[Sign] = []
    words: list[Phrase] = []
    creases: list[Segment] = []
    letters: list[tuple[str, tuple[float, float]]] = []
    pages = _pages(request)
    done: list[SingleFold] = []
    for clauses, behind in pages:
        sense = Sense.MOUNTAIN if behind else Sense.VALLEY
        here = replace(request.amid(after), clauses=tuple(_moved(after, c) for c in clauses))
        fold = _turn(here, sense)
        shown = fold if after is state else _turn(replace(request, clauses=clauses), sense)
        arrow = arrow_of(shown, "mountain" if behind else "swing")
        signs.append(replace(arrow, under=behind))
        creases.extend(sheet_segments(after, fold.flap.creases))
        letters.extend(shown.alignment.letters)
        seen = as_point(clauses[0].values[0]).seen
        words.append(_page_words(shown, behind, seen))
        done.append(fold)
        after = fold.after
    template = "Swing {page}, like the page of a book." if len(words) == 1 else "Swing {page}."
    page = words[0]
    for more in words[1:]:
        page = phrase("{some}, and {more}", some=page, more=more)
    return Outcome(
        after,
        tuple(signs),
        phrase(template, page=page),
        creases=tuple(creases),
        moved=moved_points(request.state, done[0].flap) if len(done) == 1 else (),
        folded=True,
        letters=tuple(dict.fromkeys(letters)),
        claims=_claims(done),
    )


def _claims(done: list[SingleFold]) -> tuple[Claim, ...]:
    """What the words of each flap claim; nothing else moves."""
    if len(done) == 1:
        return done[0].claims
    said = [c for fold in done for c in fold.claims if not isinstance(c, OnlyBeyond | Thickest)]
    return (OnlyBeyond(tuple(fold.flap.line for fold in done), mirrored=True), *said)


def _pages(request: Request) -> list[tuple[tuple[Clause, ...], bool]]:
    """The words of each flap, and whether it lies at the back."""
    request.allow("", "to", "onto", "along", "and", "behind", "layers", *FLANKS)
    rows: list[list[Clause]] = [[]]
    for clause in request.clauses:
        if clause.word == "and":
            rows.append([])
            clause = replace(clause, word="")
        rows[-1].append(clause)
    found: list[tuple[tuple[Clause, ...], bool]] = []
    for row in rows:
        behind = any(c.word == "behind" for c in row)
        named = [v for c in row if c.word in ("", "behind") for v in c.values]
        if len(named) != 1:
            raise Refusal(
                "swing-what",
                "say which flap swings: name one point of it",
                *(f"write it like: {form}" for form in request.forms),
                span=request.span,
            )
        head = Clause("", (as_point(named[0]),), named[0].span)
        rest = [c for c in row if c.word not in ("", "behind")]
        found.append(((head, *rest), behind))
    return found


def _moved(state: State, clause: Clause) -> Clause:
    """The clause with its moving point looked up on the paper as it lies after the first flap."""
    if clause.word != "":
        return clause
    p = as_point(clause.values[0])
    if p.seen or p.sheet is None:
        return replace(clause, values=(replace(p, facets=state.facets_at(p.at)),))
    facets = state.top_down(state.facets_on_sheet(p.sheet))
    return replace(clause, values=(replace(p, at=state.where(p.sheet), facets=facets),))


def _turn(request: Request, sense: Sense) -> SingleFold:
    """The flap, swung; refused when it would be creased anew."""
    p = as_point(request.clauses[0].values[0])
    goal = next((c for c in request.clauses if c.word in ("to", "onto")), None)
    asked = request
    if goal is None or any(isinstance(v, LineValue) for v in goal.values):
        line = _axis(request, p, goal)
        kept = tuple(c for c in request.clauses[1:] if c.word == "layers")
        along = Clause("along", (line,), line.span)
        asked = replace(request, clauses=(request.clauses[0], along, *kept))
    try:
        fold, _ = choose(asked, sense, need_side=True)
    except Refusal as refusal:
        if refusal.code != "blocked":
            raise
        raise _covered(refusal) from None
    fresh = _fresh(request.state, fold)
    if fresh:
        raise Refusal(
            "new-crease",
            "a flap that swings turns on creases that are there, and this one would need a new crease",
            "name the line it turns about: swing A along k",
            "or use 'valley' to make a new fold",
            span=request.span,
        )
    return fold


def _covered(refusal: Refusal) -> Refusal:
    """The refusal of a flap that something lies over, with what helps when a flap swings."""
    return refusal.with_hints(
        "swing the flap that lies over it first, or name a flap at the front",
        "for a flap at the back add 'behind'",
    )


def _axis(request: Request, p: PointValue, goal: Clause | None) -> LineValue:
    """The line named, or the upright centre line of the figure."""
    for clause in request.clauses:
        if clause.word == "along" and clause.values and isinstance(clause.values[0], LineValue):
            return clause.values[0]
    if goal is not None:
        raise Refusal(
            "swing-where",
            "say the point it swings to, or the line it turns about",
            "for instance: swing A to C, or: swing A along k",
            span=goal.span,
        )
    x, _ = centre(request.state)
    flank = next((c.word for c in request.clauses if c.word in FLANKS), None)
    if flank is not None and abs(p.at[0] - x) > EPS and (p.at[0] < x) == (flank == "left"):
        raise Refusal(
            "swings-nowhere",
            f"{p.words.render()} is on the {flank} already",
            "name a point of a flap on the other side",
            span=p.span,
        )
    return _upright(request.state, x, p.span)


def _upright(state: State, x: float, span: Span) -> LineValue:
    line = Line(1.0, 0.0, x)
    crossed = [i for i, ring in enumerate(state.placed) if polygons.clip_line(ring, line)]
    return LineValue(line, None, state.top_down(crossed), Phrase("the vertical centre line"), span)


def _fresh(state: State, fold: SingleFold) -> list[Segment]:
    """What of the bend is no crease and no fold yet, on the sheet."""
    there = [*state.creases, *(j.segment for j in state.joints if j.folded)]
    return remainder(sheet_segments(state, fold.flap.creases), there)


def _page_words(fold: SingleFold, behind: bool, seen: bool) -> Phrase:
    """'the flap with corner A over to corner C'; what the eye sees is said as it is."""
    one = fold.alignment
    what = one.what or Phrase("the flap")
    if not seen and one.what is not None:
        template = "the back flap with {what}" if behind else "the flap with {what}"
        what = phrase(template, what=what)
    template = "{what} over behind, {where}" if behind else "{what} over {where}"
    return phrase(template, what=what, where=one.where)


MOVE = Move(
    "swing",
    "turn a flap like the page of a book",
    FORMS,
    make,
    by_sight=("swing {corner} to {corner}",),
    fingers=PAGE,
)
