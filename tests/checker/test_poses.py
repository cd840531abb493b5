"""The independent check of poses passes what stands, and finds each thing that can be wrong with it."""

from __future__ import annotations

import copy
import json
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from foldscript.pose.goals import Raise
from foldscript.pose.raising import raised

from ..pose.test_raising import GLIDER, creases
from ..scripts import folded, standing_document
from .poses import pose_faults

Document = dict[str, Any]


@pytest.fixture(scope="module")
def glider() -> Document:
    """A sheet of 100 mm in half, 30 mm of each half folded down again and raised to 60 degrees."""
    model = folded(*GLIDER)
    pose = raised(model.finished, [Raise(creases(model, "k", "m"), 60)])
    return json.loads(json.dumps(standing_document(model, pose)))


def kinds(document: Document) -> set[str]:
    """What is found, without step and place."""
    return {fault.split(": ")[1] for fault in pose_faults(document)}


def test_a_glider_stands(glider: Document) -> None:
    assert pose_faults(glider) == []


def _stretched(pose: Document) -> None:
    for p in pose["space"]:
        p[1] *= 1.001


def _creased(pose: Document) -> None:
    """A corner of a wing bent up by a millimetre."""
    far = max(range(len(pose["space"])), key=lambda k: abs(pose["space"][k][2]))
    pose["space"][far][0] += 1.0


def _torn(pose: Document) -> None:
    edge = next(e for e in pose["edges"] if e["right"] is not None)
    edge["right"] = None


def _turned(pose: Document) -> None:
    """Mirrored in the plane that it was folded on: what were valleys are mountains."""
    for p in pose["space"]:
        p[2] = -p[2]


def _lost(pose: Document) -> None:
    del pose["pieces"][-1]
    n = len(pose["pieces"])
    pose["edges"] = [e for e in pose["edges"] if e["left"] < n and (e["right"] or 0) < n]
    pose["touching"] = [t for t in pose["touching"] if max(t[:2]) < n]


def _unsaid(pose: Document) -> None:
    pose["touching"] = []


def _other_way(pose: Document) -> None:
    pose["touching"] = [
        [i, j, "back" if side == "front" else "front"] for i, j, side in pose["touching"]
    ]


@pytest.mark.parametrize(
    ("change", "found"),
    [
        (_stretched, "length"),
        (_creased, "plane"),
        (_torn, "seam"),
        (_turned, "sense"),
        (_lost, "tiling"),
        (_unsaid, "touching"),
        (_other_way, "touching"),
    ],
)
def test_what_is_wrong_is_found(
    glider: Document, change: Callable[[Document], None], found: str
) -> None:
    wrong = copy.deepcopy(glider)
    change(wrong["states"][-1]["pose"])
    assert found in kinds(wrong)


def hinged(height: float, behind: float) -> Document:
    """Two halves of a sheet of 100 by 50 mm that both stand on its middle line, 50 mm high, the left one
    turned by `behind` degrees past the right: beyond 180 it has gone through."""
    turn = np.radians(behind)
    sheet = [[0, 0], [50, 0], [100, 0], [100, 50], [50, 50], [0, 50]]
    left = [50 + height * np.cos(turn), height * np.sin(turn)]
    space = [[left[0], 0, left[1]], [50, 0, 0], [100, 0, 0], [100, 50, 0], [50, 50, 0]]
    space.append([left[0], 50, left[1]])
    pieces = [{"corners": [0, 1, 4, 5], "surface": 0}, {"corners": [1, 2, 3, 4], "surface": 1}]
    rims = [(0, 1, 0), (4, 5, 0), (5, 0, 0), (1, 2, 1), (2, 3, 1), (3, 4, 1)]
    edges = [
        {"from": a, "to": b, "left": k, "right": None, "angle": 0.0, "kind": "rim"}
        for a, b, k in rims
    ]
    fold = {"from": 1, "to": 4, "left": 0, "right": 1, "angle": 180 - behind, "kind": "fold"}
    flat = {"outline": sheet, "holes": [], "place": [[1, 0, 0], [0, 1, 0]], "shows": "front"}
    state = {
        "step": 0,
        "plates": [flat],
        "above": [],
        "pose": {
            "sheet": sheet,
            "space": space,
            "pieces": pieces,
            "edges": [*edges, fold],
            "touching": [],
        },
    }
    return {"sheet": {"outline": sheet}, "states": [state]}


def test_an_angle_is_measured_in_its_sense() -> None:
    """Folded up by 60 degrees, fronts facing each other, the halves stand at 120."""
    assert kinds(hinged(50, 120)) == set()
    wrong = hinged(50, 120)
    wrong["states"][0]["pose"]["edges"][-1]["angle"] *= -1
    assert kinds(wrong) == {"angle"}


def strip(third: float) -> Document:
    """A strip of three squares of 40 mm, its ends stood up; the last one leans over by `third` degrees."""
    turn = np.radians(third)
    sheet = [[40 * x, y] for y in (0, 40) for x in range(4)]
    profile = [(0.0, 40.0), (0.0, 0.0), (40.0, 0.0)]
    profile.append((40 + 40 * np.cos(turn), 40 * np.sin(turn)))
    space = [[x, y, z] for y in (0, 40) for x, z in profile]
    pieces = [{"corners": [k, k + 1, k + 5, k + 4], "surface": k} for k in range(3)]
    rims = [(k, k + 1, k) for k in range(3)] + [(k + 5, k + 4, k) for k in range(3)]
    rims += [(4, 0, 0), (3, 7, 2)]
    edges = [
        {"from": a, "to": b, "left": k, "right": None, "angle": 0.0, "kind": "rim"}
        for a, b, k in rims
    ]
    edges += [
        {"from": k, "to": k + 4, "left": k - 1, "right": k, "angle": angle, "kind": "crease"}
        for k, angle in ((1, 90.0), (2, third))
    ]
    flat = {"outline": [[0, 0], [120, 0], [120, 40], [0, 40]], "holes": []}
    flat |= {"place": [[1, 0, 0], [0, 1, 0]], "shows": "front"}
    pose = {"sheet": sheet, "space": space, "pieces": pieces, "edges": edges, "touching": []}
    state = {"step": 0, "plates": [flat], "above": [], "pose": pose}
    return {"sheet": {"outline": flat["outline"]}, "states": [state]}


@pytest.mark.parametrize(("lean", "found"), [(90, set()), (130, set()), (170, {"through"})])
def test_paper_through_paper(lean: float, found: set[str]) -> None:
    """At 170 degrees the end has fallen over to 39.4 mm off its hinge, short of the wall at 40; at 179 it
    would touch. A strip whose last square is longer goes through."""
    document = strip(lean)
    pose = document["states"][0]["pose"]
    if found:  # 60 mm instead of 40
        for v in (3, 7):
            pose["sheet"][v][0] += 20
            p = np.array(pose["space"][v])
            hinge = np.array([40.0, p[1], 0.0])
            pose["space"][v] = (hinge + (p - hinge) * 1.5).tolist()
        outline = [[0, 0], [140, 0], [140, 40], [0, 40]]
        document["sheet"]["outline"] = document["states"][0]["plates"][0]["outline"] = outline
    assert kinds(document) == found
