"""Pleat: a valley and a mountain fold side by side, so that the flap goes back over itself."""

from __future__ import annotations

from ..geometry.isometries import inverse, reflection
from ..geometry.lines import Line, Point, flipped, mirrored, same_line, signed_distance
from ..geometry.polygons import centroid, split
from ..geometry.tolerance import EPS, is_zero
from ..languages.wording import Phrase, Template, briefly, phrase
from ..paper.flap import bends, far_point, flap, sheet_segments
from ..paper.signs import OPPOSITE, Arrow, FoldLine, Sense
from ..source.diagnostics import Refusal
from .planning.claims import OnlyBeyond
from .planning.equal_pleats import Fan, fan
from .planning.fingers import Several
from .planning.fold_claims import lands
from .planning.fold_clauses import as_line, layer_count, mover
from .planning.request import LineValue, Move, Outcome, PointValue, Request
from .planning.single_fold import folded


def make(request: Request) -> Outcome:
    """Folds along the nearer line, then back along the farther one; or the whole figure in equal parts."""
    parts = request.clause("into")
    if parts is not None:
        return _equal(fan(request, parts))
    lines, moving, count = _words(request)
    near_point = moving.at
    facing = [(value, sense, _facing(value, moving)) for value, sense in lines]
    # the inner line is the one farther from the point that moves
    facing.sort(key=lambda item: -round(signed_distance(item[2], near_point), 9))
    (inner_value, inner_sense, inner), (outer_value, _, outer) = facing
    if same_line(inner, outer):
        raise Refusal(
            "one-line", "both lines are the same", "name two lines", span=outer_value.span
        )
    state = request.state
    seeds = list(moving.facets)
    if inner_sense is Sense.MOUNTAIN:
        seeds.reverse()
    if count is None:
        seeds = seeds[:1]
    elif count > 0:
        stack = list(state.facets_at(near_point))
        seeds = (stack if inner_sense is Sense.VALLEY else stack[::-1])[:count]
    first = flap(state, inner, seeds, whole_stack=count == 0)
    if any(signed_distance(outer, p) > EPS for _, seg in first.creases for p in seg):
        raise Refusal(
            "creases-cross",
            f"{inner_value.words.render()} and {outer_value.words.render()} cross on the flap: what lies "
            "beyond the one cannot go back along the other",
            "choose lines that meet at the edge of the flap, or not at all",
            span=outer_value.span,
        )
    outer_parts = bends(state, outer, set(first.facets))
    if not outer_parts:
        raise Refusal(
            "fold-misses-flap",
            f"{outer_value.words.render()} does not cross the flap that {inner_value.words.render()} moves",
            "name two lines that cross the same flap",
            span=outer_value.span,
        )
    tips = [
        inverse(state.facets[i].place)(centroid(beyond))
        for i, part in zip(first.facets, first.parts, strict=True)
        if (beyond := split(part, outer)[0])
    ]
    middle = folded(request, first, inner_sense)
    back = _image(outer, inner)
    second = flap(middle, back, [i for tip in tips for i in middle.facets_on_sheet(tip)])
    after = folded(request.amid(middle), second, inner_sense)
    segments = (
        *sheet_segments(state, first.creases),
        *sheet_segments(middle, second.creases),
    )
    tail = far_point(first)
    head = mirrored(back, mirrored(inner, tail))
    return Outcome(
        after,
        (
            FoldLine(inner_sense, first.creases),
            FoldLine(OPPOSITE[inner_sense], outer_parts),
            Arrow("pleat", tail, head),
        ),
        _sentence(inner_sense, inner_value, outer_value),
        creases=segments,
        folded=True,
        letters=(*inner_value.letters, *outer_value.letters),
        claims=(OnlyBeyond((inner,)), lands(state, moving, _landing(moving, inner, outer))),
    )


