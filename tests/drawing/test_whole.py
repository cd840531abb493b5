"""Pictures that stand alone hold all their ink, and are as they were where they did already."""

from __future__ import annotations

from foldscript.drawing.scene.outlines import item_box, union_box
from foldscript.drawing.scene.scene import Draw, Move, Path, Scene
from foldscript.drawing.scene.whole import whole


def line(*points: tuple[float, float]) -> Path:
    first, *others = points
    return Path("edge.raw", (Move(first), *(Draw(p) for p in others)))


def test_a_frame_grows_on_the_sides_where_ink_stands_out() -> None:
    scene = Scene(100.0, 80.0, (line((-3.0, 10.0), (104.0, 10.0)),), "Step 1")
    alone = whole(scene)
    box = union_box(item_box(item) for item in alone.items)
    assert box is not None
    assert (alone.width, alone.height, alone.title) == (109.0, 80.0, "Step 1")
    assert (box[0], box[2]) == (1.0, 108.0)


def test_a_frame_that_holds_all_stays() -> None:
    scene = Scene(100.0, 80.0, (line((0.0, 10.0), (100.0, 10.0)),))
    assert whole(scene) is scene
    empty = Scene(10.0, 10.0, ())
    assert whole(empty) is empty
