"""What two or more keys of a scenario must be to each other; refusals and warnings.

A refusal is a ScenarioError whose line starts with the key; who loads the file puts its name in front.
"""

from __future__ import annotations

from math import degrees
from typing import Any

import numpy as np

from kinematics.frames import Array, axis_direction, cross, dot, unit
from kinematics.parts import Corner, Kart, LoadCase, Tyre
from scenarios.errors import ScenarioError, complaint, nearest
from scenarios.records import Limits

Tables = dict[str, Any]
SCALES = ("scale_front_left_kg", "scale_front_right_kg", "scale_rear_left_kg", "scale_rear_right_kg")
MASS = ("mass_kg", "cog_x_mm", "cog_y_mm")
LEAST_ARM_MM = 5.0
LEAST_ROD_MM = 50.0
DEAD_CENTRE = 0.1  # cosine: within 6 deg of square the linkage pushes sideways and steers next to nothing


def refuse_unless(condition: bool, key: str, value: object, allowed: str) -> None:
    """Raise the one-line ScenarioError unless the condition holds."""
    if not condition:
        raise ScenarioError(complaint(key, value, allowed))


def check_tables(tables: Tables) -> None:
    """What must hold between keys before a kart can be made of them."""
    _check_scales(tables["kart"])
    for axle in ("front", "rear"):
        _check_crown(tables[axle], axle)
    foot = tables["column"]["foot_mm"]
    refuse_unless(foot[1] == 0.0, "column.foot_mm", foot, "its y must be 0: the column lies in the mid-plane")
    _check_kit(tables["kit"])
    for n, case in enumerate(tables["load_case"], 1):
        _check_case(case, f"load_case[{n}]")
    names = [case["name"] for case in tables["load_case"]]
    for name in names:
        refuse_unless(names.count(name) == 1, "load_case.name", name, "given twice; each case needs its own")
    chosen, known = tables.get("default_setting"), tables["setting"]
    if chosen is not None and chosen not in known:
        allowed = f"no such setting{nearest(chosen, known)}; there are {', '.join(known)}"
        raise ScenarioError(complaint("default_setting", chosen, allowed))


def _check_scales(kart: Tables) -> None:
    scales = [key for key in SCALES if key in kart]
    mass = [key for key in MASS if key in kart]
    if scales and mass:
        raise ScenarioError(
            f"kart: {scales[0]} and {mass[0]} are both given: four scale readings or mass and cog"
        )
    wanted = SCALES if scales else MASS
    for key in wanted:
        if key not in kart:
            raise ScenarioError(f"kart.{key}: missing; give {', '.join(SCALES)} or {', '.join(MASS)}")


def _check_crown(axle: Tables, name: str) -> None:
    half, crown = 0.5 * axle["tread_width_mm"], axle.get("crown_radius_mm")
    if crown is not None:
        allowed = f"must be at least half the tread width, {half:g} mm"
        refuse_unless(crown >= half, f"{name}.crown_radius_mm", crown, allowed)


def _check_kit(kit: Tables) -> None:
    seen: set[tuple[str, float]] = set()
    for n, bush in enumerate(kit["bush"], 1):
        sizes = [(key, bush[key]) for key in ("rated_deg", "offset_mm") if key in bush]
        if len(sizes) != 1:
            raise ScenarioError(f"kit.bush[{n}]: give exactly one of rated_deg and offset_mm")
        key, size = sizes[0]
        refuse_unless((key, size) not in seen, f"kit.bush[{n}].{key}", size, "given twice; use count")
        seen.add((key, size))


def _check_case(case: Tables, where: str) -> None:
    if "speed_km_h" in case:
        if "lateral_g" in case:
            raise ScenarioError(f"{where}: lateral_g and speed_km_h are both given: give one of them")
        if "grip_limit_g" not in case:
            raise ScenarioError(f"{where}.grip_limit_g: missing; a speed needs a grip limit, in g")
    elif "grip_limit_g" in case:
        raise ScenarioError(f"{where}: grip_limit_g needs speed_km_h beside it")


def check_kart(kart: Kart, resolved: Tables) -> None:
    """What must hold of the kart as it stands."""
    _check_cog(kart, resolved["kart"])
    for side, corner in (("", kart.left), ("right.", kart.right)):
        _check_corner(kart, corner, side)


