"""What every number of a bench sheet must be, worked out from the file's inputs and the solver itself.

Nothing here goes through viz.sheet: sizes and clocks come from the scenario's resolved inputs, angles and
loads from sweep and stance, and the handwheel on the turn plates from root finding.
"""

from __future__ import annotations

from dataclasses import replace
from math import degrees, radians, sin, tan

import numpy as np
from scipy.optimize.elementwise import find_root

from kinematics.change.rods import nearest_stack, spacer_moves
from kinematics.lock import sweep, with_rod
from kinematics.parts import GRAVITY, LoadCase
from kinematics.standing.stand import stand, standing_corners

SIDES = ("left", "right")


def after_setting(scenario, base, new):
    """The new setting with both rods re-set: to the toe it names, else to the base's toe."""
    ahead = sweep(scenario.kart, scenario.settings[base], 0.0)
    wanted = scenario.settings[new]
    toes = []
    for side in SIDES:
        named = getattr(wanted, side).rod_toe
        toes.append(float(getattr(ahead, side).ahead[..., 2]) if named is None else float(named))
    return with_rod(wanted, *toes)


def kept_setting(scenario, base, new):
    """The new setting with the rods as long as in the base."""
    ahead, wanted = sweep(scenario.kart, scenario.settings[base], 0.0), scenario.settings[new]
    sides = {
        side: replace(
            getattr(wanted, side), rod_toe=None, rod_length=float(getattr(ahead, side).linkage.rod_length)
        )
        for side in SIDES
    }
    return replace(wanted, **sides)


def standing(kart, setting, handwheel):
    """Corners and stance at one handwheel angle, rad."""
    swept = sweep(kart, setting, handwheel)
    stands = stand(swept, LoadCase("standing"))
    return standing_corners(swept, stands), stands


def bush_numbers(scenario, base, new):
    tables, expected = scenario.resolved["setting"], {}
    sizes = {"before": [], "after": []}
    for side in SIDES:
        span = getattr(scenario.kart, side).yoke.span
        for place in ("top", "bottom"):
            told = {}
            for when, name in (("before", base), ("after", new)):
                table, key = tables[name][side], f"{side}_{place}_{when}"
                rated, clock = table.get(f"{place}_rated_deg", 0.0), table.get(f"{place}_clock_deg", 0.0)
                told[when] = (rated, clock)
                sizes[when].append(rated)
                expected[f"{key}_size_deg"] = rated
                if rated:
                    expected[f"{key}_clock_deg"] = clock % 360.0
            if told["before"] != told["after"]:
                for when, (rated, _) in told.items():
                    expected[f"{side}_{place}_{when}_offset_mm"] = span * tan(radians(rated))
                if told["before"][0] == told["after"][0]:
                    turned = (told["after"][1] - told["before"][1] + 180.0) % 360.0 - 180.0
                    expected[f"{side}_{place}_turn_deg"] = abs(turned)
    step = scenario.resolved["kit"]["clock_step_deg"]
    clocks = [value for key, value in expected.items() if key.endswith("after_clock_deg")]
    if any(clock % step for clock in clocks):
        expected["clock_step_deg"] = step
    return expected | part_numbers(scenario, sizes)


def part_numbers(scenario, sizes):
    kit = {b["rated_deg"]: b.get("count") for b in scenario.resolved["kit"]["bush"]}
    expected = {}
    for i, rated in enumerate(sorted({*sizes["before"], *sizes["after"]})):
        off, fitted = sizes["before"].count(rated), sizes["after"].count(rated)
        found = {"size_deg": rated, "off": off, "fitted": fitted, "fetch": max(0, fitted - off)}
        if kit.get(rated) is not None:
            found["in_kit"] = kit[rated]
        if found["fetch"] and fitted > (kit.get(rated, 0) if kit.get(rated, 0) is not None else fitted):
            found["there"] = kit.get(rated, 0)
        expected |= {f"parts_{i}_{name}": value for name, value in found.items()}
    return expected


