"""Settings that the kit in the box cannot make: warned of, computed all the same."""

from __future__ import annotations

from collections import Counter
from math import atan2, degrees, isclose, radians

from kinematics.parts import CornerSetting, Kart, Setting
from scenarios.records import Kit

SIZE_TOLERANCE_DEG = 1e-6


def kit_warnings(name: str, setting: Setting, kart: Kart, kit: Kit) -> list[str]:
    """One line for each bush not in the kit, each clock off its step, each size used more than is there.

    A kit without any bush says nothing. A concentric bush is taken to be on hand.
    """
    if not kit.sizes_deg:
        return []
    used: Counter[int] = Counter()
    found = []
    for side, fitted, yoke in (
        ("left", setting.left, kart.left.yoke),
        ("right", setting.right, kart.right.yoke),
    ):
        for bush, offset, clock in _bushes(fitted):
            where, rated = f"setting.{name}: {side} {bush} bush", degrees(atan2(offset, yoke.span))
            if offset == 0.0:
                continue
            slot = _slot(rated, kit)
            used.update([] if slot is None else [slot])
            found += [f"{where} of {rated:.4g} deg is not in the kit"] if slot is None else []
            found += [
                f"{where} at clock {degrees(clock):.4g} deg is off the kit's step of {kit.clock_step_deg:g} deg"
            ] * (not _on_step(clock, kit))
    return found + [
        _short(name, kit, slot, count) for slot, count in used.items() if _lacks(kit, slot, count)
    ]


def _bushes(fitted: CornerSetting) -> list[tuple[str, float, float]]:
    top = ("top", float(fitted.top_offset), float(fitted.top_clock))
    return [top, ("bottom", float(fitted.bottom_offset), float(fitted.bottom_clock))]


def _slot(rated: float, kit: Kit) -> int | None:
    near = (i for i, size in enumerate(kit.sizes_deg) if isclose(size, rated, abs_tol=SIZE_TOLERANCE_DEG))
    return next(near, None)


def _on_step(clock: float, kit: Kit) -> bool:
    step = radians(kit.clock_step_deg)
    return step == 0.0 or abs(clock - step * round(clock / step)) < radians(SIZE_TOLERANCE_DEG)


def _lacks(kit: Kit, slot: int, count: int) -> bool:
    there = kit.counts[slot]
    return there is not None and count > there


def _short(name: str, kit: Kit, slot: int, count: int) -> str:
    return f"setting.{name}: takes {count} bushes of {kit.sizes_deg[slot]:.4g} deg, the kit has {kit.counts[slot]}"
