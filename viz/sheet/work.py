"""The part of the sheet that says what to change: spacers, holes, the whole kart, tie rods; and with what."""

from __future__ import annotations

from collections.abc import Iterator
from math import degrees

from kinematics.change.rods import RodTurns
from kinematics.figures.wheel import TOE
from kinematics.frames import Array
from scenarios.ask.worksheet import Figures
from scenarios.kit import SIDES
from scenarios.schema.changes import AT_A_CORNER, CHANGES, Adjustment, changes_told
from viz.sheet import words
from viz.sheet.blocks import BLANK, NONE, Line, Para, Piece, Table, Ticks, number, reading, size
from viz.words.cautions import BEFORE_WORK

LEAST_TURN = 0.005
JOINTS = AT_A_CORNER[2:]
FASTENERS = (
    ("kingpin_nut", "Kingpin nut"),
    ("bush_screw", "Bush clamp screws"),
    ("tie_rod_locknut", "Tie-rod locknuts"),
    ("front_hub", "Front hub"),
    ("wheel_nut", "Wheel nuts"),
)


def cautions() -> Para:
    """What stands before anything else."""
    return Para((" ".join(BEFORE_WORK),), "caution")


def tools(found: Figures) -> Table:
    """Tool sizes and torques as the scenario gives them, a blank where it does not."""
    shop = found.scenario.workshop

    def given(key: str, unit: str) -> Line:
        return (size(key, shop[key], unit),) if shop.get(key) else BLANK

    rows = tuple(
        ((name,), given(f"{key}_tool_mm", "mm"), given(f"{key}_torque_nm", "N·m")) for key, name in FASTENERS
    )
    caption = "Where a field is blank, take it from the maker's manual and write it in"
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
    notes = [Para((words.UP_AND_DOWN,), "note"), _heights(found), *_whole(found)]
    return Table(caption, head, tuple(rows), (1.0, 2.4, 2.0, 2.5, 2.3)), notes


def _shift(key: str, before: float | Array, after: float | Array, signed: bool) -> Line:
    was, now = float(before), float(after)
    first = number(f"{key}_before_mm", was, 2, "mm", signed)
    return (first, " → ", number(f"{key}_after_mm", now, 2, "mm", signed))


def _heights(found: Figures) -> Para:
    """What would keep the front as high as before, at each side."""
    if not bool(found.change.spacers.known):
        return Para(("No spacer move puts the ride height back.",), "note")
    left, right = (_height(found, i, side) for i, side in enumerate(SIDES))
    said: Line = (
        "To keep the front as high as before, move the stub axle a further ",
        *left,
        "; ",
        *right,
        ".",
    )
    if not found.scenario.workshop.get("kingpin_spacers_mm"):
        return Para((*said, " The scenario lists no spacers."), "note")
    if any(stack for _, stack in found.stacks):
        said = (*said, " Then set toe by measuring: the turns below are for spacers not moved further.")
    return Para(said, "note")


def _height(found: Figures, i: int, side: str) -> Line:
    move, (nearest, stack) = float(getattr(found.change.spacers, side)), found.stacks[i]
    said: list[Piece] = [f"{side} ", number(f"{side}_spacer_move_mm", move, 2, "mm", True)]
    if not found.scenario.workshop.get("kingpin_spacers_mm"):
        return tuple(said)
    if not stack:
        return (*said, " (with the spacers on hand, leaving it is nearest)")
    said += [
        " (with the spacers on hand nearest: ",
        number(f"{side}_stack_mm", nearest, 2, "mm", True),
        ", made of ",
    ]
    for n, spacer in enumerate(stack):
        said += [" + " if n else "", size(f"{side}_stack_{n}_mm", spacer, "mm")]
    return (*said, ")")


