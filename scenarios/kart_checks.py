"""What the kart as it stands must be: a linkage that steers, a yoke in its place, no case that tips it.

A refusal is a ScenarioError whose line starts with the key; who loads the file puts its name in front.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import degrees
from typing import Any

import numpy as np

from kinematics.corner.joints import column_axis
from kinematics.drive.radius import lock_for
from kinematics.frames import Array, axis_direction, cross, dot, unit
from kinematics.parts import GRAVITY, Corner, CornerSetting, Kart, LoadCase, Setting
from scenarios.errors import refuse_unless

Tables = dict[str, Any]
LEAST_ARM_MM = 5.0
LEAST_ROD_MM = 50.0
DEAD_CENTRE = 0.1  # cosine: within 6 deg of square the linkage pushes sideways and steers next to nothing


def check_kart(kart: Kart) -> None:
    """What must hold of the kart's corners as it stands."""
    for side, corner in (("", kart.left), ("right.", kart.right)):
        _check_corner(kart, corner, side)


def steering_axis(corner: Corner) -> Array:
    """Unit vector up the neutral axis of a corner (3,)."""
    return axis_direction(corner.yoke.caster, corner.yoke.kingpin_inclination)


def lever(point: object, through: object, axis: Array) -> Array:
    """Velocity (3,) of a point per unit turn about an axis through another; its length is the arm."""
    return cross(axis, np.subtract(np.asarray(point, float), np.asarray(through, float)))


def _check_corner(kart: Kart, corner: Corner, side: str) -> None:
    yoke, stub = corner.yoke, corner.stub
    outer, inner = np.asarray(stub.arm_end), np.asarray(corner.inner_joint)
    arm = lever(outer, yoke.centre, steering_axis(corner))
    spade = lever(inner, kart.column.foot, column_axis(kart.column))
    rod = outer - inner
    length, arm_mm, spade_mm = (float(np.linalg.norm(v)) for v in (rod, arm, spade))
    _check_yoke(kart, corner, side)
    allowed = f"must be off the steering axis by at least {LEAST_ARM_MM:g} mm, not {arm_mm:.3g} mm"
    refuse_unless(arm_mm >= LEAST_ARM_MM, f"{side}stub.arm_end_mm", stub.arm_end, allowed)
    allowed = f"must be off the column's axis by at least {LEAST_ARM_MM:g} mm, not {spade_mm:.3g} mm"
    refuse_unless(spade_mm >= LEAST_ARM_MM, f"{side}tie_rod.inner_joint_mm", corner.inner_joint, allowed)
    allowed = f"makes a tie rod of {length:.4g} mm; it must be at least {LEAST_ROD_MM:g} mm long"
    refuse_unless(length >= LEAST_ROD_MM, f"{side}tie_rod.inner_joint_mm", corner.inner_joint, allowed)
    allowed = "the column turns it square to the tie rod, which then steers nothing; look at the column too"
    refuse_unless(_pushes(spade, rod), f"{side}tie_rod.inner_joint_mm", corner.inner_joint, allowed)
    allowed = "the tie rod points at the steering axis and cannot turn the stub axle"
    refuse_unless(_pushes(arm, rod), f"{side}stub.arm_end_mm", stub.arm_end, allowed)


def check_holes(kart: Kart, setting: Setting, where: str) -> None:
    """A joint put into another hole of arm or spade must stay off the axis that it is turned about."""
    for side, corner in (("left", kart.left), ("right", kart.right)):
        fitted: CornerSetting = getattr(setting, side)
        arm = lever(corner.stub.arm_end, corner.yoke.centre, steering_axis(corner))
        spade = lever(corner.inner_joint, kart.column.foot, column_axis(kart.column))
        for key, long, hole in (("arm", arm, fitted.arm_hole), ("spade", spade, fitted.spade_hole)):
            left = float(np.linalg.norm(long)) + float(hole)
            allowed = f"leaves {left:.3g} mm to the axis; it must be at least {LEAST_ARM_MM:g} mm"
            refuse_unless(left >= LEAST_ARM_MM, f"{where}.{side}.{key}_hole_mm", hole, allowed)


def _pushes(velocity: Array, rod: Array) -> bool:
    return abs(float(dot(unit(velocity), unit(rod)))) > DEAD_CENTRE