def spacer_numbers(scenario, base, new):
    tables, expected = scenario.resolved["setting"], {}
    for side in SIDES:
        for when, name in (("before", base), ("after", new)):
            expected[f"{side}_spacer_{when}_mm"] = tables[name][side]["spacer_shift_mm"]
            expected[f"{side}_hub_{when}_mm"] = tables[name][side]["hub_spacer_mm"]
    shifts = [tables[name]["rear_axle_shift_mm"] for name in (base, new)]
    if any(shifts):
        expected |= {"rear_axle_before_mm": shifts[0], "rear_axle_after_mm": shifts[1]}
    ahead = sweep(scenario.kart, scenario.settings[base], 0.0)
    moves = spacer_moves(ahead, after_setting(scenario, base, new))
    for side in SIDES:
        move = float(getattr(moves, side))
        expected[f"{side}_spacer_move_mm"] = move
        total, stack = nearest_stack(move, scenario.workshop.get("kingpin_spacers_mm", ()))
        if stack:
            expected[f"{side}_stack_mm"] = total
            expected |= {f"{side}_stack_{n}_mm": s for n, s in enumerate(stack)}
    return expected


def rod_numbers(scenario, base, new):
    kart, expected = scenario.kart, {"pitch_mm": scenario.resolved["thread_pitch_mm"]}
    kept = sweep(kart, kept_setting(scenario, base, new), 0.0)
    reset = sweep(kart, after_setting(scenario, base, new), 0.0)
    for side in SIDES:
        was, now = getattr(kept, side), getattr(reset, side)
        expected[f"toe_{side}_rods_alone_deg"] = -degrees(float(was.steer[..., 0]))
        longer = float(now.linkage.rod_length - was.linkage.rod_length)
        turns = longer / (2.0 * expected["pitch_mm"])
        if abs(turns) >= 0.005:
            told = {"turns": abs(turns), "flats": 6.0 * abs(turns), "mm": abs(longer)}
            expected |= {f"{side}_rod_{name}": value for name, value in told.items()}
    return expected


def ahead_numbers(scenario, state, when):
    corners, stands = standing(scenario.kart, state, 0.0)
    diameter, expected = scenario.resolved["toe_diameter_mm"], {}
    for side, corner in zip(SIDES, corners, strict=True):
        for name in ("camber", "caster", "kingpin_inclination"):
            expected[f"{name}_{side}_{when}_deg"] = degrees(float(np.ravel(getattr(corner, name))[0]))
        expected[f"toe_{side}_{when}_deg"] = -degrees(float(corner.steer[0]))
    toes = [expected[f"toe_{side}_{when}_deg"] for side in SIDES]
    expected[f"toe_total_{when}_deg"] = sum(toes)
    expected[f"toe_total_{when}_mm"] = diameter * sum(sin(radians(t)) for t in toes)
    expected[f"ride_front_{when}_mm"] = float(stands.ride_height_change_front[0])
    expected[f"ride_rear_{when}_mm"] = float(stands.ride_height_change_rear[0])
    return expected


def scale_numbers(scenario, state, when):
    expected, weighing = {}, min(30.0, degrees(scenario.kart.column.stop))
    for at, handwheel in (("ahead", 0.0), ("left", weighing), ("right", -weighing)):
        _, stands = standing(scenario.kart, state, radians(handwheel))
        loads = stands.loads[0]
        for wheel, load in zip(("front_left", "front_right", "rear_left", "rear_right"), loads, strict=True):
            expected[f"scale_{wheel}_{at}_{when}_kg"] = load / GRAVITY
        expected[f"scale_total_{at}_{when}_kg"] = loads.sum() / GRAVITY
        expected[f"cross_weight_{at}_{when}_percent"] = 100.0 * (loads[1] + loads[2]) / loads.sum()
    return expected


