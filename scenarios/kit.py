"""Settings that the kit in the box cannot make: warned of, computed all the same."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from math import atan2, degrees, isclose

from kinematics.parts import CornerSetting, Kart, Setting, Yoke
from scenarios.records import Kit

TOLERANCE_DEG = 1e-6


def kit_warnings(name: str, setting: Setting, kart: Kart, kit: Kit) -> list[str]:
    """One line for each bush not in the kit, each clock off its step, each size used more than is there.

    A kit without any bush says nothing. A concentric bush is taken to be on hand.
    """
    if not kit.sizes_deg:
        return []
    used: Counter[int] = Counter()
    found: list[str] = []
    for where, rated, clock in _eccentric_bushes(setting, kart):
        slot = _slot(rated, kit)
        if slot is None:
            found.append(f"setting.{name}: {where} of {rated:.4g} deg is not in the kit")
        else:
            used[slot] += 1
        if not _on_step(clock, kit.clock_step_deg):
            step = f"the kit's step of {kit.clock_step_deg:g} deg"
            found.append(f"setting.{name}: {where} at clock {clock:.4g} deg is off {step}")
    return found + [_short(name, kit, slot, n) for slot, n in used.items() if _lacks(kit.counts[slot], n)]


def _eccentric_bushes(setting: Setting, kart: Kart) -> Iterator[tuple[str, float, float]]:
    """Which bush, its rated size and its clock in deg, for each that is off centre."""
    corners = (("left", setting.left, kart.left.yoke), ("right", setting.right, kart.right.yoke))
    for side, fitted, yoke in corners:
        for bush, offset, clock in _bushes(fitted):
            if offset:
                yield f"{side} {bush} bush", _rated(yoke, offset), degrees(clock)


def _bushes(fitted: CornerSetting) -> list[tuple[str, float, float]]:
    top = ("top", float(fitted.top_offset), float(fitted.top_clock))
    return [top, ("bottom", float(fitted.bottom_offset), float(fitted.bottom_clock))]


def _rated(yoke: Yoke, offset: float) -> float:
    return degrees(atan2(offset, yoke.span))


def _slot(rated: float, kit: Kit) -> int | None:
    near = (i for i, size in enumerate(kit.sizes_deg) if isclose(size, rated, abs_tol=TOLERANCE_DEG))
    return next(near, None)


def _on_step(clock: float, step: float) -> bool:
    return step == 0.0 or abs(clock - step * round(clock / step)) < TOLERANCE_DEG


def _lacks(there: int | None, wanted: int) -> bool:
    return there is not None and wanted > there


def _short(name: str, kit: Kit, slot: int, wanted: int) -> str:
    size, there = kit.sizes_deg[slot], kit.counts[slot]
    return f"setting.{name}: takes {wanted} bushes of {size:.4g} deg, the kit has {there}"