def _check_yoke(kart: Kart, corner: Corner, side: str) -> None:
    x, y, z = corner.yoke.centre
    key, wheel = f"{side}yoke.centre_mm", corner.stub.wheel_centre
    allowed = f"its y must be above 0 and inboard of the wheel centre at {wheel[1]:g} mm"
    refuse_unless(0.0 < y < wheel[1], key, corner.yoke.centre, allowed)
    allowed = f"its x must be within 300 mm of the wheel centre at {wheel[0]:g} mm"
    refuse_unless(abs(x - wheel[0]) <= 300.0, key, corner.yoke.centre, allowed)
    lowest = 0.5 * corner.yoke.span * float(steering_axis(corner)[2])
    allowed = f"its z must be above {lowest:.4g} mm, or the bottom seat is in the floor"
    refuse_unless(z > lowest, key, corner.yoke.centre, allowed)


def check_sweep(sweep: Tables, stop_rad: float) -> None:
    """The sweep must run upward and stay within the mechanical stop."""
    first, last, stop = sweep["handwheel_from_deg"], sweep["handwheel_to_deg"], degrees(stop_rad)
    for key in ("handwheel_from_deg", "handwheel_to_deg"):
        allowed = f"must lie within the column's stop of ±{stop:.6g} deg"
        refuse_unless(abs(sweep[key]) <= stop + 1e-9, f"sweep.{key}", sweep[key], allowed)
    allowed = f"must be above handwheel_from_deg, {first:g} deg"
    refuse_unless(first < last, "sweep.handwheel_to_deg", last, allowed)


def check_lock(kart: Kart, case: LoadCase, where: str) -> None:
    """A corner must be driven within the mechanical stop, and on a radius that the kart can be steered on.

    Its handwheel angle stands in the case, from its key or from its radius; without either there is none.
    """
    if case.handwheel is not None:
        stop = degrees(kart.column.stop)
        allowed = f"must lie within the column's stop of {stop:.6g} deg"
        angle = round(degrees(case.handwheel), 9)
        refuse_unless(angle <= stop + 1e-9, f"{where}.handwheel_deg", angle, allowed)
    elif case.radius is not None and not case.opposite_lock:
        allowed = "is tighter than full lock steers; say with handwheel_deg at which lock it is driven"
        refuse_unless(False, f"{where}.radius_m", 1e-3 * case.radius, allowed)


def grip_warnings(kart: Kart, cases: Sequence[LoadCase]) -> Iterator[str]:
    """What a speed would ask beyond its grip limit, and is not given: one line a load case."""
    for n, case in enumerate(cases, 1):
        limit, asked = f"its grip limit of {case.grip_limit_g:g} g", case.asked_g
        if case.speed is not None and asked is None:
            lock = lock_for(kart, case.speed**2 * 1e3 / (case.grip_limit_g * GRAVITY))
            if lock is not None:
                said = (
                    f"holds from about {degrees(lock):.0f} deg of handwheel on, where its speed asks for more"
                )
                yield f"load_case[{n}] '{case.name}': {limit} {said}"
        elif asked is not None and asked > case.grip_limit_g:
            yield f"load_case[{n}] '{case.name}': {limit} holds; its speed and radius ask for {asked:.3g} g"


def check_tipping(kart: Kart, case: LoadCase, where: str) -> None:
    """No load case may ask for more than tips the kart over, its frame and tyres taken as rigid.

    The resultant of weight and inertia must meet the floor between the four wheels.
    """
    high, (x, y) = kart.cog_height, _centre(kart)
    forth = case.longitudinal_g
    most = (x if forth > 0.0 else kart.wheelbase - x) / high
    refuse_unless(abs(forth) < most, f"{where}.longitudinal_g", forth, _tips(most, high))
    share = (x - high * forth) / kart.wheelbase
    half = 0.5 * (share * kart.front_track + (1.0 - share) * kart.rear_track)
    most = (half - abs(y)) / high
    if case.speed is None:
        refuse_unless(case.lateral_g < most, f"{where}.lateral_g", case.lateral_g, _tips(most, high))
    elif case.asked_g is None or case.grip_limit_g < case.asked_g:
        refuse_unless(case.grip_limit_g < most, f"{where}.grip_limit_g", case.grip_limit_g, _tips(most, high))
    else:
        said = f"makes {case.asked_g:.3g} g at that speed; {_tips(most, high)}"
        refuse_unless(case.asked_g < most, f"{where}.radius_m", 1e-3 * (case.radius or 0.0), said)


def _tips(most: float, cog_height: float) -> str:
    return f"with its centre of gravity {cog_height:g} mm high the kart tips over at {most:.3g} g"


def _centre(kart: Kart) -> Array:
    fl, fr, rl, rr = kart.loads
    weight = fl + fr + rl + rr
    across = 0.5 * kart.front_track * (fl - fr) + 0.5 * kart.rear_track * (rl - rr)
    return np.array([kart.wheelbase * (fl + fr), across]) / weight
