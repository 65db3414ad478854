"""The four-wheel columns of a load case: loads, clearances and attitude of the stance, with their units."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from kinematics.figures.columns import Column
from kinematics.frames import Array
from kinematics.lock import Sweep
from kinematics.stance.equilibrium import Stance
from kinematics.stance.standing import inside_rear_clearance, inside_rear_load

WHEELS = ("front_left", "front_right", "rear_left", "rear_right")
Read = Callable[[Sweep, Stance], Array]


def _wheel(quantity: str, index: int) -> Read:
    def read(_: Sweep, standing: Stance) -> Array:
        values: Array = getattr(standing, quantity)[..., index]
        return values

    return read


FOUR_WHEEL_FIGURES: tuple[tuple[str, str, str, Read], ...] = (
    *((f"load_{w}_n", "N", f"load on the {w} wheel", _wheel("loads", i)) for i, w in enumerate(WHEELS)),
    *(
        (f"clearance_{w}_mm", "mm", f"{w} wheel above the road, 0 on it", _wheel("clearance", i))
        for i, w in enumerate(WHEELS)
    ),
    (
        "cross_weight_percent",
        "percent",
        "share of the weight on front right and rear left",
        lambda _, s: 100.0 * s.cross_weight,
    ),
    ("inside_rear_load_n", "N", "load on the inside rear wheel", inside_rear_load),
    ("inside_rear_clearance_mm", "mm", "inside rear wheel above the road, 0 on it", inside_rear_clearance),
    ("roll_deg", "deg", "roll of the seat, + left side up", lambda _, s: np.degrees(s.roll)),
    ("pitch_deg", "deg", "pitch of the frame, + nose down", lambda _, s: np.degrees(s.pitch)),
    ("twist_deg", "deg", "frame twist, + front left side up", lambda _, s: np.degrees(s.twist)),
    (
        "ride_height_change_front_mm",
        "mm",
        "rise of the frame above the front axle since the reference stance",
        lambda _, s: s.ride_height_change_front,
    ),
    (
        "ride_height_change_rear_mm",
        "mm",
        "rise of the frame above the rear axle since the reference stance",
        lambda _, s: s.ride_height_change_rear,
    ),
)
"""Name, unit, meaning and how it is read of a sweep and its stance."""


def four_wheel_columns(sweep: Sweep, standing: Stance) -> dict[str, Column]:
    """The four-wheel figures of a stance of the sweep, by name; unknown where the kart tips or binds."""
    known = sweep.reach & ~standing.tips
    return {
        name: Column(name, unit, meaning, np.where(known, read(sweep, standing), 0.0), known)
        for name, unit, meaning, read in FOUR_WHEEL_FIGURES
    }
