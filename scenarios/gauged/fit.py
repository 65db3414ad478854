"""The kart that readings mean: numbers fitted to them, as sure as they are, with what cannot be told.

What a file says of its numbers counts as knowledge from before, unless told otherwise; what is not fitted
stays uncertain as stated, so no answer is surer than all that it hangs on.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np

from kinematics.estimate.apart import Together, told_together
from kinematics.estimate.squares import Estimate, Model, estimate, robust, with_prior
from kinematics.figures.turning import Pulse, silent
from kinematics.frames import Array
from kinematics.tolerance.points import points
from kinematics.tolerance.uncertain import scores as scores_of
from scenarios.errors import Refusal, suggestion
from scenarios.gauged.foretold import Foreteller
from scenarios.gauged.record import Reading
from scenarios.gauged.slopes import sigmas, sloped
from scenarios.gauged.space import Space, uncertain_inputs
from scenarios.records import Scenario
from scenarios.sure.stated import Input

COVERED = 1.959963984540054
"""Standard uncertainties to either side that hold 95 in 100 of a normal distribution."""
STARTS = 3
"""The file's numbers, and so many less one that are as likely."""
HUBER, ROBUST_ROUNDS = 1.5, 8
"""Of standard uncertainties, up to which a reading counts in full where others may be wrong; rounds for
it."""
SAME_WEIGHT = 0.01
"""By how much a weight may still change."""
FINE = 1e-5
"""Of all misses together, what a last step may still change."""
APART = 5.0
"""Readings of the same thing that are so many standard uncertainties apart contradict each other."""


@dataclass(frozen=True)
class FittedNumber:
    """One number fitted."""

    name: str
    unit: str
    was: float
    was_sure: float
    """Standard uncertainty before, in its unit; inf where that does not count."""
    value: float
    sure: float
    """Standard error, in its unit."""

    @property
    def kept(self) -> float:
        """What is still not known of it, as a share of what was not known before."""
        return self.sure / self.was_sure


@dataclass(frozen=True)
class Fit:
    """Numbers fitted to readings."""

    scenario: Scenario
    foreteller: Foreteller
    space: Space
    found: Estimate
    """Of the scores; its residuals are those of the readings first."""
    chosen: Sequence[str]
    """Names of the numbers to be told of and written."""
    with_prior: bool
    weights: Array
    """(m,) 1 of a reading that counts in full."""

    @property
    def readings(self) -> Sequence[Reading]:
        """Those that were taken."""
        return self.foreteller.readings

    @cached_property
    def sigmas(self) -> Array:
        """Standard uncertainties (m,) of the readings, in their own units."""
        return sigmas(self.foreteller)

    def foreteller_of(self, readings: Sequence[Reading]) -> Foreteller:
        """What other readings should be of the same karts, whose bushes keep their places."""
        return self.foreteller.of(readings)

    @cached_property
    def foretold(self) -> Array:
        """What every reading (m,) should have been on the kart that was found."""
        found: Array = self.foreteller.foretold(*self.space.at(self.found.values[None]))[0][0]
        return found

    @cached_property
    def misses(self) -> Array:
        """Readings less what they should have been (m,), in standard uncertainties."""
        values = np.array([one.value for one in self.readings], dtype=float)
        found: Array = (values - self.foretold) / self.sigmas
        return found

    @cached_property
    def tests(self) -> Array:
        """The misses (m,) over what each may be, since the fit has taken up a part of it: about one, if all
        is well."""
        room = np.sqrt(np.maximum(1.0 - self.found.leverage[: len(self.readings)], 1e-6))
        found: Array = self.misses * np.sqrt(self.weights) / room
        return found

    @property
    def slopes(self) -> Array:
        """(m, p) of the readings, over their uncertainty, by the scores."""
        return self.found.slopes[: len(self.readings)]

    @cached_property
    def numbers(self) -> list[FittedNumber]:
        """Those chosen."""
        before = np.ones(len(self.space.names)) if self.with_prior else np.full(len(self.space.names), np.inf)
        grows = self.space.slopes_of_values(self.found.values)
        values = self.space.at(self.found.values[None])[0][0]
        by_name = {one.name: one for one in self.space.inputs}
        place_of = {one.name: place for place, one in enumerate(self.space.inputs)}
        return [
            self._number(by_name[name], place, before, grows, values[place_of[name]])
            for place, name in enumerate(self.space.names)
            if name in self.chosen
        ]

    def _number(self, one: Input, place: int, before: Array, grows: Array, value: float) -> FittedNumber:
        spread = float(grows[place])
        return FittedNumber(
            one.name,
            one.unit,
            one.uncertain.value,
            one.uncertain.spread * float(before[place]),
            float(value),
            spread * float(self.found.errors[place]),
        )

    @property
    def together(self) -> list[Together]:
        """Combinations that the readings do not tell apart."""
        return told_together(self.slopes)

    def names_of(self, one: Together) -> list[str]:
        """The numbers of a combination."""
        return [self.space.names[place] for place in one.which]

    def correlation(self, one: str, other: str) -> float:
        """Of two numbers, as found."""
        names = self.space.names
        return float(self.found.correlation[names.index(one), names.index(other)])

    @property
    def chi_square(self) -> float:
        """Of readings and, where it counts, what was known before."""
        return self.found.chi_square

    @property
    def freedom(self) -> int:
        """What chi-square should be about, if all uncertainties are right."""
        return self.found.freedom

    @property
    def chance(self) -> float:
        """How often chi-square would be so large by chance, 0..1."""
        from scipy.special import gammaincc

        return float(gammaincc(0.5 * max(self.freedom, 1), 0.5 * self.chi_square))


