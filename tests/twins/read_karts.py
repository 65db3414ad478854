"""Karts that may be what a scenario means, read by the slow twin with a known error."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from kinematics.batches import one_of
from scenarios.gauged.foretold import Foreteller
from scenarios.gauged.record import Reading
from scenarios.gauged.slopes import sigmas
from scenarios.gauged.space import Space, uncertain_inputs
from tests.twins import gauges

WHEELS = ("front_left", "front_right", "rear_left", "rear_right")
STATES = (
    {},
    {"handwheel_deg": 30.0},
    {"handwheel_deg": -30.0},
    {"under_mm": (10.0, 0.0, 0.0, 0.0)},
    {"under_mm": (0.0, 0.0, 0.0, 12.0)},
    {"under_mm": (150.0, 150.0, 0.0, 0.0)},
    {"under_mm": (60.0, 0.0, 60.0, 0.0)},
)


def session(setting="as-delivered", bushed="camber-and-caster"):
    """60 readings in nine states of the kart: four scales in each, gauges straight ahead and at lock."""
    found = [Reading("scale_kg", wheel, setting, **state) for state in STATES for wheel in WHEELS]
    for side in ("left", "right"):
        for lock in (-30.0, 0.0, 30.0):
            found += [
                Reading(what, side, setting, handwheel_deg=lock) for what in ("camber_deg", "steer_deg")
            ]
        found += [Reading(what, side, setting) for what in ("caster_deg", "inclination_deg", "toe_deg")]
        for lock in (0.0, 20.0):
            found += [Reading(what, side, bushed, handwheel_deg=lock) for what in ("camber_deg", "steer_deg")]
    found += [Reading("height_mm", wheel, setting) for wheel in WHEELS]
    found += [Reading("toe_mm", "both", setting), Reading("toe_mm", "both", bushed)]
    return [replace(one, line=f"reading[{n}]") for n, one in enumerate(found, 1)]


class Truth:
    """One kart that a scenario may mean, with its bushes as they are, and its readings."""

    def __init__(self, scenario, readings, seed, apart=False):
        self.rng = np.random.default_rng(seed)
        inputs = uncertain_inputs(scenario.resolved, apart)
        foreteller = Foreteller(scenario, inputs, readings)
        every = len(inputs) + len(foreteller.bushes)
        space = Space(inputs, foreteller.bushes, range(every))
        self.scores = np.clip(self.rng.normal(size=(1, every)), space.bounds[0], space.bounds[1])
        values, off = space.at(self.scores)
        self.names, self.values = [one.name for one in inputs], values[0]
        karts = foreteller.karts(values, off)
        kart = one_of(karts.kart, 0)
        states, self.true = {}, []
        for one in readings:
            setting = one_of(karts.setting(one.setting), 0)
            self.true.append(gauges.read(kart, setting, one, scenario.toe_diameter_mm, states))
        error = sigmas(foreteller) * self.rng.normal(size=len(readings))
        pairs = zip(readings, self.true, error, strict=True)
        self.readings = [replace(one, value=float(true + off)) for one, true, off in pairs]

    def __getitem__(self, name):
        """The true value of a number."""
        return float(self.values[self.names.index(name)])
