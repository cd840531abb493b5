"""Figures of a step half way: beside the step's own, at its scale and its place, with few arrows."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
import shapely
from shapely.geometry.base import BaseGeometry

from foldscript.drawing.draw import DrawnFigure, draw
from foldscript.drawing.scene.scene import Path as Stroke
from foldscript.drawing.scene.scene import Scene
from foldscript.drawing.scene.strokes import covered, polylines
from foldscript.drawing.space.camera import aslant
from foldscript.drawing.space.halfway import camera_of
from foldscript.drawing.space.seen import seen
from foldscript.drawing.style.styles import load_style
from foldscript.folding.fold import fold
from foldscript.folding.steps import Model
from foldscript.moves.registry import verbs
from foldscript.output.drawn import Drawn
from foldscript.pose.halfway import halfway
from foldscript.source.diagnostics import Source
from foldscript.syntax.parser import parse

from ..sample_scripts import sample
from .test_space import mirrored

FRAME = (160.0, 140.0)
COLOUR = load_style("colour")
BASES = (
    *("bases/preliminary-base", "bases/waterbomb-base", "bases/bird-base", "lily", "star-box"),
    *("swan", "crane", "windmill", "star-by-one-cut"),
)


@cache
def model(name: str) -> Model:
    return sample(name).said()[0]


@cache
def figures(name: str) -> tuple[DrawnFigure, ...]:
    return draw(model(name), COLOUR, FRAME)


def halves(name: str) -> list[tuple[DrawnFigure, DrawnFigure, DrawnFigure | None]]:
    """Every figure half way, with the one before it and the one after it."""
    found = figures(name)
    return [
        (found[k - 1], one, found[k + 1] if k + 1 < len(found) else None)
        for k, one in enumerate(found)
        if one.label.endswith("½")
    ]


def outline(scene: Scene) -> BaseGeometry:
    paper = [
        i
        for i in scene.items
        if isinstance(i, Stroke) and i.role.split(".")[0] in ("paper", "shade")
    ]
    return shapely.union_all([covered(polylines([i])) for i in paper])


@pytest.mark.parametrize("name", BASES)
def test_it_stands_after_the_figure_of_its_step(name: str) -> None:
    some = halves(name)
    assert some
    for before, half, after in some:
        assert before.shows(half.step)
        assert half.label == f"{half.step}½"
        assert half.caption == f"Step {half.step}, half way."
        assert after is None or after.step == max(before.step, before.last) + 1


@pytest.mark.parametrize("name", BASES)
def test_flat_paper_lies_where_it_lies_in_the_figure_of_the_step(name: str) -> None:
    """What is still is seen at the same place and in the same size: so says the projection."""
    for half in model(name).halves.values():
        unit = model(name).sheet.unit_mm
        at = seen(half.pose, camera_of(half), 2.0, (0.5 * unit, 0.25 * unit)).points
        still = set(range(len(half.pose.pieces))) - set(half.lifted)
        corners = {k for piece in still for k in half.pose.pieces[piece].corners}
        for k in corners:
            x, y = half.before[k]
            flat = (2 * (x - 0.5 * unit), -2 * (y - 0.25 * unit))
            assert at[k, :2] == pytest.approx(flat, abs=0.15)


def test_the_still_half_of_a_collapse_covers_the_same_part_of_the_frame() -> None:
    """The waterbomb base of a square: the lower triangle of the collapsed sheet stays where it lies."""
    ((before, half, _),) = halves("bases/waterbomb-base")
    whole, here = outline(before.scene), outline(half.scene)
    x0, y0, x1, y1 = whole.bounds
    assert here.bounds[3] == pytest.approx(y1, abs=0.6)
    assert here.bounds[0] == pytest.approx(x0, abs=0.6)
    assert here.bounds[2] == pytest.approx(x1, abs=0.6)
    assert here.bounds[1] > y0 + 0.1 * (y1 - y0)  # its top is on its way down


@pytest.mark.parametrize("name", BASES)
def test_it_has_at_most_four_arrows_and_no_fold_lines(name: str) -> None:
    for _, half, _ in halves(name):
        strokes = [i for i in half.scene.items if isinstance(i, Stroke)]
        heads = [i for i in strokes if i.role == "arrow.head"]
        assert 1 <= len(heads) <= 4
        assert not any(i.role.startswith("fold") for i in strokes)
        for one, other in ((a, b) for k, a in enumerate(heads) for b in heads[:k]):
            tips = [polylines([i])[0][0] for i in (one, other)]
            assert math.dist(*tips) > 8.4  # points: 3 mm


def test_a_petal_has_an_arrow_up_and_one_from_either_side() -> None:
    """The frog's petal: its edge goes up the middle line, and its two sides come to that line."""
    for name in ("lily", "bases/frog-base"):
        petal = halves(name)[-1][1]
        heads = [i for i in petal.scene.items if isinstance(i, Stroke) and i.role == "arrow.head"]
        left, up, right = sorted(polylines([i])[0][0] for i in heads)
        assert up[0] == pytest.approx((left[0] + right[0]) / 2, abs=0.5)
        assert left[1] == pytest.approx(right[1], abs=0.5)
        assert up[1] < left[1] - 20


