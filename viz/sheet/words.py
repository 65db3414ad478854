"""What the sheet says in whole sentences: order of work, checks, and how its tables are read."""

from __future__ import annotations


def _texts(block: str) -> tuple[str, ...]:
    """The paragraphs of a block, each on one line."""
    return tuple(" ".join(part.split()) for part in block.strip().split("\n\n"))


START = _texts("""
Driver seated, tyres at running pressure, steering straight: fill in the boxes 'found before'. Then the
driver gets out.

Kart up on stands that cannot roll, tip or slide; rear wheels chocked. Push it: it must not move.
""")

KINGPIN_OFF = _texts("""
One corner at a time. Wheel and hub off.

Note the kingpin spacers and their order in the table, and lay them out in that order.

Take the weight of the stub axle in one hand or tie it up, then undo the kingpin nut, draw the kingpin
and let the stub axle down gently. The tie rod may stay joined. Keep brake lines, where there are any,
free of pull.
""")

BUSHES = _texts("""
Slacken the bush clamp screws and take out only the bushes that are swapped or turned. Clean the seats.

Seat both bushes fully home, marks at the clocks drawn for THIS corner. Top and bottom both in place
before anything is tightened.
""")

KINGPIN_ON = _texts("""
Stub axle and spacers back, in the order of the table. Slide the kingpin through by hand. If it does not
go by hand the two holes are not in line: check the clocks; never drive it in.

New locknut on the kingpin, to torque. The stub axle must turn freely, without play.
""")

BUSH_SCREWS = _texts("""
Bush clamp screws to torque, then look again: have the marks moved? Re-check the screws after the
kingpin nut is tight, and once more after the first drive.
""")

CORNER_DONE = _texts("""
Hub and wheel back, nuts to torque. The other corner the same way.
""")

HUBS = _texts("""
One corner at a time. Wheel and hub off; carry hub spacers over as the table says; hub and wheel back,
nuts to torque.
""")

JOINTS = _texts("""
Tie-rod joints into the holes named above, one at a time: undo, move, close with a new locknut to torque.
Turn the steering by hand from lock to lock: nothing may touch, and no joint twist against its stop.
""")

ON_THE_KART = {
    "rear_axle_shift_mm": """
Rear axle up or down in its carriers as named above, both sides alike. Then align chain and brake disc
again: the axle turns freely, and the brake releases.
""",
    "rear_track_change_mm": """
Rear hubs along the axle, half of the change at each side, measured from the frame. Keys seated, clamp
screws to torque; the hub must not pass the end of the axle.
""",
    "front_radius_change_mm": "Fit the other front tyres, to running pressure.",
    "rear_radius_change_mm": "Fit the other rear tyres, to running pressure.",
    "front_stiffness_change_percent": """
Front tyres: set the pressure that you take for this stiffness, cold, within what the tyre allows.
""",
    "rear_stiffness_change_percent": """
Rear tyres: set the pressure that you take for this stiffness, cold, within what the tyre allows.
""",
    "frame_stiffness_change_percent": "Fit or take out the bar, or turn its blade; clamps to torque.",
    "seat_forward_mm": "Move the seat as named above; stays without strain, wide washers, bolts to torque.",
    "seat_left_mm": "Move the seat across as named above; stays without strain, bolts to torque.",
    "seat_up_mm": "Raise or lower the seat as named above; it must clear the floor; bolts to torque.",
    "ballast": "Ballast with through bolts, wide washers and locknuts; pull at it by hand.",
}
"""What is done for a change of the whole kart, by its key."""

FINISH = _texts("""
Kart down, driver seated.

Ride height: read front and rear; move spacers if it must be as before.

Camber: read both sides.

Toe: turn each rod as the table says, measure, and finish by measuring. Hold the rod, tighten both
locknuts, and see that the joints are not twisted against their stops.

Fill in the boxes 'found after'. Far from the expected readings? Look for a bush at the wrong clock, or
left and right changed about, before driving.
""")

BEFORE_DRIVING = _texts("""
Every locknut that was undone has been replaced by a new one.

Brakes work, and nothing pulls on them through the steering's whole way.

The steering turns freely from lock to lock and comes back by itself.

At both locks the tyres clear frame, bodywork, brakes and tie rods, with a hand's push on the wheel.

Wheel nuts, kingpin nuts, bush screws and tie-rod locknuts are tight. All tools are off the kart.
""")

UP_AND_DOWN = _texts("""
To move the stub axle up, carry spacers from above it to below it: the frame comes down at that corner.
Total thickness stays as it was.
""")[0]

ROD_NOTE = _texts("""
pitch moves two pitches; a flat is a sixth of a turn of a hexagon rod. Keep as much thread engaged at
both ends as the manual asks. The toe to set is the new setting's where it names one, otherwise the toe
as before.
""")[0]

STANDING = _texts("""
Expected readings are computed for the kart standing on its own four wheels with the driver seated, tyre
and frame yielding under the weight, steering held where stated. Your gauges have the last word: look at
the change from before to after first, then at the readings themselves.
""")[0]

CLOCK = _texts("""
Seen along the kingpin from above, forward up the page. Clock: forward, outboard, rearward, inboard in
quarters as numbered round the ring, the same reading on both corners. Triangle: the mark, where the
hole is nearest to the rim. Dashed and hollow: before. Solid: after. Hole offsets are drawn
""")[0]

PLATES = _texts("""
Zero the plates straight ahead. Workshop caster = factor × (camber as the inside wheel of the turn −
camber as the outside wheel), factor = half of one over the sine of the steer;

(January, Steering Geometry and Caster Measurement, SAE 850219). On its own wheels the kart leans as
lock goes on, and a gauge on the floor reads that lean too; held level on stands under the frame it does
not. The kingpin's own caster is in the table below.
""")

SMALLER_STEER = (
    "Where a wheel does not reach the steer within the lock, use the smaller one that all wheels reach."
)
