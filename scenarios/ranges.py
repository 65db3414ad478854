"""The range of every number that can be given, with its reason: one table.

A range is what a workshop can mean, far wider than what is usual: a slip of the decimal point is refused and
an odd kart is not. Inside its range every number can be computed with; that is why nothing that is divided
by comes near zero. What two numbers must be to each other is looked at in `checks`.

[front] stands for both axles, [setting.both] for every corner of a setting.
"""

from __future__ import annotations

from typing import NamedTuple

from scenarios.errors import Refusal, shown


class Allowed(NamedTuple):
    """From low to high, both taken, in the unit that the key's name ends in."""

    low: float
    high: float
    why: str
    below: str = ""
    """What is to be written instead of a number that is too low."""

    def told(self, unit: str = "") -> str:
        """'at least 500 and at most 2000 mm'."""
        return f"at least {shown(float(self.low))} and at most {shown(float(self.high))} {unit}".rstrip()

    def holds(self, number: float) -> bool:
        """Whether a number lies in it; NaN does not."""
        return self.low <= number <= self.high

    def checked(self, number: float, what: str, unit: str = "") -> float:
        """The number, which stands in it; what it was for is told in front of a Refusal."""
        if not self.holds(number):
            raise Refusal(f"{what} {number:g} {unit}".rstrip() + f": must be {self.told(unit)}")
        return number


SCALE = Allowed(0.5, 300, "a wheel that carries less is in the air; a scale for karts ends below")
RATED = Allowed(0, 15, "0 is concentric; more than a quarter of the span off centre is no bush any more")
OFFSET = Allowed(0, 60, "0 is concentric; a quarter of the longest span is checked besides")
CLOCK = Allowed(-360, 360, "one turn either way")
TOOL = Allowed(1, 100, "the smallest hexagon key to the largest spanner")
TORQUE = Allowed(0.1, 500, "a torque driver's least to a long wrench's most")
SPACER = Allowed(0.01, 100, "a shim of foil to the longest sleeve")
HANDWHEEL = Allowed(-180, 180, "half a turn either way; the rods pass their dead points before")
SHIFT = Allowed(-200, 200, "a bent stub axle, not another kart")
EVENT = Allowed(0, 5000, "a rule is wide open at either end")

