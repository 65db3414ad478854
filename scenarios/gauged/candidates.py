"""What could be read next: the readings that a workshop can take of one setting, with the minutes they take.

Minutes are choices of this program for two people who have done it before; no source is known.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import degrees

from scenarios.gauged.kinds import OF_NUMBER, PULL, SIDES, WHEELS
from scenarios.gauged.record import Hung, Reading
from scenarios.records import Scenario
from scenarios.sure.stated import Input
from scenarios.sure.usual import USUAL
from scenarios.sure.ways import WAYS

LOCKS_DEG = (15.0, 30.0)
SHIM_MM, BLOCK_MM, RAISED_MM = 10.0, 100.0, 300.0
WEIGHT_KG = 20.0
BY_WAY = {
    "tape": 3.0,
    "plumb line": 6.0,
    "square": 2.0,
    "angle gauge": 5.0,
    "toe marks": 6.0,
    "straight edge": 6.0,
    "known weight": 25.0,
}
"""Minutes to read one of the scenario's own numbers directly; what scales tell is a session of its own."""
SETUPS = {
    "scales": ("four scales level under the wheels", 10.0),
    "plates": ("turn plates under the front wheels", 5.0),
    "gauge": ("a level floor and a straight edge at the rim", 2.0),
    "bar": ("a straight bar through a kingpin's bushes", 10.0),
    "marks": ("toe marks scribed on the front wheels", 4.0),
    "shim": ("a level shim under one wheel", 2.0),
    "blocks": ("level blocks under both wheels of a side", 6.0),
    "raised": ("both front wheels on blocks, the rear ones held from rolling", 12.0),
    "weight": ("a known weight at a measured place", 4.0),
    "held": ("the frame held level, wheels free", 8.0),
}
"""What is made ready, in words, and the minutes it takes."""


@dataclass(frozen=True)
class Session:
    """Readings that are taken at one go."""

    words: str
    readings: tuple[Reading, ...]
    needs: tuple[str, ...]
    directly: float = 0.0
    """Minutes, where it is a number itself."""

    @property
    def minutes(self) -> float:
        """To read them, all being ready."""
        return self.directly or sum(one.kind.minutes for one in self.readings)


def sessions(scenario: Scenario, setting: str, uncertain: Sequence[Input]) -> list[Session]:
    """All that could be read of a setting, and of the numbers themselves."""
    locks = [lock for lock in LOCKS_DEG if lock <= degrees(scenario.kart.column.stop)]
    found = [*_scales(scenario, setting, locks), *_gauges(setting, locks)]
    return [*found, *_numbers(setting, uncertain)]


def _four(setting: str, **how: object) -> tuple[Reading, ...]:
    return tuple(Reading("scale_kg", wheel, setting, **how) for wheel in WHEELS)  # type: ignore[arg-type]


def _scales(scenario: Scenario, setting: str, locks: Sequence[float]) -> Iterator[Session]:
    scales = ("scales",)
    yield Session("four scales straight ahead", _four(setting), scales)
    for lock in locks:
        for turned in (lock, -lock):
            where = f"{lock:g} deg of handwheel to the {'left' if turned > 0 else 'right'}"
            yield Session(f"four scales at {where}", _four(setting, handwheel_deg=turned), scales)
    for place, wheel in enumerate(WHEELS):
        under = tuple(SHIM_MM if at == place else 0.0 for at in range(4))
        words = f"four scales with {SHIM_MM:g} mm under the {wheel.replace('_', ' ')}"
        yield Session(words, _four(setting, under_mm=under), (*scales, "shim"))
    for side, under in (("left", (1.0, 0.0, 1.0, 0.0)), ("right", (0.0, 1.0, 0.0, 1.0))):
        high = tuple(BLOCK_MM * one for one in under)
        words = f"four scales with {BLOCK_MM:g} mm under both {side} wheels"
        yield Session(words, _four(setting, under_mm=high), (*scales, "blocks"))
    raised = (RAISED_MM, RAISED_MM, 0.0, 0.0)
    words = f"four scales with the front {RAISED_MM:g} mm up"
    yield Session(words, _four(setting, under_mm=raised), (*scales, "raised"))
    for where, hung in _weights(scenario):
        words = f"four scales with {WEIGHT_KG:g} kg {where}"
        yield Session(words, _four(setting, hung=hung), (*scales, "weight"))
        heights = tuple(Reading("height_mm", wheel, setting, hung=hung) for wheel in WHEELS)
        yield Session(f"wheel heights with {WEIGHT_KG:g} kg {where}", heights, ("weight",))
    lock = locks[-1] if locks else 0.0
    pulls = tuple(Reading(PULL, f"rear_{side}", setting, handwheel_deg=sign * lock) for side, sign in _ways())
    yield Session(f"pull at the inside rear at {lock:g} deg of handwheel, each way", pulls, ())


