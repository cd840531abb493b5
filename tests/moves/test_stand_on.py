"""Stand on: the feet that are named, and what is refused."""

from __future__ import annotations

import pytest

from foldscript.paper.signs import PointSign
from foldscript.pose.goals import Stand

from ..scripts import captions, folded, refused
from .test_stand import goals

FLAP = "valley the bottom edge onto the top edge"


def test_points_and_edges_are_feet_in_millimetres_of_the_sheet() -> None:
    """On a sheet of 100 mm; the folded edge is the middle of the sheet."""
    (points,) = goals(folded(FLAP, "stand on A and C"))
    (edge,) = goals(folded(FLAP, "stand on the bottom edge"))
    assert isinstance(points, Stand)
    assert isinstance(edge, Stand)
    assert [list(p) for p in sorted(points.feet)] == [
        pytest.approx([0, 0]),
        pytest.approx([100, 100]),
    ]
    assert sorted(x for x, _ in edge.feet) == pytest.approx([0, 100])
    assert [y for _, y in edge.feet] == pytest.approx([50, 50])


def test_its_feet_are_marked_where_they_are_on_the_sheet() -> None:
    signs = folded(FLAP, "stand on A and C").steps[-1].panels[-1].signs
    feet = [s for s in signs if isinstance(s, PointSign)]
    assert [s.kind for s in feet] == ["foot", "foot"]
    assert sorted(s.foot for s in feet if s.foot is not None) == [(0.0, 0.0), (1.0, 1.0)]


def test_the_caption_names_the_feet() -> None:
    assert captions(folded(FLAP, "stand on A and C"))[-1] == "Stand the model on corners A and C."


@pytest.mark.parametrize(
    ("line", "code"),
    [("stand", "sign-where"), ("stand at A", "unexpected-words"), ("stand on 4 cm", "sign-where")],
)
def test_what_cannot_be(line: str, code: str) -> None:
    assert refused(FLAP, line).code == code
