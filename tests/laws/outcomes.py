"""What came of a script, and whether the outcome of an image is the image of the outcome.

In: statements, folded step by step. Out: the states, or the code of the refusal and the statement that
was refused. Two states are compared by what lies where: points of the sheet, the stacks of layers over
them, and creases, all looked up in both states and carried from one to the other by the motion that
made the image.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from foldscript.folding.fold import fold
from foldscript.folding.resuming import FoldingCache
from foldscript.geometry.isometries import inverse
from foldscript.geometry.lines import Segment
from foldscript.geometry.polygons import centroid, depth
from foldscript.moves.registry import verbs
from foldscript.paper.state import State
from foldscript.source.diagnostics import FoldscriptError, Source
from foldscript.syntax.parser import parse

from ..scripts import script
from .images import AS_IT_IS, SQUARE, Image, Motion, Place, Sheet, image_of

#: Places that differ by less are the same; a place so near an edge belongs to no one layer (sheet units).
_SAME, _NEAR_AN_EDGE = 1e-6, 1e-5


@dataclass(frozen=True)
class Outcome:
    """States after each statement, and the code of what was refused after them; '' when nothing was.

    What escapes the folding is told as 'crashed: ...', so that a search goes on after it.
    """

    states: tuple[State, ...]
    refused: str


def script_of(statements: Sequence[str], sheet: str) -> str:
    """The script of these statements; where units are put together, of three of them."""
    if ASSEMBLE not in statements:
        return script(*statements, sheet=sheet)
    k = list(statements).index(ASSEMBLE)
    unit, whole = script(*statements[:k], sheet=sheet), script(*statements[k + 1 :], sheet="")
    return f"sheets 3\n{unit}{ASSEMBLE}\n{whole}"


#: What the last script on each sheet has left behind: scripts grow by a statement at a time.
_MEMORIES: dict[str, FoldingCache] = {}


#: The line after which folded units are put together, among statements.
ASSEMBLE = "assemble"


def outcome(statements: Sequence[str], sheet: str, memory: FoldingCache | None = None) -> Outcome:
    """Folds statements, a step each; what the last script on this sheet began with is not folded again."""
    if memory is None:
        memory = _MEMORIES.setdefault(sheet, FoldingCache())
    text = script_of(statements, sheet)
    try:
        model = fold(parse(Source("test.foldscript", text), verbs()), memory=memory)
        return Outcome(tuple(step.after for step in model.steps), "")
    except FoldscriptError as error:
        return Outcome((), error.diagnostics[0].code)
    except Exception as error:
        return Outcome((), f"crashed: {error!r}")


def parted(one: Outcome, other: Outcome) -> str:
    """How one of them was refused otherwise, or crashed; '' where neither."""
    crashed = any(each.refused.startswith("crashed") for each in (one, other))
    return (
        f"'{one.refused}' and '{other.refused}'" if crashed or one.refused != other.refused else ""
    )


def broken(statements: Sequence[str], image: Image, sheet: Sheet = SQUARE) -> str:
    """How the outcome of an image differs from the image of the outcome; '' where it does not."""
    plain = outcome(statements, sheet.line(AS_IT_IS))
    said = image_of(statements, image)
    carried = outcome(said, sheet.line(image))
    fault = parted(plain, carried) or differing(plain, carried, sheet.motion(image), image.over)
    return told(fault, statements, said, f"{image.name}: ", sheet.line(image)) if fault else ""


@dataclass(frozen=True)
class OnEachSheet:
    """Carries places of sheets that are put together: open, they lie side by side, from `homes` on."""

    motion: Motion
    homes: tuple[float, ...]
    images: tuple[float, ...]

    def __call__(self, p: Place) -> Place:
        k = sum(p[0] > home - _SAME for home in self.homes) - 1
        x, y = self.motion((p[0] - self.homes[k], p[1]))
        return x + self.images[k], y

    @property
    def undone(self) -> OnEachSheet:
        return OnEachSheet(self.motion.undone, self.images, self.homes)


def homes(state: State) -> tuple[float, ...]:
    """Where the corner of each sheet would be that lies at (0, 0) when it is alone: a unit off the last."""
    ends = [max(x for x, _ in sheet.outline) for sheet in state.sheet.all]
    return (0.0, *(end + 1.0 for end in ends[:-1]))


def differing(plain: Outcome, carried: Outcome, motion: Motion, over: bool) -> str:
    """The first state that differs, and how; '' where none does."""
    for k, (one, other) in enumerate(zip(plain.states, carried.states, strict=True), start=1):
        on_sheet = OnEachSheet(motion, homes(one), homes(other)) if one.sheet.others else motion
        if fault := unlike(one, other, motion, over, on_sheet):
            return f"state {k}: {fault}"
    return ""


def unlike(
    one: State,
    other: State,
    motion: Motion,
    over: bool,
    on_sheet: Motion | OnEachSheet | None = None,
) -> str:
    """What differs between the image of a state and another state; '' when nothing does.

    `motion` carries what lies folded, `on_sheet` places of the sheet; left out, they are carried alike.
    """
    on_sheet = on_sheet or motion
    back, sheet_back = motion.undone, on_sheet.undone
    return (
        _unlike(one, other, motion, on_sheet, over)
        or _unlike(other, one, back, sheet_back, over)
        or _creases_unlike(one, other, on_sheet)
        or _creases_unlike(other, one, sheet_back)
    )


_OnSheet = Motion | OnEachSheet


def _unlike(one: State, other: State, motion: Motion, on_sheet: _OnSheet, over: bool) -> str:
    """Every facet of one state looked up in the other, with what lies over and under it."""
    for facet in one.facets:
        p = centroid(facet.outline)
        spot = facet.place(p)
        if not other.facets_on_sheet(on_sheet(p)):
            return f"the place {_shown(p)} of the sheet has been cut off in one of them"
        if not _same(motion(spot), other.where(on_sheet(p))):
            return f"the place {_shown(p)} of the sheet lies elsewhere"
        stack, image = layers(one, spot), layers(other, motion(spot))
        if stack is None or image is None:
            continue
        wanted = [on_sheet(q) for q in (reversed(stack) if over else stack)]
        if len(wanted) != len(image) or not all(map(_same, wanted, image)):
            return f"the layers over {_shown(p)} differ"
    return ""


def layers(state: State, spot: Place) -> list[Place] | None:
    """Places of the sheet that lie at a spot, topmost first; None at an edge, where this is not sure."""
    depths = [depth(outline, spot) for outline in state.placed]
    if any(abs(d) < _NEAR_AN_EDGE for d in depths):
        return None
    there = state.top_down(i for i, d in enumerate(depths) if d > 0)
    return [inverse(state.facets[i].place)(spot) for i in there]


def _creases_unlike(one: State, other: State, motion: _OnSheet) -> str:
    """Middles of creases that lie flat, looked up among the creases and folds of the other state."""
    lines = [*other.creases, *(joint.segment for joint in other.joints)]
    for p, q in one.creases:
        middle = motion(((p[0] + q[0]) / 2, (p[1] + q[1]) / 2))
        if not any(_on(segment, middle) for segment in lines):
            return f"a crease at {_shown(middle)} is missing"
    return ""


def _on(segment: Segment, p: Place) -> bool:
    (ax, ay), (bx, by) = segment
    along = ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5
    off = abs((bx - ax) * (p[1] - ay) - (by - ay) * (p[0] - ax)) / along
    t = ((bx - ax) * (p[0] - ax) + (by - ay) * (p[1] - ay)) / along
    return off < _SAME and -_SAME < t < along + _SAME


def _same(p: Place, q: Place) -> bool:
    return abs(p[0] - q[0]) < _SAME and abs(p[1] - q[1]) < _SAME


def _shown(p: Place) -> str:
    return f"{p[0]:.3f} {p[1]:.3f}"


def told(fault: str, statements: Iterable[str], said: Iterable[str], name: str, sheet: str) -> str:
    """A fault with both scripts side by side."""
    both = "\n".join(f"  {a:60} | {b}" for a, b in zip(statements, said, strict=True))
    return f"{name}{fault}\n{sheet}{both}"
