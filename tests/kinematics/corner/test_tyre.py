"""The lowest point of a crowned tyre: against a mesh, its analytic limits, and its refusals."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import trimesh
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from kinematics.corner.contact import (
    support_depth,
    support_point,
    tread_offset,
    tread_radius,
    wheel_up,
)
from kinematics.corner.stub import spin_axis
from kinematics.frames import FLAT_ROAD
from kinematics.parts import Stub, Tyre
from tests.helpers.karts import karts

THIN = Tyre(130.0, 0.0)


TREADS = {
    "crowned": Tyre(129.0, 115.0, 350.0),
    "round": Tyre(129.0, 120.0, 75.0),
    "flat": Tyre(129.0, 115.0),
    "thin": Tyre(129.0, 0.0, 40.0),
    "sphere": Tyre(129.0, 240.0, 129.0),
}


def tyre_points(tyre: Tyre, angle: float, sections: int, rows: int) -> np.ndarray:
    """Vertices of the tread by trimesh: the profile revolved about z, an arc of it middled on x."""
    half = 0.5 * tyre.tread_width
    u = np.linspace(-half, half, rows) if half else np.array([-1e-9, 1e-9])
    sagitta = (
        0.0 * u if np.isinf(tyre.crown_radius) else tyre.crown_radius - np.sqrt(tyre.crown_radius**2 - u * u)
    )
    mesh = trimesh.creation.revolve(
        np.column_stack([tyre.radius - sagitta, u]), None if angle > 6.28 else angle, sections=sections
    )
    spun = Rotation.from_euler("z", -0.5 * angle).apply(mesh.vertices)
    return np.asarray(spun, float)


def standing(points: np.ndarray, centre: np.ndarray, spin: np.ndarray) -> np.ndarray:
    """The mesh with its axis along spin and its arc about the bottom, from SciPy's rotation."""
    down = np.array([0.0, 0.0, -1.0]) + spin[2] * spin
    down /= np.linalg.norm(down)
    rotation = Rotation.from_matrix(np.column_stack([down, np.cross(spin, down), spin]))
    return rotation.apply(points) + centre


@pytest.mark.parametrize("name", TREADS)
@pytest.mark.parametrize("camber_deg", [-9.0, -3.0, 0.5, 6.0, 14.0])
def test_the_lowest_vertex_of_a_tyre_mesh_is_the_support_point(name, camber_deg):
    """Mesh spacing: 0.02 mm round the tread, tread width / 1200 across it; heights then to 1e-3 mm."""
    tyre, centre = TREADS[name], np.array([1045.0, 535.0, 129.0])
    stub = Stub(tuple(centre.tolist()), np.radians(camber_deg), np.radians(20.0), (0.0, 0.0, 0.0))
    spin = spin_axis(stub)
    point = support_point(centre, spin, tyre, FLAT_ROAD)
    vertices = standing(tyre_points(tyre, np.radians(1.0), 100, 1201), centre, spin)
    lowest = vertices[np.argmin(vertices[:, 2])]
    assert abs(lowest[2] - point[2]) < 1e-3
    assert np.abs(lowest - point).max() < 0.15
    whole = standing(tyre_points(tyre, 2.0 * np.pi, 360, 101), centre, spin)
    assert abs(whole[:, 2].min() - point[2]) < 0.01
    assert abs(centre[2] - point[2] - support_depth(tyre, np.sin(np.radians(camber_deg)))) < 1e-12


def test_limits_of_the_tread_are_a_thin_disc_and_a_sphere():
    sine = np.sin(np.radians(np.linspace(-40.0, 40.0, 17)))
    assert np.abs(support_depth(THIN, sine) - 130.0 * np.sqrt(1.0 - sine**2)).max() < 1e-12
    sphere = Tyre(130.0, 260.0, 130.0)
    assert np.abs(support_depth(sphere, sine) - 130.0).max() < 1e-12
    flat = Tyre(130.0, 100.0)
    edge = 50.0 * np.abs(sine) + 130.0 * np.sqrt(1.0 - sine**2)
    assert np.abs(support_depth(flat, sine) - edge).max() < 1e-8  # a very large crown stands for flat


def test_the_tread_dips_on_the_side_the_wheel_leans_to():
    tyre = TREADS["crowned"]
    assert tread_offset(tyre, np.sin(0.05)) > 10.0  # top outward: the outboard part carries
    assert tread_offset(tyre, -np.sin(0.05)) < -10.0
    assert tread_offset(tyre, 0.9) == 57.5  # the shoulder
    assert tread_radius(tyre, 0.0) == 129.0
    assert tread_radius(tyre, 50.0) < 129.0


def test_depth_runs_on_through_upright_and_through_the_shoulder():
    sine = np.linspace(-0.4, 0.4, 4001)
    for tyre in TREADS.values():
        assert np.abs(np.diff(support_depth(tyre, sine))).max() < 0.03
        assert np.isfinite(support_depth(tyre, sine)).all()


@given(karts(), st.floats(-0.3, 0.3), st.floats(-0.6, 0.6))
def test_no_part_of_the_tread_is_lower_than_the_support_point(kart, camber, toe):
    tyre, centre = kart.front_tyre, np.array(kart.left.stub.wheel_centre)
    spin = spin_axis(replace(kart.left.stub, camber=camber, toe=toe))
    point = support_point(centre, spin, tyre, FLAT_ROAD)
    u = np.linspace(-0.5, 0.5, 201) * tyre.tread_width
    tread = centre + u[:, None] * spin - tread_radius(tyre, u)[:, None] * wheel_up(spin, FLAT_ROAD)
    assert tread[:, 2].min() > point[2] - 1e-9


def test_a_tread_that_cannot_be_is_refused():
    for bad in ({"radius": 0.0}, {"tread_width": -1.0}, {"crown_radius": 50.0}, {"stiffness": 0.0}):
        with pytest.raises(ValueError, match="must be"):
            replace(TREADS["crowned"], **bad)
    with pytest.raises(ValueError, match="crown radius must be above 0"):
        Tyre(130.0, 0.0, 0.0)
