"""GLB: the file read back by trimesh and VTK holds the solver's points, in metres, y up, front along z."""

import struct
from dataclasses import replace

import numpy as np
import pytest
import trimesh

import scenarios
from kinematics.frames import mirror
from kinematics.lock import sweep
from kinematics.standing.stand import stand
from tests.helpers.files.gltf import Played, header
from viz.canvas import glb as export_glb
from viz.canvas.motion import motion
from viz.look.palette import THEMES
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
    placed = [loaded.graph[n] for n in loaded.graph.nodes_geometry if n.split(": ")[0] == name]
    return np.vstack([trimesh.transform_points(loaded.geometry[g].vertices, matrix) for matrix, g in placed])


def bodies(loaded):
    return {name.split(": ")[0] for name in loaded.graph.nodes_geometry}


def stands(body, index):
    """A body's points at a lock position (V, 3), m, in glTF's axes."""
    matrix = body.matrices[index]
    return gltf_points(body.mesh.vertices @ matrix[:3, :3].T + matrix[:3, 3])


AROUND = np.random.default_rng(4).normal(size=(3, 24))
AROUND /= np.linalg.norm(AROUND, axis=0)


def extents(points):
    """How far points reach in many directions (2, 24), m: alike only where they stand alike."""
    along = points @ AROUND
    return np.stack([along.min(axis=0), along.max(axis=0)])


def test_every_body_but_the_road_is_a_node(data, loaded):
    assert bodies(loaded) == {b.name for b in data.bodies} - {"road", "grid"}


def test_points_stand_where_the_scene_has_them(data, loaded):
    for body in data.bodies:
        if body.role != "road":
            there = extents(vertices(loaded, body.name))
            np.testing.assert_allclose(there, extents(stands(body, INDEX)), atol=4e-7, err_msg=body.name)


@pytest.fixture(scope="module")
def standing(solved, tmp_path_factory):
    """The kart that leans in a corner as the view of its inside rear shows it, and the file of that."""
    case = scenarios.load().load_cases[2]
    shown = scene.build(solved, "more caster", stance=stand(solved, case)).seen_from("rock")
    path = tmp_path_factory.mktemp("glb") / "rock.glb"
    export_glb.write(path, shown)
    return shown, path


@pytest.mark.parametrize("at", range(len(LOCK_DEG)))
def test_the_animation_carries_each_body_to_where_the_scene_has_it(standing, at):
    """Within 0.1 mm as VTK plays it: 30 deg of handwheel a second, from right lock to left and back."""
    shown, path = standing
    played = Played(path)
    assert played.animations == ["lock"]
    for seconds in (at, 8 - at):
        played.play(float(seconds))
        for body in shown.bodies:
            if body.name not in played.actors:
                continue
            points = played.points(body.name)
            if not body.visible[at]:
                assert np.ptp(points, axis=0).max() < 1e-9, body.name
                continue
            off = 1e-4 + motion(body).off_mm / 1000.0
            np.testing.assert_allclose(
                extents(points), extents(stands(body, at)), rtol=0, atol=off, err_msg=body.name
            )


def test_what_shears_stands_off_by_less_than_its_limit_and_the_rest_not_at_all(standing):
    """The largest here is 1.2 mm, a rail of the twisted frame; the triangle that is stretched is left out."""
    shown, path = standing
    off = {body.name: motion(body).off_mm for body in shown.bodies if body.role != "road"}
    sheared = {name for name, mm in off.items() if mm > 1e-6}
    assert {name.split("_")[0] for name in sheared} == {"rail", "tyre", "air", "rests"}
    kept = {name: mm for name, mm in off.items() if mm <= export_glb.ASTRAY}
    assert set(Played(path).actors) == set(kept)
    assert set(off) - set(kept) == {"rests_on"}
    assert max(kept.values()) < 1.3


@pytest.mark.parametrize("theme", THEMES.values(), ids=lambda theme: theme.name)
def test_every_primitive_has_normals_and_a_material_that_is_seen(standing, tmp_path, theme):
    """Not too metallic for a viewer without surroundings, which shows a metal as black."""
    shown, _ = standing
    path = tmp_path / "seen.glb"
    export_glb.write(path, shown, theme=theme)
    head, played = header(path), Played(path)
    for primitive in (p for mesh in head["meshes"] for p in mesh["primitives"]):
        assert "NORMAL" in primitive["attributes"]
        assert "COLOR_0" not in primitive["attributes"]
        material = head["materials"][primitive["material"]]["pbrMetallicRoughness"]
        assert {"baseColorFactor", "roughnessFactor"} <= set(material)
        assert material["metallicFactor"] <= 0.5
    for body in played.actors:
        lengths = np.linalg.norm(played.normals(body), axis=1)
        np.testing.assert_allclose(lengths, 1.0, atol=1e-5, err_msg=body)
    named = {m["name"]: m for m in head["materials"]}
    tyre = np.array(named["tyre"]["pbrMetallicRoughness"]["baseColorFactor"])
    np.testing.assert_allclose(255 * tyre[:3], export_glb.linear(theme.palette()[0]), atol=0.5)
    assert named["shadow"]["alphaMode"] == "BLEND"


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
    assert struct.unpack("<4sII", content[:12]) == (b"glTF", 2, len(content))
    head = header(file)
    assert [set(buffer) for buffer in head["buffers"]] == [{"byteLength"}]


def test_the_road_comes_when_asked_for(data):
    with_road = export_glb.glb(data, INDEX, road=True)
    assert len(with_road) > len(export_glb.glb(data, INDEX))


def test_what_is_not_to_be_seen_has_no_size(data, tmp_path):
    names = [body.name for body in data.bodies if body.role != "road"]
    seen = np.arange(data.count) != INDEX
    hidden = {names[0]: seen, names[1]: np.zeros(data.count, bool)}
    every = tuple(replace(b, visible=hidden.get(b.name, b.visible)) for b in data.bodies)
    path = tmp_path / "part.glb"
    for index in (INDEX, INDEX - 1):
        path.write_bytes(export_glb.glb(replace(data, bodies=every), index))
        loaded = trimesh.load_scene(path)
        assert bodies(loaded) == {*names} - {names[1]}
        assert (np.ptp(vertices(loaded, names[0]), axis=0).max() > 0.0) == seen[index]


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
