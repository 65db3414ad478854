"""From a canonical mapping to the kart and its settings: mechanic's units in, solver's records out.

Where the mapping has an array (n,) instead of a kart's number, the kart is n karts at once.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import degrees, inf
from typing import Any

import numpy as np

from kinematics.corner.contact import support_depth
from kinematics.drive.radius import lock_for
from kinematics.frames import Number, Vector
from kinematics.parts import (
    AS_MEASURED,
    FLATTEST_CROWN,
    Chassis,
    Column,
    Corner,
    CornerSetting,
    Frame,
    Kart,
    LoadCase,
    Masses,
    Setting,
    Stub,
    Tyre,
    Yoke,
)
from kinematics.standing.measured import neutral
from scenarios.kit import PLACES, SIDES, Kit, Size, holds, size_in
from scenarios.schema.changes import CHANGES
from scenarios.units import corner_setting, rad, radius_mm, speed_m_per_s, stiffness_nmm_per_rad, weight_n

Tables = dict[str, Any]
MEASURED = "fitted_when_measured"
SEAT_SHARE = 0.62
"""Share of the whole mass that moves with the seat where a file does not say: a grown driver and his seat, a
choice, no source."""
WHEELS = ("front_left", "front_right", "rear_left", "rear_right")


def point(numbers: Sequence[Number]) -> Vector:
    """Three numbers as a point; as points (n, 3) where one of them is an array (n,)."""
    if all(np.ndim(number) == 0 for number in numbers):
        return tuple(numbers)  # type: ignore[return-value]
    return np.stack(np.broadcast_arrays(*numbers), axis=-1)  # type: ignore[return-value]


def tyre(table: Tables, load: float) -> Tyre:
    """A tyre under a load in N; without a crown radius its tread is as round as an elastic one's."""
    width, stiffness = table["tread_width_mm"], table["stiffness_n_per_mm"]
    crown = table.get("crown_radius_mm", None)
    crown = elastic_crown(width, stiffness, load) if crown is None else crown
    return Tyre(table["loaded_radius_mm"], width, crown, stiffness)


def elastic_crown(width: float, stiffness: float, load: float) -> float:
    """Crown radius, mm, of a tread that gives evenly over its width: width² / (12 · load / stiffness).

    Within what a tyre can be stood on: no rounder than its own half width, no flatter than FLATTEST_CROWN.
    """
    crown = np.clip(width * width * stiffness / (12.0 * load), 0.5 * width, FLATTEST_CROWN * width)
    return crown if np.ndim(crown) else float(crown) or 1.0


def yoke(table: Tables) -> Yoke:
    """The yoke of one corner."""
    return Yoke(
        centre=point(table["centre_mm"]),
        caster=rad(table["caster_deg"]),
        kingpin_inclination=rad(table["kingpin_inclination_deg"]),
        span=table["span_mm"],
    )


def stub(table: Tables, wheelbase: float, track: float, front_tyre: Tyre) -> Stub:
    """The stub axle of one corner; its wheel stands on the floor, at the camber the stub gives it."""
    camber = rad(table["camber_deg"])
    height = support_depth(front_tyre, np.sin(camber))
    centre = (
        wheelbase + table["wheel_forward_shift_mm"],
        0.5 * track + table["wheel_outward_shift_mm"],
        height if np.ndim(height) else float(height),
    )
    return Stub(point(centre), camber, rad(table["toe_deg"]), point(table["arm_end_mm"]))


def axle_loads(kart: Tables, front_track: float, rear_track: float) -> tuple[float, float, float, float]:
    """Reference wheel loads front left, front right, rear left, rear right, N.

    From the scales; without them from mass and centre of gravity, each axle carrying its load at the same
    distance from the mid-plane.
    """
    if "mass_kg" not in kart:
        fl, fr, rl, rr = (weight_n(kart[f"scale_{wheel}_kg"]) for wheel in WHEELS)
        return fl, fr, rl, rr
    weight = weight_n(kart["mass_kg"])
    front = weight * kart["cog_x_mm"] / kart["wheelbase_mm"]
    shift_f, shift_r = kart["cog_y_mm"] / front_track, kart["cog_y_mm"] / rear_track
    rear = weight - front
    return front * (0.5 + shift_f), front * (0.5 - shift_f), rear * (0.5 + shift_r), rear * (0.5 - shift_r)


