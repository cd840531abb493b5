"""What tests look for in drawings."""

from __future__ import annotations

from collections.abc import Sequence

from foldscript.drawing.scene.groups import Group, Item
from foldscript.drawing.scene.scene import Scene


def items_of(scene: Scene, role: str) -> tuple[Item, ...]:
    """Items whose role is `role` or below it ('fold' finds 'fold.valley')."""
    return tuple(i for i in scene.items if i.role == role or i.role.startswith(role + "."))


def of_kind(groups: Sequence[Group], *kinds: str) -> list[Group]:
    """Groups of some kinds."""
    return [g for g in groups if g.kind in kinds]
