"""What is wanted of a setting: figures by name, each with a range, a weight and a natural scale.

A figure is a headline figure, a column at a lock position, a four-wheel figure at a lock position and in a
load case, or what a load case shows of a whole turn. Names, units and the values targets are given in are
those of `columns` and `case_figures` (degrees, mm); handwheel angles are in rad. "As now but a tenth less" is
for the caller to resolve against the base.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from math import degrees, inf, isinf, isnan

import numpy as np
import numpy.typing as npt

from kinematics.figures.columns import Column, columns, headline
from kinematics.figures.turn import AT_LOCK, JACKING, LIFT_OFF, WHOLE_TURN
from kinematics.frames import Array
from kinematics.lock import Sweep, sweep
from kinematics.parts import REFERENCE, Kart, LoadCase

Mask = npt.NDArray[np.bool_]

NATURAL_SCALES: dict[str, float] = {
    "caster_trail": 0.5,
    "caster": 0.1,
    "kingpin_inclination": 0.1,
    "camber": 0.1,
    "steer": 0.2,
    "toe_total_mm": 0.5,
    "toe": 0.05,
    "wheel_drop": 0.2,
    "scrub": 0.5,
    "rod_length": 0.2,
    "ackermann": 2.0,
    "path_radius": 0.1,
    "rigid_inside_rear_lift": 0.5,
    "binds": 1.0,
    "lift_off_handwheel": 0.5,
    "lift_off_steer": 0.2,
    "least_inside_rear_load_at": 1.0,
}
"""Smallest difference worth a mechanic's work, by the start of a figure's name and in its unit: about what
a careful workshop reads off its gauges (a choice, no source)."""
UNIT_SCALES = {"deg": 0.1, "mm": 0.5, "N": 5.0, "n": 5.0, "nm": 0.2, "percent": 0.5, "g": 0.02, "m": 0.1}
"""The same by unit, for figures that the first table does not name."""
RATE_SCALES = {"_mm_per_deg": 0.02, "_n_per_deg": 0.1}
"""The same for rates, whose unit has more than one word."""


@dataclass(frozen=True)
class Figure:
    """Which figure: its name, the lock position in rad (None: of no one position) and the load case."""

    name: str
    handwheel: float | None = None
    case: str | None = None

    def __str__(self) -> str:
        at = "" if self.handwheel is None else f" at handwheel {degrees(self.handwheel):g} deg"
        return f"{self.name}{at}{'' if self.case is None else f' in {self.case}'}"

    @property
    def stands_at(self) -> float:
        """Handwheel angle, rad, at which the linkages must stand for it; a turn in its name has its side."""
        lock = self.handwheel or 0.0
        return -lock if self.name in AT_LOCK and "_right_" in self.name else lock

    @property
    def of_turn(self) -> bool:
        """Whether a load case's whole turn, or one of its sides by name, is what it is read off."""
        return self.name in WHOLE_TURN or self.name in AT_LOCK


def natural_scale(name: str) -> float:
    """Smallest difference of the named figure worth the work, in the unit its name ends in."""
    for ending, scale in RATE_SCALES.items():
        if name.endswith(ending):
            return scale
    for start, scale in NATURAL_SCALES.items():
        if name.startswith(start):
            return scale
    return UNIT_SCALES.get(name.rsplit("_", 1)[-1], 1.0)


@dataclass(frozen=True)
class Target:
    """A figure and the range in which it is wanted, in the figure's own unit; low = high is a value.

    -inf or inf leaves a side open. weight says how much a miss of one scale counts; scale defaults to the
    figure's natural one. or_none counts a wheel that is sure to stay down as met: it has no lift-off.
    """

    figure: Figure
    low: float
    high: float
    weight: float = 1.0
    scale: float = field(default=0.0)
    or_none: bool = False

    def __post_init__(self) -> None:
        if isnan(self.low) or isnan(self.high) or self.low == inf or self.high == -inf:
            raise ValueError(f"{self.figure}: the range {self.low:g} to {self.high:g} holds no number")
        if self.low > self.high:
            raise ValueError(f"{self.figure}: impossible range, {self.low:g} is above {self.high:g}")
        if not 0.0 < self.weight < inf:
            raise ValueError(f"{self.figure}: weight must be above 0, not {self.weight:g}")
        if self.or_none and self.figure.name not in LIFT_OFF:
            raise ValueError(f"{self.figure}: only a figure of lift-off may be wanted with 'or none'")
        if self.scale == 0.0:
            object.__setattr__(self, "scale", natural_scale(self.figure.name))
        if not 0.0 < self.scale < inf:
            raise ValueError(f"{self.figure}: scale must be above 0, not {self.scale:g}")

    @property
    def tolerance(self) -> float:
        """A miss up to this counts as reached: the scale for a value, rounding for a range."""
        return self.scale if self.low == self.high else 1e-9 * max(1.0, self.scale)

    def __str__(self) -> str:
        return f"{self._range()} or none" if self.or_none else self._range()

    def _range(self) -> str:
        if self.low == self.high:
            return f"{self.figure} = {self.low:g}"
        if isinf(self.low) and isinf(self.high):
            return f"{self.figure} at any value"
        if isinf(self.low):
            return f"{self.figure} at most {self.high:g}"
        if isinf(self.high):
            return f"{self.figure} at least {self.low:g}"
        return f"{self.figure} in {self.low:g} to {self.high:g}"


@dataclass(frozen=True)
class FourWheels:
    """The plug for figures that need the kart on its wheels: the cases, and how their figures are had.

    of(case, sweep) gives the figures of a load case as columns (..., N) of the sweep, by name. load_cases are
    those of which figures of a whole turn can be had.
    """

    cases: tuple[str, ...]
    names: tuple[str, ...]
    of: Callable[[str, Sweep], Mapping[str, Column]]
    load_cases: tuple[LoadCase, ...] = ()


