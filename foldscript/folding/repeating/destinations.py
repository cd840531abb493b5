"""Where a repeat goes: which symmetry of the paper carries the original to the place meant.

In: the steps to repeat and where ('behind', 'on the other side', named flaps, how many more). Out: one
`Target` a repetition, each with the symmetries that lead there, the likeliest first; or a refusal that
names what keeps the paper from being symmetrical there.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from ...geometry.isometries import IDENTITY, Isometry, nearly_same
from ...geometry.lines import Point, distance, dot
from ...geometry.tolerance import EPS
from ...moves.planning.request import PointValue
from ...paper.silhouette import centre
from ...paper.symmetry import Difference, differences, sheet_isometries
from ...source.diagnostics import Refusal, Span
from ..resolving.names import locate
from .candidates import Candidate, Destination, Mirror, Survey, grouped, local_candidates
from .repeated_steps import points_of
from .traces import Trace


def behind(survey: Survey) -> list[Destination]:
    """Images on the hidden face."""
    return _unless_done(survey, [c for c in survey.candidates if c.hidden], hidden=True)


def facing(survey: Survey) -> list[Destination]:
    """Images on the face in front, after the model has been turned over."""
    return _unless_done(survey, [c for c in survey.candidates if not c.hidden], hidden=False)


def _unless_done(
    survey: Survey, pool: list[Candidate], *, hidden: bool, mirror: Mirror = ""
) -> list[Destination]:
    """The images in order; none when the likeliest symmetry leads back to the original itself.

    Raises Refusal where two images are as likely, one either way round.
    """

    def likely(each: Destination) -> tuple:
        return min(one.likely(mirror) for one in each.options)

    groups = sorted(grouped(pool, mirror), key=likely)
    done = [c.likely(mirror) for c in survey.idle if c.hidden == hidden]
    if not groups and not any(c.hidden == hidden and not c.rounds for c in survey.idle):
        return _partly(survey, hidden, mirror)
    first = likely(groups[0]) if groups else None
    if first is not None and done and min(done) <= first:
        raise on_itself(survey)
    if sum(likely(each) == first for each in groups) > 1:
        raise Refusal(
            "several-images",
            f"the paper has two places like that of {survey.original.words} there, one either way round",
            "name a point of the flap that is to follow, after 'on'",
        )
    return groups


def _partly(survey: Survey, hidden: bool, mirror: Mirror) -> list[Destination]:
    """Images of the original paper alone, on a model without symmetry: in the same place or mirrored."""
    pool = [
        c
        for c in local_candidates(survey)[0]
        if c.hidden == hidden
        and (c.symmetry.axis or (c.symmetry.behind and nearly_same(c.symmetry.motion, IDENTITY)))
    ]
    return grouped(pool, mirror)


def on_itself(survey: Survey, span: Span | None = None) -> Refusal:
    """Says that the original is its own image."""
    return Refusal(
        "repeat-on-itself",
        f"done again there, {survey.original.words} would fold the same paper, which is folded already",
        "leave the repeat out",
        span=span,
    )


def beside(survey: Survey, side: str, *, hidden: bool = False) -> list[Destination]:
    """Images on the same face: on the other side ('other'), or to the 'left', 'right', 'top', 'bottom'."""
    pool = [c for c in survey.candidates if c.hidden == hidden and not c.rounds]
    if side in _WAYS:
        way, mirror = _WAYS[side]
        here = dot(_middle(survey, survey.trace), way)
        pool = [c for c in pool if dot(_middle(survey, c.trace), way) - here > EPS]
        return grouped(pool, mirror)
    return _unless_done(survey, pool, hidden=hidden, mirror="across")


#: Which way a side lies, and the mirror image that is meant.
_WAYS: dict[str, tuple[Point, Mirror]] = {
    "left": ((-1.0, 0.0), "across"),
    "right": ((1.0, 0.0), "across"),
    "top": ((0.0, 1.0), "upright"),
    "bottom": ((0.0, -1.0), "upright"),
}


def _middle(survey: Survey, trace: Trace) -> Point:
    """Where the middle of a trace lay before the original, as the model is turned now."""
    return survey.turn(survey.original.before.where(trace.middle))


def at_point(survey: Survey, point: PointValue, *, hidden: bool | None) -> Destination:
    """The image that brings the original to a named point. Raises Refusal when there is none."""
    spot = point.sheet
    if spot is None:
        raise Refusal(
            "off-the-paper", f"{point.words.render()} is not on the paper", span=point.span
        )
    named: list[list[Point]] = []
    for record, resolved in zip(
        survey.folding.history[survey.original.start : survey.original.end],
        survey.folding.statements[survey.original.start : survey.original.end],
        strict=True,
    ):
        places = [v.sheet for v in points_of(resolved) if v.sheet is not None]
        if places and record.before is not record.after:
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

    pool = [(match(c), c) for c in survey.candidates if hidden is None or c.hidden == hidden]
    best = min((m for m, _ in pool), default=3)
    if best == 3:
        others = [c for c in local_candidates(survey)[0] if hidden is None or c.hidden == hidden]
        pool = [(match(c), c) for c in others]
        best = min((m for m, _ in pool), default=3)
    if best == 3:
        if any(distance(p, spot) < 1e-7 for p in firsts) or survey.trace.holds(spot):
            raise Refusal(
                "repeat-on-itself",
                f"{point.words.render()} lies on the paper of {survey.original.words} itself",
                "name a point of the flap that is to follow",
                span=point.span,
            )
        raise no_symmetry(
            survey, f"on the flap of {point.words.render()}", lambda s, b: True, point.span
        )
    groups = grouped([c for m, c in pool if m == best])
    groups.sort(key=lambda t: (t.best.hidden, t.best.rank()))
    return groups[0]


def everywhere(survey: Survey, times: int, span: Span) -> list[Destination]:
    """So many other images, wherever they are. Raises Refusal when that does not say which."""
    layered = bool(survey.original.before.order)
    pool = [c for c in survey.candidates if layered or not c.hidden]
    pool = pool or [c for c in local_candidates(survey)[0] if layered or not c.hidden]
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
                Destination(tuple(sorted(t.options, key=lambda c: (c.symmetry.mirrors, c.rank()))))
                for t in grouped(pool)
                if any(g.best.trace.same(t.best.trace) for g in groups)
            ]
            return sorted(chosen, key=lambda t: (t.best.hidden, _way_round(survey, t.best.trace)))
        counts.append(len(groups))
    most = max(counts)
    if most == 0:
        raise no_symmetry(survey, "elsewhere", lambda s, b: True, span)
    raise Refusal(
        "how-many-repeats",
        f"the paper has {most} other place{'s' if most > 1 else ''} like that of "
        f"{survey.original.words}, not {times}",
        "name a point of each flap that is to follow, after 'on'",
        span=span,
    )


def _way_round(survey: Survey, trace: Trace) -> tuple[float, float]:
    """How far round the middle of the model an image lies from the original, counter-clockwise."""
    before = survey.original.before
    x, y = centre(before)
    angles: list[float] = []
    for one in (survey.trace, trace):
        p = before.where(one.middle)
        angles.append(math.atan2(p[1] - y, p[0] - x))
    turn = (angles[1] - angles[0]) % (2 * math.pi)
    return round(turn, 6) % round(2 * math.pi, 6), round(distance(trace.middle, (0.0, 0.0)), 6)


def no_symmetry(
    survey: Survey, where: str, fits: Callable[[Isometry, bool], bool], span: Span
) -> Refusal:
    """Says that the paper is not symmetrical there, and what differs.

    `fits(sheet isometry, behind)` tells which isometries would have been what was meant.
    """
    before, original = survey.original.before, survey.original
    if not survey.candidates and any(
        fits(c.symmetry.sheet, c.symmetry.behind) for c in survey.idle
    ):
        return on_itself(survey, span)
    near: tuple[tuple[bool, bool, float], Difference, bool] | None = None
    for sheet in sheet_isometries(before.sheet):
        for reversed_ in (False, True):
            same = nearly_same(sheet, IDENTITY)
            if (same and not reversed_) or not fits(sheet, reversed_):
                continue
            found = differences(before, before, sheet, reversed_)
            if not found:
                continue
            key = (same, reversed_, round(sum(d.amount for d in found), 6))
            if near is None or key < near[0]:
                near = (key, found[0], reversed_)
    message = f"{original.words} cannot be repeated {where}: the paper before it is not alike there"
    if near is not None:
        message = f"{message}: {_said(survey, near[1], near[2])}"
    return Refusal(
        "no-symmetry",
        message,
        "repeat before folding what differs, or write the fold out",
        span=span,
    )


def _said(survey: Survey, d: Difference, behind: bool) -> str:
    before, names = survey.original.before, survey.folding.names
    here = locate(before, names, before.where(d.place))
    there = locate(before, names, before.where(d.image))
    if d.kind == "order":
        if behind:
            return f"seen from behind, the layers {there} lie in another order"
        if here == there:
            one, other = apart(before.where(d.place), before.where(d.image))
            return f"the layers {here} {one} lie in another order than those {other}"
        return f"the layers {here} lie in another order than those {there}"
    lies = "is no fold like it" if d.kind == "fold" else "is no cut like it"
    if here == there:
        return f"there is a {d.kind} {here}, and where its partner should be there is none"
    return f"there is a {d.kind} {here}, but {there} there {lies}"


def apart(one: Point, other: Point) -> tuple[str, str]:
    """How two places are told apart that have the same words: by the side on which they lie of each other."""
    across, up = one[0] - other[0], one[1] - other[1]
    if abs(across) >= abs(up):
        sides = ("at the left", "at the right")
        return sides if across < 0 else (sides[1], sides[0])
    sides = ("lower down", "farther up")
    return sides if up < 0 else (sides[1], sides[0])
