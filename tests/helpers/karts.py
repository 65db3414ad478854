"""Karts for tests: a fixed even one, and random ones drawn by any picker of numbers between two bounds."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import inf

import numpy as np
from hypothesis import strategies as st
from scipy.optimize import brentq

from kinematics.corner.pose import sweep_corner
from kinematics.corner.stub import seat_stub, turned
from kinematics.corner.wheel import steer_angle
from kinematics.frames import FLAT_ROAD, turn
from kinematics.parts import (
    FLATTEST_CROWN,
    Column,
    Corner,
    CornerSetting,
    Frame,
    Kart,
    Setting,
    Stub,
    Tyre,
    Yoke,
)

Pick = Callable[[float, float], float]

LOCK = np.radians(np.linspace(-85.0, 85.0, 35))
TYRE = Tyre(129.0, 115.0, 350.0, 150.0)
COLUMN = Column((900.0, 0.0, 110.0), np.radians(45.0), np.radians(90.0))
CORNER = Corner(
    Yoke((1045.0, 430.0, 130.0), np.radians(12.0), np.radians(10.0), 70.0),
    Stub((1045.0, 535.0, 129.0), np.radians(-0.5), np.radians(0.3), (960.0, 425.0, 125.0)),
    (870.0, 25.0, 80.0),
)
KART = Kart(
    wheelbase=1045.0,
    front_track=1070.0,
    rear_track=1160.0,
    front_tyre=TYRE,
    rear_tyre=Tyre(139.0, 180.0, 600.0, 200.0),
    left=CORNER,
    right=CORNER,
    column=COLUMN,
    frame=Frame(166e3 * 180.0 / np.pi, 0.6, 90.0),
    loads=(310.0, 310.0, 420.0, 420.0),
    cog_height=270.0,
)

REFERENCE = Setting()


def corner_from(pick: Pick, foot: tuple[float, float, float], inclination: float) -> Corner:
    """A left corner with its joint on a spade that hangs down from the column."""
    radius, x, y = pick(115, 140), 1045.0 + pick(-15, 15), pick(370, 450)
    yoke = Yoke((x, y, pick(115, 165)), np.radians(pick(3, 20)), np.radians(pick(0, 16)), pick(50, 90))
    stub = Stub(
        (x + pick(-10, 25), y + pick(70, 160), radius),
        np.radians(pick(-2, 2)),
        np.radians(pick(-1, 1)),
        (x - pick(70, 110), y + pick(-40, 20), pick(105, 145)),
    )
    down = pick(30, 55) * np.array([-np.sin(inclination), 0.0, -np.cos(inclination)])
    joint = np.asarray(foot) + down + np.array([pick(-5, 5), pick(8, 35), 0.0])
    return Corner(yoke, stub, tuple(joint.tolist()))


def kart_from(pick: Pick, even: bool = False) -> Kart:
    """A plausible kart; its sides are alike when even, else each its own (a bent kart)."""
    foot, inclination = (1045.0 - pick(100, 200), 0.0, pick(100, 150)), np.radians(pick(30, 60))
    left = corner_from(pick, foot, inclination)
    right = left if even else corner_from(pick, foot, inclination)
    width = pick(0, 130)
    radius = 0.5 * (left.stub.wheel_centre[2] + right.stub.wheel_centre[2])
    return replace(
        KART,
        left=left,
        right=right,
        column=Column(foot, inclination, np.radians(90.0)),
        front_tyre=Tyre(radius, width, min(pick(80, 600), FLATTEST_CROWN * width or inf), pick(60, 200)),
        rear_track=pick(1050, 1200),
    )


def corner_setting_from(pick: Pick) -> CornerSetting:
    """Any bush pair up to about 6 deg, with spacers; the tie rod is kept."""
    turn_ = 2.0 * np.pi
    bushes = (pick(0, 7), pick(0, turn_), pick(0, 7), pick(0, turn_))
    return CornerSetting(*bushes, pick(-5, 5), pick(0, 20))


def setting_from(pick: Pick) -> Setting:
    return Setting(corner_setting_from(pick), corner_setting_from(pick), pick(-10, 15))


def picker(seed: int) -> Pick:
    """Numbers from a seeded generator."""
    rng = np.random.default_rng(seed)
    return lambda low, high: float(rng.uniform(low, high))


@st.composite
def karts(draw: st.DrawFn, even: bool = False) -> Kart:
    return kart_from(lambda low, high: draw(st.floats(low, high)), even)


@st.composite
def corner_settings(draw: st.DrawFn) -> CornerSetting:
    return corner_setting_from(lambda low, high: draw(st.floats(low, high)))


@st.composite
def settings_of(draw: st.DrawFn) -> Setting:
    return setting_from(lambda low, high: draw(st.floats(low, high)))


def leaning(caster_deg: float, inclination_deg: float, radius: float = 130.0, scrub: float = 120.0) -> Corner:
    """A corner without static camber or toe, the wheel centre on the axis line in side view.

    Its axis meets the road at (1045 + trail, 430); so the trail is radius * tan(caster).
    """
    c, s = np.radians(caster_deg), np.radians(inclination_deg)
    ground = np.array([1045.0 + radius * np.tan(c), 430.0, 0.0])
    middle = ground + 130.0 * np.array([-np.tan(c), -np.tan(s), 1.0])
    stub = Stub((1045.0, 430.0 + scrub, radius), 0.0, 0.0, (960.0, 425.0, 125.0))
    return replace(CORNER, yoke=Yoke(tuple(middle.tolist()), c, s, 70.0), stub=stub)


def at_turn(corner: Corner, setting: CornerSetting, delta: float):
    """Seated stub, wheel centre and spin axis at a turn about the kingpin."""
    seated = seat_stub(corner, setting)
    return seated, turned(seated, seated.wheel_centre, delta), turn(seated.spin, seated.k, delta)


def turn_for_steer(corner: Corner, setting: CornerSetting, steer: float) -> float:
    """The turn about the kingpin that gives this road steer, found by root finding."""

    def miss(delta: float) -> float:
        return float(steer_angle(at_turn(corner, setting, delta)[2], FLAT_ROAD)) - steer

    return float(brentq(miss, steer - 0.5, steer + 0.5, xtol=1e-14))


def at_steer(corner: Corner, setting: CornerSetting, steer: float):
    """Seated stub, wheel centre and spin axis at this road steer."""
    return at_turn(corner, setting, turn_for_steer(corner, setting, steer))


def handwheel_for(corner: Corner, setting: CornerSetting, column: Column, tyre: Tyre, steer: float) -> float:
    """Handwheel angle at which the whole chain gives this road steer."""

    def miss(theta: float) -> float:
        at = sweep_corner(corner, setting, column, tyre, FLAT_ROAD, np.array([theta]))
        return float(at.steer[0]) - steer

    return float(brentq(miss, -1.2, 1.2, xtol=1e-14))
