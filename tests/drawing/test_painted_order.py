"""Layers that lie together in space are painted in their order, from wherever they are seen: on random paper
with flaps raised along whole lines, and on a house whose walls and doors come together.
"""

from __future__ import annotations

import random
from collections.abc import Iterator

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldscript.building.standing import PoseCache, standing
from foldscript.drawing.space.camera import looking
from foldscript.drawing.space.hidden import visible
from foldscript.drawing.space.seen import seen
from foldscript.geometry.lines import line_through, same_line
from foldscript.output.states import StatesData
from foldscript.paper.state import State
from foldscript.pose.goals import Raise
from foldscript.pose.pose import Pose
from foldscript.pose.upright import upright

from ..checker.painted import Painted, painted_faults, pairs_together
from ..checker.poses import pose_faults
from ..conftest import examples
from ..pose.random_goals import random_model
from ..pose.test_random_poses import tried
from ..scripts import folded, standing_document

#: Degrees aside and down: all round from above, and from below.
VIEWS = ((30, 25), (120, 38), (-60, 15), (-150, 25), (40, -30), (-140, -50))
#: A square in half, both sides brought to the middle as doors, their tops squashed to roofs: under each roof
#: a wall lies outside its door.
HOUSE = (
    "mark L at midpoint of A D; mark N at midpoint of B C; mark T at 1/4 of L N; mark X at 1/2 of L N; "
    "mark U at 1/4 of A B; mark S at 3/4 of L N; mark V at 3/4 of A B; crease A to B as v; "
    "mountain top edge onto bottom edge",
    "valley left edge onto v, 2 layers as l; valley right edge onto v, 2 layers as r",
    "squash line T X onto line T U; squash line S X onto line S V",
)


def pictures(pose: Pose) -> list[Painted]:
    """What is painted of every piece, from all views, a point a millimetre."""
    up, front = upright(pose)
    found: list[Painted] = []
    for azimuth, elevation in VIEWS:
        camera = looking(up, front, azimuth, elevation)
        areas = visible(seen(pose, camera, 1.0, (0.0, 0.0)), 1.0)
        right, up_page, toward = (np.array(v) for v in (camera.right, camera.up, camera.toward))
        found.append(Painted(right, up_page, toward, list(areas)))
    return found


def raised_along_lines(rnd: random.Random, paper: State) -> Raise | None:
    """All folds on one or two lines raised, as `raise along line P Q` does."""
    folds = [(joint.segment, line_through(*seg)) for joint, seg in paper.fold_segments]
    if not folds:
        return None
    lines = [line for _, line in rnd.sample(folds, min(len(folds), rnd.choice((1, 2))))]
    creases = [s for s, line in folds if any(same_line(line, other) for other in lines)]
    return Raise(tuple(creases), rnd.choice((30.0, 60.0, 90.0, 120.0, 180.0)))


def check(seed: int) -> str:
    """What a seed came to. Raises AssertionError for what must not be."""
    rnd = random.Random(seed)
    model = random_model(rnd)
    goal = raised_along_lines(rnd, model.finished)
    pose = None if goal is None else tried(model.finished, ((goal,),))
    if pose is None:
        return "none"
    document = standing_document(model, pose)
    assert not pose_faults(document), f"{goal}: {pose_faults(document)[:5]}"
    faults = painted_faults(document, pictures(pose))
    assert not faults, f"{goal}: {faults[:5]}"
    return "stacked" if pairs_together(document) else "apart"


def painted_wrongly(seed: int) -> Iterator[str]:
    """What is wrong with the picture of a seed."""
    try:
        check(seed)
    except AssertionError as error:
        yield str(error)


def house(angle: int) -> tuple[Pose, StatesData]:
    """Walls and doors raised together: each of them is said."""
    said = f"raise along l and r to {angle} degrees, moving A and D and B and C"
    model = folded(*HOUSE, said)
    found = standing(model, PoseCache())
    assert not found.warnings
    pose = found.poses[len(model.steps)]
    return pose, standing_document(model, pose)


@given(st.integers(0, 10**6))
@examples(4)
def test_layers_are_painted_in_their_order(seed: int) -> None:
    check(seed)


@pytest.mark.parametrize("seed", [4, 15, 25, 26, 39, 41, 44])
def test_of_random_paper_that_lies_in_stacks(seed: int) -> None:
    """Else the test above might tell nothing."""
    assert check(seed) == "stacked"


@pytest.mark.parametrize("angle", [60, 90, 120, 150])
def test_a_door_that_comes_to_lie_on_its_wall(angle: int) -> None:
    """Raised along the line that both hang on, the wall comes up and the door opens: they lie together as
    before the squash, the roof shut between them. The middle crease stays flat.
    """
    pose, document = house(angle)
    assert pose_faults(document) == []
    assert pairs_together(document) >= 6
    assert painted_faults(document, pictures(pose)) == []
    bent = {
        round(abs(np.degrees(e.angle)))
        for e in pose.edges
        if e.right is not None and abs(e.angle) > 1e-6
    }
    assert bent == {180 - angle, 180}


def test_the_other_order_is_found() -> None:
    """The check finds a picture that paints what lies below."""
    pose, document = house(120)
    whole = [
        Painted(p.right, p.up, p.toward, list(seen_whole))
        for p, seen_whole in zip(pictures(pose), _whole(pose), strict=True)
    ]
    assert painted_faults(document, whole) != []


def _whole(pose: Pose) -> list[np.ndarray]:
    """Every piece as if nothing lay before it."""
    up, front = upright(pose)
    return [seen(pose, looking(up, front, a, e), 1.0, (0.0, 0.0)).shapes for a, e in VIEWS]