def _weights(scenario: Scenario) -> Iterator[tuple[str, Hung]]:
    kart = scenario.kart
    for where, x, y in (
        ("over the front axle", float(kart.wheelbase), 0.0),
        ("on the seat", 300.0, 0.0),
        ("at the left side, mid-way", 0.5 * float(kart.wheelbase), 0.4 * float(kart.rear_track)),
    ):
        yield where, Hung(WEIGHT_KG, (round(x), round(y), 150.0))


def _ways() -> tuple[tuple[str, float], ...]:
    return tuple(zip(SIDES, (1.0, -1.0), strict=True))


def _gauges(setting: str, locks: Sequence[float]) -> Iterator[Session]:
    def pair(what: str, **how: object) -> tuple[Reading, ...]:
        return tuple(Reading(what, side, setting, **how) for side in SIDES)  # type: ignore[arg-type]

    yield Session("camber of both front wheels straight ahead", pair("camber_deg"), ("gauge",))
    yield Session("toe of each front wheel", pair("toe_deg"), ("marks",))
    yield Session("toe of both together", (Reading("toe_mm", "both", setting),), ("marks",))
    yield Session("lean of both kingpins from the side", pair("caster_deg"), ("bar",))
    yield Session("lean of both kingpins from the front", pair("inclination_deg"), ("bar",))
    yield Session(
        "heights of all wheel centres", tuple(Reading("height_mm", wheel, setting) for wheel in WHEELS), ()
    )
    for lock in locks:
        for side, sign in _ways():
            turned = sign * lock
            where = f"{lock:g} deg of handwheel to the {side}"
            yield Session(f"camber at {where}", pair("camber_deg", handwheel_deg=turned), ("gauge",))
            yield Session(f"turn plates at {where}", pair("steer_deg", handwheel_deg=turned), ("plates",))
            held = tuple(replace(one, held=True) for one in pair("camber_deg", handwheel_deg=turned))
            yield Session(f"camber at {where}, frame held level", held, ("gauge", "held"))
    if locks:
        for side, sign in _ways():
            high = tuple(
                Reading("height_mm", f"front_{one}", setting, handwheel_deg=sign * locks[-1]) for one in SIDES
            )
            yield Session(f"front wheel heights at {locks[-1]:g} deg of handwheel to the {side}", high, ())


def _numbers(setting: str, uncertain: Sequence[Input]) -> Iterator[Session]:
    """The scenario's own numbers, each read in its usual way where that is surer than it is known now."""
    for one in uncertain:
        way = way_of(one)
        if not way:
            continue
        spread = WAYS[way].of(one.uncertain.value)
        if 0.0 < spread < WORTH * one.uncertain.spread:
            reading = Reading(OF_NUMBER, one.name, setting, uncertainty=spread)
            yield Session(f"{one.name} itself, by {way}", (reading,), (), BY_WAY[way])


def way_of(one: Input) -> str:
    """The usual way of reading one of the scenario's numbers directly; '' where none is by itself."""
    row = ".".join(str(part) for part in one.places[0] if isinstance(part, str) and part != "right")
    usual = USUAL.get(row) or USUAL.get(row.replace("rear.", "front."))
    return usual.way if usual is not None and usual.way in BY_WAY else ""


WORTH = 0.8
"""Of its uncertainty now, what reading a number directly must leave at most to be worth the while."""
