"""A slow twin of a kart being read: what gauges, plates and scales show, one state at a time.

Wheels are placed by the twin of the chain (`reference`), the kart stands by the twin of the stance on shims
and with weights hung on; angles are then read off plain vectors in the axes of the level floor. Of the
package only the records are used.
"""

from dataclasses import dataclass, replace

import numpy as np

from kinematics.parts import GRAVITY, Chassis, Kart, Setting
from kinematics.standing.arranged import Arrangement
from tests.twins import reference
from tests.twins.stance import MIRROR, UP, Twin


@dataclass
class Seen:
    """What is shown at one handwheel angle; two wheels left, right, four in the usual order."""

    steer: np.ndarray
    camber: np.ndarray
    caster: np.ndarray
    inclination: np.ndarray
    loads: np.ndarray
    heights: np.ndarray
    clearance: np.ndarray


def corner_at(kart: Kart, setting: Setting, side: int, theta: float):
    """Centre, outboard spin and steering axis of a front wheel in vehicle axes."""
    corner, fitted = (kart.left, kart.right)[side], (setting.left, setting.right)[side]
    way, mirror = (1.0, np.ones(3)) if side == 0 else (-1.0, MIRROR)
    seat = reference.seat_of(corner, fitted, twist=0.0)
    start = 0.0
    for part in np.linspace(0.0, theta, max(2, int(abs(np.degrees(theta)) / 10.0) + 2)):
        start = reference.turn_at(corner, kart.column, seat, way * part, start)
    spin = reference.spin_at(corner, seat, start)
    centre = reference.place(seat, start, corner.stub.wheel_centre) + fitted.hub_spacer * spin
    return centre * mirror, spin * mirror, seat.k * mirror


def seen(kart: Kart, setting: Setting, theta: float, how: Arrangement | None = None) -> Seen:
    """What is shown at a handwheel angle, rad."""
    how = how or Arrangement()
    fronts = [corner_at(kart, setting, side, theta) for side in (0, 1)]
    if how.held:
        turn = np.eye(3)
        loads = heights = clearance = np.zeros(4)
    else:
        twin = Twin(kart, [one[:2] for one in fronts], 0.0, chassis=Chassis(masses=how.hung))
        twin.free = twin.free + np.array(how.packed)
        q = twin.rest()
        turns = twin.turns(q)
        turn, loads = turns[1], twin.loads(q)
        clearance = np.maximum(-twin.compressions(q), 0.0)
        parts = (turns[1], turns[1], turns[2], turns[2])
        centres = [one[0] for one in fronts] + [centre for centre, _ in twin.wheels[2:]]
        heights = np.array(
            [q[0] + (part @ (centre - twin.axis))[2] for part, centre in zip(parts, centres, strict=True)]
        )
    steer, camber, caster, inclination = np.zeros((4, 2))
    for side, (_, spin, k) in enumerate(fronts):
        spin, k, out = turn @ spin, turn @ k, (1.0, -1.0)[side]
        heading = np.cross(out * spin, UP)
        steer[side] = np.arctan2(heading[1], heading[0])
        camber[side] = -np.arcsin(spin[2])
        caster[side] = np.arctan(-k[0] / k[2])
        inclination[side] = np.arctan(-out * k[1] / k[2])
    return Seen(steer, camber, caster, inclination, loads, heights, clearance)


def read(kart: Kart, setting: Setting, reading, toe_diameter: float, states: dict) -> float:
    """The value of a reading (`scenarios.gauged.record`), in its own unit; states keeps what was worked
    out."""
    at = reading.setup, reading.handwheel_deg
    if at not in states:
        states[at] = seen(kart, setting, np.radians(reading.handwheel_deg), reading.arrangement)
    told = states[at]
    wheels = ("front_left", "front_right", "rear_left", "rear_right")
    place = (
        wheels.index(reading.where)
        if reading.where in wheels
        else ("left", "right", "both").index(reading.where)
    )
    deg = 180.0 / np.pi
    if reading.what == "scale_kg":
        return told.loads[place] / GRAVITY
    if reading.what == "height_mm":
        return told.heights[place]
    if reading.what == "gap_mm":
        return told.clearance[place]
    if reading.what == "toe_mm":
        return toe_diameter * (np.sin(told.steer[1]) - np.sin(told.steer[0]))
    if reading.what == "toe_deg":
        return deg * told.steer[place] * (-1.0, 1.0)[place]
    names = {
        "camber_deg": "camber",
        "steer_deg": "steer",
        "caster_deg": "caster",
        "inclination_deg": "inclination",
    }
    return deg * getattr(told, names[reading.what])[place]


def with_stiffness(kart: Kart, newton_metre_per_degree: float) -> Kart:
    """The kart with another frame."""
    return replace(kart, frame=replace(kart.frame, stiffness=newton_metre_per_degree * 1e3 * 180.0 / np.pi))
