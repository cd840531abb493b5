"""Figures that are asked for, and those of them that are drawn beside each other, in several processes.

In: panels and how they lie, and drawings that are kept. Out: a `Sketch` for each and what stands for all that
it depends on, so that it is taken again where the very same is asked for. What is drawn beside is only
drawn earlier: what has failed there is drawn again where it belongs, and fails there.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from functools import partial

from ..folding.steps import Model, Panel
from ..paper.signs import Angle, Measure
from ..pose.halfway import Halfway
from .figure import compose, half_way
from .framing.framing import Framing
from .kept import Begun, DrawingCache, Help
from .scene.groups import Sketch
from .style.styles import Style

#: About what figures take, in thousandths of a second: each, and more for each facet.
_FIGURE, _FACET = 6.0, 0.4
#: Less than so much is sooner drawn than divided.
_WORTH = 200.0


@dataclass(frozen=True)
class Asked:
    """A figure, and the step half way in its place, if that is shown, too."""

    panel: Panel
    framing: Framing
    half: Halfway | None = None

    def key(self, model: Model, style: Style) -> object:
        """All that the figure depends on."""
        written = any(isinstance(sign, Measure | Angle) for sign in self.panel.signs)
        mark = model.speech.decimal_mark if written else ""
        colours = (model.front_colour, model.back_colour)
        return ("figure", self.panel, self.framing, *colours, style, mark)

    def half_key(self, model: Model, style: Style, figure: Sketch) -> object:
        """All that the step half way depends on, in the place of its figure."""
        colours = (model.front_colour, model.back_colour)
        sheet = self.panel.state.sheet
        return ("half", self.half, self.framing, figure.moved, sheet, colours, style)

    def figure(self, model: Model, style: Style) -> Sketch:
        """The figure, drawn."""
        return compose(model, self.panel, self.framing, style)

    def half_drawn(self, model: Model, style: Style, figure: Sketch) -> Sketch:
        """The step half way, drawn in the place of its figure."""
        assert self.half is not None
        return half_way(model, self.half, self.panel, self.framing, figure.moved, style)

    @property
    def in_space(self) -> bool:
        """Whether paper that does not lie flat is shown."""
        return self.panel.pose is not None or self.half is not None


def is_worth_dividing(panels: Iterable[Panel]) -> bool:
    """Whether flat figures take so long that it pays to draw them in several processes."""
    return sum(_FIGURE + _FACET * len(panel.state.facets) for panel in panels) >= _WORTH


def draw_beside(
    some: Iterable[Asked], model: Model, style: Style, kept: DrawingCache | None
) -> None:
    """Draws those that are not kept, with help, and keeps them. Does nothing where there is none."""
    if kept is None or kept.help is None:
        return
    new = _Round(some, model, style, kept)
    begun = new.begun(kept.help)
    if begun is None:
        return
    try:
        new.draw_in_space()
        new.keep(begun.finished())
    finally:
        begun.cancel()


@contextmanager
def drawn_meanwhile(
    some: Iterable[Asked], model: Model, style: Style, kept: DrawingCache
) -> Iterator[None]:
    """What helpers can draw while something else is done, they draw and keep."""
    new = _Round(some, model, style, kept)
    begun = None if kept.help is None else new.begun(kept.help)
    if begun is None:
        yield
        return
    try:
        yield
        new.keep(begun.stopped())
    finally:
        begun.cancel()


class _Round:
    """Figures that are drawn beside each other: those that are not kept, the ones with most work first.

    Those in space are drawn by this process: most of their work is to find what is seen of a pose, which is
    remembered for other sizes.
    """

    def __init__(
        self, some: Iterable[Asked], model: Model, style: Style, kept: DrawingCache
    ) -> None:
        self._model, self._style, self._kept = model, style, kept
        some = list(some)
        self._in_space = [one for one in some if one.in_space]
        flat = (
            one for one in some if not one.in_space and kept.known(one.key(model, style)) is None
        )
        self._flat = sorted(flat, key=lambda one: -len(one.panel.state.facets))

    def begun(self, help: Help) -> Begun | None:
        """What helpers have begun; None where that is not worth it, or not to be had."""
        if not is_worth_dividing(one.panel for one in self._flat):
            return None
        return help([partial(one.figure, self._model, self._style) for one in self._flat])

    def draw_in_space(self) -> None:
        """Draws those in space here."""
        model, style, kept = self._model, self._style, self._kept
        for one in self._in_space:
            with suppress(Exception):  # where it is drawn again, it is told what is wrong
                figure = kept.made(one.key(model, style), partial(one.figure, model, style))
                if one.half is not None:
                    half = partial(one.half_drawn, model, style, figure)
                    kept.made(one.half_key(model, style, figure), half)

    def keep(self, found: Sequence[Sketch | None]) -> None:
        """Keeps what was drawn."""
        for one, sketch in zip(self._flat, found, strict=True):
            if sketch is not None:
                self._kept.keep(one.key(self._model, self._style), sketch)
