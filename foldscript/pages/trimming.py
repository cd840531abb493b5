"""Cutting off what a figure leaves empty of its frame, so that rows are as high as their content.

In: scenes as drawn in their frames. Out: the same ink in a smaller frame; nothing is scaled.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ..drawing.scene.outlines import Box, item_box, shifted, union_box
from ..drawing.scene.scene import Scene
from . import measures


def ink(scene: Scene) -> Box:
    """Box about the ink with a little air, within the frame; the whole frame where there is none."""
    box = union_box(item_box(item) for item in scene.items)
    if box is None:
        return (0.0, 0.0, scene.width, scene.height)
    return (
        max(0.0, box[0] - measures.TRIM),
        max(0.0, box[1] - measures.TRIM),
        min(scene.width, box[2] + measures.TRIM),
        min(scene.height, box[3] + measures.TRIM),
    )


def trimmed(scene: Scene, box: Box) -> Scene:
    """What lies in a box of a scene, as a scene of the box's size."""
    items = tuple(shifted(item, -box[0], -box[1]) for item in scene.items)
    return replace(scene, width=box[2] - box[0], height=box[3] - box[1], items=items)


def trimmed_to_ink(scene: Scene) -> Scene:
    """A picture that stands alone, without the empty part of its frame."""
    return trimmed(scene, ink(scene))


def row_trimmed(scenes: Sequence[Scene]) -> list[Scene]:
    """Figures of a row, cut above and below by the same amount: they keep their places.

    Only figures with frames of one height are cut.
    """
    heights = [scene.height for scene in scenes]
    if max(heights) - min(heights) > measures.SAME_FRAME:
        return list(scenes)
    boxes = [ink(scene) for scene in scenes]
    top, bottom = min(box[1] for box in boxes), max(box[3] for box in boxes)
    return [trimmed(scene, (0.0, top, scene.width, bottom)) for scene in scenes]
