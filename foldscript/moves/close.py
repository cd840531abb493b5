"""Close: units that are put together are bent at their creases, until they close to a hollow model.

In: a `Request` whose paper is several units, and the creases that one of them bends at; all bend alike. Out:
an `Outcome` whose paper is as it lay, with the signs of what bends and what is raised, and the goal that its
pose is found from: it is computed and proved that every tab comes into a pocket.
"""

from __future__ import annotations

from dataclasses import replace

from ..geometry.lines import Segment, add, midpoint, point_on_segment, subtract
from ..languages.wording import plural
from ..paper.state import State
from ..pose.goals import Close
from ..source.diagnostics import Refusal
from .planning.at_points import places, signed
from .planning.closing_signs import closing_signs
from .planning.fingers import Still
from .planning.request import LineValue, Move, Outcome, Request, Solid


def make(request: Request) -> Outcome:
    """Closes the units."""
    request.allow("along", "and")
    state = request.state
    if not state.sheet.others:
        raise Refusal(
            "close-units",
            "units are closed that have been put together, and here lies one sheet",
            "place the units first, after a line 'assemble'; one sheet is raised: 'raise along k'",
            span=request.span,
        )
    named = places(request, "along")
    creases: list[Segment] = []
    for value in named:
        if not isinstance(value, LineValue) or not value.creases:
            forms = [f"write it like: {form}" for form in request.forms]
            raise Refusal(
                "close-along",
                f"{value.words.render()} is no crease with a name",
                "crease it when the unit is folded, and name it with 'as'",
                *forms,
                span=value.span,
            )
        creases += [alike for crease in value.creases for alike in _of_all(state, crease, value)]
    words = plural(
        "Bend all units up along this crease, and put every tab into the pocket that it comes to.",
        "Bend all units up along these creases, and put every tab into the pocket that it comes to.",
        len(named),
    )
    goal = Close(tuple(sorted(set(creases))))
    done = signed(request, "push", named, words, solid=Solid("it has been closed"))
    return replace(done, signs=closing_signs(state, goal), goals=(goal,))


def _of_all(state: State, crease: Segment, value: LineValue) -> list[Segment]:
    """The same crease on each of the sheets. Raises Refusal where one does not have it."""
    sheets = state.sheet.all
    here = state.sheets[state.facets_on_sheet(midpoint(*crease))[0]]
    home = sheets[here].outline[0]
    found: list[Segment] = []
    for sheet in sheets:
        off = subtract(sheet.outline[0], home)
        there = (add(crease[0], off), add(crease[1], off))
        if not any(
            all(point_on_segment(known, p) for p in (*there, midpoint(*there)))
            for known in state.creases
        ):
            raise Refusal(
                "not-one-kind",
                f"unit {sheet.number} has no crease where {value.words.render()} is, and units that "
                "are closed are all of one kind",
                "fold all units alike: 'sheets 6' in the head of the script",
                span=value.span,
            )
        found.append(there)
    return found


MOVE = Move(
    "close",
    "bend units that are put together, until they close to a hollow model; it is flat no longer",
    ("close along k of unit 1", "close along k of unit 1 and m of unit 1"),
    make,
    flat=False,
    fingers=Still(),
)
