"""What belongs to one point and moves no flat paper: push, hold, inflate, curl, shape.

In: the signs of a `MoveRecord`. Out: sentences that say where, by touch. The sentence of a kind of sign
stands in its file (`drawing/signs/`).
"""

from __future__ import annotations

from ..drawing.signs.glyph import ArrowGlyph, PointGlyph
from ..drawing.signs.registry import glyph_for
from ..folding.steps import MoveRecord
from ..geometry.lines import distance, subtract
from ..languages.wording import Phrase, listed, phrase
from ..paper.signs import Arrow, PointSign
from .description import StateDescription
from .directions import way
from .outline import CLOSE
from .places import place
from .stacks import depth_of


def spots(lie: StateDescription, record: MoveRecord) -> tuple[Phrase, ...]:
    """A sentence a kind of sign; () where the move leaves none that has one."""
    found: list[Phrase] = []
    found += _brought(lie, record)
    points = [s for s in record.signs if isinstance(s, PointSign)]
    slits = [s for s in points if s.slit]
    if not slits and any(s.kind == "open-out" for s in points):
        wings = _pulled_apart(lie)
        if wings is not None:
            return (wings,)
    told: dict[PointGlyph, list[PointSign]] = {}
    for sign in slits or points:
        glyph = glyph_for(sign, PointGlyph, record.signs)
        if glyph.fingers:
            told.setdefault(glyph, []).append(sign)
    for glyph, here in told.items():
        where = listed([place(lie, s.at).words for s in here])
        found.append(phrase(glyph.fingers, where=where))
        toward = next((s.toward for s in here if s.toward is not None), None)
        if toward is not None and glyph.aimed:
            x0, y0, x1, y1 = lie.bounds
            if x0 - CLOSE < toward[0] < x1 + CLOSE and y0 - CLOSE < toward[1] < y1 + CLOSE:
                found.append(phrase("Go toward {where}.", where=place(lie, toward).words))
            else:  # beside the paper, where nothing tells the place
                there = subtract(toward, here[0].at)
                found.append(phrase("Move your hand {way}.", way=way(there)))
    return tuple(found)


def _brought(lie: StateDescription, record: MoveRecord) -> list[Phrase]:
    """Points that are brought somewhere while the model is shaped, each place once.

    Of paper that is laid down flat again, the paper itself tells.
    """
    if record.before is not record.after:
        return []
    told: dict[ArrowGlyph, list[Arrow]] = {}
    for sign in record.signs:
        if isinstance(sign, Arrow):
            glyph = glyph_for(sign, ArrowGlyph)
            if glyph.fingers:
                told.setdefault(glyph, []).append(sign)
    return [
        phrase(
            glyph.fingers,
            where=listed([place(lie, s.tail).words for s in arrows]),
            goal=place(lie, arrows[0].head).words,
        )
        for glyph, arrows in told.items()
    ]


def _pulled_apart(lie: StateDescription) -> Phrase | None:
    """The flap on top and the one underneath that end in one tip, and are drawn apart to open a model."""
    sheet = lie.state.sheet
    depths = {name: depth_of(lie.state, sheet.corner(name)) for name, _ in lie.corners}
    for one, at in lie.corners:
        for two, spot in lie.corners:
            if one == two or distance(at, spot) > CLOSE or lie.outline.corner_at(at) is None:
                continue
            if (
                depths[one].over == 0 < depths[one].under
                and depths[two].under == 0 < depths[two].over
            ):
                return phrase(
                    "Shape the model: at {where} take the flap on top, which ends in corner {one} of the "
                    "sheet, in one hand and the flap underneath, which ends in corner {two}, in the other. "
                    "Draw them gently apart, so that they stand out to both sides and the paper between "
                    "them opens and becomes round. The model is no longer flat.",
                    where=place(lie, at).words,
                    one=one,
                    two=two,
                )
    return None
