"""Drawings that are kept, to be taken again where the very same is to be drawn.

In: what stands for all that a drawing depends on, and a way to make it. Out: its `Sketch`, made only once.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from typing import Protocol

from .scene.groups import Sketch


class Begun(Protocol):
    """Drawings that are being made beside this process; None stands for those that were not."""

    def finished(self) -> Sequence[Sketch | None]:
        """All of them, this process drawing, too."""
        ...

    def stopped(self) -> Sequence[Sketch | None]:
        """Those that were begun."""
        ...

    def cancel(self) -> None:
        """They are not wanted any more."""
        ...


#: Begins drawings beside this process, the first ones first; None where there is no help.
Help = Callable[[Sequence[Callable[[], Sketch]]], Begun | None]


class DrawingCache:
    """Drawings to be taken again where the very same is to be drawn.

    `turn` ends a round: what has not been used since the one before is dropped. In a hurry only some
    places are `wanted`: any other that had a drawing before keeps it, though another belongs there now;
    `behind` tells that this has happened. A place is that of a figure in the row, or the name of another
    drawing, 'finished' or 'portrait'. Where there is `help`, what is not kept may be drawn beside this
    process.
    """

    def __init__(self) -> None:
        self.help: Help | None = None
        self.wanted: Collection[int | str] | None = None  # None for all
        self.behind = False
        self._before: list[tuple[object, Sketch]] = []
        self._now: list[tuple[object, Sketch]] = []
        self._places: dict[tuple[int | str, tuple[float, ...]], Sketch] = {}

    def turn(self) -> None:
        """Begins a new round, without hurry."""
        self._before, self._now = self._now, []
        self.wanted, self.behind = None, False

    def sketch(
        self, place: int | str, what: object, make: Callable[[], Sketch], frame: tuple[float, ...]
    ) -> Sketch:
        """The drawing of `what`, which holds everything that it depends on, for a place.

        A drawing for another `frame` never stands in for one that is not wanted now.
        """
        sketch = self.known(what)
        if sketch is None:
            waits = self.wanted is not None and place not in self.wanted
            if waits and (place, frame) in self._places:
                self.behind = True
                return self._places[place, frame]
            sketch = self.made(what, make)
        self._places[place, frame] = sketch
        return sketch

    def made(self, what: object, make: Callable[[], Sketch]) -> Sketch:
        """The drawing of `what`, made where it is not kept."""
        sketch = self.known(what)
        if sketch is None:
            sketch = make()
            self.keep(what, sketch)
        return sketch

    def keep(self, what: object, sketch: Sketch) -> None:
        """Keeps a drawing of `what`."""
        self._now.append((what, sketch))

    def known(self, what: object) -> Sketch | None:
        """The drawing of `what`, if it is kept."""
        for known in (self._now, self._before):
            for one in known:
                if one[0] == what:
                    if known is self._before:
                        self._now.append(one)
                    return one[1]
        return None