def camber_on_plates(kart, state, side, steers, held):
    """Handwheel angle and camber, deg, of a wheel at each road steer (deg, + left); None out of reach."""
    index, sign = SIDES.index(side), (1.0, -1.0)[SIDES.index(side)]

    def corner(handwheel):
        if held:
            return getattr(sweep(kart, state, handwheel), side)
        return standing(kart, state, handwheel)[0][index]

    def miss(handwheel, steer):
        return sign * np.degrees(corner(handwheel).steer) - steer

    stops = np.where(np.greater(steers, 0.0), kart.column.stop, -kart.column.stop)
    reached = miss(stops, steers) * steers >= 0.0
    found = find_root(miss, (0.0 * stops, stops), args=(steers,), tolerances={"xatol": 1e-9, "xrtol": 1e-9})
    told = zip(reached, np.degrees(found.x), np.degrees(corner(found.x).camber), strict=True)
    return [(float(handwheel), float(camber)) if there else None for there, handwheel, camber in told]


def plate_numbers(scenario, states, steers):
    expected = {"factor_20": 1.4619022}
    for side in SIDES:
        for when, state in states.items():
            for held in (False, True):
                signed = np.multiply.outer([1.0, -1.0], steers)
                told = camber_on_plates(scenario.kart, state, side, signed.ravel(), held)
                for i, steer in enumerate(steers):
                    found = {"left": told[i], "right": told[len(steers) + i]}
                    expected |= _plates_of(found, side, when, steer, held)
    return expected | {f"steer_{steer:g}_deg": steer for steer in (*steers, 20.0)}


def _plates_of(found, side, when, steer, held):
    expected = {}
    if not held:
        for way, told in found.items():
            if told is not None:
                expected[f"plate_{side}_{way}_{steer:g}_{when}_deg"] = told[1]
                if when == "after":
                    expected[f"plate_{side}_{way}_{steer:g}_handwheel_deg"] = abs(told[0])
    if None not in found.values():
        inside, outside = (
            found[way][1] for way in (("left", "right") if side == "left" else ("right", "left"))
        )
        key = f"workshop_caster_{side}_{steer:g}{'_held' if held else ''}_{when}_deg"
        expected[key] = (inside - outside) / (2.0 * sin(radians(steer)))
        expected[f"factor_{steer:g}"] = 0.5 / sin(radians(steer))
    return expected


def rule_numbers(scenario, states):
    limits, kart, expected = scenario.resolved["limits"], scenario.kart, {}
    for when, state in states.items():
        ahead = sweep(kart, state, 0.0)
        tread = kart.front_tyre.tread_width
        axle = kart.rear_tyre.radius + float(state.rear_axle_shift)
        across = 0.0
        for side in SIDES:
            centre = getattr(ahead, side).wheel_centre[0]
            rear = np.array([0.0, centre[1], axle])  # the wheel's own point of the axle's line
            expected[f"wheelbase_{side}_{when}_mm"] = float((centre - rear) @ ahead.road.heading)
            across += centre[1]
        for end, track, wide in (
            ("front", across, tread),
            ("rear", kart.rear_track, kart.rear_tyre.tread_width),
        ):
            expected[f"track_{end}_{when}_mm"] = track
            expected[f"width_{end}_{when}_mm"] = track + wide
    shortest = min(expected[f"wheelbase_{side}_after_mm"] for side in SIDES)
    for side in SIDES:
        expected[f"wheelbase_{side}_least_mm"] = limits["wheelbase_min_mm"]
        expected[f"wheelbase_{side}_most_mm"] = limits["wheelbase_max_mm"]
    for end in ("front", "rear"):
        expected[f"track_{end}_least_mm"] = limits["track_to_wheelbase_min_ratio"] * shortest
        expected[f"width_{end}_most_mm"] = limits["overall_width_max_mm"]
    return expected


def numbers(scenario, base, new, steers, enlargement):
    """Every number by its key."""
    states = {"before": scenario.settings[base], "after": after_setting(scenario, base, new)}
    expected = bush_numbers(scenario, base, new) | spacer_numbers(scenario, base, new)
    expected |= rod_numbers(scenario, base, new) | plate_numbers(scenario, states, steers)
    for when, state in states.items():
        expected |= ahead_numbers(scenario, state, when) | scale_numbers(scenario, state, when)
    expected |= {k: v for k, v in scenario.workshop.items() if k.endswith(("tool_mm", "torque_nm"))}
    more = {"toe_diameter_mm": scenario.resolved["toe_diameter_mm"], "enlargement": enlargement}
    return expected | rule_numbers(scenario, states) | more
