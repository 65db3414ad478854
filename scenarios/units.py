"""From the file's degrees, kilograms and km/h to rad, N, N·mm and m/s; bushes within what a yoke takes."""

from __future__ import annotations

from math import radians

import numpy as np

from kinematics.parts import GRAVITY, CornerSetting, Yoke
from scenarios.errors import ScenarioError, complaint
from scenarios.kit import offset_mm
from scenarios.ranges import RATED

LARGEST_OFFSET_PER_SPAN = 0.25


def rad(angle_deg: float) -> float:
    """An angle in rad from deg; an array's too, as the records of many karts at once have them."""
    if isinstance(angle_deg, float | int):
        return radians(angle_deg)
    many: float = np.radians(angle_deg)
    return many


def weight_n(mass_kg: float) -> float:
    """The weight in N of a mass in kg, or the force behind a scale's reading."""
    return mass_kg * GRAVITY


def stiffness_nmm_per_rad(stiffness_nm_per_deg: float) -> float:
    """Torsional stiffness in N·mm/rad from N·m/deg."""
    return stiffness_nm_per_deg * 1000.0 / radians(1.0)


def speed_m_per_s(speed_km_h: float) -> float:
    """Speed in m/s from km/h."""
    return speed_km_h / 3.6


def radius_mm(radius_m: float) -> float:
    """Radius in mm from m."""
    return radius_m * 1e3


def bush_offset(yoke: Yoke, rated: float | None, offset: float | None, key: str) -> float:
    """Offset in mm of one bush given as a rated size in deg or as an offset in mm; neither is concentric.

    key names the bush ('top' or 'setting.x.left.top') in the one-line ScenarioError that refuses both at
    once, a negative size, or one too big for the yoke's span.
    """
    if rated is not None and offset is not None:
        raise ScenarioError(f"{key}_rated_deg and {key}_offset_mm are both given: give one size, not both")
    if rated is not None:
        if not RATED.holds(rated):
            raise ScenarioError(complaint(f"{key}_rated_deg", rated, f"must be {RATED.told('deg')}"))
        return _within(yoke, offset_mm(rated, "deg", yoke.span), f"{key}_rated_deg", rated)
    return _within(yoke, offset or 0.0, f"{key}_offset_mm", offset)


def _within(yoke: Yoke, offset: float, key: str, given: object) -> float:
    largest = LARGEST_OFFSET_PER_SPAN * yoke.span
    if not 0.0 <= offset < largest:
        allowed = (
            f"the hole's offset {offset:.4g} mm must be at least 0 and below a quarter of the yoke's "
            f"span ({largest:.4g} mm)"
        )
        raise ScenarioError(complaint(key, given, allowed))
    return offset


def corner_setting(
    yoke: Yoke,
    *,
    top_deg: float | None = None,
    top_mm: float | None = None,
    top_clock_deg: float = 0.0,
    bottom_deg: float | None = None,
    bottom_mm: float | None = None,
    bottom_clock_deg: float = 0.0,
    spacer_shift_mm: float = 0.0,
    hub_spacer_mm: float = 0.0,
    rod_length_mm: float | None = None,
    rod_toe_deg: float | None = None,
    arm_hole_mm: float = 0.0,
    spade_hole_mm: float = 0.0,
    key: str = "",
) -> CornerSetting:
    """What is fitted at one corner, from a mechanic's numbers; left-hand convention.

    A bush is a rated size (deg) or the offset of its hole (mm), never both; neither is a concentric bush.
    Clocks in deg: 0 forward, 90 outboard, 180 rearward, 270 inboard. The tie rod is kept unless a length
    (mm) or a toe (deg, + toe-in) is given; its joints stay in their holes unless moved (mm). key stands
    before the bush's name in a ScenarioError.
    """
    return CornerSetting(
        top_offset=bush_offset(yoke, top_deg, top_mm, f"{key}top"),
        top_clock=radians(top_clock_deg),
        bottom_offset=bush_offset(yoke, bottom_deg, bottom_mm, f"{key}bottom"),
        bottom_clock=radians(bottom_clock_deg),
        spacer_shift=spacer_shift_mm,
        hub_spacer=hub_spacer_mm,
        arm_hole=arm_hole_mm,
        spade_hole=spade_hole_mm,
        rod_length=rod_length_mm,
        rod_toe=None if rod_toe_deg is None else radians(rod_toe_deg),
    )
