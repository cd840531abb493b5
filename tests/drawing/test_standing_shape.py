"""What a model that stands is like: boxes made by hand, whose floor, walls and openings are known."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from foldscript.drawing.space.shape import Side, shape_of
from foldscript.narration.narrate import narrate
from foldscript.narration.narration import Paragraph
from foldscript.narration.standing import standing_sentences
from foldscript.pose.goals import Raise
from foldscript.pose.pose import Edge, Line, Piece, Pose, Vector

from .test_space import glider, standing

#: The six faces of a box, each with its corners (0 or 1 along x, y, z), counter-clockwise seen from outside.
FACES = {
    Side.BOTTOM: ((0, 0, 0), (0, 1, 0), (1, 1, 0), (1, 0, 0)),
    Side.TOP: ((0, 0, 1), (1, 0, 1), (1, 1, 1), (0, 1, 1)),
    Side.FRONT: ((0, 0, 0), (1, 0, 0), (1, 0, 1), (0, 0, 1)),
    Side.BACK: ((0, 1, 0), (0, 1, 1), (1, 1, 1), (1, 1, 0)),
    Side.LEFT: ((0, 0, 0), (0, 0, 1), (0, 1, 1), (0, 1, 0)),
    Side.RIGHT: ((1, 0, 0), (1, 1, 0), (1, 1, 1), (1, 0, 1)),
}


def box(wide: float, deep: float, high: float, *without: Side) -> Pose:
    """A box that stands on the page, its front to the page's lower end, as it is seen and not as it is
    folded: every face has points of its own.
    """
    space: list[Vector] = []
    pieces: list[Piece] = []
    edges: list[Edge] = []
    for side, corners in FACES.items():
        if side in without:
            continue
        first = len(space)
        space += [(x * wide, y * deep, z * high) for x, y, z in corners]
        k = len(pieces)
        pieces.append(Piece(tuple(range(first, first + 4)), k, k, k))
        edges += [Edge(first + j, first + (j + 1) % 4, k, None, 0.0, Line.RIM) for j in range(4)]
    flat = [
        p
        for k in range(len(pieces))
        for p in (
            (k * 500.0, 0.0),
            (k * 500.0 + wide, 0.0),
            (k * 500.0 + wide, deep),
            (k * 500.0, deep),
        )
    ]
    goals = (Raise((((0.0, 0.0), (1.0, 0.0)),), 90.0),)
    return Pose(
        tuple(flat), tuple(space), tuple(pieces), tuple(edges), (), goals, 0, True, glider().proof
    )


def told(pose: Pose) -> list[str]:
    return [words.render() for words in standing_sentences(pose)]


def test_an_open_box() -> None:
    """60 × 40 mm, 25 mm high, without a lid."""
    shape = shape_of(box(60, 40, 25, Side.TOP))
    assert shape.sides == pytest.approx((60, 40, 25))
    assert shape.floor == pytest.approx((60, 40))
    assert shape.top is None
    assert shape.walls == pytest.approx((25, 25, 25, 25))
    assert shape.open == (Side.TOP,)


def test_a_tube_is_open_at_both_ends() -> None:
    shape = shape_of(box(60, 40, 25, Side.LEFT, Side.RIGHT))
    assert shape.open == (Side.LEFT, Side.RIGHT)
    assert shape.floor == shape.top == pytest.approx((60, 40)) or shape.top is None
    assert len(shape.walls) == 2


def test_a_closed_box_is_open_nowhere() -> None:
    shape = shape_of(box(60, 40, 25))
    assert shape.open == ()
    assert shape.floor == pytest.approx((60, 40))


def test_a_glider_has_a_flat_top_and_one_wall_and_is_open_nowhere() -> None:
    """Level wings, 60 × 100 mm, above a body of 20 mm."""
    shape = shape_of(glider())
    assert shape.floor is None
    assert shape.top == pytest.approx((100, 60))
    assert shape.walls == pytest.approx((20,))
    assert shape.open == ()


def test_the_words_for_an_open_box() -> None:
    assert told(box(60, 40, 25, Side.TOP)) == [
        "It stands up from the table: 6.0 cm wide, 4.0 cm from front to back and 2.5 cm high.",
        "Its floor is flat, 6.0 cm by 4.0 cm.",
        "It has four upright walls, 2.5 cm high.",
        "It is open at the top.",
    ]


def test_a_glider_is_held_by_its_body() -> None:
    """Wings of 30 mm to both sides, 100 mm long, above a body of 20 mm."""
    assert told(glider()) == [
        "Held by its body in the hand, it is 10.0 cm wide, 6.0 cm from front to back and 2.0 cm high.",
        "Its top is flat, 10.0 cm by 6.0 cm.",
    ]


def test_a_mirrored_box_is_open_on_the_mirrored_side() -> None:
    pose = box(60, 40, 25, Side.LEFT)
    x = np.array(pose.space)[:, 0].max()
    turned = replace(
        pose,
        space=tuple((x - a, b, c) for a, b, c in pose.space),
        pieces=tuple(
            Piece(tuple(reversed(p.corners)), p.facet, p.plate, p.panel) for p in pose.pieces
        ),
    )
    assert shape_of(pose).open == (Side.LEFT,)
    assert shape_of(turned).open == (Side.RIGHT,)


def test_the_narration_tells_how_the_finished_model_stands() -> None:
    chapters = {c.heading.render(): c for c in narrate(standing()).chapters}

    def words(name: str) -> str:
        return " ".join(
            s.render()
            for b in chapters[name].blocks
            if isinstance(b, Paragraph)
            for s in b.sentences
        )

    finished = words("The finished model")
    assert finished.startswith("The finished model is not flat. Held by its body in the hand,")
    assert "2.0 cm high" in finished
    assert "Now the model is no longer flat." in words("Step 4 of 5")
    assert "Now the model is no longer flat." not in words("Step 5 of 5")
