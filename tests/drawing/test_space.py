"""Models in space as ink: what hides what, where the reader stands, light and shade."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path as Files

import numpy as np
import pytest
import shapely

from foldscript.building.script import Script
from foldscript.drawing.draw import draw, finished_figure, portrait
from foldscript.drawing.offsets.layers import spread
from foldscript.drawing.scene.groups import Sketch
from foldscript.drawing.scene.scene import Path, Scene
from foldscript.drawing.scene.strokes import covered, polylines
from foldscript.drawing.scene.view import View
from foldscript.drawing.sheet.visible import Visible
from foldscript.drawing.signs.paper_sides import paper_role
from foldscript.drawing.space.camera import Camera, aslant, looking
from foldscript.drawing.space.ink import pose_ink
from foldscript.drawing.space.moving import moves
from foldscript.drawing.space.views import AZIMUTHS, chosen
from foldscript.drawing.style.contrast import contrast
from foldscript.drawing.style.styles import load_style, style_names
from foldscript.folding.ending import Ending, ending, finished_size_mm
from foldscript.folding.steps import Model
from foldscript.geometry.lines import Segment
from foldscript.pose.goals import Raise
from foldscript.pose.pose import Edge, Piece, Pose, Touching
from foldscript.pose.raising import raised
from foldscript.pose.upright import size, upright

from ..scripts import folded

COLOUR = load_style("colour")
SAMPLES = Files(__file__).resolve().parents[2] / "samples"

#: A sheet of 100 mm in half, 30 mm of each half folded down again: a body of 20 mm under two wings.
GLIDER = (
    "valley the left edge onto the right edge",
    "valley along line 3 cm from the right edge, 1 layer, moving A, as k",
    "turn over",
    "valley along line 3 cm from the left edge, 1 layer, moving B, as m",
)
UP: tuple[float, float, float] = (1.0, 0.0, 0.0)


def plain(facet: int, front: bool) -> str:
    """Sides of paper whose front is plain."""
    return paper_role(front, False, "", "")


def creases(model: Model, *names: str) -> tuple[Segment, ...]:
    return tuple(
        s for step in model.steps for r in step.records if r.name in names for s in r.creases
    )


def glider(angle: float = 90) -> Pose:
    model = folded(*GLIDER)
    return raised(model.finished, [Raise(creases(model, "k", "m"), angle)])


def test_a_long_model_is_seen_along_its_side() -> None:
    """A gutter of 100 mm whose end is to the reader: its length runs across the page, nearly level."""
    state = folded("turn over", "turn over").finished
    lines = [((x, 0.0), (x, 1.0)) for x in (0.35, 0.65)]
    pose = raised(state, [Raise((line,), 90.0) for line in lines])
    assert upright(pose) == ((0, 0, 1), (0, -1, 0))
    x, y, _ = chosen(pose).page(np.array([[0.0, 1.0, 0.0]]))[0]
    assert abs(y) < 0.4 * abs(x)


def areas(ink: Sketch) -> dict[str, float]:
    """Square points of every role of an area."""
    return {
        item.role: float(covered(polylines([item])).area)
        for group in ink.groups
        if group.kind == "paper"
        for item in group.items
        if isinstance(item, Path)
    }


def drawn(pose: Pose, camera: Camera, scale: float = 1.0) -> Sketch:
    return pose_ink(pose, camera, scale, plain, COLOUR).sketch


# --- what hides what ---------------------------------------------------------------------------


def test_level_wings_from_above_hide_the_body() -> None:
    """60 × 100 mm, all of one side."""
    up, _ = upright(glider())
    above = looking(up, (0.0, 0.0, 1.0), 0.0, 90.0)
    ink = drawn(glider(), above)
    ((role, area),) = areas(ink).items()
    assert role.endswith(".plain")
    assert area == pytest.approx(6000, rel=0.01)


def test_level_wings_from_their_front_are_seen_along_their_edge() -> None:
    """The body, 20 × 100 mm, and nothing of the wings but their edge."""
    up, front = upright(glider())
    ink = drawn(glider(), looking(up, front, 0.0, 0.0))
    ((role, area),) = areas(ink).items()
    assert role.endswith(".coloured")
    assert area == pytest.approx(2000, rel=0.01)


def test_a_raised_half_hides_the_other_from_one_side_only() -> None:
    """From 45° above, a wall of 50 mm covers a floor of 50 mm behind it: both are 50 sin 45° high."""
    model = folded("crease the bottom edge onto the top edge as k")
    pose = raised(model.finished, [Raise(creases(model, "k"), 90)])
    one = 100 * 50 * math.sin(math.radians(45))
    seen = [
        sum(areas(drawn(pose, looking((0.0, 0.0, 1.0), front, 0.0, 45.0))).values())
        for front in ((0.0, -1.0, 0.0), (0.0, 1.0, 0.0))
    ]
    assert sorted(seen) == pytest.approx([one, 2 * one], rel=0.02)


@pytest.mark.parametrize(
    "steps",
    [
        GLIDER,
        ("valley A onto C", "valley B onto D", "turn over"),
        (
            "valley A onto centre",
            "valley B onto centre",
            "valley C onto centre",
            "valley D onto centre",
        ),
    ],
)
def test_flat_layers_show_what_the_flat_figure_shows(steps: tuple[str, ...]) -> None:
    """A pose in which nothing is raised, against the drawing of the flat paper, which knows no depths."""
    model = folded(*steps)
    state = model.finished
    pose = raised(state, [])
    assert {z for _, _, z in pose.space} == {0.0}
    flat = Visible(spread(state, 0.0, 0.0), View(100.0))
    seen: dict[bool, float] = {}
    for facet, area in flat.fills:
        front = state.facets[facet].shows_front
        seen[front] = seen.get(front, 0.0) + float(area.area)
    here = areas(drawn(pose, aslant(0.0, 0.0)))
    coloured = seen.get(state.sheet.front_coloured, 0.0)
    plain = seen.get(not state.sheet.front_coloured, 0.0)
    assert sum(a for r, a in here.items() if "coloured" in r) == pytest.approx(
        coloured, rel=0.02, abs=9
    )
    assert sum(a for r, a in here.items() if "plain" in r) == pytest.approx(plain, rel=0.02, abs=9)


# --- the reader's place ------------------------------------------------------------------------


def test_flat_paper_keeps_its_place_when_seen_aslant() -> None:
    camera = aslant(0.35, -0.35)
    at = camera.page(np.array([[10.0, 20.0, 0.0], [10.0, 20.0, 8.0]]))
    assert at[0] == pytest.approx([10, -20, 0])
    assert at[1] == pytest.approx([10 + 0.35 * 8, -(20 - 0.35 * 8), 8])


def test_a_camera_shows_right_angles_to_the_eye_at_full_length() -> None:
    camera = looking((0.0, 1.0, 0.0), (0.0, 0.0, 1.0), 30.0, 25.0)
    axes = np.array([camera.right, camera.up, camera.toward])
    assert axes @ axes.T == pytest.approx(np.eye(3), abs=1e-9)
    assert np.linalg.det(axes) == pytest.approx(1)
    assert camera.toward[1] == pytest.approx(math.sin(math.radians(25)))
    assert camera.toward[0] > 0  # to the right of the front


def test_walls_stand_up_from_the_page_and_wings_from_the_body() -> None:
    """What rises from paper on the table, towards the reader; what hangs on a body, away from it."""
    model = folded("crease the bottom edge onto the top edge as k")
    assert upright(raised(model.finished, [Raise(creases(model, "k"), 90)]))[0] == (0.0, 0.0, 1.0)
    up, front = upright(glider())
    assert up[2] == 0
    assert front == (0.0, 0.0, 1.0)
    body = np.mean([p for p in glider().space if abs(p[2]) < 1e-9], axis=0) @ np.array(up)
    tips = np.mean([p for p in glider().space if abs(p[2]) > 1], axis=0) @ np.array(up)
    assert tips > body


def test_the_size_of_a_model_is_that_of_the_box_it_stands_in() -> None:
    """Wings 60 mm across, 100 mm long, on a body of 20 mm."""
    assert sorted(size(glider())) == pytest.approx([20, 60, 100])
    assert size(glider())[2] == pytest.approx(20)


# --- mirrors -----------------------------------------------------------------------------------


def mirrored(pose: Pose) -> Pose:
    """The same pose of the mirrored sheet: left and right change places on the page."""
    return replace(
        pose,
        sheet=tuple((-x, y) for x, y in pose.sheet),
        space=tuple((-x, y, z) for x, y, z in pose.space),
        pieces=tuple(
            Piece(tuple(reversed(p.corners)), p.facet, p.plate, p.panel) for p in pose.pieces
        ),
        edges=tuple(Edge(e.end, e.start, e.left, e.right, e.angle, e.kind) for e in pose.edges),
        touching=tuple(Touching(t.one, t.other, t.on_front) for t in pose.touching),
    )


def lopsided() -> Pose:
    model = folded("crease A onto centre as k")
    return raised(model.finished, [Raise(creases(model, "k"), 70)])


@pytest.mark.parametrize("pose", [glider(60), lopsided()], ids=["glider", "lopsided"])
def test_a_mirrored_pose_gives_the_mirrored_drawing(pose: Pose) -> None:
    camera = looking((0.0, 1.0, 0.0), (0.0, 0.0, 1.0), 25.0, 25.0)
    other = looking((0.0, 1.0, 0.0), (0.0, 0.0, 1.0), -25.0, 25.0)
    one, two = drawn(pose, camera), drawn(mirrored(pose), other)
    assert areas(one).keys() == areas(two).keys()
    for role in areas(one):
        mine, theirs = (
            covered(polylines([i for i in ink.items if isinstance(i, Path) and i.role == role]))
            for ink in (one, two)
        )
        turned = shapely.transform(theirs, lambda at: at * (-1.0, 1.0))
        assert shapely.area(shapely.symmetric_difference(mine, turned)) < 0.01 * mine.area + 1


def test_a_mirrored_model_is_looked_at_from_the_mirrored_side() -> None:
    pose = lopsided()
    one, two = chosen(pose), chosen(mirrored(pose))
    assert one.toward[1:] == pytest.approx(two.toward[1:])
    assert abs(one.toward[0]) == pytest.approx(abs(two.toward[0]))


def test_the_places_tried_are_the_same_on_both_sides() -> None:
    assert sorted(AZIMUTHS) == sorted(-a for a in AZIMUTHS)


def test_the_same_pose_gives_the_same_drawing() -> None:
    pose = glider(75)
    assert drawn(pose, chosen(pose)).items == drawn(glider(75), chosen(glider(75))).items


# --- light and shade ---------------------------------------------------------------------------


@pytest.mark.parametrize("name", style_names())
def test_every_tone_of_one_side_differs_from_every_tone_of_the_other(name: str) -> None:
    """By lightness, as on a photocopy; common practice for tints is a step of a tenth and more."""
    style = load_style(name)
    tones = {
        side: [
            style.ink(f"shade.{k}.{side}" if k else f"paper.{side}").fill or "" for k in range(4)
        ]
        for side in ("plain", "coloured")
    }
    assert all(contrast(p, c) > 1.1 for p in tones["plain"] for c in tones["coloured"])
    for some in tones.values():
        assert len(set(some)) == 4


@pytest.mark.parametrize("name", style_names())
def test_colours_that_a_script_names_have_tones_too(name: str) -> None:
    style = load_style(name)
    assert style.ink("shade.2.coloured.red").fill != style.ink("paper.coloured.red").fill


# --- whole figures -----------------------------------------------------------------------------


def standing() -> Model:
    model = folded(*GLIDER, "hold A")
    pose = raised(model.finished, [Raise(creases(model, "k", "m"), 90)])
    return replace(model, poses={4: pose, 5: pose})


def test_the_step_after_and_the_finished_figure_stand() -> None:
    model = standing()
    *before, last = draw(model, COLOUR, (150.0, 130.0))
    roles = [{i.role for i in f.scene.items} for f in (*before, last)]
    assert not any("shade" in r for some in roles[:-1] for r in some)
    assert any(r.startswith("shade.") for r in roles[-1])
    assert "point.hold" in last.scene.signs
    for scene in (
        finished_figure(model, COLOUR, (150.0, 130.0)),
        portrait(model, COLOUR, (90, 70)),
    ):
        assert any(i.role.startswith("shade.") for i in scene.items)
        for x, y in (
            p for line in polylines(i for i in scene.items if isinstance(i, Path)) for p in line
        ):
            assert -0.5 <= x <= scene.width + 0.5
            assert -0.5 <= y <= scene.height + 0.5


def test_a_sign_lies_where_its_corner_stands() -> None:
    """The hold sign at A lies on a tip of the wings, not where A lay in the flat figure."""
    model = standing()
    pose = model.poses[4]
    figure = draw(model, COLOUR, (150.0, 130.0))[-1].scene
    rings = [i for i in figure.items if isinstance(i, Path) and i.role == "sign.open"]
    (ring,) = polylines(rings)
    at, radius = np.mean(ring[:-1], axis=0), 4.6
    paper = [i for i in figure.items if isinstance(i, Path) and i.role == "edge.raw"]
    nearest = min(math.dist(at, p) for line in polylines(paper) for p in line)
    assert radius < nearest < radius + 5.0  # beside the tip, and not on it
    assert pose.proof.holds


def test_a_standing_model_is_finished_and_has_three_sides() -> None:
    model = standing()
    assert ending(model) is Ending.STANDING
    assert sorted(finished_size_mm(model)) == pytest.approx([20, 60, 100])


# --- what hands go on to do -----------------------------------------------------------------------


def masu() -> Model:
    """The sample, folded and stood up: two long walls, two ends, the points folded in."""
    return Script(SAMPLES / "masu.foldscript").said()[0]


def heads(scene: Scene) -> list[Path]:
    """Heads of arrows at the paper; the scale sign, which is drawn after all of them, has one too."""
    found = [i for i in scene.items if isinstance(i, Path) and i.role == "arrow.head"]
    return found[:-1] if "scale" in scene.signs else found


def test_raised_walls_have_an_arrow_each() -> None:
    """On flat paper arrows that grow towards the eye, then arrows from where the ends stand; no mouths."""
    model = masu()
    assert sorted(model.poses) == [6, 7, 8]
    flat, standing_ends, last = draw(model, COLOUR, (170.0, 140.0))[-3:]
    assert "arrow.raise" in flat.scene.signs
    for figure, count in ((standing_ends, 2), (last, 2)):
        assert len(heads(figure.scene)) == count
        assert not {s for s in figure.scene.signs if s.startswith("point.open")}


def test_arrows_lead_to_where_the_parts_will_stand() -> None:
    """The points A and C come to the middle of the floor, 53 mm square (15 cm / 2√2), seen there."""
    model = masu()
    assert size(model.poses[8]) == pytest.approx((53.03, 53.03, 26.52), abs=0.02)
    figure = draw(model, COLOUR, (170.0, 140.0))[-1].scene
    tips = [polylines([head])[0][0] for head in heads(figure)]
    assert math.dist(*tips) < 12


def test_nothing_to_hold_on_to_gives_no_arrow() -> None:
    """Where all of the model lies elsewhere in the next pose, it is not known which way it was moved."""
    pose = glider()
    away = replace(pose, space=tuple((x, y + 200, z) for x, y, z in pose.space))
    camera = chosen(pose)
    before = pose_ink(pose, camera, 1.0, plain, COLOUR)
    assert moves(pose, away, before, camera, 1.0) == []
    assert moves(glider(30), pose, pose_ink(glider(30), camera, 1.0, plain, COLOUR), camera, 1.0)


def test_the_front_edge_of_a_cube_does_not_run_on_into_its_top() -> None:
    """A cube's front corner lies well beside the middle of its top, so that edge and crease make an angle."""
    poses = Script(SAMPLES / "waterbomb.foldscript").standing.poses
    pose = poses[max(poses)]
    at = chosen(pose).page(np.array(pose.space))
    left, right = float(at[:, 0].min()), float(at[:, 0].max())
    front = at[int(np.argmax(at[:, 1]))]  # lowest on the page
    middle = at[
        min(
            range(len(pose.sheet)),
            key=lambda k: abs(pose.sheet[k][0] - 75) + abs(pose.sheet[k][1] - 75),
        )
    ]
    assert abs(front[0] - middle[0]) > 0.12 * (right - left)
