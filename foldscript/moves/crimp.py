"""Crimp: a flap of two or more layers is pleated alike in front and behind, so that its tip changes place.

In: the tip and two lines across the flap. Out: the paper beyond the line nearer the body is reflected
in it, the paper beyond the other is reflected in both. Inside: each half of the stack goes in between
the layers that hold it, the tip innermost, as two reverse folds one after the other would do; outside:
around them, the tip outermost. The tip stays a flap.
"""

from __future__ import annotations

from collections.abc import Iterable

from ..geometry.isometries import compose, reflection
from ..geometry.lines import Line, flipped, meet, signed_distance
from ..geometry.polygons import inside as inside_polygon
from ..geometry.tolerance import EPS
from ..languages.levels import Level
from ..languages.wording import Phrase, Template, briefly, phrase
from ..paper.conditions import Pair
from ..paper.flap import Flap, flap, sheet_segments
from ..paper.layers import Collision
from ..paper.refold import divided, refold, undivided
from ..paper.signs import Arrow, FoldLine, Sense
from ..paper.state import State
from ..source.diagnostics import Refusal
from .planning.claims import OnlyBeyond
from .planning.fingers import Several
from .planning.fold_claims import lands
from .planning.fold_clauses import as_line, as_point
from .planning.halves import (
    Halves,
    along_the_spine,
    beyond,
    holders,
    locked,
    one_layer,
    orders_inside,
    orders_outside,
    parted,
    preference_between,
    with_other_way,
)
from .planning.request import Each, LineValue, Move, Outcome, PointValue, Request


def make(request: Request) -> Outcome:
    """Pleats the front half and the back half of the flap."""
    tip, inside, one, two = _words(request)
    lines = _nearer_body_first(request, tip, one, two)
    try:
        return _pleat(request, tip, (one, two), lines, inside)
    except Refusal as problem:
        if problem.code != "locked-layers":
            raise
        other = "crimp outside" if inside else "crimp inside"
        raise with_other_way(
            problem, other, lambda: _pleat(request, tip, (one, two), lines, not inside)
        ) from None


def _pleat(
    request: Request,
    tip: PointValue,
    named: tuple[LineValue, LineValue],
    lines: tuple[Line, Line],
    inside: bool,
) -> Outcome:
    body, far = lines
    near_flap, tip_flap = (flap(request.state, line, tip.facets) for line in lines)
    fine = divided(undivided(request.state), body, near_flap.facets)
    fine = divided(fine, far, beyond(fine, near_flap.facets, body))
    movers = beyond(fine, near_flap.facets, body)
    tips = frozenset(beyond(fine, tip_flap.facets, far)) & frozenset(movers)
    clash: Collision | None = None
    for parts in along_the_spine(parted(fine, movers)):
        try:
            after = _pleated(parts, tips, lines, inside)
        except Collision as collision:
            clash = clash or parts.fine.undivided(collision)
            continue
        return _outcome(request, tip, named, (near_flap, tip_flap), parts, after, inside)
    if clash is not None:
        raise locked(request, clash)
    raise one_layer(request, tip)


def _words(request: Request) -> tuple[PointValue, bool, LineValue, LineValue]:
    request.allow("", "inside", "outside", "along", "and")
    tip: PointValue | None = None
    lines: list[LineValue] = []
    last = ""
    for clause in request.clauses:
        if clause.word in ("", "inside", "outside"):
            for value in clause.values:
                tip = as_point(value)
        elif clause.word == "along" or last in ("along", "and"):
            lines.extend(as_line(v) for v in clause.values)
        last = clause.word
    if tip is None or len(lines) != 2:
        raise Refusal(
            "unclear-fold",
            "a crimp needs the tip of a flap, and two lines across the flap after 'along'",
            *(f"write it like: {form}" for form in FORMS),
            span=request.span,
        )
    return tip, request.clause("outside") is None, lines[0], lines[1]


