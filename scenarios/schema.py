"""The tables of a scenario file: every key, its unit, its physical limits and what it means.

One class is one table of the file. Keys carry their unit; limits here are what is physically thinkable, far
wider than what is usual, because a slip of the decimal point should be refused and an odd kart should not.
What two keys must be to each other is looked at in `checks`. Importing this module imports pydantic, so only
the load path does.
"""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field, create_model

Coordinate = Annotated[float, Field(ge=-3000.0, le=3000.0)]
Point = Annotated[tuple[Coordinate, Coordinate, Coordinate], Field(strict=False)]
Name = Annotated[str, Field(min_length=1, max_length=60, pattern=r"^[A-Za-z0-9][A-Za-z0-9 _.+-]*$")]
Line = Annotated[str, Field(min_length=1, max_length=120, pattern=r"^[^\x00-\x1f\x7f]+$")]
Text = Annotated[str, Field(max_length=600)]
Thickness = Annotated[float, Field(gt=0.0, le=100.0)]
Thicknesses = Annotated[tuple[Thickness, ...], Field(strict=False, max_length=40)]


class FileTable(BaseModel):
    """A table that knows its keys: strict types, no unknown key, no NaN or infinity."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True, allow_inf_nan=False, defer_build=True)


class KartTable(FileTable):
    """[kart]: the whole, with the driver seated. Four scale readings, or mass and centre of gravity."""

    wheelbase_mm: float = Field(ge=500.0, le=2000.0, description="Front to rear wheel centres")
    scale_front_left_kg: float | None = Field(None, gt=0.0, le=300.0, description="Scale reading")
    scale_front_right_kg: float | None = Field(None, gt=0.0, le=300.0, description="Scale reading")
    scale_rear_left_kg: float | None = Field(None, gt=0.0, le=300.0, description="Scale reading")
    scale_rear_right_kg: float | None = Field(None, gt=0.0, le=300.0, description="Scale reading")
    mass_kg: float | None = Field(None, ge=20.0, le=600.0, description="Mass with driver")
    cog_x_mm: float | None = Field(None, ge=0.0, le=2000.0, description="Ahead of the rear axle")
    cog_y_mm: float | None = Field(None, ge=-500.0, le=500.0, description="To the left of the mid-plane")
    cog_height_mm: float = Field(ge=20.0, le=800.0, description="Above the floor, with driver")


class FrameTable(FileTable):
    """[frame]: the frame as a torsion spring between the axles."""

    torsional_stiffness_nm_per_deg: float = Field(ge=5.0, le=1e6, description="Between the axles")
    front_compliance_share: float = Field(0.5, ge=0.0, le=1.0, description="Share ahead of the seat")
    torsion_axis_height_mm: float = Field(ge=-200.0, le=600.0, description="Above the floor")


class WheelTable(FileTable):
    """[front] and [rear]: both wheels of an axle."""

    track_mm: float = Field(ge=300.0, le=2500.0, description="Between the wheel centres")
    loaded_radius_mm: float = Field(ge=50.0, le=400.0, description="Floor to wheel centre, driver seated")
    tread_width_mm: float = Field(ge=0.0, le=400.0, description="Width of the tread; 0 is a thin disc")
    crown_radius_mm: float | None = Field(
        None, ge=5.0, le=1e4, description="Radius of the tread's cross-section; left out: an elastic tread's"
    )
    stiffness_n_per_mm: float = Field(ge=5.0, le=1e6, description="Vertical stiffness")


class YokeTable(FileTable):
    """[yoke]: the yoke with its two bush seats, described for the left corner."""

    centre_mm: Point = Field(description="Mid-point between the two seats [x, y, z]")
    caster_deg: float = Field(ge=-45.0, le=45.0, description="Built in; + top leans rearward")
    kingpin_inclination_deg: float = Field(ge=-30.0, le=45.0, description="Built in; + top leans inboard")
    span_mm: float = Field(ge=10.0, le=400.0, description="Between the two seats, along the kingpin")


class StubTable(FileTable):
    """[stub]: the stub axle with concentric bushes, described for the left corner."""

    camber_deg: float = Field(ge=-20.0, le=20.0, description="+ top leans outward")
    toe_deg: float = Field(ge=-20.0, le=20.0, description="This wheel alone; + toe-in")
    arm_end_mm: Point = Field(description="Steering-arm end: the tie rod's outer joint [x, y, z]")
    wheel_forward_shift_mm: float = Field(
        0.0, ge=-200.0, le=200.0, description="Wheel centre ahead of where the wheelbase puts it"
    )
    wheel_outward_shift_mm: float = Field(
        0.0, ge=-200.0, le=200.0, description="Wheel centre outward of where the track puts it"
    )


class TieRodTable(FileTable):
    """[tie_rod]: where the tie rod meets the spade, described for the left corner."""

    inner_joint_mm: Point = Field(description="Inner joint on the spade, straight ahead [x, y, z]")


class ColumnTable(FileTable):
    """[column]: the steering column."""

    foot_mm: Point = Field(description="A point on the column's axis [x, 0, z]")
    inclination_deg: float = Field(ge=5.0, le=90.0, description="Column axis to the floor")
    stop_deg: float = Field(ge=5.0, le=180.0, description="Mechanical stop, plus and minus, at the handwheel")


def _override(model: type[FileTable]) -> Any:
    """The same table with every key optional and no default: what a bent corner may say anew."""
    keys: dict[str, Any] = {
        name: (
            Annotated[(field.annotation, *field.metadata)] | None,
            Field(None, description=field.description),
        )
        for name, field in model.model_fields.items()
    }
    return create_model(model.__name__ + "Override", __base__=FileTable, __doc__=model.__doc__, **keys)


class SideTable(FileTable):
    """[left] and [right]: single keys of a corner said anew, still in the left-hand convention."""

    yoke: _override(YokeTable) | None = None  # type: ignore[valid-type]
    stub: _override(StubTable) | None = None  # type: ignore[valid-type]
    tie_rod: _override(TieRodTable) | None = None  # type: ignore[valid-type]


class KitBushTable(FileTable):
    """[[kit.bush]]: one size in the box."""

    rated_deg: float | None = Field(None, ge=0.0, lt=15.0, description="Rated size")
    offset_mm: float | None = Field(None, ge=0.0, le=60.0, description="Offset of the hole")
    count: int | None = Field(None, ge=0, le=1000, description="How many; left out: enough")


class KitTable(FileTable):
    """[kit]: the bushes on hand."""

    bush: Annotated[tuple[KitBushTable, ...], Field(strict=False, max_length=100)] = ()
    clock_step_deg: float = Field(0.0, ge=0.0, le=180.0, description="Clock step; 0 is any clock")


class CornerSettingTable(FileTable):
    """[setting.NAME.both], .left, .right: what is fitted at a corner."""

    top_rated_deg: float | None = Field(None, ge=0.0, lt=15.0, description="Top bush, rated")
    top_offset_mm: float | None = Field(None, ge=0.0, le=60.0, description="Top bush, offset of the hole")
    top_clock_deg: float | None = Field(None, ge=-360.0, le=360.0, description="0 forward, 90 outboard")
    bottom_rated_deg: float | None = Field(None, ge=0.0, lt=15.0, description="Bottom bush, rated")
    bottom_offset_mm: float | None = Field(None, ge=0.0, le=60.0, description="Bottom bush, hole offset")
    bottom_clock_deg: float | None = Field(None, ge=-360.0, le=360.0, description="0 forward, 90 outboard")
    spacer_shift_mm: float | None = Field(None, ge=-60.0, le=60.0, description="+ stub axle up the kingpin")
    hub_spacer_mm: float | None = Field(None, ge=-150.0, le=150.0, description="+ wheel outward")
    tie_rod_length_mm: float | None = Field(None, ge=50.0, le=1500.0, description="Between the joints")
    tie_rod_toe_deg: float | None = Field(None, ge=-10.0, le=10.0, description="Re-set to; + toe-in")


class SettingTable(FileTable):
    """[setting.NAME]: one way to set the kart up."""

    note: Text = ""
    rear_axle_shift_mm: float = Field(0.0, ge=-100.0, le=100.0, description="+ axle up in the frame")
    both: CornerSettingTable | None = None
    left: CornerSettingTable | None = None
    right: CornerSettingTable | None = None


class LoadCaseTable(FileTable):
    """[[load_case]]: how hard the kart corners and brakes."""

    name: Name
    lateral_g: float | None = Field(None, ge=-5.0, le=5.0, description="+ left turn")
    longitudinal_g: float = Field(0.0, ge=-3.0, le=3.0, description="+ speeding up, - braking")
    speed_km_h: float | None = Field(None, gt=0.0, le=300.0, description="Lateral g follows from the path")
    grip_limit_g: float | None = Field(None, gt=0.0, le=5.0, description="Largest lateral g a speed may ask")


class SweepTable(FileTable):
    """[sweep]: the handwheel positions to look at."""

    handwheel_from_deg: float = Field(-60.0, ge=-180.0, le=180.0)
    handwheel_to_deg: float = Field(60.0, ge=-180.0, le=180.0)
    positions: int = Field(61, ge=2, le=20001)


class WorkshopTable(FileTable):
    """[workshop]: tool sizes, torques and spacers for the bench sheet; left out: left blank there."""

    kingpin_nut_tool_mm: float | None = Field(None, gt=0.0, le=100.0)
    kingpin_nut_torque_nm: float | None = Field(None, gt=0.0, le=500.0)
    bush_screw_tool_mm: float | None = Field(None, gt=0.0, le=100.0)
    bush_screw_torque_nm: float | None = Field(None, gt=0.0, le=500.0)
    tie_rod_locknut_tool_mm: float | None = Field(None, gt=0.0, le=100.0)
    tie_rod_locknut_torque_nm: float | None = Field(None, gt=0.0, le=500.0)
    wheel_nut_tool_mm: float | None = Field(None, gt=0.0, le=100.0)
    wheel_nut_torque_nm: float | None = Field(None, gt=0.0, le=500.0)
    front_hub_tool_mm: float | None = Field(None, gt=0.0, le=100.0)
    front_hub_torque_nm: float | None = Field(None, gt=0.0, le=500.0)
    kingpin_spacers_mm: Thicknesses = ()
    hub_spacers_mm: Thicknesses = ()


class LimitsTable(FileTable):
    """[limits]: what the event's rules allow. They warn and never refuse; rules differ, so change them."""

    wheelbase_min_mm: float = Field(1010.0, ge=0.0, le=3000.0)
    wheelbase_max_mm: float = Field(1070.0, ge=0.0, le=3000.0)
    track_to_wheelbase_min_ratio: float = Field(2.0 / 3.0, ge=0.0, le=5.0)
    overall_width_max_mm: float = Field(1400.0, ge=0.0, le=5000.0)
    source: Text = "CIK-FIA technical drawing 2.1a; national and club rules differ"


