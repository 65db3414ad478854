"""What gauges, turn plates and scales should read, with boxes for what they do, and the rule limits."""

from __future__ import annotations

from collections.abc import Callable
from math import degrees, sin

import numpy as np

from kinematics.figures.figure import Figure
from kinematics.figures.kart import HALF_TRACK, TOE_TOTAL, TOE_TOTAL_MM, WHEELBASE
from kinematics.figures.standing import CROSS_WEIGHT, RIDE_HEIGHT
from kinematics.figures.wheel import CAMBER, CASTER, KINGPIN_INCLINATION, TOE
from kinematics.frames import Array
from kinematics.parts import GRAVITY
from kinematics.standing.readings import workshop_caster
from scenarios.ask.worksheet import PLATE_STEERS_DEG, Figures, State
from scenarios.kit import SIDES
from scenarios.rules import overall_width
from viz.sheet import words
from viz.sheet.blocks import BLANK, NONE, Line, Para, Table, number, reading, size

READ = ("Before", "After", "Found before", "Found after")
READ_WIDTHS = (1.5, 1.5, 1.6, 1.6)
WHEELS = ("front_left", "front_right", "rear_left", "rear_right")
FACTOR_DECIMALS = 4
ANGLE_TO_SET_DECIMALS = 0
"""Of a handwheel angle that is only where to look for a reading."""

Reading = Callable[[State], float]


def _row(found: Figures, label: Line, key: str, figure: Figure, of: Reading) -> tuple[Line, ...]:
    """One reading before and after, with boxes; key gets _before_ and _after_ and its unit."""
    cells = (
        (reading(f"{key}_{when}_{figure.unit.ending}", of(state), figure),)
        for when, state in (("before", found.before), ("after", found.after))
    )
    return (label, *cells, BLANK, BLANK)


def ahead(found: Figures) -> Table:
    """Straight ahead: camber, toe and ride height as the kart stands with its driver."""
    diameter = found.scenario.toe_diameter_mm
    rows = [
        _row(found, (f"Camber {side}",), f"camber_{side}", CAMBER, _camber(i)) for i, side in enumerate(SIDES)
    ]
    rows += [_row(found, (f"Toe {side}",), f"toe_{side}", TOE, _toe(i)) for i, side in enumerate(SIDES)]
    across: Line = ("Total toe across ", size("toe_diameter_mm", diameter, "mm"))
    rows.append(
        _row(found, ("Total toe",), "toe_total", TOE_TOTAL, lambda s: degrees(float(s.stands.toe[0].sum())))
    )
    rows.append(
        _row(
            found,
            across,
            "toe_total",
            TOE_TOTAL_MM,
            _toe_mm(diameter),
        )
    )
    for end in ("front", "rear"):
        label: Line = (f"Ride height {end}, against the kart as measured",)
        rows.append(_row(found, label, f"ride_{end}", RIDE_HEIGHT, _ride(end)))
    caption = "Straight ahead, driver seated. Camber: + top outward. Toe: + toe-in, − toe-out"
    return Table(caption, ("Reading", *READ), tuple(rows), (3.8, *READ_WIDTHS))


def _camber(i: int) -> Reading:
    return lambda s: degrees(float(s.stands.camber[0, i]))


def _toe(i: int) -> Reading:
    return lambda s: degrees(float(s.stands.toe[0, i]))


def _toe_mm(diameter: float) -> Reading:
    return lambda s: diameter * float(np.sin(s.stands.toe[0]).sum())


def _ride(end: str) -> Reading:
    return lambda s: float(getattr(s.stands, f"ride_{end}")[0])


def _axis(name: str, i: int) -> Reading:
    return lambda s: degrees(float(getattr(s.stands, name)[0, i]))


def on_plates(found: Figures) -> Table:
    """Camber of each front wheel at equal road steer to both sides, and the workshop's caster from it."""
    rows = [row for steer in found.after.plates for row in _plate_rows(found, steer)]
    caption = "Turn plates under the front wheels, rear wheels on blocks of the same height, driver seated"
    head = ("Wheel and its own steer on the plate", "Handwheel", *READ)
    return Table(caption, head, tuple(rows), (3.2, 1.5, *READ_WIDTHS))


