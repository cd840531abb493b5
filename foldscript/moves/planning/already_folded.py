"""Lines of a collapse that are folds already and stay so, though the other way than was said.

In: the paper before the collapse, divided, and the joints that are named. Out: a remark for each such line.
Which way a fold goes is told by its flap, the smaller of the two parts that hang on it: folded over in front
of the rest it is a valley fold, behind it a mountain fold. Where neither part is smaller, or the two hang
together elsewhere too, either word says what the eye sees.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

from ...geometry import polygons
from ...geometry.lines import line_through, on_line
from ...geometry.tolerance import EPS
from ...paper.components import component
from ...paper.signs import OPPOSITE, Sense
from ...paper.state import State
from .named_creases import Named, Wanted
from .request import Remark


def folded_the_other_way(
    state: State, wanted: list[Wanted], named: Named, done: Collection[int]
) -> Iterator[Remark]:
    """A remark for each line with a fold that stays what it is, where the other of the two was said."""
    told: set[int] = set()
    for k in sorted(done):
        n, sense = named[k]
        if n in told or sense is None or _seen(state, k) is not OPPOSITE[sense]:
            continue
        told.add(n)
        line = wanted[n].line
        name = f"'{line.name}'" if line.name else line.words.render()
        seen = OPPOSITE[sense].value
        yield Remark(
            "folded-the-other-way",
            f"{name} is folded already, as a {seen} fold, and stays so: a collapse turns no fold round",
            (f"say '{seen}' of it, or leave it out", "or unfold it first"),
        )


def _seen(state: State, k: int) -> Sense | None:
    """Which way a joint is folded, as the eye sees it; None where it is flat, or that is open."""
    joint = state.joints[k]
    if not joint.folded:
        return None
    line = line_through(*joint.segment)
    along = [
        m for m, other in enumerate(state.joints) if all(on_line(line, p) for p in other.segment)
    ]
    one, other = (component(state, [i], along) for i in (joint.a, joint.b))
    if one & other:
        return None
    sizes = [sum(polygons.area(state.facets[i].outline) for i in part) for part in (one, other)]
    if abs(sizes[0] - sizes[1]) <= EPS:
        return None
    flap, rest = (joint.a, joint.b) if sizes[0] < sizes[1] else (joint.b, joint.a)
    return Sense.VALLEY if state.above(flap, rest) else Sense.MOUNTAIN
