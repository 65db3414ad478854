"""What to read next: which readings narrow an answer most for the minutes they take."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from kinematics.estimate.worth import Offer, Picked, narrowed, plan, spreads
from kinematics.figures import read as figures
from kinematics.figures.figure import Address
from kinematics.frames import Array
from scenarios.ask.wants import address_text, check_known
from scenarios.errors import Refusal, suggestion
from scenarios.gauged.candidates import SETUPS, Session, sessions
from scenarios.gauged.foretold import Foreteller
from scenarios.gauged.record import Reading
from scenarios.gauged.slopes import STEP, sigmas, sloped
from scenarios.gauged.space import Space, uncertain_inputs
from scenarios.likely.doubts import headline
from scenarios.ranges import RANGES
from scenarios.records import Scenario

WAYS_OUT = "ask for the load at a lock instead"


@dataclass(frozen=True)
class Wished:
    """What is to be known better: a figure, or one of the scenario's numbers by name."""

    name: str
    address: Address | None = None
    unit: str = ""
    value: float = 0.0


def asked_of(known: Sequence[str], scenario: Scenario) -> list[Wished]:
    """What is to be known, as typed: a number's key or a figure; left out, the inside rear in the first
    corner.

    Raises Refusal, one line.
    """
    names = [one.name for one in uncertain_inputs(scenario.resolved)]
    found = []
    for text in known or [str(headline(scenario)[0])]:
        if text in names:
            found.append(Wished(text))
            continue
        if "." in text.partition("@")[0]:
            raise Refusal(f"--know {text}: no uncertain number of {scenario.source}{suggestion(text, names)}")
        address = address_text(text)
        check_known(address, scenario, f"--know {text}")
        found.append(Wished(text, address))
    return found


def check_minutes(minutes: float) -> None:
    """Refuse a session that is none."""
    RANGES["--minutes"].checked(minutes, "--minutes", "min")


@dataclass(frozen=True)
class Planned:
    """A session of a plan, in order."""

    session: Session
    minutes: float
    """With what is made ready for it."""
    spread: Array
    """(t,) what is then still unknown of each that is asked, standard uncertainties."""


@dataclass(frozen=True)
class ReadingPlan:
    """Sessions that tell most a minute of what is asked, best first."""

    scenario: Scenario
    setting: str
    asked: Sequence[Wished]
    now: Array
    """(t,) standard uncertainties as things are."""
    picked: Sequence[Planned]
    """Without an end in time."""
    alone: Sequence[tuple[Session, float, Array]]
    """Every session with its minutes and what it would leave unknown (t,), were it alone."""
    covariance: Array
    targets: Array
    offers: Sequence[Offer]

    def within(self, minutes: float) -> list[Planned]:
        """The plan of so many minutes: what does not fit in them makes room for what does."""
        choices = [choice for choice, *_ in self.alone]
        return [_worth(choices, one) for one in plan(self.covariance, self.targets, self.offers, minutes)]


