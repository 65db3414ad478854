"""Figures read off what is solved: all of a group at once, or any addresses of a batch of settings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Protocol

import numpy as np

from kinematics.figures import catalog
from kinematics.figures.figure import Address, Given, Group, Numbers, Of, by_name, each
from kinematics.figures.kart import NEAR_BOTH_WAYS
from kinematics.figures.standing import Standing
from kinematics.figures.turn import Part, Turns, part_of, turns
from kinematics.figures.turning import Pulse, silent
from kinematics.figures.wheel import ThroughLock
from kinematics.frames import Array, Mask
from kinematics.lock import Sweep, positions, sweep
from kinematics.parts import Kart, LoadCase, Setting

Values = tuple[Array, Mask]
GIVEN = Given()


class Source(Protocol):
    """What figures are read off; known(side) says where it has a value."""

    def known(self, side: str) -> Mask:
        """Where there is a value, of this side where the figure has sides."""


def values(address: Address, source: Source) -> Values:
    """The values of a figure and where they are known."""
    figure, side = address.figure, address.side
    if figure.where is None:
        known = source.known(side)
    else:
        there = figure.where(source, side)
        known = there if figure.its_own else source.known(side) & there
    return figure.read(source, side), known


def _numbers(group: Group, source: Source, given: Given) -> list[Numbers]:
    return [Numbers(one, one.said(given), *values(one, source)) for one in each(group)]


def columns(swept: Sweep, given: Given = GIVEN) -> dict[str, Numbers]:
    """Every column of a sweep by name, (..., N), in table order."""
    return by_name(_numbers(catalog.THROUGH_LOCK, ThroughLock(swept, given), given))


def headline(swept: Sweep, given: Given = GIVEN) -> dict[str, Numbers]:
    """Headline figures (...) by name, straight ahead; the sweep's first position is handwheel angle 0."""
    return _ahead(catalog.HEADLINE, swept, given)


def places(swept: Sweep, given: Given = GIVEN) -> dict[str, Numbers]:
    """Where the front wheels stand (...); the first position of the sweep is handwheel angle 0."""
    return _ahead(catalog.PLACES, swept, given)


def _ahead(group: Group, swept: Sweep, given: Given) -> dict[str, Numbers]:
    source = ThroughLock(positions(swept, slice(0, 1)), given)

    def first(numbers: Numbers) -> Numbers:
        if numbers.address.figure.of is Of.LOCK:
            return numbers.first(catalog.straight(numbers.address, given))
        return replace(numbers, known=_first((numbers.values, numbers.known))[1])

    return by_name(first(numbers) for numbers in _numbers(group, source, given))


def jacking(near: Sweep, given: Given = GIVEN) -> dict[str, Numbers]:
    """How fast a rigid kart's inside rear rises near straight ahead, each way; near is at NEAR_BOTH_WAYS."""
    return by_name(_numbers(catalog.NEAR, ThroughLock(near, given), given))


def in_case(standing: Standing) -> dict[str, Numbers]:
    """Every column of a load case by name, (..., N)."""
    return by_name(_numbers(catalog.IN_CASE, standing, standing.given))


def of_turn(turned: Turns, case: LoadCase, given: Given = GIVEN) -> dict[str, Numbers]:
    """Every headline figure of a load case by name, (...)."""
    return by_name(_numbers(catalog.OF_TURN, turned.of(case), given))


def read(
    kart: Kart,
    setting: Setting,
    addresses: Sequence[Address],
    cases: Mapping[str, LoadCase],
    given: Given = GIVEN,
    coarse: bool = False,
    pulse: Pulse = silent,
) -> list[Values]:
    """Values (...) of any figures of a setting, or of a batch, in their order; only what they need is solved.

    cases are the load cases by name. A figure that is sure to have no value is inf there and not known.
    coarse reads what needs a whole turn off a few lock positions, to rank candidates by. pulse is called as
    load cases of turns are stood.
    """
    found: dict[Address, Values] = {}
    still = [one for one in addresses if one.figure.of in (Of.LOCK, Of.AHEAD, Of.NEAR, Of.CASE)]
    if still:
        found |= _at_locks(kart, setting, still, cases, given)
    found |= _of_turns(kart, setting, [one for one in addresses if one not in found], cases, coarse, pulse)
    return [found[one] for one in addresses]


def _at_locks(
    kart: Kart,
    setting: Setting,
    addresses: Sequence[Address],
    cases: Mapping[str, LoadCase],
    given: Given,
) -> dict[Address, Values]:
    near = [one for one in addresses if one.figure.of is Of.NEAR]
    locks = np.array(sorted({one.lock or 0.0 for one in addresses if one.figure.of is not Of.NEAR}))
    swept = sweep(kart, setting, np.concatenate([locks, NEAR_BOTH_WAYS if near else []]))
    there = positions(swept, slice(0, locks.size))
    sources: dict[str | None, Source] = {None: ThroughLock(there, given)}
    at: dict[str | None, Array] = {None: locks}
    for name in {one.case for one in addresses if one.case is not None}:
        # A case is stood only where it is asked for: of all locks together that is a few.
        at[name] = np.array(sorted({one.lock or 0.0 for one in addresses if one.case == name}))
        own = positions(there, np.searchsorted(locks, at[name]))
        sources[name] = Standing(own, cases[name], given)
    close = ThroughLock(positions(swept, slice(locks.size, None)), given)
    straight = int(np.searchsorted(locks, 0.0)) if 0.0 in locks else 0
    ahead = ThroughLock(positions(there, slice(straight, straight + 1)), given)
    found: dict[Address, Values] = {}
    for one in addresses:
        if one.figure.of is Of.NEAR:
            found[one] = values(one, close)
        elif one.figure.of is Of.AHEAD:
            found[one] = _first(values(one, ahead))
        else:
            place = int(np.searchsorted(at[one.case], one.lock or 0.0))
            found[one] = _at(values(one, sources[one.case]), place)
    return found


def _first(ahead: Values) -> Values:
    """A figure of the kart straight ahead: its values have no lock position, their mask may have one."""
    numbers, known = ahead
    return numbers, known[..., 0] if known.ndim > numbers.ndim else known


def _at(through: Values, place: int) -> Values:
    """The values at one lock position."""
    numbers, known = through
    return numbers[..., place], np.broadcast_to(known, numbers.shape)[..., place]


def _of_turns(
    kart: Kart,
    setting: Setting,
    addresses: Sequence[Address],
    cases: Mapping[str, LoadCase],
    coarse: bool,
    pulse: Pulse,
) -> dict[Address, Values]:
    found: dict[Address, Values] = {}
    for some in _rounds(addresses):
        asked: dict[LoadCase, list[Part]] = {}
        for one in some:
            asked.setdefault(cases[str(one.case)], []).append(part_of(one))
        locks = {cases[str(one.case)]: one.lock for one in some if one.lock is not None}
        turned = turns(kart, setting, asked, locks, coarse, pulse)
        found |= {one: values(one, turned.of(cases[str(one.case)])) for one in some}
    return found


def _rounds(addresses: Sequence[Address]) -> list[list[Address]]:
    """The addresses in rounds, in each of which a case is read at one lock."""
    rounds: list[tuple[dict[str | None, float], list[Address]]] = []
    for one in addresses:
        for locks, some in rounds:
            if one.lock is None or locks.setdefault(one.case, one.lock) == one.lock:
                some.append(one)
                break
        else:
            rounds.append(({} if one.lock is None else {one.case: one.lock}, [one]))
    return [some for _, some in rounds]