def test_a_bowed_way_ends_where_its_corner_lands() -> None:
    """The footed box's first squash: from the folded edge's end, O F, up to the upright edge's, O G. In space
    it goes so far round that its head would point off there; it is drawn straighter."""
    made = model("footed-box")
    ((_, drawn, _),) = [one for one in halves("footed-box") if one[1].step == 4]
    heads = [
        polylines([i])[0][0]
        for i in drawn.scene.items
        if isinstance(i, Stroke) and i.role == "arrow.head"
    ]
    top = outline(drawn.scene).bounds[1]
    assert made.halves[4].pose.proof.holds
    assert min(abs(y - top) for _, y in heads) < 4


@pytest.mark.parametrize("name", ["swan", "fish", "flapping-bird"])
def test_a_tip_that_is_turned_through_is_seen_on_its_way(name: str) -> None:
    """It is seen away from where it lands, and one arrow says where that is."""
    made = model(name)
    (half,) = (h for h in made.halves.values() if len(h.onward) == 1)
    drawn = next(one for _, one, _ in halves(name) if made.halves.get(one.step) is half)
    strokes = [i for i in drawn.scene.items if isinstance(i, Stroke)]
    (head,) = (i for i in strokes if i.role == "arrow.head")
    ((tip, way),) = half.onward
    here, there = camera_of(half).page(np.array([way[0], way[3]]))[:, :2]
    assert math.dist(here, there) > 0.2 * math.dist(half.before[tip], half.after[tip])
    assert polylines([head])


@pytest.mark.parametrize("name", BASES)
def test_all_its_ink_stays_in_the_frame(name: str) -> None:
    for _, half, _ in halves(name):
        points = [
            p
            for line in polylines(i for i in half.scene.items if isinstance(i, Stroke))
            for p in line
        ]
        x, y = np.array(points).T
        assert x.min() > -0.5
        assert y.min() > -0.5
        assert x.max() < FRAME[0] + 0.5
        assert y.max() < FRAME[1] + 0.5


def test_even_figures_are_seen_straight_from_below_or_above() -> None:
    """Common practice: a collapse and a petal are drawn as their own mirror image."""
    for name in BASES[:3]:
        for half in model(name).halves.values():
            assert camera_of(half).slant[0] == 0


def test_a_petal_that_goes_up_is_seen_from_above_its_flap() -> None:
    """What rises is drawn lower than it lies, against the way of the paper."""
    petal = model("bases/bird-base").halves
    up = [
        h for h in petal.values() if np.mean(np.array(h.after)[:, 1] - np.array(h.before)[:, 1]) > 0
    ]
    assert up
    assert all(camera_of(h).slant[1] < 0 for h in up)


def test_the_mirrored_move_is_seen_from_the_mirrored_side() -> None:
    half = next(iter(model("star-box").halves.values()))
    other = replace(
        half,
        pose=mirrored(half.pose),
        before=tuple((-x, y) for x, y in half.before),
        after=tuple((-x, y) for x, y in half.after),
    )
    one, two = camera_of(half), camera_of(other)
    assert one.slant[0] != 0
    assert two.slant == (-one.slant[0], one.slant[1])


def test_flat_paper_is_as_light_as_in_flat_figures() -> None:
    ((_, half, _),) = halves("bases/waterbomb-base")
    assert "paper.plain" in {i.role for i in half.scene.items}
    assert aslant(0.0, 0.25).page(np.array([[1.0, 2.0, 0.0]]))[0, :2] == pytest.approx([1, -2])


def test_its_picture_has_a_name_of_its_own() -> None:
    made = figures("bases/waterbomb-base")
    last = made[-1].scene
    drawn = Drawn(model("bases/waterbomb-base"), made, last, COLOUR, lambda: None)  # type: ignore[arg-type, return-value]
    names = [name for name, _ in drawn.pictures()]
    assert len(names) == len(set(names))
    assert any(name.endswith("-half") for name in names)
    assert all(name.isascii() for name in names)


def test_without_it_there_are_only_the_steps() -> None:
    plain = replace(model("lily"), halves={})
    assert all(
        f.label.replace("–", "").isalnum() and "½" not in f.label
        for f in draw(plain, COLOUR, FRAME)
    )


def test_a_half_that_is_only_opened_is_not_seen_along_its_edge() -> None:
    """The neck of a swan that lies in half: its body is opened for it, and seen from both of its sides."""
    text = (
        "sheet square 15 cm, corner A at the bottom\nstep\n  crease B to D as spine\nstep\n"
        "  valley bottom left edge onto spine\n  valley bottom right edge onto spine\nstep\n"
        "  turn over\nstep\n"
        "  valley lower left edge onto spine\n  valley lower right edge onto spine\nstep\n"
        "  mark V at midpoint of A C\n  mountain left corner to right corner, all layers\nstep\n"
        "  rotate quarter turn clockwise\nstep\n"
        "  outside reverse A along line through V at 140 degrees to line V C\n"
    )
    neck = fold(parse(Source("swan.foldscript", text), verbs())).steps[-1]
    half = halfway(neck.before, neck.after)
    opened = sorted({*half.lifted} - {*half.moving})
    page = camera_of(half).page(np.array(half.pose.space))[:, :2]
    sheet = np.array(half.pose.sheet)
    seen_of, whole = (
        sum(shapely.Polygon(at[list(half.pose.pieces[k].corners)]).area for k in opened)
        for at in (page, sheet)
    )
    assert opened
    assert seen_of > 0.15 * whole
