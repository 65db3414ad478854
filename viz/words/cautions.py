"""Sentences of care: one list, of which every surface shows those that belong to it, word for word."""

from __future__ import annotations

HURT = "Work on a kart can hurt: it can roll, tip or fall, and springy parts let go at once."
MANUAL = (
    "The chassis maker's manual comes first, and is right where it differs from this: it decides on tools, "
    "torques and order of work, on which bushes and spacers the yoke takes, and on which nuts may be used "
    "only once."
)
STANDS = (
    "Kart off, cold and on stands that cannot roll, before a hand goes underneath or a nut comes undone; "
    "never under a kart on a jack alone."
)
NUTS = (
    "Kingpin, tie-rod and wheel nuts keep a wheel on: secure what was undone, and have someone else look "
    "over it."
)
STOPS = (
    "After any change of bush set the toe again, then turn from stop to stop by hand, front wheels off the "
    "floor, and look for what touches or binds. Take the first laps slowly."
)
RULES = "The rules of your event may allow less than what fits. Read them before you turn up with it."
TRACK = (
    "Drive only where your licence and the track allow it, and practise a change in a session made for that."
)
MODEL = (
    "A model, not a permission to drive: all of this is computed from what was measured. Check a figure or "
    "two on the kart, with angle gauge and scales."
)
UNSURE = "If you are not sure, ask someone who is."

ALL = (HURT, MANUAL, STANDS, NUTS, STOPS, RULES, TRACK, MODEL, UNSURE)
BEFORE_WORK = (HURT, STANDS, MANUAL, RULES, UNSURE)
BEFORE_READING = (HURT, STANDS, MANUAL, UNSURE)
WITH_WORK = (STANDS, MANUAL, STOPS)
BESIDE_FIGURES = (MODEL, MANUAL, STOPS)
TURNING = "Kart on stands that cannot roll; tools, torques: the manual. Then set the toe."
BRIEF = "Work on stands, by the maker's manual; event rules may allow less than this."
READING = (
    "Read with the engine off and the wheels held; shims and blocks: nobody under the kart, fingers clear."
)
"""Where there is room for a line only."""
