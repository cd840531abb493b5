"""From words to a fold line: which construction the clauses ask for, and which of its creases.

In: a `Request` whose clauses follow one of the seven single-fold constructions (or `along` a line
that is there already). Out: one `Alignment`: the line, its moving side on the left, what moves.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from ...geometry import constructions as build
from ...geometry.constructions import Crease, NoCrease
from ...geometry.lines import (
    Line,
    Point,
    Segment,
    distance,
    flipped,
    meet,
    midpoint,
    mirrored,
    on_line,
    same_line,
    signed_distance,
)
from ...geometry.polygons import inside
from ...geometry.tolerance import EPS, sign
from ...languages.unit_names import said
from ...languages.wording import Phrase, Template, phrase
from ...paper.signs import EqualAngles, RightAngle, Sign
from ...paper.silhouette import extent
from ...paper.steady import steadied
from ...source.diagnostics import Refusal
from .at_points import landmark
from .fold_clauses import FoldClauses, as_line, as_point
from .lacking import no_crease, unclear_fold
from .request import LineValue, PointValue, Request, Value
from .sides import Side, side_of


@dataclass(frozen=True)
class Alignment:
    """A fold line and what is known about the paper that moves.

    Attributes
    ----------
    line : moving side on the left where `sided`, else either way
    sided : whether the words say which side moves
    carriers : facets that carry what moves, topmost first
    tail, head : where the arrow may start and end; None when the flap itself must tell
    what, where : for captions
    signs : landmarks, equal angles, right angles that the construction used
    letters : points to be lettered
    also : for every further point that must move, the facets that carry it
    free : whether the words give only the line, not where something lands
    edge : a line on paper that moves; the carriers that move have a part of it there
    onto : where it lands alone, where `where` says more
    """

    line: Line
    sided: bool
    carriers: tuple[int, ...]
    tail: Point | None
    head: Point | None
    what: Phrase | None
    where: Phrase
    signs: tuple[Sign, ...] = ()
    letters: tuple[tuple[str, Point], ...] = ()
    also: tuple[tuple[int, ...], ...] = ()
    free: bool = False
    edge: Segment | None = None
    onto: Phrase | None = None


def alignments(request: Request, clauses: FoldClauses) -> list[Alignment]:
    """Every fold the words describe, in the construction's order. Raises Refusal when there is none."""
    found = _with_moving(request, _described(request, clauses), clauses)
    return [replace(one, line=steadied(request.state, one.line)) for one in found]


def _with_moving(request: Request, found: list[Alignment], clauses: FoldClauses) -> list[Alignment]:
    """Those folds that move what is named after `moving` as well as the point that lands somewhere."""
    if not clauses.moving or not any(isinstance(moved, PointValue) for moved, _ in clauses.pairs):
        return found
    problem: Refusal | None = None
    kept: list[Alignment] = []
    for one in found:
        try:
            side = side_of(request, one.line, clauses)
        except Refusal as refusal:
            problem = problem or refusal
            continue
        if side.line == one.line:
            kept.append(replace(one, also=(*one.also, side.carriers, *side.also)))
    if kept:
        return kept
    first, moved = clauses.moving[0], clauses.pairs[0][0]
    raise problem or Refusal(
        "both-sides",
        f"{moved.words.render() if isinstance(moved, PointValue | LineValue) else 'the point'} and "
        f"{first.words.render()} lie on different sides of the fold line",
        "name points on one side, or fold twice",
        span=first.span,
    )


def _described(request: Request, clauses: FoldClauses) -> list[Alignment]:
    given = (len(clauses.pairs), len(clauses.through), len(clauses.square_to), len(clauses.along))
    try:
        match given:
            case (0, 0, 0, 1):
                return _along(request, as_line(clauses.along[0]), clauses)
            case (0, 2, 0, 0):
                return _through(
                    request, as_point(clauses.through[0]), as_point(clauses.through[1]), clauses
                )
            case (0, 1, 1, 0):
                return _square(
                    request, as_point(clauses.through[0]), as_line(clauses.square_to[0]), clauses
                )
            case (1, 0, 0, 0):
                return _pair(request, clauses, *clauses.pairs[0])
            case (1, 1, 0, 0) if isinstance(clauses.pairs[0][0], LineValue):
                return _lines_through(request, clauses)
            case (1, 1, 0, 0):
                moved, line = as_point(clauses.pairs[0][0]), as_line(clauses.pairs[0][1])
                return _point_line_through(moved, line, as_point(clauses.through[0]))
            case (1, 0, 1, 0):
                moved, line = as_point(clauses.pairs[0][0]), as_line(clauses.pairs[0][1])
                return _point_line_square(moved, line, as_line(clauses.square_to[0]))
            case (2, 0, 0, 0):
                return _two_pairs(request, clauses)
            case _:
                raise unclear_fold(request, one_point=given == (0, 1, 0, 0))
    except NoCrease as none:
        raise no_crease(request, clauses, none) from None


def _moved_point(
    p: PointValue, crease: Crease, where: Phrase, signs: tuple[Sign, ...], k: int = 0
) -> Alignment:
    line = crease.line if signed_distance(crease.line, p.at) > 0 else flipped(crease.line)
    return Alignment(
        line, True, p.facets, p.at, crease.images[k], p.words, where, signs, _letters(p)
    )


