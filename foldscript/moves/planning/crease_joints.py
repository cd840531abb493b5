"""Named creases on divided paper: lines of a collapse in, the joints that they are out."""

from __future__ import annotations

from ...geometry.isometries import map_line
from ...geometry.lines import Segment, line_through, midpoint, on_line, point_on_segment
from ...geometry.polygons import clip_segment
from ...paper.refold import Divided, divided, undivided
from ...paper.signs import Sense
from ...paper.state import State
from ...source.diagnostics import Refusal
from .flatness import both_ways
from .named_creases import Wanted
from .request import Request


def divided_along(state: State, wanted: list[Wanted]) -> Divided:
    """Cuts every facet along the creases that lie on it."""
    fine = undivided(state)
    for want in wanted:
        for crease in want.line.creases or ():
            line_on_sheet = line_through(*crease)
            for i in range(len(state.facets)):
                members = [k for k, p in enumerate(fine.parent) if p == i]
                place = state.facets[i].place
                if _lies_on(state, i, crease):
                    fine = divided(fine, map_line(place, line_on_sheet), members)
    return fine


def _lies_on(state: State, facet: int, crease: Segment) -> bool:
    return clip_segment(state.facets[facet].outline, crease) is not None


def named_joints(
    request: Request, state: State, wanted: list[Wanted]
) -> dict[int, tuple[int, Sense | None]]:
    """Joint -> (which of the wanted lines, its sense), of a line that opens those that are folds."""
    found: dict[int, tuple[int, Sense | None]] = {}
    for n, want in enumerate(wanted):
        before = len(found)
        for crease in want.line.creases or ():
            line = line_through(*crease)
            for k, joint in enumerate(state.joints):
                p, q = joint.segment
                if not (on_line(line, p) and on_line(line, q)):
                    continue
                if not point_on_segment(crease, midpoint(p, q)):
                    continue
                if want.sense is None and not joint.folded:
                    continue
                if found.setdefault(k, (n, want.sense))[1] is not want.sense:
                    raise both_ways(request, state, k, wanted[found[k][0]], want, wanted)
        if want.sense is None and len(found) == before:
            raise Refusal(
                "not-a-fold",
                f"{want.line.words.render()} is not folded, so it cannot open",
                "after 'opening' name a fold, or the part of it that opens as 'line P Q'",
                span=want.line.span,
            )
    return found
