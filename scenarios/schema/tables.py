"""The tables of a scenario file: every key, its kind and what it means.

Keys carry their unit; the range of each number stands in `ranges`. What two keys must be to each other is
looked at in `checks`.
"""

from __future__ import annotations

from collections.abc import Iterator

from scenarios.schema.changes import CHANGES
from scenarios.schema.keys import LINE, MARK, NAME, NOTE, number, override, point, several, whole
from scenarios.schema.kinds import (
    Items,
    Key,
    KeyTable,
    Kind,
    Named,
    Schema,
    Switch,
)
from scenarios.schema.sureness import sure_table

KART = KeyTable(
    "KartTable",
    "[kart]: the whole, with the driver seated. Four scale readings, or mass and centre of gravity.",
    number("kart.wheelbase_mm", "Front to rear wheel centres"),
    number("kart.scale_front_left_kg", "Scale reading", None),
    number("kart.scale_front_right_kg", "Scale reading", None),
    number("kart.scale_rear_left_kg", "Scale reading", None),
    number("kart.scale_rear_right_kg", "Scale reading", None),
    number("kart.mass_kg", "Mass with driver", None),
    number("kart.cog_x_mm", "Ahead of the rear axle", None),
    number("kart.cog_y_mm", "To the left of the mid-plane", None),
    number("kart.cog_height_mm", "Above the floor, with driver"),
    number("kart.seat_mass_kg", "Driver with seat: what moves with it", None),
)
FRAME = KeyTable(
    "FrameTable",
    "[frame]: the frame as a torsion spring between the axles.",
    number("frame.torsional_stiffness_nm_per_deg", "Between the axles"),
    number("frame.front_compliance_share", "Share ahead of the seat", 0.5),
    number("frame.torsion_axis_height_mm", "Above the floor"),
)
WHEEL = KeyTable(
    "WheelTable",
    "[front] and [rear]: both wheels of an axle.",
    number("front.track_mm", "Between the wheel centres"),
    number("front.loaded_radius_mm", "Floor to wheel centre, driver seated"),
    number("front.tread_width_mm", "Width of the tread; 0 is a thin disc"),
    number(
        "front.crown_radius_mm", "Radius of the tread's cross-section; left out: an elastic tread's", None
    ),
    number("front.stiffness_n_per_mm", "Vertical stiffness"),
)
YOKE = KeyTable(
    "YokeTable",
    "[yoke]: the yoke with its two bush seats, described for the left corner.",
    point("yoke.centre_mm", "Mid-point between the two seats [x, y, z]"),
    number("yoke.caster_deg", "Built in; + top leans rearward"),
    number("yoke.kingpin_inclination_deg", "Built in; + top leans inboard"),
    number("yoke.span_mm", "Between the two seats, along the kingpin"),
)
STUB = KeyTable(
    "StubTable",
    "[stub]: the stub axle as it stands straight ahead, described for the left corner.",
    number("stub.camber_deg", "+ top leans outward"),
    number("stub.toe_deg", "This wheel alone; + toe-in"),
    point("stub.arm_end_mm", "Steering-arm end: the tie rod's outer joint [x, y, z]"),
    number("stub.wheel_forward_shift_mm", "Wheel centre ahead of where the wheelbase puts it", 0.0),
    number("stub.wheel_outward_shift_mm", "Wheel centre outward of where the track puts it", 0.0),
)
TIE_ROD = KeyTable(
    "TieRodTable",
    "[tie_rod]: where the tie rod meets the spade, described for the left corner.",
    point("tie_rod.inner_joint_mm", "Inner joint on the spade, straight ahead [x, y, z]"),
)
COLUMN = KeyTable(
    "ColumnTable",
    "[column]: the steering column.",
    point("column.foot_mm", "A point on the column's axis [x, 0, z]"),
    number("column.inclination_deg", "Column axis to the floor"),
    number("column.stop_deg", "Mechanical stop, plus and minus, at the handwheel"),
)
SIDE = KeyTable(
    "SideTable",
    "[left] and [right]: single keys of a corner said anew, still in the left-hand convention.",
    Key("yoke", override(YOKE), "", None),
    Key("stub", override(STUB), "", None),
    Key("tie_rod", override(TIE_ROD), "", None),
)
KIT_BUSH = KeyTable(
    "KitBushTable",
    "[[kit.bush]]: one size in the box.",
    number("kit.bush.rated_deg", "Rated size", None),
    number("kit.bush.offset_mm", "Offset of the hole", None),
    whole("kit.bush.count", "How many; left out: enough", None),
    Key("mark", MARK, "How you tell it from others", None),
    Key(
        "clocks_deg", Items(number("kit.bush.clocks_deg").kind, 1, 24), "Where its screws let it stand", None
    ),
)
KIT = KeyTable(
    "KitTable",
    "[kit]: the bushes on hand.",
    Key("bush", Items(KIT_BUSH, 0, 100), "", []),
    number("kit.clock_step_deg", "Clock step; 0 is any clock", 0.0),
)
BALLAST = KeyTable(
    "BallastTable",
    "[[setting.NAME.ballast]]: a mass put on; below 0 one taken off.",
    number("setting.ballast.mass_kg", "+ put on, - taken off"),
    point("setting.ballast.at_mm", "Where [x, y, z]"),
)
CORNER_SETTING = KeyTable(
    "CornerSettingTable",
    "[setting.NAME.both], .left, .right: what is fitted at a corner.",
    number("setting.both.top_rated_deg", "Top bush, rated", None),
    number("setting.both.top_offset_mm", "Top bush, offset of the hole", None),
    number("setting.both.top_clock_deg", "0 forward, 90 outboard", None),
    number("setting.both.bottom_rated_deg", "Bottom bush, rated", None),
    number("setting.both.bottom_offset_mm", "Bottom bush, hole offset", None),
    number("setting.both.bottom_clock_deg", "0 forward, 90 outboard", None),
    number("setting.both.spacer_shift_mm", "+ stub axle up the kingpin", None),
    number("setting.both.hub_spacer_mm", "+ wheel outward", None),
    number("setting.both.arm_hole_mm", "Outer joint, + away from the kingpin", None),
    number("setting.both.spade_hole_mm", "Inner joint, + away from the column", None),
    number("setting.both.tie_rod_length_mm", "Between the joints", None),
    number("setting.both.tie_rod_toe_deg", "Re-set to; + toe-in", None),
)
BALLAST = KeyTable(
    "BallastTable",
    "[[setting.NAME.ballast]]: a mass put on; below 0 one taken off.",
    number("setting.ballast.mass_kg", "+ put on, - taken off"),
    point("setting.ballast.at_mm", "Where [x, y, z]"),
)
SETTING = KeyTable(
    "SettingTable",
    "[setting.NAME]: one way to set the kart up.",
    Key("note", NOTE, "", ""),
    *(number(f"setting.{c.key}", c.told, 0.0 if c is CHANGES[0] else None) for c in CHANGES),
    Key("ballast", Items(BALLAST, 0, 20), "", None),
    Key("both", CORNER_SETTING, "", None),
    Key("left", CORNER_SETTING, "", None),
    Key("right", CORNER_SETTING, "", None),
)
LOAD_CASE = KeyTable(
    "LoadCaseTable",
    "[[load_case]]: how hard the kart corners and brakes.",
    Key("name", NAME),
    number("load_case.lateral_g", "Into the turn that the lock makes, either way", None),
    number("load_case.longitudinal_g", "+ speeding up, - braking", 0.0),
    number("load_case.speed_km_h", "Lateral g follows from the radius; without one from the path", None),
    number("load_case.grip_limit_g", "Largest lateral g a speed may ask", None),
    number("load_case.radius_m", "Of the corner; without handwheel_deg it says the lock too", None),
    number(
        "load_case.handwheel_deg", "Lock at which it is driven, without sign: figures are read there", None
    ),
    Key("opposite_lock", Switch(), "Lateral g against the turn that the lock makes: the kart slides", None),
)
SWEEP = KeyTable(
    "SweepTable",
    "[sweep]: the handwheel positions to look at.",
    number("sweep.handwheel_from_deg", "", -60.0),
    number("sweep.handwheel_to_deg", "", 60.0),
    whole("sweep.positions", "", 61),
)
WORKSHOP = KeyTable(
    "WorkshopTable",
    "[workshop]: tool sizes, torques and spacers for the bench sheet; left out: left blank there.",
    number("workshop.kingpin_nut_tool_mm", "", None),
    number("workshop.kingpin_nut_torque_nm", "", None),
    number("workshop.bush_screw_tool_mm", "", None),
    number("workshop.bush_screw_torque_nm", "", None),
    number("workshop.tie_rod_locknut_tool_mm", "", None),
    number("workshop.tie_rod_locknut_torque_nm", "", None),
    number("workshop.wheel_nut_tool_mm", "", None),
    number("workshop.wheel_nut_torque_nm", "", None),
    number("workshop.front_hub_tool_mm", "", None),
    number("workshop.front_hub_torque_nm", "", None),
    several("workshop.kingpin_spacers_mm", 0, 40, "", []),
    several("workshop.hub_spacers_mm", 0, 40, "", []),
)
LIMITS = KeyTable(
    "LimitsTable",
    "[limits]: what the event's rules allow. They warn and never refuse; rules differ, so change them.",
    number("limits.wheelbase_min_mm", "", 1010.0),
    number("limits.wheelbase_max_mm", "", 1070.0),
    number("limits.track_to_wheelbase_min_ratio", "", 2.0 / 3.0),
    number("limits.overall_width_max_mm", "", 1400.0),
    Key("source", NOTE, "", "CIK-FIA technical drawing 2.1a; national and club rules differ"),
)
REAR_AXLE = KeyTable(
    "RearAxleTable",
    "[rear_axle]: the rear tyres lengthwise, for the yaw moment of the one-piece axle.",
    number("rear_axle.longitudinal_stiffness_n_per_n", "Force per unit slip, per unit of wheel load", 12.0),
    number("rear_axle.friction_ratio", "Largest force over wheel load", 1.2),
)
PNEUMATIC_TRAIL = number("pneumatic_trail_mm", "+ side force acts behind", 0.0)
CORNER = {"yoke": YOKE, "stub": STUB, "tie_rod": TIE_ROD}
WHOLE = {
    "kart": KART,
    "frame": FRAME,
    "front": WHEEL,
    "rear": WHEEL,
    "column": COLUMN,
    "rear_axle": REAR_AXLE,
}
FILE = KeyTable(
    "ScenarioFile",
    "A kart, what may be fitted to it and what to look at: one scenario file.",
    Key("title", LINE),
    Key("default_setting", NAME, "", None),
    Key(
        "fitted_when_measured",
        NAME,
        "The setting on the kart that was measured; else concentric",
        None,
    ),
    number("toe_diameter_mm", "Where toe in mm is measured", 280.0),
    number("thread_pitch_mm", "Of the tie rods' threads", 1.25),
    PNEUMATIC_TRAIL,
    Key("kart", KART),
    Key("frame", FRAME),
    Key("front", WHEEL),
    Key("rear", WHEEL),
    Key("yoke", YOKE),
    Key("stub", STUB),
    Key("tie_rod", TIE_ROD),
    Key("column", COLUMN),
    Key("left", SIDE, "", None),
    Key("right", SIDE, "", None),
    Key("kit", KIT, "", {}),
    Key("setting", Named(NAME, SETTING, 1, 100)),
    Key("load_case", Items(LOAD_CASE, 0, 50), "", []),
    Key("sweep", SWEEP, "", {}),
    Key("workshop", WORKSHOP, "", {}),
    Key("limits", LIMITS, "", {}),
    Key("rear_axle", REAR_AXLE, "", {}),
    Key("sure", sure_table(WHOLE, CORNER, PNEUMATIC_TRAIL), "", None),
)


def tables_of(kind: Kind) -> Iterator[KeyTable]:
    """The tables that may stand behind a key of this kind, not those inside them."""
    if isinstance(kind, KeyTable):
        yield kind
    elif isinstance(kind, Items):
        yield from tables_of(kind.kind)
    elif isinstance(kind, Named):
        yield kind.table


def json_schema() -> Schema:
    """The JSON Schema (2020-12) of a scenario file, for editors."""
    inside = {table.name: table.definition() for table in sorted(set(_below(FILE)), key=lambda t: t.name)}
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "$defs": inside, **FILE.definition()}


def _below(table: KeyTable) -> Iterator[KeyTable]:
    for key in table.keys.values():
        for inner in tables_of(key.kind):
            yield inner
            yield from _below(inner)
