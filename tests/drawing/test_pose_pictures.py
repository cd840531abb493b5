"""What is seen of a pose is found once, and drawn in every size that is asked for."""

from __future__ import annotations

from typing import Any

import pytest
import shapely

from foldscript.drawing.signs.paper_sides import paper_role
from foldscript.drawing.space import hidden, ink
from foldscript.drawing.space.camera import Camera
from foldscript.drawing.space.seen import extent
from foldscript.drawing.space.views import chosen
from foldscript.drawing.style.styles import load_style
from foldscript.pose.goals import Raise
from foldscript.pose.pose import Pose
from foldscript.pose.raising import raised

from ..scripts import folded

COLOUR = load_style("colour")


def leaf() -> Pose:
    """A sheet of 100 mm, half of it raised."""
    model = folded("valley the left edge onto the right edge, as k")
    crease = model.steps[0].records[0].creases
    return raised(model.finished, [Raise(crease, 90)])


def drawn(pose: Pose, camera: Camera, scale: float) -> ink.PoseInk:
    return ink.pose_ink(
        pose, camera, scale, lambda _, front: paper_role(front, False, "", ""), COLOUR
    )


def test_a_pose_in_two_sizes_is_looked_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[float] = []

    def counted(*given: Any) -> Any:
        asked.append(given[-1])
        return hidden.visible(*given)

    monkeypatch.setattr(ink, "visible", counted)
    pose = leaf()
    long = max(extent(pose, chosen(pose)))
    small, large = (drawn(pose, chosen(pose), points / long) for points in (75.0, 210.0))
    assert len(asked) == 1
    grown = (210.0 / 75.0) ** 2
    assert shapely.area(large.silhouette) == pytest.approx(grown * shapely.area(small.silhouette))
    drawn(pose, chosen(pose), 420.0 / long)
    assert len(asked) == 2


def test_a_pose_is_as_wide_as_it_is_seen_in_any_size() -> None:
    """In any size corners lie where they are seen, to the grid on which they are drawn."""
    pose = leaf()
    camera = chosen(pose)
    for scale in (0.31, 1.0, 2.7):
        one = drawn(pose, camera, scale)
        wide = max(x for x, _ in one.places) - min(x for x, _ in one.places)
        seen = camera.page(shapely.get_coordinates(shapely.points(pose.space), include_z=True))
        assert wide == pytest.approx(scale * float(seen[:, 0].max() - seen[:, 0].min()), abs=0.01)
