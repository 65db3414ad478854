"""GLB: the file read back by trimesh holds the solver's points, in metres, y up, front along z."""

import json
import struct
from dataclasses import replace

import numpy as np
import pytest
import trimesh

import scenarios
from kinematics.frames import mirror
from kinematics.lock import sweep
from viz.canvas import glb as export_glb
from viz.scene import scene

LOCK_DEG = np.linspace(-60.0, 60.0, 5)
INDEX = 1


def gltf_points(points):
    """x forward, y left, z up in mm -> x left, y up, z forward in m, written out."""
    x, y, z = np.moveaxis(np.asarray(points, float), -1, 0)
    return np.stack([y, z, x], axis=-1) / 1000.0


@pytest.fixture(scope="module")
def solved():
    scenario = scenarios.load()
    return sweep(scenario.kart, scenario.settings["more-caster"], np.radians(LOCK_DEG))


@pytest.fixture(scope="module")
def data(solved):
    return scene.build(solved, "more caster")


@pytest.fixture(scope="module")
def file(data, tmp_path_factory):
    path = tmp_path_factory.mktemp("glb") / "front.glb"
    size = export_glb.write(path, data, at_deg=LOCK_DEG[INDEX])
    assert path.stat().st_size == size
    return path


@pytest.fixture(scope="module")
def loaded(file):
    return trimesh.load_scene(file)


def vertices(loaded, name):
    matrix, geometry = loaded.graph[name]
    return trimesh.transform_points(loaded.geometry[geometry].vertices, matrix)


def test_every_body_but_the_road_is_a_node(data, loaded):
    wanted = {b.name for b in data.bodies} - {"road", "grid"}
    assert set(loaded.graph.nodes_geometry) == wanted


def test_vertices_stand_where_the_scene_has_them(data, loaded):
    for body in data.bodies:
        if body.role == "road":
            continue
        matrix = body.matrices[INDEX]
        there = body.mesh.vertices @ matrix[:3, :3].T + matrix[:3, 3]
        np.testing.assert_allclose(vertices(loaded, body.name), gltf_points(there), atol=2e-7)  # m


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize(
    ("body", "point"),
    [("contact", "contact_centre"), ("axis", "axis_road_point"), ("axis_point", "axis_road_point")],
)
def test_marks_stand_on_the_solvers_points(solved, loaded, side, body, point):
    points = getattr(getattr(solved, side), point)[INDEX]
    expected = gltf_points(points if side == "left" else mirror(points))
    matrix, _ = loaded.graph[f"{body}_{side}"]
    np.testing.assert_allclose(matrix[:3, 3], expected, atol=1e-6)  # m


@pytest.mark.parametrize("side", ["left", "right"])
def test_the_tyre_reaches_down_to_the_support_point(solved, loaded, side):
    corner = getattr(solved, side)
    lowest = corner.support_point[INDEX, 2] / 1000.0
    # The tyre is drawn with 96 sides of a circle, so between two corners it is up to 0.08 mm short.
    assert vertices(loaded, f"wheel_{side}")[:, 1].min() == pytest.approx(lowest, abs=2e-4)


def test_the_left_wheel_is_at_the_left_and_the_front_in_front(solved, loaded):
    left, right = (vertices(loaded, f"wheel_{side}").mean(axis=0) for side in ("left", "right"))
    assert left[0] > 0.3
    assert right[0] < -0.3
    assert left[2] == pytest.approx(solved.left.wheel_centre[INDEX, 0] / 1000.0, abs=0.05)


def test_no_node_mirrors_its_body(loaded):
    for name in loaded.graph.nodes_geometry:
        assert np.linalg.det(loaded.graph[name][0][:3, :3]) == pytest.approx(1.0, abs=1e-6)


def test_the_header_says_gltf_2_and_the_length(file):
    content = file.read_bytes()
    magic, version, length, json_length = struct.unpack("<4sIII", content[:16])
    assert (magic, version, length) == (b"glTF", 2, len(content))
    head = json.loads(content[20 : 20 + json_length])
    assert "uri" not in json.dumps(head["buffers"])


def test_the_road_comes_when_asked_for(data):
    with_road = export_glb.glb(data, INDEX, road=True)
    assert len(with_road) > len(export_glb.glb(data, INDEX))


def test_what_is_not_to_be_seen_is_not_in_the_file(data, tmp_path):
    names = [body.name for body in data.bodies if body.role != "road"]
    seen = np.arange(data.count) != INDEX
    bodies = tuple(replace(b, visible=seen) if b.name == names[0] else b for b in data.bodies)
    path = tmp_path / "part.glb"
    for index, wanted in ((INDEX, names[1:]), (INDEX - 1, names)):
        path.write_bytes(export_glb.glb(replace(data, bodies=bodies), index))
        assert set(trimesh.load_scene(path).graph.nodes_geometry) == set(wanted)


def test_a_grey_in_the_middle_is_darker_in_linear_light():
    grey = np.array([[0, 128, 255]], np.uint8)
    assert export_glb.linear(grey).tolist() == [[0, 55, 255]]


def test_another_suffix_is_refused(data, tmp_path):
    with pytest.raises(ValueError, match=r"must end in \.glb"):
        export_glb.write(tmp_path / "front.gltf", data)


def test_an_interrupted_export_leaves_the_older_file_alone(data, tmp_path):
    path = tmp_path / "front.glb"
    path.write_bytes(b"older")

    def stop(done, total):
        if done == 3:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        export_glb.write(path, data, progress=stop)
    assert [p.name for p in tmp_path.iterdir()] == ["front.glb"]
    assert path.read_bytes() == b"older"
