"""What the page tells of readings: which can be taken, which were, and the kart that they mean."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from scenarios import Scenario
from scenarios.errors import Refusal
from scenarios.gauged.kinds import BOTH, FRAME, KINDS, SIDES, WHEELS
from scenarios.gauged.record import Reading
from scenarios.gauged.suspects import Suspect
from scenarios.gauged.told import FitTold, told_of
from scenarios.likely.bands import Banded
from viz.browser.chosen import readings
from viz.browser.chosen.choices import Choices
from viz.browser.chosen.wording import plain
from viz.page.charts import ticks
from viz.tables.gauged.fit import answer, band, verdict
from viz.words.numbers import PAGE, number, short, signed
from viz.words.sure import decimals

PLACES = (*WHEELS, *SIDES, *BOTH, *FRAME)
NUMBERS = 3
"""Of the kart's numbers that are told as surer now."""
WORST = 2.0
"""Times its error from which on a reading is marked at its wheel."""
OF_SIDE = {side: f"front {side}" for side in SIDES}
Told = dict[str, Any]
NOTHING: Told = {"refused": "", "said": [], "bars": [], "worst": None, "bands": None}


def page(scenario: Scenario) -> Told:
    """What can be read, and how many readings the page takes."""
    kinds = [
        {
            "name": one.name,
            "unit": one.unit,
            "what": one.what,
            "how": one.how,
            "places": [{"name": place, "words": place.replace("_", " ")} for place in one.places],
        }
        for one in KINDS.values()
    ]
    usual = scenario.default_setting
    return {"kinds": kinds, "wheels": list(WHEELS), "most_readings": readings.MOST, "usual_setting": usual}


def listed(taken: Sequence[Reading]) -> list[Told]:
    """The readings as they were typed, in words."""
    return [{"words": _words(one), "setting": one.setting, "value": _value(one)} for one in taken]


def _words(one: Reading) -> str:
    return plain(one.words)


def _value(one: Reading) -> str:
    unit = "" if one.of_number else f" {one.kind.unit}"
    return plain(f"{short(float(one.value or 0.0), 6, PAGE)}{unit}")


def told(chosen: Choices, forgiving: bool = False) -> Told:
    """The kart that the readings mean, in words and as bars, or why they mean none.

    forgiving lets a reading that fits badly count less.
    """
    if not chosen.readings:
        return NOTHING
    try:
        found = told_of(chosen.scenario, readings.numbered(chosen.readings), (), {"forgiving": forgiving})
    except Refusal as error:
        return {**NOTHING, "refused": plain(str(error))}
    return {
        **NOTHING,
        "said": [plain(line) for line in answer(found, NUMBERS)],
        "bars": _bars(found),
        "worst": _worst(found),
        "bands": _bands(found),
    }


def _bars(found: FitTold) -> list[Told]:
    """A bar for each reading: its miss over its error, by place; suspects with what may be wrong."""
    suspects: Mapping[str, Suspect] = {one.reading.line: one for one in found.suspects}
    made = zip(found.fit.readings, found.fit.tests.tolist(), strict=True)
    rows = [
        {
            "place": one.where,
            "words": f"{one.line.partition(' ')[2]}. {_words(one)}: {_value(one)}",
            "miss": miss,
            "said": signed(miss, 1, hand=PAGE),
            "why": plain(verdict(suspects[one.line])) if one.line in suspects else "",
        }
        for one, miss in made
    ]
    return sorted(rows, key=lambda row: PLACES.index(row["place"]) if row["place"] in PLACES else len(PLACES))


def _worst(found: FitTold) -> Told | None:
    """The wheel whose reading misses most, None where no reading misses by much."""
    at_wheels = [
        (abs(miss), one, miss)
        for one, miss in zip(found.fit.readings, found.fit.tests.tolist(), strict=True)
        if one.where in (*WHEELS, *SIDES)
    ]
    if not at_wheels:
        return None
    most, one, miss = max(at_wheels, key=lambda each: each[0])
    if most < WORST:
        return None
    name = one.what.rpartition("_")[0]
    wheel = OF_SIDE.get(one.where, one.where.replace("_", " "))
    return {
        "wheel": wheel,
        "text": f"worst read: {name} {_value(one)}\n{signed(miss, 1, hand=PAGE)} × its error",
    }


def _bands(found: FitTold) -> Told | None:
    """The headline figure's band before and after on one scale; None where there is none."""
    pairs = {"before": found.before[0], "now": found.after[0]}
    if any(one.value is None for one in pairs.values()):
        return None
    ends = [float(end) for one in pairs.values() for end in (one.band.low, one.band.high)]
    marks = ticks(min(ends), max(ends), 4)
    before, after = (float(one.band.high - one.band.low) for one in pairs.values())
    unit = found.before[0].address.figure.unit.text
    wide = [number(one, decimals(0.5 * min(before, after)), hand=PAGE) for one in (before, after)]
    return {
        "title": _title(found),
        "unit": unit,
        "wide": f"{wide[0]} {unit} wide before, {wide[1]} {unit} now",
        "ends": [marks[0], marks[-1]],
        "marks": [{"at": mark, "said": short(mark, 6, PAGE)} for mark in marks],
        "rows": [_band(name, one) for name, one in pairs.items()],
    }


def _title(found: FitTold) -> str:
    """The headline figure in words, at which lock, in which case and of which setting."""
    scenario, address = found.fit.scenario, found.before[0].address
    at = "" if address.lock_deg is None else f", handwheel {address.lock_deg:g} deg"
    case = "" if address.case is None else f", {address.case}"
    return plain(f"{address.said(scenario.given)}{at}{case}, {scenario.default_setting}")


def _band(name: str, one: Banded) -> Told:
    low, high = float(one.band.low), float(one.band.high)
    return {"name": name, "low": low, "high": high, "value": one.value, "said": band(one)}
