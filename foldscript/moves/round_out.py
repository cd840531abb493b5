"""Round out: layers are pinched together along two lines, and what is between them is rounded to both sides.

In: a `Request` with two lines, and how wide it becomes. Out: an `Outcome` whose paper is as it lay, with a
push at each line, and the goal that a pose is found from.
"""

from __future__ import annotations

from dataclasses import replace

from ..geometry import polygons
from ..geometry.isometries import map_segment
from ..geometry.lines import Segment, midpoint, on_line
from ..languages.wording import Number, phrase
from ..paper.state import State
from ..pose.goals import Round
from ..pose.lens import gentle, widest
from ..pose.rounding import body_of
from ..source.diagnostics import Hint, Refusal
from .planning.at_points import listed, places, pushed, spot_of
from .planning.claims import NothingMoves
from .planning.fingers import Still
from .planning.pockets import slipped_into
from .planning.request import LineValue, Move, Outcome, Request, Solid
from .planning.standing_up import amount, how


def make(request: Request) -> Outcome:
    """Rounds what is between two lines."""
    request.allow("between", "and", "by", "opening")
    one, other = _lines(request)
    state, unit_mm = request.state, request.unit_mm
    pockets = slipped_into(request)
    goal = Round(
        _on_sheet(state, one),
        _on_sheet(state, other),
        0.0,
        pockets[0][1] if pockets else None,
    )
    body = body_of(state, goal)
    reach = body.reach(state)
    width = amount(request, "by", "mm")
    most = widest(body.one, body.other, body.inside, reach) * unit_mm
    if width is None:
        width = gentle(body.one, body.other, body.inside, reach) * unit_mm
    elif width > most:
        raise Refusal(
            "round-too-wide",
            f"the paper goes round to {most / 10:.1f} cm there: then it is half round on both sides",
            Hint(f"say 'by {int(most) / 10:g} cm' or less"),
            span=request.span,
        )
    spots = spot_of(one), spot_of(other)
    words = phrase(
        "Pinch the layers together at {what}. Round them between your fingers in between, until they stand "
        "{width} mm apart.",
        what=listed([one, other]),
        width=Number(f"{width:.0f}"),
    )
    return Outcome(
        state,
        (pushed(spots[0], spots[1]), pushed(spots[1], spots[0])),
        words,
        letters=(*one.letters, *other.letters),
        solid=Solid("it was rounded"),
        claims=(NothingMoves(),),
        goals=() if state.sheet.others else (replace(goal, width=width),),
    )


def _lines(request: Request) -> tuple[LineValue, LineValue]:
    named = places(request, "between")
    lines = [value for value in named if isinstance(value, LineValue)]
    if len(named) != 2 or len(lines) != 2:
        raise how(
            request, "round-lines", "paper is rounded between two lines: creases, folds, edges"
        )
    return lines[0], lines[1]


def _on_sheet(state: State, line: LineValue) -> tuple[Segment, ...]:
    """What lies on a line: the named crease's own segments, else creases, folds and free edges along it."""
    if line.creases:
        return line.creases
    found = [
        side
        for facet in state.facets
        for side in polygons.edges(facet.outline)
        if all(on_line(line.line, p) for p in map_segment(facet.place, side))
    ]
    found += [
        crease
        for crease in state.creases
        for k in state.facets_on_sheet(midpoint(*crease))[:1]
        if all(on_line(line.line, p) for p in map_segment(state.facets[k].place, crease))
    ]
    if not found:
        raise Refusal(
            "no-crease",
            f"there is no fold, crease or edge along {line.words.render()} to pinch the paper at",
            "crease it there first, through all layers, and name the crease with 'as'",
            span=line.span,
        )
    return tuple(sorted(set(found)))


MOVE = Move(
    "round out",
    "pinch layers together along two lines, and round what is between them; the model stands in space",
    (
        "round out between k and the bottom edge",
        "round out between k and the bottom edge by 3 cm",
        "round out between k and m by 3 cm, opening P",
    ),
    make,
    flat=False,
    fingers=Still(),
)
