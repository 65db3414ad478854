"""A slow twin of the front wheels on the road: MODEL.md sections 4 and 6 with plain vectors.

The frame's front part is turned to its attitude by scipy Rotation, so that the road is level, z is up and x
is the kart's heading; angles and torques are then read there. One state at a time; of the package only the
geometry of the sweep and the numbers of the stance are used.
"""

from dataclasses import dataclass

import numpy as np
from scipy.spatial.transform import Rotation

from tests.twins.stance import MIRROR, UP, Twin, lowest_point


@dataclass
class Wheel:
    """A front wheel and its steering axis as the road sees them; places to any origin, mm."""

    foot: np.ndarray
    axis: np.ndarray
    spin: np.ndarray
    """Outboard."""
    support: np.ndarray

    @property
    def heading(self):
        """Unit vector in the road along the wheel, forward."""
        along = np.cross(self.spin, UP)
        return along * np.sign(along[0]) / np.linalg.norm(along)

    @property
    def left(self):
        """Unit vector in the road, square to the wheel's heading, to the left."""
        return np.cross(UP, self.heading)

    @property
    def steer(self):
        """rad, + left."""
        return np.arctan2(self.heading[1], self.heading[0])

    @property
    def camber(self):
        """rad, + top outward: then the axle points down outboard."""
        return -np.arcsin(self.spin[2])

    @property
    def caster(self):
        """rad, + top rearward."""
        return np.arctan2(-self.axis[0], self.axis[2])

    def torque(self, force, behind=0.0):
        """Torque about the axis, + left, of a force that acts behind the support point, mm."""
        return self.axis @ np.cross(self.support - behind * self.heading - self.foot, force)


def wheels(swept, standing, i):
    """Left and right front wheel of the i-th lock position."""
    turned = Rotation.from_euler("YX", [standing.pitch[i], standing.roll[i] + standing.twist_front[i]])
    found = []
    for corner, side in ((swept.left, np.ones(3)), (swept.right, MIRROR)):
        vectors = (corner.seated.foot, corner.seated.k, corner.spin[i], corner.wheel_centre[i])
        foot, axis, spin, centre = turned.apply(np.array(vectors) * side)
        found.append(Wheel(foot, axis, spin, lowest_point(centre, spin, swept.kart.front_tyre, UP)))
    return found


def kingpin_torques(swept, standing, i, pneumatic_trail):
    """Torque about the left and the right axis, N·mm, + left: of the vertical loads, of the side forces.

    The front's share of the inertia by the yaw balance goes to the wheels by their loads, each wheel's part
    square to its own heading; their parts across the kart make up that share.
    """
    still, pair, loads = Twin(swept.kart, (), 0.0), wheels(swept, standing, i), standing.loads[i, :2]
    asked = still.weight * standing.lateral_g[i] * still.cog[0] / swept.kart.wheelbase
    across = sum(load * wheel.left[1] for load, wheel in zip(loads, pair, strict=True))
    per_load = asked / across
    of_loads = [w.torque(load * UP) for load, w in zip(loads, pair, strict=True)]
    of_sides = [
        w.torque(per_load * load * w.left, pneumatic_trail) for load, w in zip(loads, pair, strict=True)
    ]
    return np.array(of_loads), np.array(of_sides)
