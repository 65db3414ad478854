"""What two or more keys of a scenario must be to each other, before a kart is made of them.

A refusal is a ScenarioError whose line starts with the key; who loads the file puts its name in front.
"""

from __future__ import annotations

from math import isclose
from typing import Any

from kinematics.parts import FLATTEST_CROWN
from scenarios.errors import ScenarioError, complaint, nearest, refuse_unless

Tables = dict[str, Any]
SCALES = ("scale_front_left_kg", "scale_front_right_kg", "scale_rear_left_kg", "scale_rear_right_kg")
FINEST_STEP_DEG = 0.1
MASS = ("mass_kg", "cog_x_mm", "cog_y_mm")


def check_tables(tables: Tables) -> None:
    """What must hold between keys before a kart can be made of them."""
    _check_scales(tables["kart"])
    _check_cog(tables)
    for axle in ("front", "rear"):
        _check_crown(tables[axle], axle)
    foot = tables["column"]["foot_mm"]
    refuse_unless(foot[1] == 0.0, "column.foot_mm", foot, "its y must be 0: the column lies in the mid-plane")
    _check_kit(tables["kit"])
    for n, case in enumerate(tables["load_case"], 1):
        _check_case(case, f"load_case[{n}]")
    names = [case["name"] for case in tables["load_case"]]
    for name in names:
        refuse_unless(names.count(name) == 1, "load_case.name", name, "given twice; each case needs its own")
    for key in ("default_setting", "fitted_when_measured"):
        chosen, known = tables.get(key), tables["setting"]
        if chosen is not None and chosen not in known:
            allowed = f"no such setting{nearest(chosen, known)}; there are {', '.join(known)}"
            raise ScenarioError(complaint(key, chosen, allowed))
    _check_measured(tables)


AS_FOUND = {"note", "left", "right", "both"}
OF_A_CORNER = ("top_", "bottom_", "spacer_shift_mm", "hub_spacer_mm")


def _check_measured(tables: Tables) -> None:
    """Only bushes, spacers and hubs can be reckoned off again; all else was measured as it is."""
    name = tables.get("fitted_when_measured")
    if name is None:
        return
    setting = tables["setting"][name]
    more = [key for key, value in setting.items() if key not in AS_FOUND and value]
    for side in ("both", "left", "right"):
        corner = setting.get(side) or {}
        given = [key for key, value in corner.items() if value or key.startswith("tie_rod")]
        more += [f"{side}.{key}" for key in given if not key.startswith(OF_A_CORNER)]
    if more:
        said = f"was measured with the kart (fitted_when_measured = '{name}'): leave it out"
        raise ScenarioError(f"setting.{name}.{more[0]}: {said}")


def _check_scales(kart: Tables) -> None:
    scales = [key for key in SCALES if key in kart]
    mass = [key for key in MASS if key in kart]
    if scales and mass:
        raise ScenarioError(
            f"kart: {scales[0]} and {mass[0]} are both given: four scale readings or mass and cog"
        )
    wanted = SCALES if scales else MASS
    for key in wanted:
        if key not in kart:
            raise ScenarioError(f"kart.{key}: missing; give {', '.join(SCALES)} or {', '.join(MASS)}")


def _check_cog(tables: Tables) -> None:
    """Mass and centre of gravity must leave some load on every wheel."""
    kart = tables["kart"]
    if "mass_kg" in kart:
        x, y, wheelbase = kart["cog_x_mm"], kart["cog_y_mm"], kart["wheelbase_mm"]
        half = 0.5 * min(tables["front"]["track_mm"], tables["rear"]["track_mm"])
        allowed = f"must lie between the axles, above 0 and below {wheelbase:g} mm"
        refuse_unless(0.0 < x < wheelbase, "kart.cog_x_mm", x, allowed)
        refuse_unless(abs(y) < half, "kart.cog_y_mm", y, f"must lie between the wheels, within {half:g} mm")


def _check_crown(axle: Tables, name: str) -> None:
    half, crown = 0.5 * axle["tread_width_mm"], axle.get("crown_radius_mm")
    if crown is not None:
        most = FLATTEST_CROWN * axle["tread_width_mm"]
        allowed = (
            f"must be at least half the tread width, {half:g} mm, and at most {most:g} mm: flatter is flat"
        )
        refuse_unless(half <= crown <= most or not half, f"{name}.crown_radius_mm", crown, allowed)


def _check_kit(kit: Tables) -> None:
    step = kit["clock_step_deg"]
    allowed = f"must be 0 for any clock, or at least {FINEST_STEP_DEG:g} deg: nobody sets a bush finer"
    refuse_unless(step == 0.0 or step >= FINEST_STEP_DEG, "kit.clock_step_deg", step, allowed)
    turns = 360.0 / step if step else 1.0
    allowed = "must divide a full turn of 360 deg into whole steps, or be 0 for any clock"
    refuse_unless(isclose(turns, round(turns), abs_tol=1e-6), "kit.clock_step_deg", step, allowed)
    seen: set[tuple[str, float]] = set()
    for n, bush in enumerate(kit["bush"], 1):
        sizes = [(key, bush[key]) for key in ("rated_deg", "offset_mm") if key in bush]
        if len(sizes) != 1:
            raise ScenarioError(f"kit.bush[{n}]: give exactly one of rated_deg and offset_mm")
        key, size = sizes[0]
        refuse_unless((key, size) not in seen, f"kit.bush[{n}].{key}", size, "given twice; use count")
        seen.add((key, size))


def _check_case(case: Tables, where: str) -> None:
    follows = "speed_km_h" in case and "radius_m" not in case
    if "speed_km_h" in case and "lateral_g" in case:
        raise ScenarioError(f"{where}: lateral_g and speed_km_h are both given: give one of them")
    if follows and "grip_limit_g" not in case:
        raise ScenarioError(
            f"{where}.grip_limit_g: missing, in g; a speed without radius_m asks for more at every lock"
        )
    if "grip_limit_g" in case and "speed_km_h" not in case:
        raise ScenarioError(f"{where}: grip_limit_g needs speed_km_h beside it")
    turns = "speed_km_h" in case or case.get("lateral_g", 0.0) > 0.0
    if "radius_m" in case and not turns:
        raise ScenarioError(f"{where}: radius_m needs speed_km_h or lateral_g beside it")
    if case.get("opposite_lock", False) and (follows or not turns):
        needs = "radius_m beside its speed" if follows else "lateral_g, or speed_km_h with radius_m,"
        raise ScenarioError(
            f"{where}: opposite_lock needs {needs}: a path that follows the lock turns with it"
        )