def _plate_rows(found: Figures, steer: float) -> list[tuple[Line, ...]]:
    rows: list[tuple[Line, ...]] = []
    at = f"{steer:g}"
    for i, side in enumerate(SIDES):
        for j, way in enumerate(SIDES):
            label: Line = (
                f"{side.capitalize()} wheel ",
                size(f"steer_{at}_deg", steer, "deg"),
                f" to the {way}",
            )
            key = f"plate_{side}_{way}_{at}"
            wheel = _handwheel(found, key, steer, i, j)
            cells = (
                _plate_camber(state, f"{key}_{when}_deg", steer, i, j)
                for when, state in (("before", found.before), ("after", found.after))
            )
            rows.append((label, wheel, *cells, BLANK, BLANK))
    for i, side in enumerate(SIDES):
        rows.append(_caster_row(found, steer, i, side, False))
    rows += [_caster_row(found, steer, i, side, True) for i, side in enumerate(SIDES)]
    return [row for row in rows if row]


def _handwheel(found: Figures, key: str, steer: float, i: int, j: int) -> Line:
    plates = found.after.plates[steer]
    if not plates.known[i, j]:
        return NONE
    angle = degrees(float(plates.handwheel[i, j]))
    way = "left" if angle > 0.0 else "right"
    return (number(f"{key}_handwheel_deg", abs(angle), ANGLE_TO_SET_DECIMALS, "deg"), f" {way}")


def _plate_camber(state: State, key: str, steer: float, i: int, j: int) -> Line:
    plates = state.plates[steer]
    if not plates.known[i, j]:
        return NONE
    return (reading(key, degrees(plates.camber[i, j]), CAMBER),)


def _caster_row(found: Figures, steer: float, i: int, side: str, held: bool) -> tuple[Line, ...]:
    """Caster by the two cambers; no row where no state reaches both."""
    at, key = f"{steer:g}", f"workshop_caster_{side}_{steer:g}{'_held' if held else ''}"
    cells: list[Line] = []
    for when, state in (("before", found.before), ("after", found.after)):
        plates = (state.held if held else state.plates)[steer]
        if plates.known[i].all():
            caster = degrees(float(workshop_caster(plates, np.radians(steer))[i]))
            cells.append((reading(f"{key}_{when}_deg", caster, CASTER),))
        else:
            cells.append(NONE)
    if cells == [NONE, NONE]:
        return ()
    factor = number(f"factor_{at}", 0.5 / sin(np.radians(steer)), FACTOR_DECIMALS)
    how = "frame held level" if held else "from the readings above"
    return ((f"Workshop caster {side}, {how}",), ("× ", factor), *cells, BLANK, BLANK)


def plates_notes(found: Figures) -> list[Para]:
    """How the plates are read, and what the workshop caster leaves out."""
    usual = PLATE_STEERS_DEG[0]
    factor = number(f"factor_{usual:g}", 0.5 / sin(np.radians(usual)), FACTOR_DECIMALS)
    first, then = words.PLATES
    line = (f"{first} ", factor, " at ", size(f"steer_{usual:g}_deg", usual, "deg"), f" {then}")
    smaller = [Para((words.SMALLER_STEER,), "note")] if len(found.after.plates) > 1 else []
    return [Para(line, "note"), *smaller]


def kingpin(found: Figures) -> Table:
    """The steering axis itself, which no gauge reads directly."""
    rows: list[tuple[Line, ...]] = []
    for name, title, figure in (
        ("caster", "Caster", CASTER),
        ("kingpin_inclination", "Kingpin inclination", KINGPIN_INCLINATION),
    ):
        for i, side in enumerate(SIDES):
            told = _row(found, (f"{title} {side}",), f"{name}_{side}", figure, _axis(name, i))
            rows.append(told[:3])
    caption = "Kingpin as computed, to the floor, ahead. Caster: + top rearward. Inclination: + top inboard"
    return Table(caption, ("Kingpin", "Before", "After"), tuple(rows), (4.0, 3.0, 3.0))