@dataclass(frozen=True)
class Catalog:
    """Every figure that can be aimed at."""

    headline: frozenset[str]
    at_lock: frozenset[str]
    in_case: frozenset[str] = frozenset()
    cases: frozenset[str] = frozenset()
    of_turn: frozenset[str] = frozenset()


def catalog(kart: Kart, toe_diameter: float, four_wheels: FourWheels | None = None) -> Catalog:
    """The figures of a kart, read off one sweep, so that a new column needs no second list."""
    ahead = sweep(kart, REFERENCE, 0.0)
    heads, locks = headline(ahead, ahead, toe_diameter), columns(ahead, toe_diameter)
    lock_names, head_names = frozenset(locks) - {"handwheel_deg"}, frozenset({*heads, *JACKING})
    if four_wheels is None:
        return Catalog(head_names, lock_names)
    of_turn = frozenset({*WHOLE_TURN, *AT_LOCK} if four_wheels.load_cases else ())
    return Catalog(
        head_names, lock_names, frozenset(four_wheels.names), frozenset(four_wheels.cases), of_turn
    )


def nearest_names(name: str, known: Sequence[str] | frozenset[str]) -> str:
    """The known names most like a mistaken one, as the end of a message; '' when none is like it."""
    close = get_close_matches(name, sorted(known), n=3, cutoff=0.4)
    return f"; did you mean {' or '.join(close)}?" if close else ""


def check_figure(figure: Figure, known: Catalog, stop: float) -> None:
    """Refuse a figure that does not exist, lacks its lock position or lies beyond the stop (rad)."""
    name, lock, case = figure.name, figure.handwheel, figure.case
    everything = known.headline | known.at_lock | known.in_case | known.of_turn
    if case is not None and not known.cases:
        raise ValueError(f"{figure}: no load cases are given")
    if name not in everything:
        raise ValueError(f"unknown figure {name!r}{nearest_names(name, everything)}")
    if case is not None and case not in known.cases:
        raise ValueError(f"{name}: unknown load case {case!r}{nearest_names(case, known.cases)}")
    if name in known.of_turn:
        _check_of_turn(figure)
    elif name in known.in_case and name not in known.at_lock and case is None:
        raise ValueError(f"{name} is a four-wheel figure: name the load case in which it is wanted")
    if case is not None and name not in known.in_case | known.of_turn:
        raise ValueError(f"{name} does not depend on a load case: leave {case!r} out")
    if lock is None and name not in WHOLE_TURN and (case is not None or name not in known.headline):
        raise ValueError(f"{name} is read at a lock position: give a handwheel angle")
    if lock is not None and case is None and name not in known.at_lock:
        raise ValueError(f"{name} does not change through lock: leave the handwheel angle out")
    if lock is not None and not abs(lock) <= stop * (1.0 + 1e-9):
        raise ValueError(f"{figure} is beyond the stop at {degrees(stop):g} deg")


def _check_of_turn(figure: Figure) -> None:
    name, lock = figure.name, figure.handwheel
    if figure.case is None:
        raise ValueError(f"{name} is a figure of a load case: name the load case in which it is wanted")
    if lock is not None and name in WHOLE_TURN:
        raise ValueError(f"{name} is read off a whole turn: leave the handwheel angle out")
    if lock is not None and lock < 0.0:
        raise ValueError(f"{name} names its turn: give the handwheel angle without a sign")


def check_targets(targets: Sequence[Target], known: Catalog, stop: float) -> None:
    """Refuse an empty list, unknown figures and two ranges of one figure that have nothing in common."""
    if not targets:
        raise ValueError("no targets are given: name at least one figure and its range")
    lows: dict[Figure, float] = {}
    highs: dict[Figure, float] = {}
    for target in targets:
        check_figure(target.figure, known, stop)
        figure = target.figure
        if figure.handwheel is None and figure.name in known.at_lock:
            figure = replace(figure, handwheel=0.0)  # a headline figure is the column straight ahead
        low = lows[figure] = max(target.low, lows.get(figure, -inf))
        high = highs[figure] = min(target.high, highs.get(figure, inf))
        if low > high:
            raise ValueError(f"contradictory targets: {target.figure} at least {low:g} and at most {high:g}")


def misses(targets: Sequence[Target], values: Array, known: Mask) -> Array:
    """How far values (..., targets) lie outside each range, in its unit; inf where there is no value.

    A value of inf that is not known says that there is sure to be none, which a target may count as met.
    """
    low, high = (np.array([getattr(t, end) for t in targets]) for end in ("low", "high"))
    none = np.isposinf(values) & ~known
    finite = np.where(none, 0.0, values)
    outside = np.maximum(np.maximum(low - finite, finite - high), 0.0)
    met_without = none & np.array([t.or_none for t in targets], dtype=bool)
    missed: Array = np.where(known, outside, np.where(met_without, 0.0, np.inf))
    return missed


def fit(targets: Sequence[Target], missed: Array) -> Array:
    """One number for misses (..., targets): their weighted root mean square in scales; 0 is all met."""
    weight = np.array([t.weight for t in targets])
    share = np.sqrt(weight / weight.sum()) / np.array([t.scale for t in targets])
    total: Array = np.sqrt(np.square(missed * share).sum(axis=-1))
    return total


def reached(targets: Sequence[Target], missed: Array) -> Mask:
    """Whether every target is met within its tolerance: (..., targets) -> (...)."""
    return np.asarray(np.all(missed <= np.array([t.tolerance for t in targets]), axis=-1))
