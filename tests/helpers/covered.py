"""How often the truth lies within a band: karts drawn by chance from what is stated of a nominal one."""

from __future__ import annotations

from copy import deepcopy
from dataclasses import replace

import numpy as np
from scipy import stats

from kinematics.drive.rear_axle import AxleGrip
from kinematics.figures import read
from kinematics.figures.catalog import address
from kinematics.figures.figure import Address
from scenarios import Scenario, bands, build
from scenarios.sure.stated import inputs

BASE, OTHER = "as-delivered", "camber-and-caster"
ADDRESSES = tuple(
    map(
        address,
        (
            *("inside_rear_load_n@30@gentle corner", "inside_rear_load_n@20@gentle corner"),
            *(
                "jacking_rate_left_n_per_deg@gentle corner",
                "camber_right_deg@30",
                "handwheel_torque_nm@15@standing",
            ),
        ),
    )
)


def true_karts(scenario: Scenario, count: int, seed: int) -> tuple[dict, np.random.Generator]:
    """Tables of true karts, each number by SciPy's own distributions and NumPy's own chance."""
    rng, tables = np.random.default_rng(seed), deepcopy(scenario.resolved)
    for one in inputs(scenario.resolved):
        told = one.uncertain
        if told.by_ratio:
            ratio = 1.0 + (told.spread / told.value) ** 2
            middle = np.sqrt(np.log(0.5 * (1.0 + np.sqrt(4.0 * ratio - 3.0))))
            numbers = stats.lognorm(middle, scale=told.value).rvs(count, random_state=rng)
        else:
            ends = (told.low - told.value) / told.spread, (told.high - told.value) / told.spread
            numbers = stats.truncnorm(*ends, told.value, told.spread).rvs(count, random_state=rng)
        for place in one.places:
            table = tables
            for part in place[:-1]:
                table = table[part]
            table[place[-1]] = numbers
    return tables, rng


def covered(scenario: Scenario, samples: int, karts: int, seed: int) -> dict[Address, float]:
    """Share of random karts whose true difference lies within the band of the difference, by figure."""
    stated = bands(scenario, [BASE, OTHER], ADDRESSES, samples)
    tables, rng = true_karts(scenario, karts, seed)
    axle, kart = tables["rear_axle"], build.kart(tables)
    grip = AxleGrip(axle["friction_ratio"], axle["longitudinal_stiffness_n_per_n"])
    given = replace(scenario.given, pneumatic_trail=tables["pneumatic_trail_mm"], grip=grip)
    cases = {case.name: case for case in scenario.load_cases}
    was, now = (
        read.read(kart, setting, ADDRESSES, cases, given)
        for setting in (scenario.settings[BASE], as_set(scenario.settings[OTHER], rng, karts))
    )
    found = {}
    for one, (before, known), (after, there) in zip(ADDRESSES, was, now, strict=True):
        band, change = stated.change(OTHER, one).band, after - before
        within = (change >= band.low) & (change <= band.high)
        found[one] = float(np.mean(within[known & there]))
    return found


def as_set(setting, rng: np.random.Generator, count: int):
    """The other setting as it turns out: its top bushes 3 % off their size and 2 degrees off their clock."""

    def corner(whole):
        size = whole.top_offset * np.exp(0.03 * rng.normal(size=count))
        return replace(
            whole, top_offset=size, top_clock=whole.top_clock + np.radians(2.0) * rng.normal(size=count)
        )

    return replace(setting, left=corner(setting.left), right=corner(setting.right))
