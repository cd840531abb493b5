"""A figure while it is being drawn: items in groups, one for each sign, so that they can be compared.

In: paths and texts. Out: the same in painting order, and the keys of the signs used.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from .outlines import Box, item_box, shifted, union_box
from .scene import Path, Text

Item = Path | Text

#: Kinds of groups that show the paper itself.
PAPER = ("paper", "crease", "edge")


@dataclass(frozen=True)
class Group:
    """Items that make up one sign, line or part of the paper.

    kind : 'paper', 'crease', 'edge', 'fold', 'arrow', 'ring', 'mark', 'point', 'label', 'repeat',
        'turn', 'scale', 'inset', 'circled' (the ring about what a detail view shows), 'leader', 'halo' (what
        is cleared for a letter) or 'mouth' (an edge drawn open)
    """

    kind: str
    items: tuple[Item, ...]

    @property
    def box(self) -> Box | None:
        """Box around it."""
        return union_box(item_box(i) for i in self.items)


@dataclass
class Sketch:
    """Groups in painting order, the keys of the signs used, and how far everything has been moved."""

    groups: list[Group] = field(default_factory=list)
    signs: set[str] = field(default_factory=set)
    moved: tuple[float, float] = (0.0, 0.0)

    def add(self, kind: str, items: Iterable[Item], *signs: str) -> None:
        """One more group; nothing when there are no items."""
        found = tuple(items)
        if found:
            self.groups.append(Group(kind, found))
            self.signs.update(signs)

    @property
    def items(self) -> tuple[Item, ...]:
        """Everything in painting order."""
        return tuple(item for group in self.groups for item in group.items)

    @property
    def box(self) -> Box | None:
        """Box around everything."""
        return union_box(group.box for group in self.groups)

    def shift(self, dx: float, dy: float) -> None:
        """Moves everything over the page."""
        self.groups = [moved(group, dx, dy) for group in self.groups]
        self.moved = (self.moved[0] + dx, self.moved[1] + dy)


def moved(group: Group, dx: float, dy: float) -> Group:
    """A group at another place."""
    return replace(group, items=tuple(shifted(i, dx, dy) for i in group.items))