class RearAxleTable(FileTable):
    """[rear_axle]: the rear tyres lengthwise, for the yaw moment of the one-piece axle."""

    longitudinal_stiffness_n_per_n: float = Field(
        12.0, gt=0.0, le=200.0, description="Force per unit slip, per unit of wheel load"
    )
    friction_ratio: float = Field(1.2, gt=0.0, le=5.0, description="Largest force over wheel load")


class ScenarioFile(FileTable):
    """A kart, what may be fitted to it and what to look at: one scenario file."""

    title: Line
    default_setting: Name | None = None
    toe_diameter_mm: float = Field(280.0, ge=10.0, le=2000.0, description="Where toe in mm is measured")
    thread_pitch_mm: float = Field(1.25, gt=0.0, le=5.0, description="Of the tie rods' threads")
    pneumatic_trail_mm: float = Field(0.0, ge=-100.0, le=100.0, description="+ side force acts behind")
    kart: KartTable
    frame: FrameTable
    front: WheelTable
    rear: WheelTable
    yoke: YokeTable
    stub: StubTable
    tie_rod: TieRodTable
    column: ColumnTable
    left: SideTable | None = None
    right: SideTable | None = None
    kit: KitTable = Field(default_factory=KitTable)
    setting: dict[Name, SettingTable] = Field(min_length=1)
    load_case: Annotated[tuple[LoadCaseTable, ...], Field(strict=False, max_length=50)] = ()
    sweep: SweepTable = Field(default_factory=SweepTable)
    workshop: WorkshopTable = Field(default_factory=WorkshopTable)
    limits: LimitsTable = Field(default_factory=LimitsTable)
    rear_axle: RearAxleTable = Field(default_factory=RearAxleTable)
