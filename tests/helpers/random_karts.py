"""Random karts, settings and lock positions for the stance: alike in no number the stance depends on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields, is_dataclass, replace
from math import inf
from typing import Any

import numpy as np

from kinematics.corner.stub import spin_axis
from kinematics.frames import mirror
from kinematics.lock import Sweep, sweep
from kinematics.parts import FLATTEST_CROWN, Frame, Kart, Tyre
from tests.helpers.karts import kart_from, setting_from

NM_PER_DEG = 1e3 * 180.0 / np.pi  # N·mm/rad in one N·m/deg


def random_tyre(rng: np.random.Generator, radius: float) -> Tyre:
    """Any profile from thin disc and sphere to the flattest tread that can be stood on."""
    width = 0.0 if rng.random() < 0.1 else rng.uniform(80, 200)
    crown = rng.choice([0.5 * width, radius, rng.uniform(150, 600), rng.uniform(600, 5000)])
    flattest = FLATTEST_CROWN * width or inf
    return Tyre(radius, width, min(max(crown, 0.5 * width, 1.0), flattest), rng.uniform(60, 250))


def random_kart(rng: np.random.Generator) -> Kart:
    """Uneven sides, uneven loads, any split of the frame's compliance; one frame in ten is rigid."""
    kart = kart_from(rng.uniform)
    stiffness = inf if rng.random() < 0.1 else rng.uniform(100, 260) * NM_PER_DEG
    share = rng.choice([0.0, 1.0, *rng.uniform(0, 1, 3)])
    return replace(
        kart,
        wheelbase=kart.left.stub.wheel_centre[0],
        front_tyre=random_tyre(rng, kart.front_tyre.radius),
        rear_tyre=random_tyre(rng, rng.uniform(135, 145)),
        frame=Frame(stiffness, share, rng.uniform(30, 120)),
        loads=tuple((360.0 * rng.uniform(0.8, 1.2, 4)).tolist()),
        cog_height=rng.uniform(200, 340),
    )


def random_sweep(rng: np.random.Generator) -> Sweep:
    """One kart, one setting, one lock position (1,) within reach."""
    while True:
        swept = sweep(random_kart(rng), setting_from(rng.uniform), [rng.uniform(-1.1, 1.1)])
        if swept.reach.all():
            return swept


def front_wheels(swept: Sweep) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Centre and spin of the left and of the right front wheel, (..., N, 3), in vehicle axes."""
    left, right = swept.left, swept.right
    return left.wheel_centre, left.spin, mirror(right.wheel_centre), mirror(right.spin)


def as_measured(kart: Kart):
    """Front wheels as they stand at the reference stance."""
    left, right = (kart.left.stub, kart.right.stub)
    return (
        np.array(left.wheel_centre),
        spin_axis(left),
        mirror(right.wheel_centre),
        mirror(spin_axis(right)),
    )


def stacked(karts: Sequence[Kart], shape: tuple[int, ...]) -> Kart:
    """The karts as a batch of this shape; all have the first one's mechanical stop."""

    def stack(parts: Sequence[Any], point: bool = False) -> Any:
        first = parts[0]
        if first is None:
            return None
        if is_dataclass(first) and not isinstance(first, type):
            names = [(f.name, f.type == "Vector") for f in fields(first)]
            of = {name: stack([getattr(part, name) for part in parts], is_point) for name, is_point in names}
            return replace(first, **of)
        if isinstance(first, tuple) and not point:
            return tuple(stack(one) for one in zip(*parts, strict=True))
        return np.array(parts).reshape(*shape, 3) if point else np.array(parts).reshape(shape)

    whole: Kart = stack(karts)
    return replace(whole, column=replace(whole.column, stop=karts[0].column.stop))
