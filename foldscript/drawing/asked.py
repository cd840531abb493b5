"""Figures that are asked for, and those of them that are drawn beside each other, in several processes.

In: panels and how they lie, and drawings that are kept. Out: a `Sketch` for each and what stands for all that
it depends on, so that it is taken again where the very same is asked for. What is drawn beside is only
drawn earlier: what has failed there is drawn again where it belongs, and fails there.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
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

#: About what figures take, in thousandths of a second: each, and more for each facet and each piece in space.
_FIGURE, _FACET, _PIECE = 6.0, 0.4, 1.5
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
    def _work(self) -> float:
        """About what it takes."""
        pose = self.panel.pose
        return _FIGURE + (
            _FACET * len(self.panel.state.facets) if pose is None else _PIECE * len(pose.pieces)
        )

    def _drawn(self, model: Model, style: Style, figure: Sketch | None) -> tuple[Sketch, ...]:
        ink = self.figure(model, style) if figure is None else figure
        return (ink,) if self.half is None else (ink, self.half_drawn(model, style, ink))


def draw_beside(
    some: Iterable[Asked], model: Model, style: Style, kept: DrawingCache | None
) -> None:
    """Draws those that are not kept, with help, and keeps them. Does nothing where there is none."""
    if kept is None or kept.help is None:
        return
    new = _Round(some, model, style, kept)
    begun = new.begun(kept.help)
    if begun is not None:
        new.keep(begun.finished())


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
    """Figures that are drawn beside each other: those that are not kept, the ones with most work first."""

    def __init__(
        self, some: Iterable[Asked], model: Model, style: Style, kept: DrawingCache
    ) -> None:
        self._model, self._style, self._kept = model, style, kept
        new: list[tuple[Asked, Sketch | None]] = []
        for one in some:
            figure = kept.known(one.key(model, style))
            if figure is None or (
                one.half is not None and kept.known(one.half_key(model, style, figure)) is None
            ):
                new.append((one, figure))
        self._new = sorted(new, key=lambda pair: -pair[0]._work)

    def begun(self, help: Help) -> Begun | None:
        """What helpers have begun; None where that is not worth it, or not to be had."""
        if sum(one._work for one, _ in self._new) < _WORTH:
            return None
        return help(
            [partial(one._drawn, self._model, self._style, figure) for one, figure in self._new]
        )

    def keep(self, found: Sequence[tuple[Sketch, ...] | None]) -> None:
        """Keeps what was drawn."""
        for (one, figure), sketches in zip(self._new, found, strict=True):
            if sketches is None:
                continue
            ink = sketches[0] if figure is None else figure
            if figure is None:
                self._kept.keep(one.key(self._model, self._style), ink)
            for half in sketches[1:]:
                self._kept.keep(one.half_key(self._model, self._style, ink), half)
