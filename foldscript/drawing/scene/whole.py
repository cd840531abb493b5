"""A picture that stands alone: nothing of it is cut off at its frame.

In: a scene whose ink may stand out of its frame, as arrows do over the gap between two figures of a page.
Out: the same ink in a frame that holds it.
"""

from __future__ import annotations

from dataclasses import replace

from .outlines import item_box, shifted, union_box
from .scene import Scene

#: Points that ink may stand out unseen, and that are left beside what does.
_SEEN, _AIR = 0.01, 1.0


def whole(scene: Scene) -> Scene:
    """The scene, in a wider or higher frame where its ink stands out of the one it has."""
    box = union_box(item_box(item) for item in scene.items)
    if box is None:
        return scene
    over = (-box[0], -box[1], box[2] - scene.width, box[3] - scene.height)
    left, top, right, low = (more + _AIR if more > _SEEN else 0.0 for more in over)
    if not (left or top or right or low):
        return scene
    items = tuple(shifted(item, left, top) for item in scene.items)
    width, height = scene.width + left + right, scene.height + top + low
    return replace(scene, width=width, height=height, items=items)
