"""The part of the sheet that says what to do: spacers, tie rods, tools, and the order of work."""

from __future__ import annotations

from math import degrees

from kinematics.change_rods import RodTurns
from viz.sheet.blocks import BLANK, Line, Para, Piece, Steps, Table, Ticks
from viz.sheet.figures import SIDES, Figures
from viz.sheet.numbers import number, size

LEAST_TURN = 0.005
FASTENERS = (
    ("kingpin_nut", "Kingpin nut"),
    ("bush_screw", "Bush clamp screws"),
    ("tie_rod_locknut", "Tie-rod locknuts"),
    ("front_hub", "Front hub"),
    ("wheel_nut", "Wheel nuts"),
)


def cautions() -> Para:
    """What stands before anything else."""
    return Para(
        (
            "Work on a kart can hurt: it can roll, tip or fall, and springy parts let go at once. Never work under "
            "a kart that stands on a jack alone. The chassis maker's manual decides on parts, tools, torques and "
            "order of work, and the event's rules on what may be fitted; where they differ from this sheet, they "
            "are right. If you are not sure, ask someone who is.",
        ),
        "caution",
    )


def tools(found: Figures) -> Table:
    """Tool sizes and torques as the scenario gives them, a blank where it does not."""
    shop = found.scenario.workshop

    def given(key: str, unit: str) -> Line:
        return (size(key, shop[key], unit),) if shop.get(key) else BLANK

    rows = tuple(
        ((name,), given(f"{key}_tool_mm", "mm"), given(f"{key}_torque_nm", "N·m")) for key, name in FASTENERS
    )
    caption = "Tools and torques (blank: take it from the maker's manual and write it in)"
    return Table(caption, ("Fastener", "Tool, size across flats", "Torque"), rows, (3.0, 3.5, 3.5))


def spacers(found: Figures) -> tuple[Table, list[Para]]:
    """Kingpin and hub spacers before and after, and what would keep the ride height."""
    rows = []
    for side in SIDES:
        before, after = (getattr(s.setting, side) for s in (found.before, found.after))
        rows.append(
            (
                (side.capitalize(),),
                _shift(f"{side}_spacer", before.spacer_shift, after.spacer_shift, True),
                _shift(f"{side}_hub", before.hub_spacer, after.hub_spacer, False),
                BLANK,
                BLANK,
            )
        )
    head = (
        "Corner",
        "Stub axle along the kingpin, + up",
        "Hub spacer, + outward",
        "Stack found: above / below the stub",
        "Stack fitted: above / below",
    )
    caption = "Spacers: the change that this setting asks for, and the stack as found and fitted"
    notes = [_up_and_down(), *(_height(found, i, side) for i, side in enumerate(SIDES)), *_axle(found)]
    return Table(caption, head, tuple(rows), (1.0, 2.4, 2.0, 2.5, 2.3)), notes


def _up_and_down() -> Para:
    return Para(
        (
            "To move the stub axle up, carry spacers from above it to below it: the frame comes down at that "
            "corner. Total thickness stays as it was.",
        ),
        "note",
    )


def _shift(key: str, before: object, after: object, signed: bool) -> Line:
    was, now = float(before), float(after)  # type: ignore[arg-type]
    first = number(f"{key}_before_mm", was, 2, "mm", signed)
    return (first, " → ", number(f"{key}_after_mm", now, 2, "mm", signed))


def _height(found: Figures, i: int, side: str) -> Para:
    moves = found.change.spacers
    if not bool(moves.known):
        return Para((f"{side.capitalize()}: no spacer move puts the ride height back.",), "note")
    move, (nearest, stack) = float(getattr(moves, side)), found.stacks[i]
    said: list[Piece] = [
        f"{side.capitalize()}: to keep the front as high as before, move the stub axle a further ",
        number(f"{side}_spacer_move_mm", move, 2, "mm", True),
    ]
    if not found.scenario.workshop.get("kingpin_spacers_mm"):
        return Para((*said, " (the scenario lists no spacers)."), "note")
    if not stack:
        return Para((*said, "; with the spacers on hand, leaving it is nearest."), "note")
    said += ["; nearest with the spacers on hand: ", number(f"{side}_stack_mm", nearest, 2, "mm", True), " ("]
    for n, spacer in enumerate(stack):
        said += [" + " if n else "", size(f"{side}_stack_{n}_mm", spacer, "mm")]
    return Para((*said, "). Then set toe by measuring: the turns below are for spacers not moved further."), "note")


def _axle(found: Figures) -> list[Para]:
    was, now = (float(s.setting.rear_axle_shift) for s in (found.before, found.after))
    if was == now == 0.0:
        return []
    line = ("Rear axle in the frame, + axle up: ", *_shift("rear_axle", was, now, True), ".")
    return [Para(line)]


