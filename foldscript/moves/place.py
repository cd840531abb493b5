"""Place: a folded unit is put to the paper that lies there, on it, behind it, or with a tab in its pocket.

In: a `Request` whose paper has the new unit beside it (the last of its sheets), a point or two of that unit,
and where they come to. Out: both as one state. Where layers are named that the tab goes under or over, the
way in is looked for too: the unit slides there along a straight line, and no layer passes through another.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from ..geometry.isometries import Isometry, compose, translation
from ..geometry.lines import midpoint, subtract
from ..geometry.polygons import centroid
from ..languages.wording import Phrase, Template, listed, phrase
from ..paper.assembly import joined
from ..paper.layers import Collision
from ..paper.refold import refold
from ..paper.signs import Arrow, PointSign
from ..paper.state import State
from ..source.diagnostics import Refusal
from .planning.claims import Lands, LiesOver, Stays
from .planning.fingers import Brought, Still
from .planning.fold_clauses import as_point
from .planning.joining import Pair, cannot_lie, coming, motion_of, preference
from .planning.layering import Goal, layer_of
from .planning.openings import opening
from .planning.request import Move, Outcome, PointValue, Quantity, Request

FORMS = (
    "place unit 2, A of unit 2 to P of unit 1",
    "place unit 2, A of unit 2 to P of unit 1 and B of unit 2 to Q of unit 1",
    "place unit 2, A of unit 2 to P of unit 1 and B of unit 2 to Q of unit 1, under R of unit 1",
    "place unit 2, A of unit 2 to P of unit 1, turned over, behind",
)
#: How far from the paper the unit is drawn before it is placed, in sheet units.
OFF = 0.12

#: How it goes there, and whether it is turned over first -> what is said.
_TEMPLATES: dict[tuple[str, bool], Template] = {
    ("placed", False): "Place unit {n} in front, so that {goals}.",
    ("placed", True): "Turn unit {n} over and place it in front, so that {goals}.",
    ("behind", False): "Place unit {n} behind, so that {goals}.",
    ("behind", True): "Turn unit {n} over and place it behind, so that {goals}.",
    ("slid", False): "Slide unit {n} in {where}, until {goals}.",
    ("slid", True): "Turn unit {n} over and slide it in {where}, until {goals}.",
}


@dataclass(frozen=True)
class _Asked:
    """What the statement says."""

    number: int
    pairs: tuple[Pair, ...]  # one, where it is not turned, or two
    over: bool
    behind: bool
    above: tuple[PointValue, ...]
    below: tuple[PointValue, ...]

    @property
    def slides(self) -> bool:
        """Whether layers are named between which it goes."""
        return bool(self.above or self.below)


def make(request: Request) -> Outcome:
    """Finds where the unit lies, proves that it can, and shows it beside the paper before."""
    state = request.state
    mine = [i for i, sheet in enumerate(state.sheets) if sheet == len(state.sheet.others)]
    asked = _read(request, mine)
    motion = motion_of(request, asked.pairs, asked.over)
    under = frozenset(i for p in asked.above for i in layer_of(state, p))
    over = frozenset(i for p in asked.below for i in layer_of(state, p))
    _refuse_own(asked, mine)
    tab = frozenset(i for i in asked.pairs[0][0].facets if i in mine)
    goal = Goal(under, over, not asked.behind)
    orders = _orders(state, tab, goal, mine)
    try:
        after = joined(state, mine, motion, orders, preference(state, mine, goal))
    except Collision as clash:
        raise cannot_lie(request, asked.number, motion, mine, clash) from None
    _refuse_missing(request, asked, after, tab, under | over)
    ends = [q.at for _, q in asked.pairs]
    found = coming(after, mine, midpoint(ends[0], ends[-1]), asked.slides)
    if found is None:
        raise Refusal(
            "no-way-in",
            f"unit {asked.number} would lie well there, but it cannot slide in from any side: the layers "
            "are closed all round",
            "place it before they are folded shut, or open them first",
            span=request.span,
        )
    toward, back = found
    far = translation(subtract(back, (OFF * toward[0], OFF * toward[1])))
    before = refold(
        state, dict.fromkeys(mine, compose(far, motion)), dict.fromkeys(mine, 0), prefer=None
    )
    done = _outcome(asked, before, after, far, _lies(after, orders))
    into = opening(after, mine, midpoint(ends[0], ends[-1]), toward) if asked.slides else None
    return done if into is None else replace(done, signs=(*done.signs, into))


def _orders(
    state: State, tab: frozenset[int], goal: Goal, mine: Sequence[int]
) -> dict[tuple[int, int], bool]:
    """Whether the tab is to lie above the layers named, and above those just beyond them."""
    known = goal.orders(sorted(tab), range(len(state.facets)))
    for s in range(len(state.facets)):
        if s in mine or s in goal.under | goal.over:
            continue
        below = any(state.above(u, s) for u in goal.under)
        above = any(state.above(s, o) for o in goal.over)
        for m in sorted(tab) if below != above else ():
            known[m, s] = below
    return known


def _lies(after: State, orders: Mapping[tuple[int, int], bool]) -> list[LiesOver]:
    """That the tab lies so, in claims about the middles of the pieces, wherever they overlap."""
    middle = [centroid(facet.outline) for facet in after.facets]
    return [
        LiesOver((middle[m],), (middle[s],)) if above else LiesOver((middle[s],), (middle[m],))
        for (m, s), above in orders.items()
        if s in after.neighbours[m]
    ]


def _outcome(
    asked: _Asked, before: State, after: State, far: Isometry, lies: Sequence[LiesOver]
) -> Outcome:
    words = phrase(
        _TEMPLATES[_way_of(asked), asked.over],
        n=str(asked.number),
        where=_where(asked) if asked.slides else Phrase(""),
        goals=listed([phrase("{a} comes to {c}", a=p.words, c=q.words) for p, q in asked.pairs]),
    )
    letters = [(p.letter, far(q.at)) for p, q in asked.pairs if p.letter]
    letters += [(q.letter, q.at) for _, q in asked.pairs if q.letter]
    letters += [(p.letter, p.at) for p in (*asked.above, *asked.below) if p.letter]
    others = [at for sheet in before.sheet.all[:-1] for at in sheet.outline]
    claims = [Lands((p.sheet,), q.at) for p, q in asked.pairs if p.sheet is not None]
    ends = [q.at for _, q in asked.pairs]
    head = midpoint(ends[0], ends[-1]) if asked.slides else ends[0]
    act = "tuck" if asked.slides else "place"
    return Outcome(
        after,
        (
            Arrow(act, far(head), head, under=asked.slides or asked.behind),
            *(PointSign("landmark", q.at) for _, q in asked.pairs),
        ),
        words,
        letters=tuple(letters),
        claims=(*claims, Stays(tuple(others)), *lies),
        before=before,
        fingers=_told(asked),
    )


def _told(asked: _Asked) -> Brought:
    """What hands are told, who see no figure."""
    first: Template = (
        "Take unit {n}. Lay it beside the others, to lie without turning any more, as told here."
    )
    moves: dict[str, Template] = {
        "placed": "Move unit {n} onto the others, {way}, as one piece, without turning it.",
        "behind": "Move unit {n} under the others, {way}, as one piece, without turning it.",
        "slid": "Slide unit {n} in between the layers, {way}, as one piece, without turning it.",
    }
    n = str(asked.number)
    return Brought(phrase(first, n=n), Phrase(moves[_way_of(asked)], (("n", n),)))


def _way_of(asked: _Asked) -> str:
    return "slid" if asked.slides else "behind" if asked.behind else "placed"


def _where(asked: _Asked) -> Phrase:
    above = [p.words for p in asked.above]
    below = [p.words for p in asked.below]
    if above and below:
        return phrase(
            "between the layers with {one} and with {other}", one=above[0], other=below[0]
        )
    if above:
        return phrase("under the layer with {one}", one=above[0])
    return phrase("in front of the layer with {one}", one=below[0])


# --- what is said ------------------------------------------------------------------------------


def _read(request: Request, mine: Sequence[int]) -> _Asked:
    request.allow("", "to", "and", "turned over", "behind", "under", "over", "between", "into")
    moved: list[PointValue] = []
    goals: list[PointValue] = []
    above: list[PointValue] = []
    below: list[PointValue] = []
    number, last = 0, ""
    for clause in request.clauses:
        word = clause.word
        points = [v for v in clause.values if not isinstance(v, Quantity)]
        number = next(
            (int(v.value) for v in clause.values if isinstance(v, Quantity) and v.unit == "unit"),
            number,
        )
        if word == "" or (word == "and" and last in ("", "to") and len(goals) == 1):
            moved.extend(as_point(v) for v in points)
        elif word == "to":
            goals.extend(as_point(v) for v in points)
        elif word in ("under", "into"):
            above.extend(as_point(v) for v in points)
        elif word == "over":
            below.extend(as_point(v) for v in points)
        elif word == "between":
            above.extend(as_point(v) for v in points[:1])
            below.extend(as_point(v) for v in points[1:])
        elif word == "and":
            (above if last in ("under", "into") else below).extend(as_point(v) for v in points)
            continue
        last = word
    _refuse_odd(request, moved, goals, mine)
    return _Asked(
        number,
        tuple(zip(moved, goals, strict=True)),
        request.clause("turned over") is not None,
        request.clause("behind") is not None,
        tuple(above),
        tuple(below),
    )


def _refuse_odd(
    request: Request, moved: Sequence[PointValue], goals: Sequence[PointValue], mine: Sequence[int]
) -> None:
    """Refuses anything but two points of the unit that come to two places of the paper."""
    if not 1 <= len(moved) <= 2 or len(moved) != len(goals):
        raise Refusal(
            "two-points",
            "say where one of its points comes to, and a second one where the unit is to be turned",
            *(f"write it like: {form}" for form in request.forms),
            span=request.span,
        )
    for p in moved:
        if not any(i in mine for i in p.facets):
            raise Refusal(
                "not-of-the-unit",
                f"{p.words.render()} is no point of the unit that is placed",
                "name its own points first, then where they come to: A of unit 2 to P of unit 1",
                span=p.span,
            )
    for p in goals:
        if p.facets and all(i in mine for i in p.facets):
            raise Refusal(
                "on-the-unit-itself",
                f"{p.words.render()} is a point of the unit that is placed itself",
                "name a point of the paper that lies there already: A of unit 2 to P of unit 1",
                span=p.span,
            )


def _refuse_own(asked: _Asked, mine: Sequence[int]) -> None:
    for p in (*asked.above, *asked.below):
        if p.facets and p.facets[0] in mine:
            raise Refusal(
                "same-layer",
                f"{p.words.render()} is on the unit that is placed itself",
                "name a layer of the paper that it goes under or over",
                span=p.span,
            )


def _refuse_missing(
    request: Request, asked: _Asked, after: State, tab: frozenset[int], named: frozenset[int]
) -> None:
    if asked.slides and not any(i in tab for k in named for i in after.neighbours[k]):
        p = (*asked.above, *asked.below)[0]
        raise Refusal(
            "tuck-misses",
            f"the tab with {asked.pairs[0][0].words.render()} does not reach the layer with "
            f"{p.words.render()}",
            "the point that is said first is on the tab: name the one that goes deepest",
            span=p.span,
        )


MOVE = Move(
    "place",
    "put a folded unit to others: on them, behind them, or with a tab in a pocket",
    FORMS,
    make,
    fingers=Still(),
    brings_unit=True,
)
