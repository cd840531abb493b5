"""Where a repeat goes: which symmetry of the paper carries a part of the steps to the place meant.

In: the steps to repeat and where ('behind', 'on the other side', named flaps, how many more). Out: one
`Target` a repetition, each with the symmetries that lead there, the likeliest first; or a refusal that
names what keeps the paper from being alike there.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from ..diagnostics import Refusal, Span
from ..geometry.isometries import IDENTITY, Isometry, compose
from ..geometry.lines import Line, Point, distance, flipped, same_line
from ..geometry.tolerance import EPS
from ..moves.request import PointValue
from ..paper.leaves import leaf_round
from ..paper.silhouette import centre
from ..paper.state import State
from ..paper.symmetry import (
    Difference,
    Symmetry,
    congruences,
    differences,
    outline_isometries,
)
from .images import Trace, close
from .names import locate
from .paging import MOST_ROUNDS
from .parts import Part, over, points_of, trace_of, turn_since
from .performing import Folding


@dataclass(frozen=True)
class Candidate:
    """A symmetry and what it means for a repeat now.

    Attributes
    ----------
    rounds : how often pages were turned until the paper looked alike; 0 for a symmetry of the paper
    hidden : whether the image lies on the face that is away from the reader now
    view : where the original lay -> where the image lies, seen from the image's own face
    trace : where on the sheet the image is
    """

    symmetry: Symmetry
    rounds: int
    hidden: bool
    view: Isometry
    trace: Trace

    def rank(self, mirror_first: bool = False) -> tuple:
        """Smaller is likelier: the same side of the paper, no pages turned, as seen then."""
        kind = _kind(self.view)
        if mirror_first:
            kind = (1, 0, 3, 2, 4, 5)[kind] if kind < 4 else kind + 2
        angle = math.atan2(self.view.c, self.view.a) % (2 * math.pi)
        return (
            self.symmetry.swaps_colours,
            abs(self.rounds),
            kind,
            round(angle, 6) % round(2 * math.pi, 6),
            self.rounds < 0,
        )


def _kind(view: Isometry) -> int:
    """0 as it was, 1 left for right, 2 half round, 3 top for bottom, 4 otherwise turned, 5 mirrored."""
    linear = (view.a, view.b, view.c, view.d)
    plain = ((1, 0, 0, 1), (-1, 0, 0, 1), (-1, 0, 0, -1), (1, 0, 0, -1))
    for k, other in enumerate(plain):
        if all(abs(x - y) < 1e-7 for x, y in zip(linear, other, strict=True)):
            return k
    return 5 if view.flips else 4


@dataclass(frozen=True)
class Target:
    """One repetition: the image meant, and the symmetries that lead to it, the likeliest first."""

    options: tuple[Candidate, ...]

    @property
    def best(self) -> Candidate:
        """The likeliest way there."""
        return self.options[0]


@dataclass(frozen=True)
class Field:
    """Everything a repeat can choose from.

    Attributes
    ----------
    trace : where the original is
    turn : how the model has been turned since the paper before the part
    candidates : every symmetry whose image is other paper than the original
    idle : those, but for the identity, that carry the part onto itself
    spine : line about which flaps turn like pages, in the folded plane before the part
    """

    paper: Folding
    part: Part
    trace: Trace
    turn: Isometry
    candidates: tuple[Candidate, ...]
    idle: tuple[Candidate, ...]
    spine: Line | None


def survey(paper: Folding, part: Part, *, leaves: bool) -> Field:
    """All symmetries of the paper before the part; with `leaves`, also with its pages turned."""
    trace = trace_of(paper, part)
    turn = turn_since(paper, part.start)
    ways = [(symmetry, 0) for symmetry in congruences(part.before, part.before)]
    spine = _spine([symmetry for symmetry, _ in ways], part.before)
    if spine is not None and leaves:
        ways += _with_leaves(part.before, spine)
    face = over(paper.state)
    found: list[Candidate] = []
    idle: list[Candidate] = []
    for symmetry, rounds in ways:
        if symmetry.is_identity:
            continue
        image = trace.mapped(symmetry.sheet)
        hidden = symmetry.behind != turn.flips
        motion = compose(turn, symmetry.motion)
        view = compose(face, motion) if hidden else motion
        one = Candidate(symmetry, rounds, hidden, view, image)
        (idle if image.same(trace) else found).append(one)
    return Field(paper, part, trace, turn, tuple(found), tuple(idle), spine)


def _spine(found: Sequence[Symmetry], before: State) -> Line | None:
    """The mirror line about which flaps can be turned, the upright one first."""
    lines: list[Line] = []
    for symmetry in found:
        axis = symmetry.axis
        if axis is not None and not any(same_line(axis, other) for other in lines):
            lines.append(axis if (axis.nx, axis.ny) > (0.0, 0.0) else flipped(axis))
    lines.sort(key=lambda line: (round(abs(line.ny), 6), line.ny, line.c))
    return next((line for line in lines if leaf_round(before, line) is not None), None)


def _with_leaves(before: State, spine: Line) -> list[tuple[Symmetry, int]]:
    """Congruences with the paper after its pages have been turned some way."""
    found: list[tuple[Symmetry, int]] = []
    for line, way in ((spine, 1), (flipped(spine), -1)):
        state = before
        for rounds in range(1, MOST_ROUNDS + 1):
            turned = leaf_round(state, line)
            if turned is None:
                break
            state = turned[1].after
            alike = congruences(before, state)
            if any(s.is_identity and close(s.motion, IDENTITY) for s in alike):
                return found  # once round
            found.extend((s, way * rounds) for s in alike)
    return found


def grouped(candidates: Sequence[Candidate], mirror_first: bool = False) -> list[Target]:
    """Candidates with one image together, the likeliest image first."""
    ordered = sorted(candidates, key=lambda c: c.rank(mirror_first))
    groups: list[list[Candidate]] = []
    for one in ordered:
        home = next((g for g in groups if g[0].trace.same(one.trace)), None)
        if home is None:
            groups.append([one])
        else:
            home.append(one)
    return [Target(tuple(g)) for g in groups]


def behind(field: Field) -> list[Target]:
    """Images on the hidden face."""
    return _unless_done(field, [c for c in field.candidates if c.hidden], hidden=True)


def facing(field: Field) -> list[Target]:
    """Images on the face in front, after the model has been turned over."""
    return _unless_done(field, [c for c in field.candidates if not c.hidden], hidden=False)


def _unless_done(
    field: Field, pool: list[Candidate], *, hidden: bool, mirror_first: bool = False
) -> list[Target]:
    """The images in order; none when the likeliest symmetry leads back to the part itself."""
    groups = grouped(pool, mirror_first)
    done = [c.rank(mirror_first) for c in field.idle if c.hidden == hidden]
    if groups and done and min(done) < groups[0].best.rank(mirror_first):
        raise on_itself(field)
    return groups


def on_itself(field: Field, span: Span | None = None) -> Refusal:
    """Says that the part is its own image."""
    return Refusal(
        "repeat-on-itself",
        f"{field.part.words} is its own image there: that paper has been folded already",
        "leave the repeat out, or name a point of the flap that is to follow: 'on P'",
        "for the same words on the paper as it lies now say 'again'",
        span=span,
    )


def beside(field: Field, side: str, *, hidden: bool = False) -> list[Target]:
    """Images on the other side of the same face: 'other', 'left' or 'right'."""
    pool = [c for c in field.candidates if c.hidden == hidden and not c.rounds]
    if side in ("left", "right"):
        here = _middle(field, field.trace)[0]
        sign = -1.0 if side == "left" else 1.0
        pool = [c for c in pool if sign * (_middle(field, c.trace)[0] - here) > EPS]
        return grouped(pool, mirror_first=True)
    return _unless_done(field, pool, hidden=hidden, mirror_first=True)


def _middle(field: Field, trace: Trace) -> Point:
    """Where the middle of a trace lay before the part, as the model is turned now."""
    return field.turn(field.part.before.where(trace.middle))


def at_point(field: Field, point: PointValue, *, hidden: bool | None) -> Target:
    """The image that brings the part to a named point. Raises Refusal when there is none."""
    spot = point.sheet
    if spot is None:
        raise Refusal(
            "off-the-paper", f"{point.words.render()} is not on the paper", span=point.span
        )
    named: list[list[Point]] = []
    for deed, said in zip(
        field.paper.history[field.part.start : field.part.end],
        field.paper.said[field.part.start : field.part.end],
        strict=True,
    ):
        places = [v.sheet for v in points_of(said) if v.sheet is not None]
        if places and deed.before is not deed.after:
            named.append(places)
    firsts = [places[0] for places in named]
    every = [p for places in named for p in places]

    def match(c: Candidate) -> int:
        image = c.symmetry.sheet
        if any(distance(image(p), spot) < 1e-7 for p in firsts):
            return 0
        if any(distance(image(p), spot) < 1e-7 for p in every):
            return 1
        return 2 if c.trace.holds(spot) else 3

    pool = [(match(c), c) for c in field.candidates if hidden is None or c.hidden == hidden]
    best = min((m for m, _ in pool), default=3)
    if best == 3:
        if any(distance(p, spot) < 1e-7 for p in firsts) or field.trace.holds(spot):
            raise Refusal(
                "repeat-on-itself",
                f"{point.words.render()} lies on the paper of {field.part.words} itself",
                "name a point of the flap that is to follow",
                span=point.span,
            )
        raise no_symmetry(
            field, f"on the flap of {point.words.render()}", lambda s, b: True, point.span
        )
    groups = grouped([c for m, c in pool if m == best])
    groups.sort(key=lambda t: (t.best.hidden, t.best.rank()))
    return groups[0]


def everywhere(field: Field, times: int, span: Span) -> list[Target]:
    """So many other images, wherever they are. Raises Refusal when that does not say which."""
    layered = bool(field.part.before.order)
    pool = [c for c in field.candidates if layered or not c.hidden]
    tiers: list[Callable[[Candidate], bool]] = [
        lambda c: not c.hidden and not c.symmetry.mirrors and not c.rounds,
        lambda c: not c.hidden and not c.rounds,
        lambda c: not c.symmetry.mirrors and not c.rounds,
        lambda c: not c.rounds,
        lambda c: not c.symmetry.mirrors,
        lambda c: True,
    ]
    counts: list[int] = []
    for fits in tiers:
        groups = grouped([c for c in pool if fits(c)])
        if len(groups) == times:
            chosen = [
                Target(tuple(sorted(t.options, key=lambda c: (c.symmetry.mirrors, c.rank()))))
                for t in grouped(pool)
                if any(g.best.trace.same(t.best.trace) for g in groups)
            ]
            return sorted(chosen, key=lambda t: (t.best.hidden, _way_round(field, t.best.trace)))
        counts.append(len(groups))
    most = max(counts)
    if most == 0:
        raise no_symmetry(field, "elsewhere", lambda s, b: True, span)
    raise Refusal(
        "how-many-repeats",
        f"the paper has {most} other place{'s' if most > 1 else ''} like that of "
        f"{field.part.words}, not {times}",
        f"say '{most} times'" if most > 1 else "say '1 time'",
        "or name the flaps: 'on B and D'",
        "or, for the same words on the paper as it lies now: 'again'",
        span=span,
    )


def _way_round(field: Field, trace: Trace) -> tuple[float, float]:
    """How far round the middle of the model an image lies from the original, counter-clockwise."""
    before = field.part.before
    x, y = centre(before)
    angles: list[float] = []
    for one in (field.trace, trace):
        p = before.where(one.middle)
        angles.append(math.atan2(p[1] - y, p[0] - x))
    turn = (angles[1] - angles[0]) % (2 * math.pi)
    return round(turn, 6) % round(2 * math.pi, 6), round(distance(trace.middle, (0.0, 0.0)), 6)


def no_symmetry(
    field: Field, where: str, fits: Callable[[Isometry, bool], bool], span: Span
) -> Refusal:
    """Says that the paper is not alike there, and what differs.

    `fits(sheet isometry, behind)` tells which isometries would have been what was meant.
    """
    before, part = field.part.before, field.part
    if field.idle and not field.candidates:
        return on_itself(field, span)
    near: tuple[tuple[bool, bool, float], Difference, bool] | None = None
    for sheet in outline_isometries(before.sheet.outline):
        for reversed_ in (False, True):
            same = close(sheet, IDENTITY)
            if (same and not reversed_) or not fits(sheet, reversed_):
                continue
            found = differences(before, before, sheet, reversed_)
            if not found:
                continue
            key = (same, reversed_, round(sum(d.amount for d in found), 6))
            if near is None or key < near[0]:
                near = (key, found[0], reversed_)
    message = f"{part.words} cannot be repeated {where}: the paper before it is not alike there"
    if near is not None:
        message = f"{message}: {_said(field, near[1], near[2])}"
    return Refusal(
        "no-symmetry",
        message,
        "repeat before folding what differs, or write the fold out",
        span=span,
    )


def _said(field: Field, d: Difference, behind: bool) -> str:
    before, names = field.part.before, field.paper.names
    here = locate(before, names, before.where(d.place))
    there = locate(before, names, before.where(d.image))
    if d.kind == "order":
        if behind:
            return f"seen from behind, the layers {there} lie in another order"
        return f"the layers {here} lie in another order than those {there}"
    lies = "is no fold like it" if d.kind == "fold" else "is no cut like it"
    if here == there:
        return f"there is a {d.kind} {here}, and where its partner should be there is none"
    return f"there is a {d.kind} {here}, but {there} there {lies}"
