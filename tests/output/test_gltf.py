"""A model in space as glTF 2.0: read by general libraries, which know nothing of folding."""

from __future__ import annotations

import io
import itertools
import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pygltflib
import pytest
import trimesh

from foldscript.drawing.scene.scene import Scene
from foldscript.drawing.style.styles import load_style
from foldscript.folding.steps import Model
from foldscript.output.drawn import Drawn
from foldscript.output.formats.gltf import files
from foldscript.output.states import states
from foldscript.pages.document import Document
from foldscript.pose.goals import Raise
from foldscript.pose.pose import Pose
from foldscript.pose.raising import raised

from ..drawing.test_space import GLIDER, creases
from ..scripts import folded


def glider() -> tuple[Model, Pose]:
    model = folded(*GLIDER, "hold A")
    pose = raised(model.finished, [Raise(creases(model, "k", "m"), 90)])
    return replace(model, title="Glider", credit="traditional", poses={5: pose}), pose


def made(model: Model) -> bytes:
    """The file, without any pages."""

    def lay_out() -> Document:
        raise AssertionError("a model in space needs no pages")

    ((name, data),) = files(Drawn(model, (), Scene(1, 1, ()), load_style("colour"), lay_out))
    assert name.endswith(".gltf")
    return data


def scene_of(data: bytes, process: bool = True) -> trimesh.Scene:
    """The file as a general library has it."""
    scene = trimesh.load(io.BytesIO(data), file_type="gltf", process=process)
    assert isinstance(scene, trimesh.Scene)
    return scene


def test_a_general_library_reads_the_standing_model() -> None:
    """Wings 60 mm across, 100 mm long, on a body of 20 mm that stands on the floor; the format has metres."""
    scene = scene_of(made(glider()[0]))
    wide, high, deep = scene.extents
    assert sorted((wide, deep)) == pytest.approx([0.06, 0.1], abs=5e-4)
    assert high == pytest.approx(0.02, abs=5e-4)
    assert scene.bounds[0][1] == pytest.approx(0, abs=5e-4)
    meshes = [g for g in scene.geometry.values() if isinstance(g, trimesh.Trimesh)]
    assert [m.area for m in meshes] == pytest.approx(
        [0.01, 0.01], rel=1e-3
    )  # the whole sheet, from both sides


def test_the_front_and_the_back_face_opposite_ways() -> None:
    scene = scene_of(made(glider()[0]), process=False)
    front, back = (g for g in scene.geometry.values() if isinstance(g, trimesh.Trimesh))
    total = (front.face_normals * front.area_faces[:, None]).sum(axis=0)
    other = (back.face_normals * back.area_faces[:, None]).sum(axis=0)
    assert total == pytest.approx(-other, abs=1e-9)


def test_the_file_says_what_the_specification_asks_for(tmp_path: Path) -> None:
    """glTF 2.0: a version, bounds of points, indices within them, aligned views."""
    path = tmp_path / "glider.gltf"
    path.write_bytes(made(glider()[0]))
    read = pygltflib.GLTF2().load(str(path))
    assert read is not None
    assert (read.asset.version, read.asset.copyright) == ("2.0", "traditional")
    (mesh,) = read.meshes
    assert [p.mode for p in mesh.primitives] == [4, 4, 1]
    data = read.get_data_from_buffer_uri(read.buffers[0].uri)
    assert isinstance(data, bytes)
    assert len(data) == read.buffers[0].byteLength
    for primitive in mesh.primitives:
        assert primitive.attributes.POSITION is not None
        assert primitive.indices is not None
        points = read.accessors[primitive.attributes.POSITION]
        corners = read.accessors[primitive.indices]
        for accessor in (points, corners):
            assert accessor.bufferView is not None
            view = read.bufferViews[accessor.bufferView]
            assert view.byteOffset is not None
            assert view.byteOffset % 4 == 0
            size = {"VEC3": 12, "SCALAR": 4}[accessor.type]
            assert view.byteLength == size * accessor.count
        assert points.bufferView is not None
        assert corners.bufferView is not None
        view = read.bufferViews[points.bufferView]
        at = np.frombuffer(data[view.byteOffset :][: view.byteLength], "<f4").reshape(-1, 3)
        assert at.min(axis=0) == pytest.approx(points.min)
        assert at.max(axis=0) == pytest.approx(points.max)
        view = read.bufferViews[corners.bufferView]
        used = np.frombuffer(data[view.byteOffset :][: view.byteLength], "<u4")
        assert used.max() < points.count


def test_layers_lie_a_hair_apart() -> None:
    """Programs that show models know depths alone: two layers of a sheet in half are not in one place."""
    scene = scene_of(made(folded("valley A onto C")), process=False)
    heights = np.unique(
        np.concatenate([g.vertices[:, 1] for g in scene.geometry.values()]).round(6)
    )
    assert 0 < np.ptp(heights) < 5e-4


def test_the_same_model_gives_the_same_bytes() -> None:
    assert made(glider()[0]) == made(glider()[0])


def test_states_carry_the_pose() -> None:
    model, pose = glider()
    flat, *_, last = states(model)["states"]
    assert "pose" not in flat
    told = json.loads(json.dumps(last.get("pose")))
    assert len(told["space"]) == len(told["sheet"]) == len(pose.space)
    for piece in told["pieces"]:
        ring = piece["corners"]
        for a, b in itertools.pairwise(ring):
            on_sheet, in_space = (
                np.linalg.norm(np.subtract(told[key][a], told[key][b]))
                for key in ("sheet", "space")
            )
            assert on_sheet == pytest.approx(in_space, abs=1e-6)
    assert {e["kind"] for e in told["edges"]} == {"rim", "fold"}
    assert sorted(round(abs(e["angle"])) for e in told["edges"] if e["kind"] == "fold") == [
        90,
        90,
        180,
    ]