def _letters(*values: Value) -> tuple[tuple[str, Point], ...]:
    out: list[tuple[str, Point]] = []
    for v in values:
        if isinstance(v, PointValue) and v.letter:
            out.append((v.letter, v.at))
        elif isinstance(v, LineValue):
            out.extend(v.letters)
    return tuple(dict.fromkeys(out))


def _pair(request: Request, clauses: FoldClauses, moved: Value, goal: Value) -> list[Alignment]:
    if isinstance(moved, PointValue) and isinstance(goal, PointValue):
        (crease,) = build.point_to_point(moved.at, goal.at)
        signs: tuple[Sign, ...] = (landmark(moved.at), landmark(goal.at))
        found = _moved_point(moved, crease, phrase("to {goal}", goal=goal.words), signs)
        return [replace(found, letters=_letters(moved, goal))]
    if isinstance(moved, LineValue) and isinstance(goal, LineValue):
        creases = build.line_to_line(moved.line, goal.line)
        return [_line_line(request, moved, goal, crease, clauses) for crease in creases]
    if isinstance(moved, PointValue) and isinstance(goal, LineValue):
        raise Refusal(
            "several-folds",
            f"many folds bring {moved.words.render()} onto {goal.words.render()}",
            "add 'through' a point of the crease, or 'perpendicular to' a line",
            "or name the point of the line where it should land",
            span=goal.span,
        )
    raise Refusal(
        "line-to-point",
        "a line cannot be folded to a point",
        "fold a point to it, or the line onto another line",
        span=goal.span,
    )


def _lines_through(request: Request, clauses: FoldClauses) -> list[Alignment]:
    """A line onto a line, where the words also say a point that the fold runs through."""
    (moved, goal), q = clauses.pairs[0], as_point(clauses.through[0])
    through = [one for one in _pair(request, clauses, moved, goal) if on_line(one.line, q.at)]
    if not through and isinstance(moved, LineValue) and isinstance(goal, LineValue):
        raise Refusal(
            "cannot-reach",
            f"no fold that brings {moved.words.render()} onto {goal.words.render()} runs through "
            f"{q.words.render()}",
            "leave 'through' and its point out, or name a point of the edge to bring onto the line",
            span=q.span,
        )
    return [
        replace(one, signs=(*one.signs, landmark(q.at)), letters=(*one.letters, *_letters(q)))
        for one in through
    ]


def _line_line(
    request: Request, moved: LineValue, goal: LineValue, crease: Crease, clauses: FoldClauses
) -> Alignment:
    side = side_of(request, crease.line, clauses)
    line, what = side.line, moved.words
    signs: list[Sign] = []
    seg = moved.segment
    sided = side.sided or seg is not None
    tail = head = None
    if seg is not None:
        a, b = signed_distance(line, seg[0]), signed_distance(line, seg[1])
        far = seg[0] if (a >= b if side.sided else abs(a) >= abs(b)) else seg[1]
        if not side.sided and signed_distance(line, far) < 0:
            line = flipped(line)
        if side.sided and a * b < 0:  # only a part of the line moves: it is called by its point
            what = side.what or what
        sided = side.sided or abs(a + b) > EPS
        level = abs(abs(a) - abs(b)) <= EPS and a * b > 0
        tail = midpoint(*seg) if level else far  # the free end travels farthest
        head = mirrored(line, tail)
        apex = meet(moved.line, line)
        if apex is not None and distance(apex, far) > EPS:
            middle = midpoint(far, mirrored(line, far))
            if distance(apex, middle) > EPS:
                signs.append(EqualAngles(apex, far, middle, mirrored(line, far)))
    where = phrase("to {goal}", goal=goal.words)
    return Alignment(
        line,
        sided,
        side.carriers or moved.facets,
        tail,
        head,
        what,
        where,
        tuple(signs),
        _letters(moved, goal, *clauses.moving),
        side.also,
        edge=None if side.carriers else seg,
    )


def _along(request: Request, value: LineValue, clauses: FoldClauses) -> list[Alignment]:
    found: list[Alignment] = []
    chosen = clauses.pick is not None or clauses.near is not None
    lines = (value.line, *value.others)
    for line in lines if chosen else _beside_what_moves(lines, clauses.moving):
        side = side_of(request, line, clauses)
        where = phrase("along {line}", line=value.words)
        letters = _letters(value, *clauses.moving)
        rings = tuple(landmark(at) for _, at in value.letters if on_line(side.line, at))
        found.append(_on_line(side, value.facets, where, rings, letters))
    return found


def _beside_what_moves(lines: tuple[Line, ...], moving: list[PointValue]) -> tuple[Line, ...]:
    """Of two lines alongside each other the one between the other and all that moves; both where none is."""
    if len(lines) != 2 or meet(*lines) is not None or not moving:
        return lines
    for one, other in (lines, lines[::-1]):
        away = signed_distance(one, (other.nx * other.c, other.ny * other.c))
        if all(signed_distance(one, p.at) * away < -EPS for p in moving):
            return (one,)
    return lines