def rods(found: Figures) -> Table:
    """What to do at each tie rod, and the toe to expect on the way and at the end."""
    done = found.change
    rows = []
    for i, side in enumerate(SIDES):
        kept = getattr(done.kept.ahead, side)
        alone: Line = ("not reached",)
        if kept.reach[..., 0]:
            alone = (number(f"toe_{side}_rods_alone_deg", degrees(float(kept.ahead[..., 2])), 2, "deg", True),)
        rows.append(
            (
                (side.capitalize(),),
                (number(f"toe_{side}_before_deg", degrees(found.before.stands.toe[0, i]), 2, "deg", True),),
                alone,
                _turns(side, getattr(done.rods, side)),
                (number(f"toe_{side}_after_deg", degrees(found.after.stands.toe[0, i]), 2, "deg", True),),
                BLANK,
            )
        )
    head = ("Tie rod", "Toe before", "Toe if rods are left alone", "Turn the rod", "Toe to set", "Turned by")
    caption = "Tie rods, one wheel's own toe: + is toe-in, − is toe-out"
    return Table(caption, head, tuple(rows), (1.0, 1.4, 1.7, 3.6, 1.4, 1.2))


def _turns(side: str, rod: RodTurns) -> Line:
    if not bool(rod.known):
        return ("no length of the rod gives this toe",)
    turns, longer = float(rod.turns), float(rod.lengthening)
    if abs(turns) < LEAST_TURN:
        return ("leave it",)
    word = "lengthen" if turns > 0.0 else "shorten"
    return (
        f"{word} by ",
        number(f"{side}_rod_turns", abs(turns), 2, "turn" if abs(turns) <= 1.0 else "turns"),
        " (",
        number(f"{side}_rod_flats", 6.0 * abs(turns), 1),
        " flats of a hexagon, ",
        number(f"{side}_rod_mm", abs(longer), 2, "mm"),
        ")",
    )


def _per_thread(found: Figures) -> Line:
    return ("One turn of a rod with left- and right-hand thread of ", size("pitch_mm", found.scenario.thread_pitch_mm, "mm"))


def rod_note(found: Figures) -> Para:
    """Which thread the turns are for."""
    line = (*_per_thread(found), " pitch moves two pitches. Keep as much thread engaged at both ends as the manual asks.")
    return Para(line, "note")


def order() -> Steps:
    """The order of work for a clamped two-bush kingpin."""
    return Steps(
        (
            ("Driver seated, tyres at running pressure, steering straight: fill in the 'found' boxes.",),
            ("Kart up on stands that cannot roll, tip or slide; rear wheels chocked. Push it: it must not move.",),
            ("One corner at a time. Wheel and hub off.",),
            ("Note the kingpin spacers and their order in the table, and lay them out in that order.",),
            ("Take the weight of the stub axle in one hand or tie it up, then undo the kingpin nut, draw the kingpin "
             "and let the stub axle down gently. The tie rod may stay joined. Keep brake lines, where there are any, "
             "free of pull.",),
            ("Slacken the bush clamp screws and take out only the bushes that are swapped or turned. Clean the seats.",),
            ("Seat both bushes fully home, marks at the clocks drawn for THIS corner. Top and bottom both in place "
             "before anything is tightened.",),
            ("Stub axle and spacers back, in the order of the table. Slide the kingpin through by hand. If it does "
             "not go by hand the two holes are not in line: check the clocks; never drive it in.",),
            ("New locknut on the kingpin, to the torque below. The stub axle must turn freely, without play.",),
            ("Bush clamp screws to the torque below, then look again: have the marks moved? Re-check the screws "
             "after the kingpin nut is tight, and once more after the first drive.",),
            ("Hub and wheel back, nuts to torque. The other corner the same way. Kart down, driver seated.",),
            ("Ride height: read front and rear; move spacers if it must be as before.",),
            ("Camber: read both sides and compare with the target.",),
            ("Toe: turn each rod as the table says, measure, and finish by measuring. Hold the rod, tighten both "
             "locknuts, and see that the joints are not twisted against their stops.",),
            ("Fill in the 'after' boxes. Far from the expected readings? Look for a bush at the wrong clock, or left "
             "and right changed about, before driving.",),
        )
    )


def before_driving() -> Ticks:
    """The checks without which nobody drives."""
    return Ticks(
        (
            ("Every locknut that was undone has been replaced by a new one.",),
            ("Brakes work, and nothing pulls on them through the steering's whole way.",),
            ("The steering turns freely from lock to lock and comes back by itself.",),
            ("At both locks the tyres clear frame, bodywork, brakes and tie rods, with a hand's push on the wheel.",),
            ("Wheel nuts, kingpin nuts, bush screws and tie-rod locknuts are tight. All tools are off the kart.",),
        )
    )