def corner(tables: Tables, resolved: Tables, front_tyre: Tyre) -> Corner:
    """One corner from its three tables."""
    wheelbase, track = resolved["kart"]["wheelbase_mm"], resolved["front"]["track_mm"]
    return Corner(
        yoke(tables["yoke"]),
        stub(tables["stub"], wheelbase, track, front_tyre),
        point(tables["tie_rod"]["inner_joint_mm"]),
    )


def neutral_kart(resolved: Tables) -> Kart:
    """The kart with concentric bushes, reckoned from what was fitted when it was measured."""
    read, name = kart(resolved), resolved.get(MEASURED)
    if name is None:
        return read
    return reckoned(read, setting(resolved["setting"][name], read, resolved, f"setting.{name}"))


def reckoned(read: Kart, fitted: Setting) -> Kart:
    """The kart with concentric bushes of which this is read when a setting is on it."""
    try:
        return neutral(read, fitted)
    except ValueError as error:
        raise ValueError(f"{MEASURED}: {error}") from None


def kart(resolved: Tables) -> Kart:
    """The kart with driver as it was measured, written as if its bushes were concentric."""
    front, rear, column, frame = (resolved[name] for name in ("front", "rear", "column", "frame"))
    loads = axle_loads(resolved["kart"], front["track_mm"], rear["track_mm"])
    front_tyre = tyre(front, 0.5 * sum(loads[:2]))
    return Kart(
        wheelbase=resolved["kart"]["wheelbase_mm"],
        front_track=front["track_mm"],
        rear_track=rear["track_mm"],
        front_tyre=front_tyre,
        rear_tyre=tyre(rear, 0.5 * sum(loads[2:])),
        left=corner(resolved, resolved, front_tyre),
        right=corner(resolved["right"], resolved, front_tyre),
        column=Column(point(column["foot_mm"]), rad(column["inclination_deg"]), rad(column["stop_deg"])),
        frame=Frame(
            stiffness_nmm_per_rad(frame["torsional_stiffness_nm_per_deg"]),
            frame["front_compliance_share"],
            frame["torsion_axis_height_mm"],
        ),
        loads=loads,
        cog_height=resolved["kart"]["cog_height_mm"],
    )


def seat_mass_kg(resolved: Tables) -> float:
    """Mass that moves with the seat, kg: the file's, or a share of the whole."""
    kart = resolved["kart"]
    given: float | None = kart.get("seat_mass_kg")
    return SEAT_SHARE * _whole_mass(kart) if given is None else given


def _whole_mass(kart: Tables) -> float:
    if "mass_kg" in kart:
        return float(kart["mass_kg"])
    return float(sum(value for key, value in kart.items() if key.startswith("scale_")))


def _masses(setting: Tables, seat_kg: float) -> Masses:
    """Moments of the seat's way and of each ballast at its place."""
    seat = weight_n(seat_kg)
    way = [seat * setting.get(f"seat_{to}_mm", 0.0) for to in ("forward", "left", "up")]
    ballast = setting.get("ballast", [])
    weights = [weight_n(one["mass_kg"]) for one in ballast]
    at = [sum(w * one["at_mm"][i] for w, one in zip(weights, ballast, strict=True)) for i in range(3)]
    return Masses(sum(weights, 0.0), *(moved + put for moved, put in zip(way, at, strict=True)))


