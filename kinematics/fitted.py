"""The kart as a setting changes it: another track, other tyres, a stiffer frame, masses put on or moved.

What was measured stays with it: springs keep their unloaded shape, and the kart finds its new
rest from there.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from kinematics.batches import once_beside
from kinematics.frames import Array, Number
from kinematics.parts import AS_MEASURED, Chassis, Kart, Tyre


def fitted(kart: Kart, chassis: Chassis) -> Kart:
    """The kart with these changes made to it as it was measured; its batch is that of both."""
    return kart.as_measured if chassis is AS_MEASURED else _changed(kart.as_measured, chassis)


@once_beside
def _changed(kart: Kart, chassis: Chassis) -> Kart:
    return replace(
        kart,
        rear_track=kart.rear_track + chassis.rear_track,
        front_tyre=_other(kart.front_tyre, chassis.front_radius, chassis.front_stiffness),
        rear_tyre=_other(kart.rear_tyre, chassis.rear_radius, chassis.rear_stiffness),
        frame=replace(kart.frame, stiffness=kart.frame.stiffness * chassis.frame_stiffness),
        measured=kart,
        added=chassis.masses,
    )


def _other(tyre: Tyre, larger: float, stiffer: float) -> Tyre:
    return replace(tyre, radius=tyre.radius + larger, stiffness=tyre.stiffness * stiffer)


def rear_axle_height(kart: Kart, shift: Number) -> Array:
    """Height (...) of the rear axle in the frame, mm: a shift (...) moves it there, other tyres do not."""
    return np.add(kart.as_measured.rear_tyre.radius, shift)
