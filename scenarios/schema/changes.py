"""What a setting may change beside its bushes, on a corner or the whole kart: a row for each number, and how
it is told.

What is not listed here the model has no law for.
"""

from __future__ import annotations

from typing import Any, NamedTuple

Tables = dict[str, Any]


class Adjustment(NamedTuple):
    """One number that a setting changes."""

    key: str
    word: str
    """How it is typed."""
    told: str
    unit: str
    more: str
    """A step of it, by name."""
    less: str = ""
    """A step back; '' where its sign says so."""


AT_A_CORNER = (
    Adjustment(
        "spacer_shift_mm",
        "spacer",
        "stub axle moved along the kingpin, + up",
        "mm",
        "stub axles up",
        "stub axles down",
    ),
    Adjustment("hub_spacer_mm", "hub", "wheel moved outward, + out", "mm", "front hubs out", "front hubs in"),
    Adjustment(
        "arm_hole_mm",
        "arm",
        "joint moved along the steering arm, + away from the kingpin",
        "mm",
        "arm holes out",
        "arm holes in",
    ),
    Adjustment(
        "spade_hole_mm",
        "spade",
        "joint moved along the spade, + away from the column",
        "mm",
        "spade holes out",
        "spade holes in",
    ),
)
CHANGES = (
    Adjustment(
        "rear_axle_shift_mm",
        "axle",
        "rear axle moved in the frame, + up",
        "mm",
        "rear axle up",
        "rear axle down",
    ),
    Adjustment(
        "rear_track_change_mm", "rear-track", "rear wheels further apart, + wider", "mm", "rear track"
    ),
    Adjustment(
        "front_radius_change_mm",
        "front-radius",
        "front tyres of another radius, + larger",
        "mm",
        "front tyres larger",
        "front tyres smaller",
    ),
    Adjustment(
        "rear_radius_change_mm",
        "rear-radius",
        "rear tyres of another radius, + larger",
        "mm",
        "rear tyres larger",
        "rear tyres smaller",
    ),
    Adjustment(
        "front_stiffness_change_percent",
        "front-stiffness",
        "front tyres stiffer, as by pressure",
        "%",
        "front tyres stiffer",
        "front tyres softer",
    ),
    Adjustment(
        "rear_stiffness_change_percent",
        "rear-stiffness",
        "rear tyres stiffer, as by pressure",
        "%",
        "rear tyres stiffer",
        "rear tyres softer",
    ),
    Adjustment(
        "frame_stiffness_change_percent",
        "frame",
        "frame stiffer in torsion, as by a bar",
        "%",
        "frame stiffer",
        "frame softer",
    ),
    Adjustment(
        "seat_forward_mm",
        "seat-forward",
        "seat with driver moved, + forward",
        "mm",
        "seat forward",
        "seat rearward",
    ),
    Adjustment(
        "seat_left_mm",
        "seat-left",
        "seat with driver moved, + to the left",
        "mm",
        "seat to the left",
        "seat to the right",
    ),
    Adjustment("seat_up_mm", "seat-up", "seat with driver moved, + up", "mm", "seat up", "seat down"),
)
TOE = Adjustment(
    "tie_rod_toe_deg", "toe", "tie rods set to another toe, + in", "deg", "toe-in a wheel", "toe-out a wheel"
)
BALLAST = Adjustment("ballast", "ballast", "mass put on, - taken off", "kg", "ballast on seat")
BY_KEY = {change.key: change for change in (*AT_A_CORNER, *CHANGES, TOE, BALLAST)}
NOT_MODELLED = (
    "the rear axle's own stiffness",
    "the length and stiffness of rear hubs",
    "seat struts and where the seat is bolted",
    "bumpers and side pods as part of the frame",
    "rim width and tread temperature",
)
"""What a mechanic changes too and this model has no law for: not modelled, which is not without effect."""


def changes_told(setting: Tables) -> list[str]:
    """What a resolved setting changes on the whole kart, a line each."""
    made = [
        f"{change.told}: {setting[change.key]:+g} {change.unit}"
        for change in CHANGES
        if setting.get(change.key)
    ]
    places = ((one["mass_kg"], *one["at_mm"]) for one in setting.get("ballast", []))
    return made + [f"ballast {kg:g} kg at x {x:g}, y {y:g}, z {z:g} mm" for kg, x, y, z in places]