def chassis(setting: Tables, resolved: Tables) -> Chassis:
    """What a resolved setting changes on the whole kart, bar the rear axle's height."""
    others = [change.key for change in CHANGES[1:]]
    if not any(setting.get(key) for key in (*others, "ballast")):
        return AS_MEASURED
    number = {key: setting.get(key, 0.0) for key in others}
    return Chassis(
        rear_track=number["rear_track_change_mm"],
        front_radius=number["front_radius_change_mm"],
        rear_radius=number["rear_radius_change_mm"],
        front_stiffness=1.0 + 0.01 * number["front_stiffness_change_percent"],
        rear_stiffness=1.0 + 0.01 * number["rear_stiffness_change_percent"],
        frame_stiffness=1.0 + 0.01 * number["frame_stiffness_change_percent"],
        masses=_masses(setting, seat_mass_kg(resolved)),
    )


def fitted_corner(table: Tables, at: Yoke, where: str) -> CornerSetting:
    """What is fitted at one corner of a resolved setting."""
    return corner_setting(
        at,
        top_deg=table.get("top_rated_deg"),
        top_mm=table.get("top_offset_mm"),
        top_clock_deg=table.get("top_clock_deg", 0.0),
        bottom_deg=table.get("bottom_rated_deg"),
        bottom_mm=table.get("bottom_offset_mm"),
        bottom_clock_deg=table.get("bottom_clock_deg", 0.0),
        spacer_shift_mm=table["spacer_shift_mm"],
        hub_spacer_mm=table["hub_spacer_mm"],
        rod_length_mm=table.get("tie_rod_length_mm"),
        rod_toe_deg=table.get("tie_rod_toe_deg"),
        arm_hole_mm=table.get("arm_hole_mm", 0.0),
        spade_hole_mm=table.get("spade_hole_mm", 0.0),
        key=f"{where}.",
    )


def setting(table: Tables, on: Kart, resolved: Tables, where: str) -> Setting:
    """One setting of the kart from its resolved table; a message about both corners alike says so."""
    left, right = ("both", "both") if table["left"] == table["right"] else ("left", "right")
    return Setting(
        fitted_corner(table["left"], on.left.yoke, f"{where}.{left}"),
        fitted_corner(table["right"], on.right.yoke, f"{where}.{right}"),
        table["rear_axle_shift_mm"],
        chassis(table, resolved),
    )


def load_case(table: Tables, on: Kart) -> LoadCase:
    """One load case; without a handwheel angle a corner is driven at the lock of its radius, to 0.1 deg."""
    speed, radius, handwheel = (table.get(key) for key in ("speed_km_h", "radius_m", "handwheel_deg"))
    opposite = table.get("opposite_lock", False)
    if handwheel is None and radius is not None and not opposite:
        lock = lock_for(on, radius_mm(radius))
        handwheel = None if lock is None else round(degrees(lock), 1)
    return LoadCase(
        name=table["name"],
        lateral_g=table.get("lateral_g", 0.0),
        longitudinal_g=table["longitudinal_g"],
        speed=None if speed is None else speed_m_per_s(speed),
        grip_limit_g=table.get("grip_limit_g", inf),
        radius=None if radius is None else radius_mm(radius),
        handwheel=None if handwheel is None else float(rad(handwheel)),
        opposite_lock=opposite,
    )


def kit(resolved: Tables, on: Kart) -> Kit:
    """The box, smallest bush first; its sizes in degrees, and settings' words kept, are of the left yoke."""
    table, span = resolved["kit"], on.left.yoke.span
    listed = sorted(
        ((_listed(b, span), b.get("count")) for b in table["bush"]), key=lambda one: one[0].offset
    )
    fitted = (
        size_in(setting[side], getattr(on, side).yoke.span, f"{place}_")
        for setting in resolved["setting"].values()
        for side in SIDES
        for place in PLACES
    )
    others = dict.fromkeys(size for size in fitted if not size.centred and holds(size, span))
    return Kit(
        tuple(size for size, _ in listed),
        tuple(count for _, count in listed),
        table["clock_step_deg"],
        tuple(others),
    )


def _listed(table: Tables, span: float) -> Size:
    """A bush of the box, with its owner's mark and the clocks of its screws."""
    own = tuple(sorted(clock % 360.0 for clock in table.get("clocks_deg", [])))
    return replace(size_in(table, span), mark=table.get("mark", ""), clocks_deg=own)
