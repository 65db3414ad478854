"""A slow twin of the stance: MODEL.md section 5 as an energy of whole rotations, minimised by SciPy.

Nothing of kinematics.stance.equilibrium is used here. Points are turned by scipy Rotation, the tyre's lowest
point is found from its profile as points in space, and the minimiser sees no derivative of ours. Written
for one state at a time, to be read beside MODEL.md.
"""

from dataclasses import replace

import numpy as np
from scipy.optimize import minimize
from scipy.spatial.transform import Rotation

from kinematics.parts import AS_MEASURED, Kart, Tyre

UP = np.array([0.0, 0.0, 1.0])
MIRROR = np.array([1.0, -1.0, 1.0])
ARM = 500.0  # mm; angles are minimised as movements at this arm


def lowest_point(centre, spin, tyre: Tyre, up):
    """Lowest point of a tyre of revolution towards the road with this up-normal."""
    down = (up @ spin) * spin - up
    down = down / np.linalg.norm(down)
    half, crown = 0.5 * tyre.tread_width, min(tyre.crown_radius, 1e9)
    outward = -crown * (up @ spin)
    if abs(outward) <= half and half > 0.0:
        return centre + (tyre.radius - crown) * down - crown * up
    edge = tyre.radius - crown + np.sqrt(crown**2 - half**2) if half else tyre.radius
    return centre + np.sign(outward) * half * spin + edge * down


def static_spin(stub):
    """Static camber and toe as rotations of the y axis (left-hand convention)."""
    turn = Rotation.from_euler("ZX", [-stub.toe, -stub.camber])
    return turn.apply([0.0, 1.0, 0.0])


class Twin:
    """One kart in one state; unknowns: height, pitch, roll and the two twists, in mm (angles times ARM)."""

    def __init__(self, kart: Kart, wheels, shift, lateral=0.0, forward=0.0, floor=None, chassis=AS_MEASURED):
        self.kart, self.lateral, self.forward = kart, lateral, forward
        self.axis = np.array([0.0, 0.0, kart.frame.axis_height])
        self.floor = np.full(2, kart.frame.axis_height) if floor is None else floor
        self.tyres = (kart.front_tyre, kart.front_tyre, kart.rear_tyre, kart.rear_tyre)
        rear = np.array([0.0, 0.5 * kart.rear_track, kart.rear_tyre.radius])
        y = np.array([0.0, 1.0, 0.0])
        left, right = kart.left.stub, kart.right.stub
        standing = [
            (np.array(left.wheel_centre), static_spin(left)),
            (np.array(right.wheel_centre) * MIRROR, static_spin(right) * MIRROR),
            (rear, y),
            (rear * MIRROR, -y),
        ]
        lift = np.array([0.0, 0.0, shift])
        self.wheels = [*wheels, (rear + lift, y), (rear * MIRROR + lift, -y)]
        self.k = np.array([min(t.stiffness, 1e9) for t in self.tyres])
        points = np.array([lowest_point(c, s, t, UP) for (c, s), t in zip(standing, self.tyres, strict=True)])
        loads = np.array(kart.loads)
        self.free = loads / self.k + points[:, 2]
        masses = chassis.masses
        sums = np.array([*(loads @ points)[:2], loads.sum() * kart.cog_height])
        self.weight = loads.sum() + masses.weight
        self.cog = (sums + np.array([masses.forward, masses.left, masses.up])) / self.weight - self.axis
        moment = loads * points[:, 1]
        self.preload = np.array([moment[:2].sum(), moment[2:].sum()])
        share = np.array([kart.frame.front_share, 1.0 - kart.frame.front_share])
        self.twists = share > 0.0 if np.isfinite(kart.frame.stiffness) else np.array([False, False])
        self.stiffness = np.where(self.twists, kart.frame.stiffness, 0.0) / np.where(share > 0.0, share, 1.0)
        self.stiffness *= chassis.frame_stiffness
        wider = np.array([0.0, 0.5 * chassis.rear_track, 0.0])
        self.wheels[2:] = [(c + np.sign(c[1]) * wider, s) for c, s in self.wheels[2:]]
        larger = [chassis.front_radius] * 2 + [chassis.rear_radius] * 2
        self.tyres = [replace(t, radius=t.radius + d) for t, d in zip(self.tyres, larger, strict=True)]
        self.k = self.k * ([chassis.front_stiffness] * 2 + [chassis.rear_stiffness] * 2)

    def turns(self, q):
        """Rotations of the seat station and of the two parts."""
        pitch, roll, *twist = np.asarray(q[1:]) / ARM
        rolls = roll + np.array([0.0, *(np.array(twist) * self.twists)])
        return Rotation.from_euler("YX", np.column_stack([np.full(3, pitch), rolls])).as_matrix()

    def compressions(self, q, turns=None):
        """Compression of the four tyres, mm; below zero the wheel is clear of the road."""
        turns = self.turns(q) if turns is None else turns
        parts = (turns[1], turns[1], turns[2], turns[2])
        heights = []
        for (centre, spin), tyre, part in zip(self.wheels, self.tyres, parts, strict=True):
            place = part @ (centre - self.axis) + np.array([0.0, 0.0, q[0]])
            heights.append(lowest_point(place, part @ spin, tyre, UP)[2])
        return self.free - np.array(heights)

    def energy(self, q):
        """Potential energy, N·mm."""
        seat, front, rear = turns = self.turns(q)
        tyres = np.maximum(self.compressions(q, turns), 0.0)
        twist = np.asarray(q[3:]) / ARM * self.twists
        frame = np.sum(0.5 * self.stiffness * twist**2 + self.preload * twist)
        cog = seat @ self.cog
        weight = self.weight * (q[0] + cog @ [self.forward, self.lateral, 1.0])
        floor_front, floor_rear = -self.floor[0] * front @ UP, -self.floor[1] * rear @ UP
        to_front = (self.cog[0]) / self.kart.wheelbase
        side = to_front * floor_front[1] + (1.0 - to_front) * floor_rear[1]
        push = self.weight * (self.lateral * side + self.forward * floor_rear[0])
        return 0.5 * np.sum(self.k * tyres**2) + frame + weight - push

    def slope(self, q, h=1e-4):
        """Central differences of the energy."""
        moves = h * np.eye(5)
        return np.array([(self.energy(q + m) - self.energy(q - m)) / (2.0 * h) for m in moves])

    def rest(self):
        """The resting place (5,), or None when the kart falls over."""
        q = np.array([self.axis[2], 0.0, 0.0, 0.0, 0.0])
        base = self.energy(q)
        for _ in range(3):
            found = minimize(
                lambda x: self.energy(x) - base, q, jac=self.slope, method="BFGS", options={"gtol": 1e-5}
            )
            q = found.x
            if np.max(np.abs(q[1:3])) > 0.6 * ARM:
                return None
        return q

    def loads(self, q):
        """Wheel loads, N."""
        return self.k * np.maximum(self.compressions(q), 0.0)

    def road(self, q):
        """Depth of the road below the torsion axis at each axle (2,), and its up-normal in the front part."""
        _, front, rear = self.turns(q)
        depths = []
        for part, x in ((front, self.kart.wheelbase), (rear, 0.0)):
            above = q[0] + (part @ [x, 0.0, 0.0])[2]
            depths.append(above / part[2, 2])
        return np.array(depths), front.T @ UP
