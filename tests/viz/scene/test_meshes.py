"""Meshes: solids are closed and look outward, and the tyre's lowest vertex is the solver's support point."""

from __future__ import annotations

from math import inf

import numpy as np
import pytest
from trimesh import Trimesh

from kinematics.corner.contact import support_point
from kinematics.corner.stub import seat_stub
from kinematics.frames import FLAT_ROAD
from kinematics.parts import Corner, CornerSetting, Stub, Tyre, Yoke
from viz.look.palette import ROLES
from viz.scene import bodies
from viz.scene.meshes import (
    Mesh,
    axes_along,
    bar,
    diamond,
    eccentric,
    lug,
    merge,
    mirrored,
    paint,
    pipe,
    revolved,
    rod,
)

UP = np.array([0.0, 0.0, 1.0])


def solid(mesh: Mesh) -> Trimesh:
    return Trimesh(mesh.vertices, mesh.faces)


@pytest.mark.parametrize(
    ("made", "volume"),
    [
        (lambda: bar((0, 0, 0), (0, 30, 0), 4.0, 2.0, UP), 240.0),
        (lambda: pipe((0, 0, 0), (10, 0, 0), 5.0, 3.0, 720), np.pi * 16 * 10),
        (lambda: rod((0, 0, 0), (0, 0, 7), 2.0, 720), np.pi * 4 * 7),
        (lambda: diamond((1, 2, 3), 3.0), 4.0 / 3.0 * 27.0),
        (lambda: lug((0, 0, 0), (20, 0, 0), UP, 3.0, 2.0), (20 * 6 + np.pi * 9) * 2),
        (lambda: revolved(np.array([(3, 0), (5, 0), (5, 2), (3, 2)]), (9, 9, 9), UP, 720), np.pi * 16 * 2),
        (lambda: eccentric([(0, 0, 0), (0, 0, 4)], UP, 10.0, [(3, 0, 0), (3, 0, 4)], 2.0), np.pi * 96 * 4),
    ],
)
def test_a_solid_is_closed_looks_outward_and_has_its_size(made, volume):
    shape = made()
    assert shape.is_watertight
    assert shape.is_winding_consistent
    assert shape.volume == pytest.approx(volume, rel=6e-3)


def test_a_mirrored_mesh_still_looks_outward():
    mesh = paint("steel", eccentric([(0, 5, 0), (0, 5, 4)], UP, 10.0, [(3, 6, 0), (3, 6, 4)], 2.0))
    image = mirrored(mesh)
    assert solid(image).volume == pytest.approx(solid(mesh).volume)
    assert np.allclose(image.vertices.mean(axis=0) * [1, -1, 1], mesh.vertices.mean(axis=0))


def test_merged_meshes_keep_their_roles_and_faces():
    both = merge(paint("tyre", diamond((0, 0, 0), 1.0)), paint("rim", diamond((5, 0, 0), 2.0)))
    assert [ROLES[i] for i in both.roles] == ["tyre"] * 6 + ["rim"] * 6
    assert solid(both).volume == pytest.approx(4.0 / 3.0 * (1 + 8))


def test_axes_along_are_right_handed_and_keep_the_axis():
    axes = axes_along([1.0, 2.0, -0.5], across=UP)
    assert np.allclose(axes.T @ axes, np.eye(3))
    assert np.linalg.det(axes) == pytest.approx(1.0)
    assert np.allclose(axes[:, 2], np.array([1.0, 2.0, -0.5]) / np.linalg.norm([1.0, 2.0, -0.5]))


def tilted(camber_deg: float, steer_deg: float) -> np.ndarray:
    g, s = np.radians([camber_deg, steer_deg])
    level = np.array([-np.sin(s), np.cos(s), 0.0])
    return np.cos(g) * level - np.sin(g) * UP


TYRES = {
    "crowned": Tyre(128.5, 115.0, 350.0),
    "flat tread": Tyre(128.5, 115.0, inf),
    "thin disc": Tyre(350.0, 0.0),
    "like a ball": Tyre(130.0, 180.0, 130.0),
    "very round": Tyre(127.0, 105.0, 60.0),
}


@pytest.mark.slow
@pytest.mark.parametrize("camber", [-12.0, -3.0, -0.4, 0.0, 0.4, 3.0, 7.5, 15.0])
@pytest.mark.parametrize("kind", TYRES)
def test_lowest_vertex_of_the_tyre_is_the_support_point(kind, camber):
    """MODEL: a surface of revolution with crown and shoulders; a mesh made from its profile must agree.

    The mesh is inscribed in the surface, so its lowest vertex lies above the true one by no more than the
    sagitta of half a step, round the tyre and across the tread.
    """
    part, sections, samples = TYRES[kind], 240, 51
    centre, spin = np.array([1045.0, 500.0, 128.0]), tilted(camber, 11.0)
    mesh = bodies.tyre(part, centre, spin, sections, samples)
    lowest = mesh.vertices[np.argmin(mesh.vertices[:, 2])]
    truth = support_point(centre, spin, part, FLAT_ROAD)
    step, pitch = np.pi / sections, part.tread_width / (samples - 1)
    sagitta = part.radius * (1 - np.cos(step)) + (0.5 * pitch) ** 2 / (2 * min(part.crown_radius, 1e9))
    assert -1e-9 <= lowest[2] - truth[2] <= sagitta + 1e-9
    if camber != 0.0 or kind in ("crowned", "like a ball"):
        assert np.linalg.norm(lowest - truth) <= part.radius * step + pitch + 1e-6


def test_rim_lies_inside_the_tyre():
    for part in TYRES.values():
        assert bodies.rim_radius(part) < bodies.tread_profile(part)[:, 0].min()


CORNER = Corner(
    Yoke((1045.0, 367.0, 130.0), np.radians(12.0), np.radians(10.0), 66.0),
    Stub((1045.0, 500.0, 128.5), 0.0, 0.0, (927.0, 353.0, 125.0)),
    (901.0, 14.0, 82.0),
)


def test_a_bush_has_its_hole_where_the_solver_has_it():
    """Vertices at the hole's radius stand round the solver's hole centres; none is nearer."""
    setting = CornerSetting(top_offset=4.0, top_clock=2.0, bottom_offset=3.0, bottom_clock=5.0)
    seated = seat_stub(CORNER, setting)
    radius = bodies.bush_radius(CORNER, setting)
    points = bodies.bushes(CORNER, setting, seated, radius).vertices
    off = points - seated.foot
    from_axis = np.linalg.norm(off - (off @ seated.k)[:, None] * seated.k, axis=1)
    inner = from_axis < bodies.HOLE + 0.05
    assert inner.sum() >= 2 * 6 * 64
    assert from_axis[inner].min() > bodies.PIN, "the kingpin would cut the bush"
    assert from_axis.min() > bodies.PIN


def test_the_bushes_fit_in_the_yoke_whatever_is_fitted():
    large = CornerSetting(top_offset=11.0, bottom_offset=1.0)
    assert bodies.bush_radius(CORNER, large) >= 11.0 + bodies.HOLE + 2.0
