"""The row of a model's figures: what is drawn, how large, and the signs that stand between figures.

In: a folded `Model`. Out: its figures as planned, a `Framing` or a scale for each and for the finished model
after them. Signs that turn the whole model stand in the figures' frames, or, where there is a gutter between
frames, are left to the page: then each is a scene of its own, and figures keep room for it beside them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property
from itertools import pairwise

from ..folding.ending import Ending, ending
from ..folding.steps import Model, Panel
from ..geometry.remembered import remembered
from ..paper.signs import PointSign
from ..pose.halfway import Halfway
from .framing.framing import Framing, Outlined, chosen_views, framings, outlined
from .plan import Planned, Turn, planned
from .scene.scene import Scene
from .signs.glyph import TurnGlyph
from .signs.registry import glyph_for
from .style.styles import Style

#: How far a sign between two figures keeps off either (points).
BESIDE = 3.0


class Row:
    """The figures of a model, and the finished model after them; each part has a scale of its own.

    `gutter` is the space between frames in which the page places the signs between figures; None where
    they stand in the frames.
    """

    def __init__(self, model: Model, gutter: float | None = None) -> None:
        self.model = model
        self.gutter = gutter
        self.turned = planned(model)
        self.figures = self.turned if gutter is None else _all_still(model)
        self.last = Panel(model.finished, (), pose=model.standing, finished=True)

    @property
    def ends_finished(self) -> bool:
        """Whether the last figure shows the finished model, and only tells what to do with it.

        A model that is opened out or curled at the end is not drawn so; then it does not.
        """
        if not self.figures or ending(self.model) not in (Ending.FLAT, Ending.STANDING):
            return False
        panel = self.figures[-1].panel
        same = panel.state is self.last.state and panel.pose is self.last.pose
        turned = any(_turns(self.turned[-1].panel)) or self.figures[-1].folded in self.model.halves
        return same and not turned and all(isinstance(sign, PointSign) for sign in panel.signs)

    def framings(self, style: Style, frame: tuple[float, float]) -> list[Framing]:
        """Of every figure, and of the finished model after them."""
        return [one for part in self._parts for one in framings(part, style, frame)]

    def scales(self, frame: tuple[float, float]) -> tuple[float, ...]:
        """How large each is drawn in a frame, in points a sheet unit; half way as large as its own figure."""
        out = [view.scale for part in self._parts for view in chosen_views(part, frame)]
        for number in reversed(self._halves):
            out.insert(number, out[number])
        return tuple(out)

    def turns(self, number: int, style: Style) -> tuple[tuple[Scene, ...], tuple[Scene, ...]]:
        """The signs that the page places before and after a figure."""
        if self.gutter is None:
            return (), ()
        before, after = _turns(self.turned[number].panel)
        return (
            tuple(self._scene(sign, style) for sign in before),
            tuple(self._scene(sign, style) for sign in after),
        )

    def _scene(self, sign: Turn, style: Style) -> Scene:
        glyph = glyph_for(sign, TurnGlyph)
        wide, high = glyph.size
        items = tuple(glyph.draw(sign, (wide / 2, high / 2), style))
        name = self.model.speech(glyph.name)
        used = frozenset({glyph.key})
        return Scene(wide, high, items, name, name, self.model.language, used)

    def half_of(self, one: Planned) -> Halfway | None:
        """The step half way that is shown after a figure."""
        return None if one.finished or not one.ends else self.model.halves.get(one.folded)

    @cached_property
    def _halves(self) -> list[int]:
        return [k for k, one in enumerate(self.figures) if self.half_of(one) is not None]

    @property
    def _parts(self) -> list[list[Outlined]]:
        known = _outlines(self.model)
        if self.gutter not in known:
            known[self.gutter] = self._outlined()
        return known[self.gutter]

    def _outlined(self) -> list[list[Outlined]]:
        """The figures of each part, and the finished model after the last."""
        panels: list[list[Panel]] = [[]]
        begun = {part.first for part in self.model.parts[1:]}
        for one in self.figures:
            if one.begins and one.first in begun:
                panels.append([])
            panels[-1].append(one.panel)
        panels[-1].append(self.last)
        turns = [_turns(one.panel) for one in self.turned]
        beside = [[*here[0], *here[1], *then[0]] for here, then in pairwise([*turns, ((), ())])]
        rooms = [*map(self._beside, beside), 0.0]
        anew = [bool(here[0] or last[1]) for last, here in pairwise([((), ()), *turns, ((), ())])]
        out: list[list[Outlined]] = []
        for part in panels:
            out.append(outlined(part, rooms[: len(part)], anew[: len(part)]))
            del rooms[: len(part)], anew[: len(part)]
        return out

    def _beside(self, signs: Sequence[Turn]) -> float:
        """Width that a figure leaves to the signs between it and its neighbours, beyond the gutter."""
        if self.gutter is None:
            return 0.0
        wide = [glyph_for(sign, TurnGlyph).size[0] for sign in signs]
        return max((w + 2 * BESIDE - self.gutter for w in wide), default=0.0)


def _turns(panel: Panel) -> tuple[list[Turn], list[Turn]]:
    """Signs between figures: those before this one, those after it."""
    before = [s for s in panel.before_turns if isinstance(s, Turn)]
    return before, [s for s in (*panel.signs, *panel.after_turns) if isinstance(s, Turn)]


@remembered
def _all_still(model: Model) -> tuple[Planned, ...]:
    return tuple(_still(one) for one in planned(model))


@remembered
def _outlines(_: Model) -> dict[float | None, list[list[Outlined]]]:
    """The figures of each part of a model, by the space between their frames."""
    return {}


def _still(one: Planned) -> Planned:
    """A figure without the signs between it and its neighbours."""
    if not any(_turns(one.panel)):
        return one
    signs = tuple(sign for sign in one.panel.signs if not isinstance(sign, Turn))
    panel = replace(one.panel, signs=signs, before_turns=(), after_turns=())
    return replace(one, panel=panel)
