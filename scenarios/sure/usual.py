"""How each number of a kart is usually measured, and how far off it may be where it is assumed: one table.

A number that is assumed is the example's, or a guess: its standard uncertainty is a quarter of the range in
which karts lie. Published ranges are named; the others are choices of this program without a source.

[front] stands for both axles. What is not here is no number that is measured: a choice, or what a word means.
"""

from __future__ import annotations

from typing import NamedTuple

from scenarios.sure.ways import ASSUMED, SHARE, Spread

GUESS = "a choice, no source"
PUBLISHED = "a quarter of the range in published work"


class Usual(NamedTuple):
    """How a number is usually measured, and how sure it is without; by_ratio: known to within a factor."""

    way: str
    assumed: Spread
    by_ratio: bool = False


def _number(way: str, amount: float, unit: str, why: str = GUESS, by_ratio: bool = False) -> Usual:
    return Usual(way, Spread(amount, unit, why), by_ratio)


SCALE = _number("scale", 4.0, "kg")
USUAL: dict[str, Usual] = {
    "kart.cog_height_mm": _number("raised axle", 30.0, "mm", f"{PUBLISHED}, 250 to 370 mm"),
    "frame.torsional_stiffness_nm_per_deg": _number(
        "known weight", 32.0, "N·m/deg", f"{PUBLISHED}, 120 to 250 N·m/deg", True
    ),
    "frame.front_compliance_share": _number(
        "known weight", 0.12, "", "two published karts have 0.8; an even frame 0.5"
    ),
    "frame.torsion_axis_height_mm": _number(ASSUMED, 20.0, "mm", "between the tubes and the wheel centres"),
    "kart.wheelbase_mm": _number("tape", 15.0, "mm", "a quarter of 1010 to 1070 mm, CIK-FIA drawing 2.1a"),
    "kart.scale_front_left_kg": SCALE,
    "kart.scale_front_right_kg": SCALE,
    "kart.scale_rear_left_kg": SCALE,
    "kart.scale_rear_right_kg": SCALE,
    "kart.mass_kg": _number("scale", 10.0, "kg"),
    "front.track_mm": _number("tape", 25.0, "mm"),
    "kart.cog_x_mm": _number("tape", 20.0, "mm"),
    "kart.cog_y_mm": _number("tape", 10.0, "mm"),
    "front.loaded_radius_mm": _number("square", 3.0, "mm"),
    "front.tread_width_mm": _number("tape", 8.0, "mm"),
    "front.crown_radius_mm": _number("straight edge", 0.35, SHARE, GUESS, True),
    "front.stiffness_n_per_mm": _number("known weight", 35.0, "N/mm", f"{PUBLISHED}, 60 to 200 N/mm", True),
    "yoke.centre_mm": _number("plumb line", 8.0, "mm"),
    "yoke.caster_deg": _number("angle gauge", 2.0, "deg", "9 to 20 deg seen, common practice"),
    "yoke.kingpin_inclination_deg": _number("angle gauge", 1.5, "deg"),
    "yoke.span_mm": _number("tape", 5.0, "mm"),
    "stub.camber_deg": _number("angle gauge", 0.5, "deg"),
    "stub.toe_deg": _number("toe marks", 0.2, "deg"),
    "stub.arm_end_mm": _number("plumb line", 8.0, "mm"),
    "stub.wheel_forward_shift_mm": _number("plumb line", 3.0, "mm"),
    "stub.wheel_outward_shift_mm": _number("plumb line", 3.0, "mm"),
    "tie_rod.inner_joint_mm": _number("plumb line", 6.0, "mm"),
    "column.foot_mm": _number("plumb line", 8.0, "mm"),
    "column.inclination_deg": _number("angle gauge", 3.0, "deg"),
    "pneumatic_trail_mm": _number(ASSUMED, 6.0, "mm"),
    "rear_axle.longitudinal_stiffness_n_per_n": _number(
        ASSUMED, 0.4, SHARE, "two published kart sets are a factor of 2.5 and more apart", True
    ),
    "rear_axle.friction_ratio": _number(ASSUMED, 0.2, "", GUESS, True),
}
BUSH_CLOCK_DEG = 2.0
"""Standard uncertainty of a bush's clock each time it is set: a choice, no source."""
BUSH_SIZE = 0.03
"""Standard uncertainty of a bush's size, as a share of it: a choice, no source."""
