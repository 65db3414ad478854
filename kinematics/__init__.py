"""Steering geometry and stance of a kart: pure functions of parts and arrays.

Axes are ISO 8855 vehicle axes fixed to the frame (x forward, y left, z up), the origin on the floor in
the mid-plane under the rear axle at the reference stance. Inside: mm, N, N·mm, kg, rad.

>>> import numpy as np
>>> import kinematics as k
>>> import scenarios
>>> kart = scenarios.load().kart
>>> setting = k.Setting(left=k.CornerSetting(top_offset=2.0, top_clock=np.pi))
>>> solved = k.Solved(kart, setting, np.radians([-30.0, 0.0, 30.0]), (k.LoadCase("corner", lateral_g=1.0),))
>>> solved.columns["camber_left_deg"].values.round(2).tolist()
[-3.0, -0.5, 2.83]
>>> solved.case_columns["corner"]["inside_rear_load_n"].values.round(0).tolist()
[139.0, 227.0, 144.0]
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from kinematics.face import face

if TYPE_CHECKING:
    from kinematics.change.change import Change, Difference, changed
    from kinematics.choose.box import Box
    from kinematics.choose.search import search
    from kinematics.choose.targets import Target
    from kinematics.figures.catalog import address
    from kinematics.figures.figure import Address, Figure, Given, Numbers
    from kinematics.figures.read import read
    from kinematics.figures.solved import Solved
    from kinematics.lock import Sweep, sweep
    from kinematics.parts import (
        Column,
        Corner,
        CornerSetting,
        Frame,
        Kart,
        LoadCase,
        Setting,
        Stub,
        Tyre,
        Yoke,
    )
    from kinematics.stance.equilibrium import Stance
    from kinematics.standing.stand import stand

_HOMES = {
    "change.change": ("Change", "Difference", "changed"),
    "choose.box": ("Box",),
    "choose.search": ("search",),
    "choose.targets": ("Target",),
    "figures.catalog": ("address",),
    "figures.figure": ("Address", "Figure", "Given", "Numbers"),
    "figures.read": ("read",),
    "figures.solved": ("Solved",),
    "lock": ("Sweep", "sweep"),
    "parts": (
        *("Column", "Corner", "CornerSetting", "Frame", "Kart", "LoadCase"),
        *("Setting", "Stub", "Tyre", "Yoke"),
    ),
    "stance.equilibrium": ("Stance",),
    "standing.stand": ("stand",),
}
__all__ = [
    "Address",
    "Box",
    "Change",
    "Column",
    "Corner",
    "CornerSetting",
    "Difference",
    "Figure",
    "Frame",
    "Given",
    "Kart",
    "LoadCase",
    "Numbers",
    "Setting",
    "Solved",
    "Stance",
    "Stub",
    "Sweep",
    "Target",
    "Tyre",
    "Yoke",
    "address",
    "changed",
    "read",
    "search",
    "stand",
    "sweep",
]


def __dir__() -> list[str]:
    return __all__


__getattr__ = face(__name__, _HOMES)