RANGES: dict[str, Allowed] = {
    "toe_diameter_mm": Allowed(10, 2000, "marks on a hub to a bar clamped across the wheel"),
    "thread_pitch_mm": Allowed(0.1, 5, "the finest thread there is to a coarse M42"),
    "pneumatic_trail_mm": Allowed(-100, 100, "a part of the length of a tyre's contact"),
    "kart.wheelbase_mm": Allowed(500, 2000, "a toy to a small car"),
    "kart.scale_front_left_kg": SCALE,
    "kart.scale_front_right_kg": SCALE,
    "kart.scale_rear_left_kg": SCALE,
    "kart.scale_rear_right_kg": SCALE,
    "kart.mass_kg": Allowed(20, 600, "an empty frame to two people on a hire kart, and again as much"),
    "kart.cog_x_mm": Allowed(0, 2000, "between the axles of the longest kart"),
    "kart.cog_y_mm": Allowed(-500, 500, "between its wheels"),
    "kart.cog_height_mm": Allowed(20, 800, "above the floor, below a standing driver's"),
    "kart.seat_mass_kg": Allowed(1, 300, "a child's seat to two grown drivers"),
    "frame.torsional_stiffness_nm_per_deg": Allowed(5, 1e6, "a loose frame to one as good as rigid"),
    "frame.front_compliance_share": Allowed(0, 1, "a share"),
    "frame.torsion_axis_height_mm": Allowed(-200, 600, "near the tubes"),
    "front.track_mm": Allowed(300, 2500, "a toy to a lorry"),
    "front.loaded_radius_mm": Allowed(50, 400, "a toy's wheel to a car's"),
    "front.tread_width_mm": Allowed(0, 400, "0 is a thin disc"),
    "front.crown_radius_mm": Allowed(
        5, 1e4, "a bicycle's tyre to a board; the tread's width is checked besides"
    ),
    "front.stiffness_n_per_mm": Allowed(5, 1e6, "a balloon to a tyre as good as rigid"),
    "yoke.centre_mm": (point := Allowed(-3000, 3000, "a point of the kart, wherever it is measured from")),
    "yoke.caster_deg": Allowed(-45, 45, "beyond it the wheel flops and does not steer"),
    "yoke.kingpin_inclination_deg": Allowed(-30, 45, "beyond it the wheel flops and does not steer"),
    "yoke.span_mm": Allowed(10, 400, "two seats side by side to the height of a wheel"),
    "stub.camber_deg": Allowed(-20, 20, "a wheel that stands, bent stub or not"),
    "stub.toe_deg": Allowed(-20, 20, "a wheel that rolls, bent stub or not"),
    "stub.arm_end_mm": point,
    "stub.wheel_forward_shift_mm": SHIFT,
    "stub.wheel_outward_shift_mm": SHIFT,
    "tie_rod.inner_joint_mm": point,
    "column.foot_mm": point,
    "column.inclination_deg": Allowed(5, 90, "lying flat to upright"),
    "column.stop_deg": Allowed(5, 180, HANDWHEEL.why),
    "kit.bush.clocks_deg": CLOCK,
    "kit.clock_step_deg": Allowed(0, 180, "0 is any clock; how fine a step may be is checked besides"),
    "kit.bush.rated_deg": RATED,
    "kit.bush.offset_mm": OFFSET,
    "kit.bush.count": Allowed(0, 1000, "an empty place in the box to a shop's stock"),
    "setting.rear_axle_shift_mm": Allowed(-100, 100, "as far as a bearing carrier can be moved"),
    "setting.rear_track_change_mm": Allowed(-400, 400, "as long as the axle is"),
    "setting.front_radius_change_mm": (tyre := Allowed(-60, 60, "a worn tyre to another wheel's")),
    "setting.rear_radius_change_mm": tyre,
    "setting.front_stiffness_change_percent": (harder := Allowed(-80, 400, "a fifth to five times as stiff")),
    "setting.rear_stiffness_change_percent": harder,
    "setting.frame_stiffness_change_percent": harder,
    "setting.seat_forward_mm": (seat := Allowed(-400, 400, "as far as a frame has room for a seat")),
    "setting.seat_left_mm": seat,
    "setting.seat_up_mm": seat,
    "setting.ballast.mass_kg": Allowed(-60, 60, "no more than a driver"),
    "setting.ballast.at_mm": point,
    "setting.both.arm_hole_mm": (hole := Allowed(-60, 60, "as long as the arm")),
    "setting.both.spade_hole_mm": hole,
    "setting.both.top_rated_deg": RATED,
    "setting.both.top_offset_mm": OFFSET,
    "setting.both.top_clock_deg": CLOCK,
    "setting.both.bottom_rated_deg": RATED,
    "setting.both.bottom_offset_mm": OFFSET,
    "setting.both.bottom_clock_deg": CLOCK,
    "setting.both.spacer_shift_mm": Allowed(-60, 60, "as much as the kingpin has room for"),
    "setting.both.hub_spacer_mm": Allowed(-150, 150, "as long as a stub axle"),
    "setting.both.tie_rod_length_mm": Allowed(50, 1500, "two joints end to end to the whole track"),
    "setting.both.tie_rod_toe_deg": Allowed(-10, 10, "more scrubs a tyre away in a lap"),
    "load_case.lateral_g": Allowed(
        0,
        5,
        "into the turn to more than any tyre; where the kart tips is checked besides",
        "it is into the turn that the lock makes, left and right alike; against it: opposite_lock = true",
    ),
    "load_case.longitudinal_g": Allowed(-3, 3, "more than any brake; where the kart tips is checked besides"),
    "load_case.speed_km_h": Allowed(0.1, 300, "pushed by hand to faster than any kart"),
    "load_case.grip_limit_g": Allowed(0.05, 5, "wet ice to more than any tyre"),
    "load_case.radius_m": Allowed(0.5, 1e5, "turning about a rear wheel to a road that looks straight"),
    "load_case.handwheel_deg": Allowed(
        0,
        180,
        "straight ahead to half a turn; the column's stop is checked besides",
        "it is without a sign: a corner is driven the same to either side",
    ),
    "sweep.handwheel_from_deg": HANDWHEEL,
    "sweep.handwheel_to_deg": HANDWHEEL,
    "sweep.positions": Allowed(2, 20001, "both ends to a hundredth of a degree"),
    "workshop.kingpin_nut_tool_mm": TOOL,
    "workshop.kingpin_nut_torque_nm": TORQUE,
    "workshop.bush_screw_tool_mm": TOOL,
    "workshop.bush_screw_torque_nm": TORQUE,
    "workshop.tie_rod_locknut_tool_mm": TOOL,
    "workshop.tie_rod_locknut_torque_nm": TORQUE,
    "workshop.wheel_nut_tool_mm": TOOL,
    "workshop.wheel_nut_torque_nm": TORQUE,
    "workshop.front_hub_tool_mm": TOOL,
    "workshop.front_hub_torque_nm": TORQUE,
    "workshop.kingpin_spacers_mm": SPACER,
    "workshop.hub_spacers_mm": SPACER,
    "limits.wheelbase_min_mm": EVENT,
    "limits.wheelbase_max_mm": EVENT,
    "limits.track_to_wheelbase_min_ratio": Allowed(0, 5, EVENT.why),
    "limits.overall_width_max_mm": EVENT,
    "rear_axle.longitudinal_stiffness_n_per_n": Allowed(
        0.5, 200, "a soft block of rubber to one that never slips"
    ),
    "rear_axle.friction_ratio": Allowed(0.05, 5, "wet ice to more than any tyre"),
    # a reading of a kart
    "reading.handwheel_deg": HANDWHEEL,
    "reading.left_plate_deg": (plate := Allowed(-60, 60, "as far as a wheel turns")),
    "reading.right_plate_deg": plate,
    "reading.under_front_left_mm": (under := Allowed(0, 500, "a sheet of foil to a trestle")),
    "reading.under_front_right_mm": under,
    "reading.under_rear_left_mm": under,
    "reading.under_rear_right_mm": under,
    "reading.lateral_g": Allowed(0, 5, "into the turn to more than any tyre"),
    "reading.longitudinal_g": Allowed(-3, 3, "more than any brake"),
    "reading.weight_kg": Allowed(0, 150, "a bag of sand to a heavy man"),
    "reading.weight_x_mm": point,
    "reading.weight_y_mm": point,
    "reading.weight_z_mm": point,
    # typed on the command line
    "--caster": Allowed(-45, 45, "as that of a yoke"),
    "--inclination": Allowed(-45, 45, "as that of a yoke"),
    "--minutes": Allowed(1, 480, "one reading to a working day"),
    "--exaggerate": Allowed(1, 20, "as it is to where a kart no longer looks like one"),
    # what may be wanted of a figure, by its unit
    "--want deg": Allowed(-360, 360, "one turn either way"),
    "--want mm": Allowed(-1e4, 1e4, "ten metres"),
    "--want m": Allowed(-1e5, 1e5, "the radius of a road that looks straight"),
    "--want N": Allowed(-1e5, 1e5, "ten tonnes on a wheel"),
    "--want N·m": Allowed(-1e4, 1e4, "a tonne on a metre's arm"),
    "--want g": Allowed(-10, 10, "twice what a load case may ask"),
    "--want percent": Allowed(-1e4, 1e4, "a hundred times the whole"),
    "--want mm/deg": Allowed(-1e3, 1e3, "a metre for a degree"),
    "--want N/deg": Allowed(-1e5, 1e5, "ten tonnes for a degree"),
    "--want %": Allowed(-1e4, 1e4, "a hundred times as much as now"),
    "--want weight": Allowed(1e-3, 1e3, "what counts less is not wanted; what counts more is all that is"),
}
