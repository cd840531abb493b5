"""Pull out: a layer that is trapped comes to the front, or out from where it was folded in.

In: a `Request` that names a point of the layer. Out: the paper as it lies, with that layer (and what
has to go along) as far to the front as its joints allow, in front of the layer named with `over`, but not
of that named with `under`.
With words that fix a fold line, the flap swings out about that line, which must be a fold already; a corner
that is held by a second folded edge takes the paper there along (`corner_out`).
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..geometry import polygons
from ..geometry.lines import flipped, mirrored, on_line, signed_distance
from ..geometry.tolerance import EPS, same
from ..languages.levels import Level
from ..languages.wording import Phrase, phrase
from ..paper.flap import Blocked, Flap, sheet_segments
from ..paper.layers import Collision
from ..paper.refold import with_creases_of
from ..paper.seams import remainder
from ..paper.signs import Arrow, Sense
from ..paper.state import State
from ..source.diagnostics import Hint, Refusal, add, write
from .planning.claims import NothingMoves
from .planning.corner_out import corner_out
from .planning.doubled import comes_out_doubled
from .planning.fingers import OneFold, Several
from .planning.fold_claims import lands
from .planning.fold_clauses import WORDS, as_point
from .planning.held_by import holding
from .planning.layering import (
    Goal,
    fold_between,
    layer_of,
    lie_otherwise,
    lying_claims,
    packets,
    places_of,
    raised,
    restacked,
    way_out,
)
from .planning.request import Each, LineValue, Move, Outcome, PointValue, Remark, Request
from .planning.single_fold import arrow_of, choose, outcome

VERB = "pull out"
FORMS = (
    f"{VERB} A",
    f"{VERB} A over B",
    f"{VERB} A under B",
    f"{VERB} A along k",
    f"{VERB} A to P",
)

#: Why a flap cannot swing out alone; a corner may take along what holds it then.
HELD = ("layers-collide", "blocked", "no-fold-there")


@dataclass(frozen=True)
class _Out:
    """A packet of layers pulled out: how much area it has passed, and the paper then: several ways where
    the paper leaves a choice."""

    passed: float
    ways: tuple[State, ...]
    packet: frozenset[int]

    @property
    def after(self) -> State:
        return self.ways[0]


def make(request: Request) -> Outcome:
    """Brings the layer to the front, or swings the flap out."""
    request.allow(*WORDS, "over", "under")
    if all(c.word in ("", "over", "under") for c in request.clauses):
        return _to_front(request)
    return _swing_out(request)


def _to_front(request: Request) -> Outcome:
    state = request.state
    head, over, under = (request.clause(word) for word in ("", "over", "under"))
    if any(c is not None and len(c.values) != 1 for c in (head, over, under)) or head is None:
        raise Refusal(
            "pull-out-what",
            "say which layer is pulled out: name one point of it",
            *(f"write it like: {form}" for form in request.forms),
            span=request.span,
        )
    p = as_point(head.values[0])
    lower, upper = (as_point(c.values[0]) if c is not None else None for c in (over, under))
    goal = Goal(
        layer_of(state, upper) if upper else frozenset(),
        layer_of(state, lower) if lower else frozenset(),
    )
    found: list[_Out] = []
    for beside in _topmost_first(state, p):
        found = [out for layer in beside if (out := _farthest_out(state, layer, goal)) is not None]
        if found:
            break
    if not found:
        raise _held(request, p, goal)
    best, *others = sorted(found, key=lambda out: -out.passed)
    if others and same(others[0].passed, best.passed) and others[0].packet != best.packet:
        raise Refusal(
            "which-flap",
            f"{p.words.render()} belongs to {len(found)} flaps side by side, and each can be pulled out",
            "name a point that lies on that flap alone",
            span=p.span,
        )
    if len(best.ways) > 1:
        raise _which_way(request, p, goal, best)
    tail, head_at = way_out(state, p, p.facets[:1])
    return Outcome(
        best.after,
        (Arrow("pull-out", tail, head_at),),
        _sentence(p.words, lower, upper),
        folded=True,
        letters=((p.letter, p.at),) if p.letter else (),
        claims=(NothingMoves(), *lying_claims(state, places_of(state, best.packet), goal)),
        remarks=() if lower or upper else _still_inside(p, best),
    )


def _still_inside(p: PointValue, out: _Out) -> tuple[Remark, ...]:
    """Tells that a layer has come out from under others, and yet nothing of it is seen from the front."""
    after = out.after
    middles = ((i, polygons.centroid(after.placed[i])) for i in out.packet)
    if any(after.facets_at(middle)[0] == i for i, middle in middles):
        return ()
    return (
        Remark(
            "still-inside",
            f"the layer with {p.words.render()} only changes places inside: other layers still cover it",
            (
                "to swing it out about a fold, say 'along' and that fold",
                "or say 'over' and a point of the layer that it is to lie on",
            ),
        ),
    )


def _sentence(what: Phrase, lower: PointValue | None, upper: PointValue | None) -> Phrase:
    if lower is not None and upper is not None:
        return phrase(
            "Pull out the layer with {what}, over the layer with {lower} and under the layer with {upper}.",
            what=what,
            lower=lower.words,
            upper=upper.words,
        )
    if lower is not None:
        return phrase(
            "Pull out the layer with {what} and lay it over the layer with {other}.",
            what=what,
            other=lower.words,
        )
    if upper is not None:
        return phrase(
            "Pull out the layer with {what}, but leave it under the layer with {other}.",
            what=what,
            other=upper.words,
        )
    return phrase("Pull out the layer with {what}.", what=what)


def _farthest_out(state: State, layer: frozenset[int], goal: Goal) -> _Out | None:
    """A layer, with what has to come along, as far out as it comes; None where it cannot: then nothing lies
    over the layer itself, or what does holds it."""
    best: _Out | None = None
    for packet in packets(state, layer, goal.over | goal.under):
        met = frozenset[int]().union(*(state.neighbours[i] for i in packet))
        if any(named and not named & met for named in (goal.over, goal.under)):
            continue
        try:
            ways = restacked(state, packet, goal)
        except Collision:
            continue
        ways = [way for way in ways if raised(state, way, packet, of=layer, newly=True) > EPS]
        if not ways:
            continue
        passed = raised(state, ways[0], packet, newly=True)
        if passed > (best.passed if best is not None else 0.0) + EPS:
            best = _Out(passed, tuple(ways), packet)
    return best


def _which_way(request: Request, p: PointValue, goal: Goal, out: _Out) -> Refusal:
    """The layer can come out past some layers or past others: which, is asked, with words for each."""
    state = request.state
    found: dict[int, str] = {}
    for name, at in request.points.items():
        named = frozenset(k for i in state.facets_on_sheet(at) for k in state.plate(i))
        for word in ("over", "under"):
            if request.clause(word) is not None or named & (out.packet | goal.over | goal.under):
                continue
            try:
                one, *others = restacked(state, out.packet, replace(goal, **{word: named}))
            except Collision:
                continue
            ways = (k for k, way in enumerate(out.ways) if not lie_otherwise(state, one, way))
            if not others and (k := next(ways, None)) is not None:
                found.setdefault(k, f"{word} {name}")
    hints = [
        add(request.span, words, f"or add '{words}'" if n else "")
        for n, words in enumerate(found.values())
    ]
    return Refusal(
        "which-lies-over",
        f"the layer with {p.words.render()} can come out over some of the layers before it or over others",
        *(hints or ["say over or under which layer it is to lie, by a point of that layer"]),
        span=request.span,
    )


def _topmost_first(state: State, p: PointValue) -> list[list[frozenset[int]]]:
    """The layers that carry the point, those as deep as each other together; of a point named, mostly one."""
    if not p.facets:
        raise Refusal("off-the-paper", f"there is no paper at {p.words.render()}", span=p.span)
    found: dict[int, list[frozenset[int]]] = {}
    for i in p.facets:
        plate = state.plate(i)
        if not any(plate in some for some in found.values()):
            found.setdefault(state.depths[i], []).append(plate)
    return [found[depth] for depth in sorted(found)]


def _covered(request: Request, p: PointValue) -> list[Hint]:
    """Corners to name instead: those over which other paper lies."""
    state, found = request.state, list[Hint]()
    for name in state.sheet.corner_names:
        at = request.points.get(name)
        layers = () if at is None else state.facets_on_sheet(at)
        if any(state.above(k, i) for i in layers for k in state.neighbours[i]):
            found.append(write(p.span, name, f"say '{name}': paper lies over it"))
    return found[:2]


def _held(request: Request, p: PointValue, goal: Goal) -> Refusal:
    state = request.state
    layer = layer_of(state, p)
    near = {k for i in layer for k in state.neighbours[i]} - layer
    over = [k for k in state.top_down(near) if any(state.above(k, i) for i in layer)]
    if any(named and not named & near for named in (goal.over, goal.under)):
        return Refusal(
            "cannot-pull-out",
            f"{request.describe(min(layer))} and the layer named do not lie over each other",
            "name a point of a layer that lies over it",
            span=request.span,
        )
    if not over:
        return Refusal(
            "lies-in-front",
            f"nothing lies over {request.describe(min(layer))}, so there is nothing to pull it out of",
            *(_covered(request, p) or ("name a point of the layer that is covered",)),
            span=p.span,
        )
    return Refusal(
        "cannot-pull-out",
        f"{request.describe(min(layer))} cannot come out: "
        + (
            "it cannot lie in front of that layer"
            if goal.over
            else "it cannot come out behind that layer"
            if goal.over or goal.under
            else f"the folds hold it under {request.describe(over[-1])}"
        ),
        "unfold what lies over it first, or swing it out about a fold: pull out A along k",
        span=request.span,
    )


def _swing_out(request: Request) -> Outcome:
    try:
        return _swung_out(request)
    except Refusal as refusal:
        out = _corner_out(request) if refusal.code in HELD else None
        if out is None:
            told = _turned_hint(request, refusal)
            raise (_held_hints(request, told) if told.code == "no-fold-there" else told) from None
        return out


def _held_hints(request: Request, refusal: Refusal) -> Refusal:
    """The same refusal, with the folds that hold the flap: first those along which it comes out."""
    corner, along = _corner_and_line(request)
    if corner is None or along is None:
        return refusal
    opens: list[str] = []
    others: list[str] = []
    for held in holding(request, corner):
        line = LineValue(
            held.line, held.fold, held.facets, along.words, along.span, creases=held.creases
        )
        clauses = tuple(
            replace(c, values=(line,)) if c.word == "along" else c for c in request.clauses
        )
        if held.words and _comes_out(replace(request, clauses=clauses)):
            opens.append(held.words)
        else:
            others.append(held.told(request))
    hints: list[Hint] = []
    for words in opens[:3]:
        text = f"along '{words}' it comes out" if not hints else f"or along '{words}'"
        hints.append(write(along.span, words, text))
    if not hints and others:
        folds = " and ".join(others[:3])
        hints.append(Hint(f"what holds it is {folds}: open that first"))
    return refusal.with_hints(*(hints or refusal.hints))


def _comes_out(request: Request) -> bool:
    try:
        _swung_out(request)
    except (Refusal, Collision, Blocked):
        return _corner_out(request) is not None
    return True


def _turned_hint(request: Request, refusal: Refusal) -> Refusal:
    """The same refusal; where a doubled flap would come out inside out, with the words for that."""
    corner, line = _corner_and_line(request)
    if corner is None or line is None:
        return refusal
    facing = line.line if signed_distance(line.line, corner.at) > 0 else flipped(line.line)
    if not comes_out_doubled(request.state, corner.facets, facing):
        return refusal
    name = corner.words.render()
    hint = f"this flap comes out with its inner side outside: turn inside out {name} along ..."
    return refusal.with_hints(hint, *refusal.hints)


def _corner_and_line(request: Request) -> tuple[PointValue | None, LineValue | None]:
    """The words of 'pull out A along k'; None for other words."""
    head, along = request.clause(""), request.clause("along")
    if len(request.clauses) != 2 or head is None or along is None:
        return None, None
    if len(head.values) != 1 or len(along.values) != 1:
        return None, None
    corner, line = head.values[0], along.values[0]
    if not isinstance(corner, PointValue) or not isinstance(line, LineValue):
        return None, None
    return (None, None) if on_line(line.line, corner.at) else (corner, line)


def _corner_out(request: Request) -> Outcome | None:
    """'pull out A along k' where a second folded edge holds the corner; None for other words."""
    corner, line = _corner_and_line(request)
    if corner is None or line is None:
        return None
    try:
        opened = corner_out(request, corner, line.line)
    except Refusal:
        return None
    if opened is None:
        return None
    return Outcome(
        opened.after,
        (*opened.lines, Arrow("pull-out", corner.at, mirrored(line.line, corner.at))),
        phrase(
            "Pull out {what} {where}.",
            what=corner.words,
            where=phrase("along {line}", line=line.words),
        ),
        creases=opened.creases,
        folded=True,
        letters=(*(((corner.letter, corner.at),) if corner.letter else ()), *line.letters),
        claims=(lands(request.state, corner, mirrored(line.line, corner.at)),),
    )


def _swung_out(request: Request) -> Outcome:
    def carry(state: State, moving: Flap, sense: Sense) -> State:
        folds = [j.segment for j in state.joints if j.folded]
        if remainder(sheet_segments(state, moving.creases), folds):
            raise Refusal(
                "no-fold-there",
                "pulling out opens a fold, and along that line the paper is not folded",
                "name the fold that holds the flap in",
                span=request.span,
            )
        return with_creases_of(state, fold_between(state, moving, None, Goal()).after)

    fold, _ = choose(request, Sense.VALLEY, need_side=True, carry=carry, alone=True)
    what, where = fold.alignment.what, fold.alignment.where
    wording = (
        phrase("Pull out {what} {where}.", what=what, where=where)
        if what is not None
        else phrase("Pull out the flap {where}.", where=where)
    )
    return outcome(request, fold, (arrow_of(fold, "pull-out"),), wording)


MOVE = Move(
    VERB,
    "bring a trapped layer to the front, or a folded-in flap out",
    FORMS,
    make,
    by_sight=(f"{VERB} {{corner}}",),
    each=Each(),
    level=Level.LOW_INTERMEDIATE,
    fingers=OneFold(
        first=Phrase("This paper is pulled out from between other layers."),
        last=Phrase("Lay it flat."),
        several=Several(
            Phrase(
                "Now paper is pulled out from between other layers: hold the rest with one hand, "
                "take the hidden layer with the other, draw it out and lay it flat."
            ),
            slipped=Phrase(
                "Now a layer is drawn out from under what lies over it, and laid on top of that. "
                "Nothing is folded anew."
            ),
        ),
    ),
)