def _check_cog(kart: Kart, table: Tables) -> None:
    if "mass_kg" in table:
        x, y, half = table["cog_x_mm"], table["cog_y_mm"], 0.5 * min(kart.front_track, kart.rear_track)
        allowed = f"must lie between the axles, above 0 and below {kart.wheelbase:g} mm"
        refuse_unless(0.0 < x < kart.wheelbase, "kart.cog_x_mm", x, allowed)
        refuse_unless(abs(y) < half, "kart.cog_y_mm", y, f"must lie between the wheels, within {half:g} mm")


def steering_axis(corner: Corner) -> Array:
    """Unit vector up the neutral axis of a corner (3,)."""
    return axis_direction(corner.yoke.caster, corner.yoke.kingpin_inclination)


def column_axis(kart: Kart) -> Array:
    """Unit vector up the column, towards the driver (3,)."""
    lean = kart.column.inclination
    return np.array([-np.cos(lean), 0.0, np.sin(lean)])


def lever(point: object, through: object, axis: Array) -> Array:
    """Velocity of a point (3,) per unit turn about an axis (3,) through a second point; its length: the arm."""
    return cross(axis, np.subtract(np.asarray(point, float), np.asarray(through, float)))


def _check_corner(kart: Kart, corner: Corner, side: str) -> None:
    yoke, stub = corner.yoke, corner.stub
    outer, inner = np.asarray(stub.arm_end), np.asarray(corner.inner_joint)
    arm = lever(outer, yoke.centre, steering_axis(corner))
    spade = lever(inner, kart.column.foot, column_axis(kart))
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
        allowed = f"must lie within the column's stop of +-{stop:.6g} deg"
        refuse_unless(abs(sweep[key]) <= stop + 1e-9, f"sweep.{key}", sweep[key], allowed)
    allowed = f"must be above handwheel_from_deg, {first:g} deg"
    refuse_unless(first < last, "sweep.handwheel_to_deg", last, allowed)


def check_tipping(kart: Kart, case: LoadCase, where: str) -> None:
    """No load case may ask for more than tips the kart over, its frame and tyres taken as rigid.

    The resultant of weight and inertia must meet the floor between the four wheels.
    """
    from_speed = case.speed is not None
    sides = (case.grip_limit_g, -case.grip_limit_g) if from_speed else (case.lateral_g,)
    key = "grip_limit_g" if from_speed else "lateral_g"
    for lateral in sides:
        x, y = _centre(kart) - kart.cog_height * np.array([case.longitudinal_g, lateral])
        allowed = f"with its centre of gravity {kart.cog_height:g} mm high it would tip over"
        refuse_unless(0.0 < x < kart.wheelbase, f"{where}.longitudinal_g", case.longitudinal_g, allowed)
        share = x / kart.wheelbase
        half = 0.5 * (share * kart.front_track + (1.0 - share) * kart.rear_track)
        refuse_unless(abs(y) < half, f"{where}.{key}", abs(lateral) if from_speed else lateral, allowed)


def _centre(kart: Kart) -> Array:
    fl, fr, rl, rr = kart.loads
    weight = fl + fr + rl + rr
    across = 0.5 * kart.front_track * (fl - fr) + 0.5 * kart.rear_track * (rl - rr)
    return np.array([kart.wheelbase * (fl + fr), across]) / weight


def overall_width(track: float, tyre: Tyre) -> float:
    """Width of an axle over its treads, mm; a tyre's wall may stand out further."""
    return track + tyre.tread_width


def rule_warnings(kart: Kart, limits: Limits) -> list[str]:
    """What the event's rules would object to, one line each; never a refusal."""
    said = f"({limits.source})"
    found = []
    if not limits.wheelbase_min_mm <= kart.wheelbase <= limits.wheelbase_max_mm:
        allowed = f"{limits.wheelbase_min_mm:g} to {limits.wheelbase_max_mm:g} mm"
        found.append(f"kart.wheelbase_mm = {kart.wheelbase:g} mm is outside the rule's {allowed} {said}")
    least = limits.track_to_wheelbase_min_ratio * kart.wheelbase
    for axle, track, tyre in (
        ("front", kart.front_track, kart.front_tyre),
        ("rear", kart.rear_track, kart.rear_tyre),
    ):
        width = overall_width(track, tyre)
        if track < least:
            found.append(f"{axle}.track_mm = {track:g} mm is below the rule's {least:.4g} mm {said}")
        if width > limits.overall_width_max_mm:
            over = f"{limits.overall_width_max_mm:g} mm"
            found.append(f"{axle}: {width:g} mm over the treads is wider than the rule's {over} {said}")
    return found