def fit(
    scenario: Scenario,
    readings: Sequence[Reading],
    chosen: Sequence[str] = (),
    *,
    apart: bool = False,
    prior: bool = True,
    others: bool = True,
    forgiving: bool = False,
    pulse: Pulse = silent,
) -> Fit:
    """Numbers of a scenario fitted to readings; chosen by name, left out all that are uncertain.

    apart fits left and right each for itself; without prior what the file says of the chosen ones counts for
    nothing; without others all that is not chosen counts as exact; forgiving lets a reading that fits badly
    count less. pulse is called for every kart that is tried. Raises Refusal, one line, where that cannot be
    done.
    """
    taken = [one for one in readings if one.value is not None]
    uncertain = uncertain_inputs(scenario.resolved, apart)
    names = [one.name for one in uncertain]
    chosen = _chosen(scenario, chosen, names)
    if not taken:
        raise Refusal("no reading has a value yet: at least one is needed")
    if not forgiving:
        _check_agree(taken, uncertain)
    foreteller = Foreteller(scenario, uncertain, taken)
    free = [at for at, name in enumerate(names) if others or name in chosen]
    free += [len(names) + at for at in range(len(foreteller.bushes) if others else 0)]
    space = Space(uncertain, foreteller.bushes, free)
    if not prior:
        _check_enough(scenario, taken, chosen)
    spread = np.array([np.inf if not prior and name in chosen else 1.0 for name in space.names])
    return _searched(Search(scenario, foreteller, space, spread, pulse), chosen, prior, forgiving)


class Search(NamedTuple):
    """What is searched: the numbers' space, and how sure each score (p,) is beforehand."""

    scenario: Scenario
    foreteller: Foreteller
    space: Space
    spread: Array
    pulse: Pulse


def _searched(asked: Search, chosen: Sequence[str], prior: bool, forgiving: bool) -> Fit:
    scenario, foreteller, space, spread, pulse = asked
    sigma, values = sigmas(foreteller), np.array([one.value for one in foreteller.readings], dtype=float)
    weights = np.ones(len(sigma))

    def model(scores: Array) -> tuple[Array, Array]:
        pulse()
        seen, slopes = sloped(foreteller, space, scores)
        each = np.sqrt(weights) / sigma
        return (seen - values) * each, slopes * each[:, None]

    whole: Model = with_prior(model, np.zeros(len(spread)), spread)
    _check_readable(foreteller, model(np.zeros(len(spread)))[0])
    found = estimate(whole, list(_starts(len(spread))), *space.bounds, FINE)
    if forgiving:
        for _ in range(ROBUST_ROUNDS):
            before, misses = weights.copy(), found.residuals[: len(sigma)] / np.sqrt(weights)
            weights[:] = robust(misses, HUBER)
            if np.all(np.abs(weights - before) < SAME_WEIGHT):
                break
            found = estimate(whole, [found.values], *space.bounds, FINE)
    return Fit(scenario, foreteller, space, found, chosen, prior, weights.copy())


def _starts(count: int) -> Iterator[Array]:
    """Scores (count,) to search from: those of the file, and a few that are as likely."""
    yield np.zeros(count)
    even = points(8)[1:STARTS]
    for row in even:
        yield np.clip(scores_of(np.resize(row, count)), -1.0, 1.0)


def _chosen(scenario: Scenario, chosen: Sequence[str], names: Sequence[str]) -> list[str]:
    for name in chosen:
        if name not in names:
            raise Refusal(f"{scenario.source}: no uncertain number '{name}'{suggestion(name, names)}")
    return list(chosen) or list(names)


def _check_enough(scenario: Scenario, taken: Sequence[Reading], chosen: Sequence[str]) -> None:
    """A Refusal, with how many more are needed and which would tell most, where readings are too few."""
    lack = len(chosen) - len(taken)
    if lack > 0:
        from scenarios.gauged.plan import best_for  # only a refusal needs it

        which = best_for(scenario, chosen, taken)
        few = f"{len(chosen)} numbers from {len(taken)} reading{'s'[: len(taken) != 1]}"
        more = f"{lack} more {'is' if lack == 1 else 'are'} needed, best {which}"
        raise Refusal(f"{few}: {more}; or what the file says has to count")


def _check_readable(foreteller: Foreteller, residuals: Array) -> None:
    lost = np.flatnonzero(~np.isfinite(residuals))
    if lost.size:
        one = foreteller.readings[int(lost[0])]
        raise Refusal(
            f"{one.line}: {one.words}: the file's kart cannot stand so, and nothing can be compared"
        )


def _check_agree(taken: Sequence[Reading], uncertain: Sequence[Input]) -> None:
    """A Refusal where two readings of the same thing cannot both be right."""
    spreads = {one.name: one.uncertain.spread for one in uncertain}
    seen: dict[object, Reading] = {}
    for one in taken:
        key = one.what, one.where, one.setup, one.handwheel_deg, one.plate
        before = seen.setdefault(key, one)
        usual = spreads[one.where] if one.of_number else one.kind.spread
        sure = np.hypot(one.uncertainty or usual, before.uncertainty or usual)
        gap = abs(float(one.value or 0.0) - float(before.value or 0.0))
        if gap > APART * sure:
            unit = "" if one.of_number else one.kind.unit
            raise Refusal(
                f"{before.line} and {one.line} contradict each other: {one.words} was read as "
                f"{before.value:g} and as {one.value:g} {unit}; read it again"
            )
