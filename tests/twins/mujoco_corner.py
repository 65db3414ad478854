"""A twin of one corner in MuJoCo: hinges for column and stub, the tie rod as a distance to be kept.

The engine does all the kinematics: the bodies hold the parts as measured, the stub's body is seated on the
bush axis with a twist of its own, and what is read is the engine's own site positions and body matrices. A
secant search on the stub's hinge closes the rod to rounding. Left-hand convention, flat road.
"""

from __future__ import annotations

import mujoco
import numpy as np
from scipy.spatial.transform import Rotation

from kinematics.parts import Column, Corner, CornerSetting
from tests.twins import reference


def _numbers(*values) -> str:
    return " ".join(f"{float(v):.17g}" for v in np.concatenate([np.ravel(v) for v in values]))


def _quaternion(rotation: Rotation) -> str:
    return _numbers(rotation.as_quat(scalar_first=True))


def corner_xml(corner: Corner, setting: CornerSetting, column: Column, twist: float) -> str:
    """The corner as MJCF, lengths in mm, the joints' zero at the stub's seat and straight ahead."""
    seat, stub = reference.seat_of(corner, setting, twist), corner.stub
    foot = np.array(column.foot)
    up = [-np.cos(column.inclination), 0.0, np.sin(column.inclination)]
    wheel = Rotation.from_euler("ZX", [-stub.toe, -stub.camber])
    mass = '<inertial pos="0 0 0" mass="1" diaginertia="1 1 1"/>'
    arm, hub = np.array(stub.arm_end) - seat.neutral_foot, np.array(stub.wheel_centre) - seat.neutral_foot
    return f"""
<mujoco>
  <compiler angle="radian" autolimits="true"/>
  <option gravity="0 0 0"/>
  <worldbody>
    <body name="spade" pos="{_numbers(foot)}">{mass}
      <joint name="column" type="hinge" axis="{_numbers(up)}"/>
      <site name="inner" pos="{_numbers(np.array(corner.inner_joint) - foot)}"/>
    </body>
    <body name="stub" pos="{_numbers(seat.lifted)}" quat="{_quaternion(seat.rotation)}">{mass}
      <joint name="kingpin" type="hinge" axis="{_numbers(seat.neutral_axis)}"/>
      <site name="outer" pos="{_numbers(arm)}"/>
      <body name="wheel" pos="{_numbers(hub)}" quat="{_quaternion(wheel)}">{mass}
        <site name="hub" pos="{_numbers([0.0, setting.hub_spacer, 0.0])}"/>
      </body>
    </body>
  </worldbody>
</mujoco>"""


class CornerTwin:
    """One corner in the engine, turned from position to position by continuation."""

    def __init__(self, corner: Corner, setting: CornerSetting, column: Column, twist: float = 0.3) -> None:
        self.model = mujoco.MjModel.from_xml_string(corner_xml(corner, setting, column, twist))
        self.data = mujoco.MjData(self.model)
        self.column, self.kingpin = (self.model.joint(n).qposadr[0] for n in ("column", "kingpin"))
        self.inner, self.outer, self.hub = (self.model.site(n).id for n in ("inner", "outer", "hub"))
        self.wheel = self.model.body("wheel").id
        self.length, self.start = reference.kept_length(corner), -twist

    def miss(self, theta: float, delta: float) -> float:
        """Rod length less the length to be kept, mm, from the engine's forward kinematics."""
        self.data.qpos[self.column], self.data.qpos[self.kingpin] = theta, delta
        mujoco.mj_kinematics(self.model, self.data)
        rod = self.data.site_xpos[self.outer] - self.data.site_xpos[self.inner]
        return float(np.sqrt(rod @ rod)) - self.length

    def close(self, theta: float, near: float) -> float:
        """The hinge angle that closes the rod, by secants from a near one; leaves the engine there."""
        before, now = near - 1e-3, near
        miss_before, miss_now = self.miss(theta, before), self.miss(theta, now)
        for _ in range(40):
            if abs(miss_now) < 1e-12 or miss_now == miss_before:
                break
            step = miss_now * (now - before) / (miss_now - miss_before)
            before, now, miss_before = now, now - step, miss_now
            miss_now = self.miss(theta, now)
        return now

    def angles(self) -> tuple[float, float]:
        """Steer (+ left) and camber (+ top outward) from the wheel body's own matrix."""
        return reference.wheel_angles(self.data.xmat[self.wheel].reshape(3, 3)[:, 1])

    def wheel_centre(self) -> np.ndarray:
        return np.array(self.data.site_xpos[self.hub])

    def sweep(self, theta: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Steer and camber (N, 2) and wheel centre (N, 3) from straight ahead along theta, both ways."""
        angles, centres = np.zeros((theta.size, 2)), np.zeros((theta.size, 3))
        ahead = int(np.argmin(np.abs(theta)))
        for way in (range(ahead, theta.size), range(ahead, -1, -1)):
            near = self.start
            for i in way:
                near = self.close(theta[i], near)
                angles[i], centres[i] = self.angles(), self.wheel_centre()
        return angles, centres
