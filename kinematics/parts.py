"""Frozen records of the kart: what a scenario gives, in mm, N, N·mm, rad.

Left and right corners are both written in the left-hand convention: a corner is described as if it were
the left one (y > 0 outboard), and the right is its mirror image (y -> -y, handwheel angle -> -angle).
A record refuses nonsense when it is made; it computes nothing.

The records of a kart are typed as those of one. Of many karts at once a number is an array of any batch shape
(...) and a point (..., 3); these axes broadcast with a setting's. Only the column's stop is one number.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import inf

import numpy as np

from kinematics.batches import batch_shape, refuse_unless
from kinematics.frames import Number, Vector

GRAVITY = 9.80665  # m/s², standard acceleration of free fall (CGPM 1901)


@dataclass(frozen=True)
class Yoke:
    """The yoke that holds the two bush seats, left-hand convention."""

    centre: Vector
    """Mid-point between the two bush seats, mm."""
    caster: float
    """Built-in caster of the line through the seats' centres (the neutral axis), rad, + top rearward."""
    kingpin_inclination: float
    """Built-in kingpin inclination of the same line, rad, + top inboard."""
    span: float
    """Distance between the two seats along the neutral axis, mm."""

    def __post_init__(self) -> None:
        refuse_unless(self.span > 0.0, "yoke span must be above 0 mm, not {}", self.span)


@dataclass(frozen=True)
class Stub:
    """The stub axle as it stands with concentric bushes at the reference stance, left-hand convention."""

    wheel_centre: Vector
    """mm."""
    camber: float
    """Static camber of the spin axis, rad, + top outward."""
    toe: float
    """Static toe, rad, + toe-in."""
    arm_end: Vector
    """Steering-arm end, the tie rod's outer joint, mm."""


@dataclass(frozen=True)
class Corner:
    """One front corner, left-hand convention."""

    yoke: Yoke
    stub: Stub
    inner_joint: Vector
    """Tie-rod inner joint on the spade, straight ahead, mm."""


@dataclass(frozen=True)
class Column:
    """The steering column; the handwheel turns it about the axis that points up and rearward."""

    foot: Vector
    """A point on the column's axis, mm (y = 0)."""
    inclination: float
    """Angle of the axis to the floor, rad."""
    stop: float
    """Mechanical stop, ± handwheel rad."""


FLATTEST_CROWN = 25.0
"""Crown radius over tread width up to which a tyre can be stood on the road; a flatter one rests on its edge
at a degree of camber, which no tyre that gives does."""


@dataclass(frozen=True)
class Tyre:
    """A tyre as a surface of revolution with a crowned tread and a spring."""

    radius: float
    """Loaded radius at the reference stance, mm."""
    tread_width: float
    """mm; 0 is a thin disc."""
    crown_radius: float = inf
    """Radius of the tread's cross-section, mm; inf is a flat tread, for sweeps but not for a stance."""
    stiffness: float = inf
    """Vertical stiffness, N/mm; inf is rigid."""

    def __post_init__(self) -> None:
        refuse_unless(self.radius > 0.0, "tyre radius must be above 0 mm, not {}", self.radius)
        refuse_unless(self.stiffness > 0.0, "tyre stiffness must be above 0 N/mm, not {}", self.stiffness)
        refuse_unless(self.crown_radius > 0.0, "crown radius must be above 0 mm, not {}", self.crown_radius)
        refuse_unless(
            (np.asarray(self.crown_radius) >= 0.5 * self.tread_width) & (np.asarray(self.tread_width) >= 0.0),
            "crown radius {} mm must be at least half the tread {} mm",
            self.crown_radius,
            self.tread_width,
        )


@dataclass(frozen=True)
class Frame:
    """The frame's torsion spring between the axles."""

    stiffness: float
    """Torsional stiffness between the axles, N·mm/rad; inf is rigid."""
    front_share: float
    """Share of its compliance ahead of the seat station, 0..1."""
    axis_height: float
    """Height of the torsion axis above the floor, mm."""

    def __post_init__(self) -> None:
        refuse_unless(self.stiffness > 0.0, "frame stiffness must be above 0, not {}", self.stiffness)
        share = np.asarray(self.front_share)
        within = (share >= 0.0) & (share <= 1.0)
        refuse_unless(within, "front share must lie in 0..1, not {}", self.front_share)


@dataclass(frozen=True)
class Masses:
    """Masses put on the kart, taken off it or moved, added up; N and N·mm."""

    weight: float = 0.0
    """Of all that is put on, less what is taken off."""
    forward: float = 0.0
    """Sum of weight times x; of a moved mass, its weight times how far it went forward."""
    left: float = 0.0
    """Sum of weight times y."""
    up: float = 0.0
    """Sum of weight times height above the floor."""


@dataclass(frozen=True)
class Chassis:
    """What is changed on the whole kart, as a difference from the kart as measured."""

    rear_track: float = 0.0
    """mm, + wider."""
    front_radius: float = 0.0
    """Front tyres of another radius, mm, + larger."""
    rear_radius: float = 0.0
    front_stiffness: float = 1.0
    """Vertical stiffness of the front tyres over that of the measured ones."""
    rear_stiffness: float = 1.0
    frame_stiffness: float = 1.0
    """Torsional stiffness of the frame over the measured one: a bar fitted, or taken out."""
    masses: Masses = field(default_factory=Masses)