def scales(found: Figures) -> Table:
    """Four scales straight ahead and with the handwheel turned each way."""
    held = ("ahead", "left", "right")
    rows: list[tuple[Line, ...]] = []
    for wheel, name in enumerate(WHEELS):
        label: Line = (name.replace("_", " ").capitalize(),)
        rows.append((label, *_scale_cells(found, f"scale_{name}", held, _kg(wheel), "kg")))
    rows.append((("All four",), *_scale_cells(found, "scale_total", held, lambda n: n.sum() / GRAVITY, "kg")))
    cross = _scale_cells(found, "cross_weight", held, lambda n: 100.0 * (n[1] + n[2]) / n.sum(), "%")
    rows.append((("Cross weight (front right + rear left)",), *cross))
    turned = f"{found.weighing_deg:g} deg"
    head = ["Scale"]
    for at in ("straight ahead", f"{turned} left", f"{turned} right"):
        head += [f"Before, {at}", f"After, {at}"]
    caption = "Four scales on one level, driver seated; handwheel straight ahead and turned each way"
    return Table(caption, (*head, "Found before", "Found after"), tuple(rows), (2.0, *(1.25,) * 6, 1.3, 1.3))


def _kg(wheel: int) -> Callable[[Array], float]:
    return lambda loads: float(loads[wheel]) / GRAVITY


def _scale_cells(
    found: Figures, key: str, held: tuple[str, ...], of: Callable[[Array], float], unit: str
) -> tuple[Line, ...]:
    cells: list[Line] = []
    name, digits = "percent" if unit == "%" else unit, CROSS_WEIGHT.digits
    for n, at in enumerate(held):
        for when, state in (("before", found.before), ("after", found.after)):
            known = bool(state.stands.known[n])
            loads = state.stands.loads[n]
            cells.append(
                (number(f"{key}_{at}_{when}_{name}", float(of(loads)), digits, unit),) if known else NONE
            )
    return (*cells, BLANK, BLANK)


def rules(found: Figures) -> tuple[Table, list[Para]]:
    """Wheelbase, track and width against the event's limits, with a warning where one is passed."""
    limits = found.scenario.limits
    rows: list[tuple[Line, ...]] = []
    warnings: list[Para] = []
    for what, key, before, after, low, high in _measures(found):
        inside = low <= round(after, 6) <= high
        bound = _bound(key, low, high)
        result = "within" if inside else "OUTSIDE"
        cells = (
            reading(f"{key}_{when}_mm", v, WHEELBASE, False)
            for when, v in (("before", before), ("after", after))
        )
        rows.append(((what,), *((cell,) for cell in cells), bound, (result,)))
        if not inside:
            said = reading(f"{key}_after_mm", after, WHEELBASE, False)
            warnings.append(Para((f"{what}: ", said, " is outside the limit of ", *bound, "."), "warning"))
    source = Para((f"Limits: {limits.source}. Rules differ from event to event: ask the organiser.",), "note")
    head = ("Measure", "Before", "After", "Limit", "Result")
    return Table("Rule limits", head, tuple(rows), (3.6, 1.6, 1.6, 2.4, 1.4)), [*warnings, source]


def _bound(key: str, low: float, high: float) -> Line:
    most = reading(f"{key}_most_mm", high, WHEELBASE, False)
    if low == -np.inf:
        return ("at most ", most)
    if high == np.inf:
        return ("at least ", reading(f"{key}_least_mm", low, WHEELBASE, False))
    return (
        number(f"{key}_least_mm", low, WHEELBASE.digits),
        " to ",
        most,
    )


Measure = tuple[str, str, float, float, float, float]


def _measures(found: Figures) -> list[Measure]:
    kart, limits = found.scenario.kart, found.scenario.limits
    rows: list[Measure] = []
    for side in SIDES:
        was, now = _pair(found, WHEELBASE.name(side))
        bounds = (limits.wheelbase_min_mm, limits.wheelbase_max_mm)
        rows.append((f"Wheelbase {side}", f"wheelbase_{side}", was, now, *bounds))
    halves = [_pair(found, HALF_TRACK.name(side)) for side in SIDES]
    front = (halves[0][0] + halves[1][0], halves[0][1] + halves[1][1])
    base = min(_pair(found, WHEELBASE.name(side))[1] for side in SIDES)
    least = limits.track_to_wheelbase_min_ratio * base
    for end, tracks, tyre in (
        ("front", front, kart.front_tyre),
        ("rear", (kart.rear_track, kart.rear_track), kart.rear_tyre),
    ):
        widths = tuple(overall_width(track, tyre) for track in tracks)
        rows.append((f"Track {end}", f"track_{end}", *tracks, least, np.inf))
        most = limits.overall_width_max_mm
        rows.append((f"Width over the {end} treads", f"width_{end}", widths[0], widths[1], -np.inf, most))
    return rows


def _pair(found: Figures, name: str) -> tuple[float, float]:
    figure = found.places[name]
    return float(figure.base), float(figure.now)
