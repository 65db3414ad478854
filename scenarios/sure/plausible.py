"""In what range a number is likely, with its reason: one table. Outside of it a number is looked at again.

It is no bound: what lies outside is computed all the same. The hard bounds stand in `ranges`. Reasons name
what was published; the rest is common practice, without a source. [front] stands for both axles.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from scenarios.errors import shown, unit_of
from scenarios.ranges import Allowed
from scenarios.sure.places import every, row_of, value_at

SCALE = Allowed(8, 90, "a child's kart to a heavy driver's")
PLAUSIBLE: dict[str, Allowed] = {
    "kart.wheelbase_mm": Allowed(850, 1270, "a child's kart to the longest of CIK-FIA's 2005 regulations"),
    "kart.scale_front_left_kg": SCALE,
    "kart.scale_front_right_kg": SCALE,
    "kart.scale_rear_left_kg": SCALE,
    "kart.scale_rear_right_kg": SCALE,
    "kart.mass_kg": Allowed(60, 260, "a child's kart to a heavy hire kart"),
    "kart.cog_x_mm": Allowed(300, 600, "two published karts have 400 and 462"),
    "kart.cog_y_mm": Allowed(-60, 60, "the engine on one side, the driver beside the middle"),
    "kart.cog_height_mm": Allowed(180, 400, "published karts have 250 to 370"),
    "frame.torsional_stiffness_nm_per_deg": Allowed(90, 330, "published frames have 120 to 250"),
    "frame.front_compliance_share": Allowed(0.4, 0.95, "two published karts have 0.8"),
    "frame.torsion_axis_height_mm": Allowed(20, 160, "between the tubes and the wheel centres"),
    "front.track_mm": Allowed(700, 1300, "a child's kart to the widest allowed"),
    "front.loaded_radius_mm": Allowed(105, 150, "tyres of 10 to 11.5 inches"),
    "front.tread_width_mm": Allowed(80, 230, "a front tyre of a child's kart to a wide rear one"),
    "front.crown_radius_mm": Allowed(100, 3000, "round as a wheel to all but flat"),
    "front.stiffness_n_per_mm": Allowed(50, 240, "published tyres have 60 to 200"),
    "yoke.caster_deg": Allowed(5, 24, "9 to 20 are seen"),
    "yoke.kingpin_inclination_deg": Allowed(0, 18, "two published karts have 6.5 and 10"),
    "yoke.span_mm": Allowed(40, 110, "a kingpin of 8 or 10 mm in its yoke"),
    "stub.camber_deg": Allowed(-4, 4, "more and the tyre runs on its edge"),
    "stub.toe_deg": Allowed(-2, 2, "10 mm on each wheel"),
    "stub.wheel_forward_shift_mm": Allowed(-10, 10, "a stub axle bent further is seen without a tape"),
    "stub.wheel_outward_shift_mm": Allowed(-10, 10, "a stub axle bent further is seen without a tape"),
    "column.inclination_deg": Allowed(25, 70, "the handwheel before the driver"),
    "pneumatic_trail_mm": Allowed(0, 35, "behind the contact, a part of its length"),
    "rear_axle.longitudinal_stiffness_n_per_n": Allowed(6, 45, "published kart tyres have 8 to 44 across"),
    "rear_axle.friction_ratio": Allowed(0.3, 2.0, "a wet road to a slick; 0.9 and 1.5 are published"),
}


def unlikely(resolved: Mapping[str, Any]) -> Iterator[str]:
    """One line for each number of the kart that lies outside of its range."""
    for where in every():
        value, likely = value_at(resolved, where), PLAUSIBLE.get(row_of(where))
        own = where[0] != "right" or value != value_at(resolved, where[1:])
        if value is not None and likely is not None and own and not likely.holds(value):
            key = ".".join(map(str, where))
            unit = unit_of(key)
            usual = f"{shown(float(likely.low))} to {shown(float(likely.high))} {unit}".rstrip()
            yield f"{key} = {shown(value)} {unit}".rstrip() + f" is unlikely; {usual} is usual: {likely.why}"