AS_MEASURED = Chassis()


@dataclass(frozen=True)
class Kart:
    """The kart with driver at its reference stance."""

    wheelbase: float
    front_track: float
    rear_track: float
    front_tyre: Tyre
    rear_tyre: Tyre
    left: Corner
    right: Corner
    column: Column
    frame: Frame
    loads: tuple[float, float, float, float]
    """Reference wheel loads front left, front right, rear left, rear right, N."""
    cog_height: float
    """Height of the centre of gravity above the floor at the reference stance, mm."""
    measured: Kart | None = None
    """The kart as it was measured, when something on it has been changed since: its reference stance."""
    added: Masses = field(default_factory=lambda: Masses())
    """Masses put on or moved since it was measured."""
    packed: tuple[Number, Number, Number, Number] = (0.0, 0.0, 0.0, 0.0)
    """How much higher than the rest the floor is under each wheel, mm, front left, front right, rear left,
    rear right: level shims and blocks. For a stance; it says nothing to a sweep."""

    def __post_init__(self) -> None:
        refuse_unless(self.wheelbase > 0.0, "wheelbase must be above 0 mm, not {}", self.wheelbase)
        for load in self.loads:
            sound = np.isfinite(load) & (np.asarray(load) > 0.0)
            refuse_unless(sound, "every wheel load must be above 0 N, not {}", load)

    @property
    def as_measured(self) -> Kart:
        """The kart whose reference stance it is."""
        return self if self.measured is None else self.measured


@dataclass(frozen=True)
class CornerSetting:
    """What is fitted at one corner. Every number may be an array of any batch shape; they broadcast.

    Clock: the direction in which the bush's hole is displaced, seen along the neutral axis from above:
    0 forward, pi/2 outboard, pi rearward, 3 pi/2 inboard; the same reading on both corners.
    """

    top_offset: Number = 0.0
    """Hole offset of the top bush, mm."""
    top_clock: Number = 0.0
    """rad."""
    bottom_offset: Number = 0.0
    """mm."""
    bottom_clock: Number = 0.0
    """rad."""
    spacer_shift: Number = 0.0
    """Stub axle moved up along the kingpin, mm, + up (lowers the front of the frame)."""
    hub_spacer: Number = 0.0
    """Wheel moved outward along the spin axis, mm, + outward."""
    arm_hole: Number = 0.0
    """Outer joint moved along the steering arm, mm, + away from the kingpin."""
    spade_hole: Number = 0.0
    """Inner joint moved along the spade, mm, + away from the column."""
    rod_length: Number | None = None
    """Tie-rod length, mm, when given."""
    rod_toe: Number | None = None
    """Toe to which the tie rod is re-set, rad, + toe-in, when given."""

    def __post_init__(self) -> None:
        one = self.rod_length is None or self.rod_toe is None
        refuse_unless(one, "give a tie-rod length or a toe, not both")

    @property
    def batch_shape(self) -> tuple[int, ...]:
        """Common shape of all its numbers; () for one setting."""
        return batch_shape(self)


@dataclass(frozen=True)
class Setting:
    """What is fitted on the kart: both corners, the rear axle, and what is changed on the whole of it."""

    left: CornerSetting = field(default_factory=CornerSetting)
    right: CornerSetting = field(default_factory=CornerSetting)
    rear_axle_shift: Number = 0.0
    """Rear axle moved up in the frame, mm, + axle up (lowers the rear of the frame, adds caster)."""
    chassis: Chassis = AS_MEASURED


CONCENTRIC = CornerSetting()


@dataclass(frozen=True)
class LoadCase:
    """One load case: how hard the kart corners and brakes, whichever way its wheels are turned."""

    name: str
    lateral_g: float = 0.0
    """Lateral acceleration / g into the turn that the lock makes, never below 0. A speed gives it instead."""
    longitudinal_g: float = 0.0
    """Longitudinal acceleration / g, + speeding up, - braking."""
    speed: float | None = None
    """m/s; lateral g then follows from the radius, without one from the path at each lock position."""
    grip_limit_g: float = inf
    """Largest lateral g that a speed may ask for."""
    radius: float | None = None
    """Radius of the corner at the middle of the rear axle, mm."""
    handwheel: float | None = None
    """Handwheel angle, rad, either way, at which the corner is driven: figures at lock are read there."""
    opposite_lock: bool = False
    """Whether the lateral acceleration is against the turn that the lock makes: the kart slides."""

    def __post_init__(self) -> None:
        allowed = "lateral g is into the turn that the lock makes, at least 0, not {}"
        refuse_unless(self.lateral_g >= 0.0, allowed, self.lateral_g)
        held = self.speed is None or self.radius is not None
        refuse_unless(held or not self.opposite_lock, "a path that follows the lock has no opposite lock")

    @property
    def asked_g(self) -> float | None:
        """Lateral g that holds through lock, before the grip limit; None where it follows the path."""
        if self.speed is None:
            return self.lateral_g
        return None if self.radius is None else self.speed**2 * 1e3 / (self.radius * GRAVITY)