def _whole(found: Figures) -> list[Para]:
    """What is changed on the whole kart, from what it is to what it shall be."""
    settings = found.scenario.resolved["setting"]
    before, after = (settings.get(name, {}) for name in (found.base_name, found.new_name))
    axle = [float(s.setting.rear_axle_shift) for s in (found.before, found.after)]
    said = []
    for change in CHANGES:
        known = change is CHANGES[0]  # a setting that has no table has no other change than this
        was, now = axle if known else (table.get(change.key, 0.0) for table in (before, after))
        if was or now:
            said.append(Para((*_from_to(change, was, now), ".")))
    said += [Para(line) for side in SIDES for line in _joints(found, side)]
    ballast = [changes_told({"ballast": table.get("ballast", [])}) for table in (before, after)]
    off, on = (set(one) - set(other) for one, other in (ballast, ballast[::-1]))
    said += [Para((f"Take off {line}.",)) for line in sorted(off)]
    return said + [Para((f"Put on {line}.",)) for line in sorted(on)]


def _joints(found: Figures, side: str) -> Iterator[Line]:
    """The holes of a corner's tie rod, where they change."""
    before, after = (getattr(state.setting, side) for state in (found.before, found.after))
    for change, hole in zip(JOINTS, ("arm_hole", "spade_hole"), strict=True):
        was, now = float(getattr(before, hole)), float(getattr(after, hole))
        if was != now:
            yield (
                f"{side.capitalize()} tie rod's {change.told}: ",
                number(f"{side}_{hole}_before_mm", was, 2, change.unit, True),
                " → ",
                number(f"{side}_{hole}_after_mm", now, 2, change.unit, True),
                ".",
            )


def _number_of(change: Adjustment) -> str:
    """The change's key without its unit, and of the axle without what is done to it."""
    return change.key.rpartition("_")[0].removesuffix("_shift")


def _from_to(change: Adjustment, was: float, now: float) -> Line:
    before, after = (
        number(f"{_number_of(change)}_{when}_{change.key.rpartition('_')[2]}", value, 2, change.unit, True)
        for when, value in (("before", was), ("after", now))
    )
    return (f"{change.told[0].upper()}{change.told[1:]}: ", before, " → ", after)


def rods(found: Figures) -> Table:
    """What to do at each tie rod, and the toe to expect on the way and at the end."""
    done = found.change
    rows = []
    for i, side in enumerate(SIDES):
        kept = getattr(done.kept.ahead, side)
        alone = NONE
        if kept.reach[..., 0]:
            alone = (reading(f"toe_{side}_rods_alone_deg", degrees(float(kept.ahead[..., 2])), TOE),)
        rows.append(
            (
                (side.capitalize(),),
                (reading(f"toe_{side}_before_deg", degrees(found.before.stands.toe[0, i]), TOE),),
                alone,
                turns(side, getattr(done.rods, side)),
                (reading(f"toe_{side}_after_deg", degrees(found.after.stands.toe[0, i]), TOE),),
                BLANK,
            )
        )
    head = ("Tie rod", "Toe before", "Toe if rods are left alone", "Turn the rod", "Toe to set", "Turned by")
    caption = "Tie rods, one wheel's own toe: + is toe-in, − is toe-out"
    return Table(caption, head, tuple(rows), (1.0, 1.4, 1.7, 3.6, 1.4, 1.2))


def turns(side: str, rod: RodTurns) -> Line:
    """What is done at a tie rod: which way it is turned and how far, or that it is left."""
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
        " flats, ",
        number(f"{side}_rod_mm", abs(longer), 2, "mm"),
        ")",
    )


def rod_note(found: Figures) -> Para:
    """Which thread the turns are for, and which toe is set."""
    pitch = size("pitch_mm", found.scenario.thread_pitch_mm, "mm")
    return Para(
        ("One turn of a rod with left- and right-hand thread of ", pitch, f" {words.ROD_NOTE}"), "note"
    )


def before_driving() -> Ticks:
    """The checks without which nobody drives."""
    return Ticks(tuple((line,) for line in words.BEFORE_DRIVING))