@dataclass(frozen=True)
class _Bench:
    """A setting's candidates and what is asked, as slopes by the scores of all that is uncertain."""

    scenario: Scenario
    setting: str
    readings: Sequence[Reading]
    addresses: Sequence[Wished]

    @cached_property
    def foreteller(self) -> Foreteller:
        return Foreteller(self.scenario, uncertain_inputs(self.scenario.resolved), self.readings)

    @cached_property
    def space(self) -> Space:
        every = len(self.foreteller.inputs) + len(self.foreteller.bushes)
        return Space(self.foreteller.inputs, self.foreteller.bushes, range(every))

    def of_asked(self) -> tuple[list[Wished], Array]:
        """What is asked with its values, and its slopes (t, p)."""
        count = len(self.space.names)
        around = np.concatenate([np.zeros((1, count)), STEP * np.eye(count), -STEP * np.eye(count)])
        values, off = self.space.at(around)
        wanted = [one for one in self.addresses if one.address is not None]
        read = self._read(values, off, [one.address for one in wanted if one.address is not None])
        rows, told = [], []
        for one in self.addresses:
            if one.address is None:
                at = [each.name for each in self.foreteller.inputs].index(one.name)
                numbers, unit = values[:, at], self.foreteller.inputs[at].unit
            else:
                numbers, unit = read[wanted.index(one)], one.address.figure.unit.text
            rows.append((numbers[1 : 1 + count] - numbers[1 + count :]) / (2.0 * STEP))
            told.append(Wished(one.name, one.address, unit, float(numbers[0])))
        return told, np.array(rows)

    def _read(self, values: Array, off: Array, addresses: Sequence[Address]) -> list[Array]:
        if not addresses:
            return []
        karts = self.foreteller.karts(values, off)
        cases = {case.name: case for case in self.scenario.load_cases}
        found = figures.read(karts.kart, karts.setting(self.setting), addresses, cases, karts.given)
        told = []
        for address, (numbers, known) in zip(addresses, found, strict=True):
            if not np.all(known):
                raise Refusal(
                    f"{address}: the kart has no such figure, or loses it with a hair's change; {WAYS_OUT}"
                )
            told.append(np.broadcast_to(numbers, len(values)))
        return told


def planned(
    scenario: Scenario,
    setting: str,
    asked: Sequence[Wished],
    minutes: float = 60.0,
    taken: Sequence[Reading] = (),
) -> ReadingPlan:
    """Which readings of a setting, once those taken count, narrow most what is asked for so many minutes.

    Raises Refusal, one line, where nothing is asked that is uncertain.
    """
    choices = sessions(scenario, setting, uncertain_inputs(scenario.resolved))
    readings = [one for choice in choices for one in choice.readings]
    bench = _Bench(scenario, setting, [*readings, *taken], asked)
    told, targets = bench.of_asked()
    slopes = _slopes(bench)
    covariance = np.eye(slopes.shape[1])
    if taken:
        covariance = narrowed(covariance, slopes[len(readings) :])
    now = spreads(covariance, targets)
    if not np.any(now > 0.0):
        raise Refusal("nothing that is uncertain has to do with it")
    candidates = list(_candidates(choices, slopes))
    picked = [_worth(choices, one) for one in plan(covariance, targets, candidates, minutes)]
    alone = [
        (choice, one.cost(set()), spreads(narrowed(covariance, one.rows), targets))
        for choice, one in zip(choices, candidates, strict=True)
    ]
    return ReadingPlan(scenario, setting, told, now, picked, alone, covariance, targets, candidates)


def best_for(scenario: Scenario, names: Sequence[str], taken: Sequence[Reading]) -> str:
    """The session, in words, that tells most a minute of numbers by name, once those taken count."""
    asked = [Wished(name) for name in names]
    plan = planned(scenario, scenario.default_setting, asked, np.inf, taken)
    return plan.picked[0].session.words if plan.picked else "none that can be planned here"


def _slopes(bench: _Bench) -> Array:
    """(m, p) of every reading over its uncertainty; 0 of one that cannot be taken."""
    seen, slopes = sloped(bench.foreteller, bench.space, np.zeros(len(bench.space.names)))
    there = np.isfinite(seen)
    found: Array = np.where(there[:, None], slopes, 0.0) / sigmas(bench.foreteller)[:, None]
    return found


def _candidates(choices: Sequence[Session], slopes: Array) -> list[Offer]:
    ends = np.cumsum([0, *(len(choice.readings) for choice in choices)])
    return [
        Offer(
            slopes[start:stop],
            choice.minutes,
            tuple((_need(choice, need), SETUPS[need][1]) for need in choice.needs),
        )
        for choice, start, stop in zip(choices, ends[:-1], ends[1:], strict=True)
    ]


def _need(choice: Session, need: str) -> object:
    """What is made ready: shims, blocks and weights are of one place, scales and gauges of all."""
    return (need, choice.readings[0].setup) if need in ("shim", "blocks", "raised", "weight") else need


def _worth(choices: Sequence[Session], one: Picked) -> Planned:
    return Planned(choices[one.place], one.minutes, one.spread)