def _equal(made: Fan) -> Outcome:
    """Pleats of equal width."""
    words: Template = "Pleat from {edge} into {n} equal parts, the first fold to the front."
    if made.first is Sense.MOUNTAIN:
        words = "Pleat from {edge} into {n} equal parts, the first fold to the back."
    return Outcome(
        made.after,
        (*made.lines, Arrow("pleat", made.tail, made.head), made.equal),
        phrase(words, edge=made.edge, n=str(made.parts)),
        creases=made.creases,
        folded=True,
        letters=made.letters,
        claims=made.claims,
        fingers=_FAN,
    )


def _landing(moving: PointValue, inner: Line, outer: Line) -> Point:
    """Where the point comes to lie: over and back again, or only over where it lies between the lines."""
    at = mirrored(outer, moving.at) if signed_distance(outer, moving.at) > 0 else moving.at
    return mirrored(inner, at)


def _sentence(sense: Sense, inner: LineValue, outer: LineValue) -> Phrase:
    whole: Template = (
        "Make a pleat: fold the flap to the front along {inner}, and back again along {outer}."
    )
    short: Template = "Pleat along {inner} and {outer}, to the front first."
    if sense is Sense.MOUNTAIN:
        whole = (
            "Make a pleat: fold the flap to the back along {inner}, and to the front again along "
            "{outer}."
        )
        short = "Pleat along {inner} and {outer}, to the back first."
    parts = {"inner": inner.words, "outer": outer.words}
    return briefly(phrase(whole, **parts), phrase(short, **parts))


def _words(request: Request) -> tuple[list[tuple[LineValue, Sense]], PointValue, int | None]:
    request.allow("valley", "mountain", "along", "and", "moving", "layers")
    lines: list[tuple[LineValue, Sense]] = []
    moving: PointValue | None = None
    count: int | None = None
    sense: Sense | None = None
    for clause in request.clauses:
        match clause.word:
            case "valley" | "mountain":
                sense = Sense(clause.word)
                lines.extend((as_line(v), sense) for v in clause.values)
            case "along" | "and":
                for value in clause.values:
                    sense = Sense.VALLEY if sense is None else OPPOSITE[sense]
                    lines.append((as_line(value), sense))
            case "moving" if clause.values:
                moving = mover(request, clause.values[0])
            case _:
                count = layer_count(request, clause)
    if len(lines) != 2 or lines[0][1] is lines[1][1]:
        raise Refusal(
            "pleat-lines",
            "a pleat needs two lines, one valley and one mountain",
            *(f"write it like: {form}" for form in FORMS),
            "crease both lines first and give them names: 'crease ... as k1'",
            span=request.span,
        )
    if moving is None:
        raise Refusal(
            "which-side",
            "the words do not say which side moves",
            "add 'moving' and a point on the side that moves",
            span=request.span,
        )
    return lines, moving, count


def _facing(value: LineValue, moving: PointValue) -> Line:
    """The line, what moves on its left. Raises Refusal where the point lies on it."""
    away = signed_distance(value.line, moving.at)
    if is_zero(away):
        raise Refusal(
            "which-side",
            f"{moving.words.render()} lies on {value.words.render()}, so it does not say which side moves",
            "say 'moving' and a point beside both lines",
            span=moving.span,
        )
    return value.line if away > 0 else flipped(value.line)


def _image(outer: Line, inner: Line) -> Line:
    """The outer line after the fold along the inner one, still with the moving side on its left."""
    mirror = reflection(inner)
    nx = mirror.a * outer.nx + mirror.b * outer.ny
    ny = mirror.c * outer.nx + mirror.d * outer.ny
    on: Point = mirror((outer.nx * outer.c, outer.ny * outer.c))
    return Line(nx, ny, nx * on[0] + ny * on[1])


FORMS = (
    "pleat valley k1, mountain k2, moving A",
    "pleat along k1 and k2, moving A",
    "pleat into 16 equal parts, moving the right edge",
)
_FAN = Several(
    Phrase(
        "These are pleats, one after the other, all of the same width: the first turns over on top or away "
        "underneath, the next one the other way, and so on by turns, like a fan."
    ),
)
MOVE = Move(
    "pleat",
    "fold a flap over and back again",
    FORMS,
    make,
    fingers=Several(
        Phrase(
            "This is a pleat: two folds side by side, one over on top and one back again, like a stair."
        ),
    ),
)
