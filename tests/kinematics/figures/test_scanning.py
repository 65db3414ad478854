"""Least load and lift-off of a whole turn against its own column at 2,001 positions to where it binds."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from kinematics.figures.figure import Of
from kinematics.figures.kart import binds
from kinematics.figures.turn import WAYS, turns
from kinematics.figures.turning import turn
from kinematics.lock import sweep
from kinematics.parts import LoadCase, Setting
from kinematics.standing.stand import stand
from tests.helpers.karts import KART, setting_from
from tests.helpers.random_karts import random_kart

CASES = (
    LoadCase("corner", 0.4),
    LoadCase("slide", 0.4, opposite_lock=True),
    LoadCase("slow", speed=8.0, grip_limit_g=1.2),
    LoadCase("still"),
)
NEWTON, DEGREE = 0.5, np.radians(0.12)  # a load may turn sharply where another wheel leaves the road


def stop_or_binding(kart, setting, way):
    """How far (rad) the kart can be steered this way, and no further."""
    bind = abs(float(binds(sweep(kart, setting, 0.0), way)))
    return min(kart.column.stop, bind * (1.0 - 1e-9))


def positions(kart, setting, way, count=2001):
    """The lock this way at evenly spaced positions as far as it goes."""
    return sweep(kart, setting, WAYS[way] * np.linspace(0.0, stop_or_binding(kart, setting, way), count))


def column(swept, case, way):
    """The turn at those positions."""
    return turn(swept, stand(swept, case, WAYS[way]), WAYS[way], case.opposite_lock)


def at_least(scan):
    """The handwheel angle, rad, where a scan has its least load."""
    return scan.handwheel[np.argmin(np.where(scan.known, scan.load, np.inf))]


def disagreements(kart, setting):
    """What the figures of a turn say that its own column does not."""
    told = turns(kart, setting, {case: [(Of.SCAN, way) for way in WAYS] for case in CASES})
    for way in WAYS:
        swept = positions(kart, setting, way)
        lowest = sweep(kart, setting, [at_least(told.of(case).scan(way)) for case in CASES])
        for number, case in enumerate(CASES):
            fine, scan = column(swept, case, way), told.of(case).scan(way)
            found = told.of(case).found(way)
            if not fine.known.all():
                continue  # it tips
            least = float(np.min(np.where(scan.known, scan.load, np.inf)))
            if least > fine.load.min() + NEWTON:
                yield case.name, way, "least", least, fine.load.min()
            there = column(lowest, case, way).load[number]
            if abs(there - least) > 1e-3:
                yield case.name, way, "not in its column", least, there
            up = fine.clearance > 0.0
            if up.any() and not found.lifts:
                yield case.name, way, "told to stay down", fine.handwheel[up.argmax()], None
            if up.any() and abs(fine.handwheel[up.argmax()] - found.handwheel) > DEGREE:
                yield case.name, way, "lift-off", fine.handwheel[up.argmax()], found.handwheel


def random_turns(seed):
    """A random kart and setting, half of them with so short an arm that the linkage binds within the stop."""
    rng = np.random.default_rng(seed)
    kart, setting = random_kart(rng), setting_from(rng.uniform)
    if seed % 2:
        kart = replace(kart, column=replace(kart.column, stop=np.radians(150.0)))
    return kart, setting


@pytest.mark.slow
@pytest.mark.parametrize("first", [0, *(pytest.param(n, marks=pytest.mark.long) for n in (10, 20, 30))])
def test_headline_figures_are_those_of_the_column(first):
    for seed in range(first, first + 10):
        kart, setting = random_turns(seed)
        if sweep(kart, setting, 0.0).reach.all():
            assert list(disagreements(kart, setting)) == [], seed


def test_the_scan_goes_on_to_where_the_linkage_binds():
    kart = replace(KART, column=replace(KART.column, stop=np.radians(170.0)))
    furthest = stop_or_binding(kart, Setting(), "left")
    assert furthest < np.radians(170.0)
    case = LoadCase("corner", 0.4)
    scan = turns(kart, Setting(), {case: [(Of.SCAN, "left")]}).of(case).scan("left")
    reached = scan.handwheel[scan.reach].max()
    assert furthest - reached < np.radians(1e-4)
    assert (np.diff(np.abs(scan.handwheel)) >= 0.0).all()


def test_a_batch_is_scanned_as_its_settings_one_by_one():
    kart = replace(KART, column=replace(KART.column, stop=np.radians(170.0)))
    hubs = np.array([0.0, 15.0])
    case = LoadCase("corner", 0.4)
    asked = {case: [(Of.SCAN, "right")]}

    def fitted(hub):
        corner = replace(Setting().left, hub_spacer=hub)
        return Setting(corner, corner)

    many = turns(kart, fitted(hubs), asked).of(case).scan("right")
    for i, hub in enumerate(hubs):
        one = turns(kart, fitted(hub), asked).of(case).scan("right")
        assert np.abs(many.handwheel[i] - one.handwheel).max() < 1e-9
        assert np.abs(many.load[i] - one.load)[one.known].max() < 1e-5
