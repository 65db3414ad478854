"""The stance against MuJoCo: two frame halves on a sprung hinge, four one-sided springs, left to settle.

The rear half carries the seat and the whole mass (the split that puts all compliance in front). It is held
in heave, pitch and roll; the front half turns on a sprung hinge along the torsion axis. Sphere-like tyres
stand on one-sided springs: tendons with a slack range, each from a wheel centre down to an anchor far
below the floor. Lateral and longitudinal acceleration tilt gravity; the side forces that keep the kart in
its place act at the reference floor of each half. Time runs until everything is at rest.

Agreement is asked to 0.001 N and 1e-4 mm. What is left: anchors 1 km down, towards which the springs lean
by a few millionths, and a rest that is taken as reached at 1e-6 m/s.
"""

from dataclasses import replace

import mujoco
import numpy as np
import pytest

from kinematics.parts import GRAVITY, Frame
from kinematics.stance.equilibrium import equilibrium
from kinematics.stance.springs import springs
from tests.helpers.random_karts import NM_PER_DEG, front_wheels, random_sweep

DEEP = 1000.0  # m below the floor
NAMES = ("fl", "fr", "rl", "rr")
SECONDS = 6.0


def metres(point):
    return " ".join(f"{v:.15g}" for v in np.asarray(point, float) * 1e-3)


def xml(kart, places, gravity):
    """The kart as a MuJoCo model; places (4, 3) are wheel centres less the torsion axis at x = 0, mm."""
    s = springs(kart)
    wheel = [f'<site name="{n}" pos="{metres(p)}"/>' for n, p in zip(NAMES, places, strict=True)]
    axis = np.array([0.0, 0.0, kart.frame.axis_height])
    anchors = "".join(
        f'<site name="{n}_deep" pos="{p[0] * 1e-3} {p[1] * 1e-3} {-DEEP}"/>'
        for n, p in zip(NAMES, places, strict=True)
    )
    radii = np.repeat([kart.front_tyre.radius, kart.rear_tyre.radius], 2)
    heights = DEEP + 1e-3 * (s.travel[:, 0] + radii)
    tendons = "".join(
        f'<spatial name="{n}" stiffness="{k * 1e3:.15g}" damping="300" springlength="{h:.15g} {2 * DEEP}">'
        f'<site site="{n}_deep"/><site site="{n}"/></spatial>'
        for n, k, h in zip(NAMES, s.stiffnesses[:, 0], heights, strict=True)
    )
    stiffness = kart.frame.stiffness * 1e-3
    rest = -s.preload[0] * 1e-3 / stiffness
    return f"""<mujoco>
      <compiler angle="radian" autolimits="true" boundmass="1e-9" boundinertia="1e-9"/>
      <option timestep="1e-3" integrator="implicitfast" gravity="{gravity}"/>
      <worldbody>{anchors}
        <body name="rear" pos="{metres(axis)}">
          <joint name="heave" type="slide" axis="0 0 1"/>
          <joint name="pitch" type="hinge" axis="0 1 0" armature="1" damping="200"/>
          <joint name="roll" type="hinge" axis="1 0 0" armature="1" damping="200"/>
          <inertial pos="{metres(s.cog)}" mass="{s.weight / GRAVITY:.15g}" diaginertia="5 5 5"/>
          <site name="floor_rear" pos="{metres(-axis)}"/>{wheel[2]}{wheel[3]}
          <body name="front">
            <joint name="twist" type="hinge" axis="1 0 0" stiffness="{stiffness:.15g}"
                   springref="{rest:.15g}" armature="1" damping="100"/>
            <inertial pos="0 0 0" mass="1e-9" diaginertia="1e-9 1e-9 1e-9"/>
            <site name="floor_front" pos="{metres(-axis)}"/>{wheel[0]}{wheel[1]}
          </body>
        </body>
      </worldbody>
      <tendon>{tendons}</tendon>
    </mujoco>"""


def settle(kart, places, lateral, forward):
    """Loads and clearances (4,) in N and mm, heave mm, pitch, roll and twist rad, at rest."""
    gravity = " ".join(f"{-GRAVITY * a:.15g}" for a in (forward, lateral, 1.0))
    model = mujoco.MjModel.from_xml_string(xml(kart, places, gravity))
    data = mujoco.MjData(model)
    s = springs(kart)
    share = s.cog[0] / kart.wheelbase
    forces = {
        "floor_front": s.weight * np.array([0.0, share * lateral, 0.0]),
        "floor_rear": s.weight * np.array([forward, (1.0 - share) * lateral, 0.0]),
    }
    bodies = {"floor_front": model.body("front").id, "floor_rear": model.body("rear").id}
    mujoco.mj_forward(model, data)
    for _ in range(int(SECONDS / model.opt.timestep)):
        data.qfrc_applied[:] = 0.0
        for site, force in forces.items():
            place = data.site(site).xpos
            mujoco.mj_applyFT(model, data, force, np.zeros(3), place, bodies[site], data.qfrc_applied)
        mujoco.mj_step(model, data)
    assert np.abs(data.qvel).max() < 1e-6
    low = model.tendon_lengthspring[:, 0]
    gap = low - data.ten_length
    loads, clearance = model.tendon_stiffness * np.maximum(gap, 0.0), np.maximum(-1e3 * gap, 0.0)
    return loads, clearance, data.qpos * [1e3, 1.0, 1.0, 1.0]


def spheres(kart, nm_per_deg):
    """The kart on sphere-like tyres, its seat at the rear half of a frame so stiff."""
    front, rear = (
        replace(t, tread_width=100.0, crown_radius=t.radius) for t in (kart.front_tyre, kart.rear_tyre)
    )
    frame = Frame(nm_per_deg * NM_PER_DEG, 1.0, kart.frame.axis_height)
    return replace(kart, front_tyre=front, rear_tyre=rear, frame=frame)


@pytest.mark.parametrize("seed", range(12))
def test_loads_clearances_and_attitude(seed):
    """Random karts, half of them with a very stiff frame, which lifts wheels at lock."""
    rng = np.random.default_rng(400 + seed)
    swept = random_sweep(rng)
    kart, shift = spheres(swept.kart, (150.0, 2000.0)[seed % 2]), float(swept.setting.rear_axle_shift)
    lateral, forward = rng.choice([-1.0, 1.0]) * rng.uniform(0.0, 1.5), rng.uniform(-0.4, 0.4)
    left, spin_left, right, spin_right = (v[0] for v in front_wheels(swept))
    standing = equilibrium(kart, left, spin_left, right, spin_right, shift, lateral, forward)
    assert not standing.tips
    rear = np.array([0.0, 0.5 * kart.rear_track, kart.rear_tyre.radius + shift])
    places = np.array([left, right, rear, rear * [1.0, -1.0, 1.0]])
    places[:, 2] -= kart.frame.axis_height
    loads, clearance, (heave, pitch, roll, twist) = settle(kart, places, lateral, forward)
    assert np.abs(loads - standing.loads).max() < 1e-3
    assert np.abs(clearance - standing.clearance).max() < 1e-4
    assert abs(heave - (standing.height - kart.frame.axis_height)) < 1e-4
    angles = np.array([pitch, roll, twist]) - [standing.pitch, standing.roll, standing.twist]
    assert np.abs(500.0 * angles).max() < 1e-4
