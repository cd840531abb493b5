"""Why creases that are named together do not fold flat: the vertex, and what is wrong there.

In: the vertices of the creases and the senses they are to have. Out: a refusal that names the place and
the angle or the fold that is missing.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence

from ...paper.signs import Sense
from ...paper.state import State
from ...paper.vertices import Vertex, alternate_sum, folds_flat
from ...source.diagnostics import Refusal
from .request import Request


def not_flat(
    request: Request,
    state: State,
    vertices: Sequence[Vertex],
    senses: Mapping[int, Sense],
    opening: Collection[int],
    flat: Sequence[str],
) -> Refusal:
    """Why the creases do not all fold: the vertex, and what is wrong there.

    `senses` are of the joints to fold, `opening` those to open; `flat` are lines to leave out.
    """
    leave = [f"or leave out {flat[0]}: the others fold without it"] if len(flat) == 1 else []
    for v in vertices:
        rays = [
            (k, a)
            for k, a in zip(v.joints, v.angles, strict=True)
            if k in senses or (state.joints[k].folded and k not in opening)
        ]
        angles = [a for _, a in rays]
        where = _where_they_meet(request, state, v)
        if len(angles) % 2:
            return Refusal(
                "not-flat",
                f"{where}, {len(angles)} creases come together: an odd number cannot fold flat",
                "name one crease more or one less",
                *leave,
                span=request.span,
            )
        if not folds_flat(angles):
            return Refusal(
                "not-flat",
                f"{where}, every other angle sums to {amiss(alternate_sum(angles))}",
                "move one of the creases, or name others",
                *leave,
                span=request.span,
            )
    for v in vertices:
        given = [senses[k] for k in v.joints if k in senses]
        valleys = sum(sense is Sense.VALLEY for sense in given)
        mountains = len(given) - valleys
        if len(given) == len(v.joints) and abs(valleys - mountains) != 2:
            return Refusal(
                "not-flat",
                f"{_where_they_meet(request, state, v)}, {mountains} mountains and {valleys} valleys "
                "come together: paper folds flat only where these numbers differ by two",
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
