"""A map in words: how far the box reaches, and where the marks are."""

from __future__ import annotations

import numpy as np

from kinematics.figures.wheel import CAMBER, CASTER
from scenarios.ask.reach import Mapped
from scenarios.kit import pair
from viz.words.numbers import number
from viz.words.width import laid


def _deg(name: str, value: float) -> str:
    return number(value, {"caster": CASTER, "camber": CAMBER}[name].digits)


def summary(mapped: Mapped) -> list[str]:
    """The map in words: how far the box reaches, and where the marks are."""
    spots, unit, scenario = mapped.spots, mapped.unit, mapped.scenario
    shown, digits = spots.stands, mapped.address.figure.digits
    count = f"{len(mapped.rows)} of {mapped.total}" if len(mapped.rows) < mapped.total else f"{mapped.total}"
    lines = [
        f"{scenario.title} ({scenario.source}): {count} bush pairs, {mapped.fitted}; {mapped.corner} front"
    ]
    for name, values in (("caster", spots.caster), ("camber", spots.camber)):
        low, high = (_deg(name, float(v)) for v in (values[shown].min(), values[shown].max()))
        lines.append(f"  {name} from {low} to {high} deg")
    valued = np.flatnonzero(shown & spots.known)
    if valued.size:
        ends = [valued[np.argmin(spots.value[valued])], valued[np.argmax(spots.value[valued])]]
        lines.append(f"  {mapped.address.words}, {unit}:")
        for word, at in zip(("least", "most"), ends, strict=True):
            value = number(float(spots.value[at]), digits)
            top, bottom = pair(scenario.kit, mapped.rows[at])
            lines.append(f"    {word} {value} with top {top}, bottom {bottom}")
    for mark in mapped.marks:
        angles = ", ".join(f"{name} {_deg(name, getattr(mark, name))} deg" for name in ("caster", "camber"))
        lines.append(f"  {mark.name}: {angles}, {number(mark.value, digits, 'none')} {unit}")
    return laid(
        [*lines, *(f"  {name}: cannot stand straight ahead and is not marked" for name in mapped.missing)]
    )