def _nearer_body_first(
    request: Request, tip: PointValue, one: LineValue, two: LineValue
) -> tuple[Line, Line]:
    """Both lines with the tip on their left, the one farther from the tip first."""
    facing: list[Line] = []
    for value in (one, two):
        line = value.line if signed_distance(value.line, tip.at) > 0 else flipped(value.line)
        if signed_distance(line, tip.at) <= EPS:
            raise Refusal(
                "on-the-line",
                f"{tip.words.render()} lies on {value.words.render()}",
                "choose a line between the tip and the rest of the flap",
                span=value.span,
            )
        facing.append(line)
    state = request.state
    creases = [[seg for _, seg in flap(state, line, tip.facets).creases] for line in facing]
    for k in (0, 1):
        ends = [p for seg in creases[1 - k] for p in seg]
        if all(signed_distance(facing[k], p) >= -EPS for p in ends):
            if all(abs(signed_distance(facing[k], p)) <= EPS for p in ends):
                raise Refusal(
                    "one-line", "both lines are the same", "name two lines", span=two.span
                )
            return facing[k], facing[1 - k]
    spot = meet(*facing)
    where = request.locate(spot) if spot is not None and _on_paper(state, spot) else "on the flap"
    raise Refusal(
        "creases-cross",
        f"the two lines cross {where}: between them the flap cannot be pleated",
        "choose lines that meet at the edge of the flap, or not at all",
        span=two.span,
    )


def _on_paper(state: State, spot: tuple[float, float]) -> bool:
    return any(inside_polygon(p, spot) for p in state.placed)


def _pleated(parts: Halves, tips: frozenset[int], lines: tuple[Line, Line], inside: bool) -> State:
    state = parts.fine.state
    first = reflection(lines[0])
    both = compose(first, reflection(lines[1]))
    held = holders(state, parts)
    orders: dict[Pair, bool] = orders_inside(parts, held) if inside else orders_outside(parts, held)
    for half, in_front in ((parts.front, not inside), (parts.back, inside)):
        orders.update(_all_over(half & tips, half - tips, in_front))
    group = {i: 2 * (i in parts.back) + (i in tips) for i in parts.movers}
    motions = {i: both if i in tips else first for i in parts.movers}
    return refold(state, motions, group, orders, preference_between(state, held, parts.movers))


def _all_over(some: Iterable[int], others: Iterable[int], over: bool) -> dict[Pair, bool]:
    rest = list(others)
    return {(i, j): over for i in some for j in rest}


def _outcome(
    request: Request,
    tip: PointValue,
    lines: tuple[LineValue, LineValue],
    flaps: tuple[Flap, Flap],
    parts: Halves,
    after: State,
    inside: bool,
) -> Outcome:
    front = {parts.fine.parent[i] for i in parts.front}
    drawn: dict[Sense, list[tuple[int, tuple]]] = {Sense.MOUNTAIN: [], Sense.VALLEY: []}
    for moving, at_body in zip(flaps, (True, False), strict=True):
        for part in moving.creases:
            mountain = (part[0] in front) == (at_body == inside)
            drawn[Sense.MOUNTAIN if mountain else Sense.VALLEY].append(part)
    landing = compose(reflection(flaps[0].line), reflection(flaps[1].line))(tip.at)
    creases = [c for moving in flaps for c in moving.creases]
    return Outcome(
        after,
        (
            *(FoldLine(sense, tuple(rows)) for sense, rows in drawn.items() if rows),
            Arrow("crimp", tip.at, landing),
        ),
        _sentence(tip, lines, inside),
        creases=tuple(sheet_segments(request.state, creases)),
        folded=True,
        letters=tuple(
            dict.fromkeys(
                [
                    *([(tip.letter, tip.at)] if tip.letter else []),
                    *lines[0].letters,
                    *lines[1].letters,
                ]
            )
        ),
        claims=(OnlyBeyond((flaps[0].line,)), lands(request.state, tip, landing)),
    )


def _sentence(tip: PointValue, lines: tuple[LineValue, LineValue], inside: bool) -> Phrase:
    whole: Template = (
        "Crimp {what} along {one} and {two} (pleat the front and the back of the flap alike, "
        "around "
        "the outside)."
    )
    short: Template = "Crimp {what} along {one} and {two}, around the outside."
    if inside:
        whole = (
            "Crimp {what} along {one} and {two} (pleat the front and the back of the flap alike, "
            "and "
            "let the middle slip in between)."
        )
        short = "Crimp {what} along {one} and {two}."
    parts = {"what": tip.words, "one": lines[0].words, "two": lines[1].words}
    return briefly(phrase(whole, **parts), phrase(short, **parts))


FORMS = ("crimp A along k1 and k2", "crimp outside A along k1 and k2")
MOVE = Move(
    "crimp",
    "pleat the front and the back of a flap alike",
    FORMS,
    make,
    each=Each(dealt=()),
    level=Level.HIGH_INTERMEDIATE,
    fingers=Several(
        Phrase(
            "This is a crimp: two folds side by side, made on both layers alike, so that the part "
            "beyond them is pushed in or lifted as a whole."
        ),
    ),
)
