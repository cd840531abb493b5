"""Why creases that are named together do not fold flat: the vertex, and what is wrong there.

In: the vertices of the creases and the senses they are to have. Out: a refusal that names the place and
the angle or the fold that is missing.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from ...geometry.lines import Point, distance, line_through, meet, point_on_segment
from ...geometry.tolerance import same_point
from ...paper.signs import OPPOSITE, Sense
from ...paper.state import State
from ...paper.vertices import Vertex, alternate_sum, folds_flat
from ...source.diagnostics import Refusal
from .named_creases import Named, Wanted, will_fold
from .request import Request


def not_flat(
    request: Request,
    state: State,
    vertices: Sequence[Vertex],
    wanted: Sequence[Wanted],
    named: Named,
    flat: Sequence[str],
) -> Refusal:
    """Why the creases do not all fold: the first vertex of those where they do not, and what is wrong there.

    `flat` are lines to leave out.
    """
    leave = [f"or leave out {flat[0]}: the others fold without it"] if len(flat) == 1 else []
    more = len(vertices) - 1
    also = f"; {more} more place{' is' if more == 1 else 's are'} amiss" if more else ""
    for v in vertices:
        rays = [
            (k, a)
            for k, a in zip(v.joints, v.angles, strict=True)
            if will_fold(state, named, k, True)
        ]
        angles = [a for _, a in rays]
        where = _where_they_meet(request, state, v)
        if len(angles) % 2:
            return Refusal(
                "not-flat",
                f"{where}, {len(angles)} creases come together ({_these(state, v, wanted, named)}): "
                f"an odd number cannot fold flat{also}",
                "name one crease more or one less",
                *leave,
                span=request.span,
            )
        if not folds_flat(angles):
            return Refusal(
                "not-flat",
                f"{where}, every other angle sums to {amiss(alternate_sum(angles))}{also}",
                "move one of the creases, or name others",
                *leave,
                span=request.span,
            )
    for v in vertices:
        senses = senses_at(state, v, named)
        valleys, mountains = (senses.count(s) for s in (Sense.VALLEY, Sense.MOUNTAIN))
        if senses and abs(valleys - mountains) != 2:
            half = len(senses) // 2
            return Refusal(
                "not-flat",
                f"{_where_they_meet(request, state, v)}, {mountains} mountains and {valleys} valleys "
                f"come together ({_these(state, v, wanted, named)}): paper folds flat only where these "
                f"numbers differ by two, here {half + 1} of one and {half - 1} of the other{also}",
                "change a mountain to a valley, or the other way round",
                *leave,
                span=request.span,
            )
    return Refusal(
        "not-flat",
        "these mountains and valleys do not fold flat together: "
        "wherever creases meet their numbers must differ by two",
        "change a mountain to a valley, or the other way round",
        *leave,
        span=request.span,
    )


def both_ways(
    request: Request,
    state: State,
    joint: int,
    one: Wanted,
    other: Wanted,
    wanted: Sequence[Wanted],
) -> Refusal:
    """Two lines name one stretch of a crease, the one as a mountain and the other as a valley, or as opening.

    Mostly a point that ends both lies beside the place where another crease crosses.
    """
    first, second = one.line.words.render(), other.line.words.render()
    both = f"{first} and {second} name" if first != second else f"{first} names"
    opens = None in (one.sense, other.sense)
    told = "to fold and to open" if opens else "as a mountain and as a valley"
    mine, its = (dict(want.line.letters) for want in (one, other))
    shared = [name for name in mine if name in its and name in request.points]
    spots = list(_crossings(state, joint, wanted))
    why, hints = "", list[str]()
    if shared and spots:
        at = request.points[shared[0]]
        near = min(spots, key=lambda spot: (round(distance(spot, at), 9), spot))
        if not same_point(near, at):
            away = distance(near, at) * request.unit_mm
            why = (
                f": no crease crosses it at point {shared[0]}, the nearest does {away:.0f} mm from there, "
                f"at {place_on_sheet(request, state, near)}"
            )
            hints.append("end the lines where creases cross")
    return Refusal(
        "both-ways",
        f"{both} one part of a crease {told}{why}",
        *hints,
        "name each part of a line once, after 'mountain', 'valley' or 'opening'",
        span=other.line.span,
    )


def _crossings(state: State, joint: int, wanted: Sequence[Wanted]) -> Iterator[Point]:
    """Where named creases cross or meet the line of a joint, on the sheet."""
    line = line_through(*state.joints[joint].segment)
    for want in wanted:
        for crease in want.line.creases:
            spot = meet(line, line_through(*crease))
            if spot is not None and point_on_segment(crease, spot):
                yield spot


def senses_at(state: State, v: Vertex, named: Named) -> list[Sense]:
    """The senses that the creases around a vertex are to have, as seen on the paper beside the first of them.

    None where some are folded already: they may open, so the others decide nothing.
    """
    found: list[Sense] = []
    first = state.facets[state.joints[v.joints[0]].a].shows_front
    for k in v.joints:
        joint = state.joints[k]
        if joint.folded:
            return []
        sense = named[k][1] if k in named else None
        if sense is not None:
            same_side = state.facets[joint.a].shows_front is first
            found.append(sense if same_side else OPPOSITE[sense])
    return found


def _these(state: State, v: Vertex, wanted: Sequence[Wanted], named: Named) -> str:
    """The creases at a vertex by their names: 'mountain z2 twice, valley line P Q'."""
    rows: dict[str, int] = {}
    for k in v.joints:
        if k in named:
            n, sense = named[k]
            line = wanted[n].line
            way = "opening" if sense is None else sense.value
            words = f"{way} {line.name or line.words.render()}"
            rows[words] = rows.get(words, 0) + 1
        elif state.joints[k].folded:
            rows["folded already"] = rows.get("folded already", 0) + 1
    return ", ".join(f"{words} twice" if n == 2 else words for words, n in rows.items())


def amiss(total: float) -> str:
    """A sum of angles in degrees that is not 180, with as many digits as show it."""
    off = abs(180 - total)
    places = max(1, 1 - math.floor(math.log10(off)))
    which = "are missing" if total < 180 else "too many"
    return f"{total:.{places}f} degrees instead of 180: {off:.{places}f} degrees {which}"


def _where_they_meet(request: Request, state: State, v: Vertex) -> str:
    unit = request.unit_mm
    spot = f"{v.at[0] * unit:.0f} mm, {v.at[1] * unit:.0f} mm on the sheet"
    return f"where the creases meet ({spot}, {request.locate(state.where(v.at))})"


def place_on_sheet(request: Request, state: State, at: Point) -> str:
    """A place on the sheet in words: 'corner A', 'a place 12 mm from corner A'."""
    words = request.locate(state.where(at))
    return words.removeprefix("on ") if words.startswith("on ") else f"a place {words}"