def _on_line(
    side: Side,
    carriers: tuple[int, ...],
    where: Phrase,
    signs: tuple[Sign, ...],
    letters: tuple[tuple[str, Point], ...],
) -> Alignment:
    return Alignment(
        side.line,
        side.sided,
        side.carriers or carriers,
        None,
        None,
        side.what,
        where,
        signs,
        letters,
        side.also,
        free=True,
    )


def _through(
    request: Request, p: PointValue, q: PointValue, clauses: FoldClauses
) -> list[Alignment]:
    (crease,) = build.through_points(p.at, q.at)
    common = tuple(f for f in p.facets if f in q.facets)
    ends = (said(p.letter), said(q.letter)) if p.letter and q.letter else (p.words, q.words)
    where = phrase("along the line through {p} and {q}", p=ends[0], q=ends[1])
    signs = (landmark(p.at), landmark(q.at))
    letters = _letters(p, q, *clauses.moving)
    return [_on_line(side_of(request, crease.line, clauses), common, where, signs, letters)]


def _square(
    request: Request, p: PointValue, to: LineValue, clauses: FoldClauses
) -> list[Alignment]:
    (crease,) = build.perpendicular_through(p.at, to.line)
    where = phrase(
        "along the line through {p} at a right angle to {line}", p=p.words, line=to.words
    )
    side = side_of(request, crease.line, clauses)
    signs: tuple[Sign, ...] = (landmark(p.at),)
    foot = meet(side.line, to.line)
    if foot is not None:
        n = (foot[0] + side.line.nx, foot[1] + side.line.ny)
        along = (foot[0] + side.line.ny, foot[1] - side.line.nx)
        signs += (RightAngle(foot, n, along),)
    return [_on_line(side, p.facets, where, signs, _letters(p, to, *clauses.moving))]


def _point_line_through(p: PointValue, line: LineValue, q: PointValue) -> list[Alignment]:
    where = phrase("onto {line}, so that the fold runs through {q}", line=line.words, q=q.words)
    found = [
        replace(
            _moved_point(p, c, where, (landmark(p.at), landmark(c.images[0]), landmark(q.at))),
            letters=_letters(p, line, q),
            onto=phrase("to {goal}", goal=line.words),
        )
        for c in build.point_to_line_through(p.at, line.line, q.at)
        if not c.idle
    ]
    return _unless_idle(found, p, line)


def _point_line_square(p: PointValue, line: LineValue, to: LineValue) -> list[Alignment]:
    where = phrase(
        "onto {line}, so that the fold runs at a right angle to {to}",
        line=line.words,
        to=to.words,
    )
    found = [
        replace(
            _moved_point(p, c, where, (landmark(p.at), landmark(c.images[0]))),
            letters=_letters(p, line, to),
            onto=phrase("to {goal}", goal=line.words),
        )
        for c in build.point_to_line_perpendicular(p.at, line.line, to.line)
        if not c.idle
    ]
    return _unless_idle(found, p, line)


def _unless_idle(found: list[Alignment], p: PointValue, line: LineValue) -> list[Alignment]:
    if found:
        return found
    raise Refusal(
        "cannot-reach",
        f"{p.words.render()} lies on {line.words.render()} already",
        "name another line or another point",
        span=line.span,
    )


def _two_pairs(request: Request, clauses: FoldClauses) -> list[Alignment]:
    """Every crease that brings p onto its line and q onto the other: up to three.

    Where q lies on the side that stays, it is the line that comes onto q.
    """
    (p, pl), (q, ql) = clauses.pairs
    p, q, pl, ql = as_point(p), as_point(q), as_line(pl), as_line(ql)
    template: Template = "onto {line} and at the same time {q} onto {other}"
    where = phrase(template, line=pl.words, q=q.words, other=ql.words)
    other_way = phrase(template, line=pl.words, q=ql.words, other=q.words)
    found: list[Alignment] = []
    for c in build.points_to_lines(p.at, pl.line, q.at, ql.line):
        if c.idle:
            continue
        rings = (landmark(p.at), landmark(c.images[0]), landmark(q.at), landmark(c.images[1]))
        a, b = (sign(signed_distance(c.line, at)) for at in (p.at, q.at))
        first = _moved_point(p, c, where, rings) if a else _moved_point(q, c, where, rings, 1)
        also = (q.facets,) if a and b else ()
        if a * b < 0:  # no fold carries paper from both sides: the other line comes onto q
            there = tuple(i for i in ql.facets if inside(request.state.placed[i], c.images[1]))
            also = (there,) if there else ()
            first = replace(first, where=other_way)
        found.append(replace(first, letters=_letters(p, q, pl, ql), also=also))
    return _unless_idle(found, p, pl)


def reach(request: Request) -> float:
    """Longer side of the figure, for sizes that follow it."""
    return max(extent(request.state))


def distinct(found: list[Alignment]) -> list[Alignment]:
    """Without repetitions of the same line."""
    out: list[Alignment] = []
    for one in found:
        if not any(same_line(one.line, other.line) for other in out):
            out.append(one)
    return out
