"""What a change of setting does, against a base with everything else left alone.

Three ways of leaving the kart are worked out side by side: the tie rods left alone, the tie rods re-set to
the toe of the base, and put right altogether (spacers moved so that the front stands as high as before,
then toe re-set). Each is compared with the base figure by figure, column by column through lock, and in
load cases where a plug for the four-wheel figures is given.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from kinematics.change.rods import (
    RodTurns,
    SpacerMoves,
    rod_turns,
    spacer_moves,
    standing,
    straight_ahead,
    with_rods_kept,
    with_rods_reset,
    with_spacers_moved,
)
from kinematics.choose.targets import FourWheels
from kinematics.figures.columns import Column, Figure, columns, headline
from kinematics.frames import Array, dot
from kinematics.lock import CornerSweep, Mask, Sweep, mirrored_road, sweep
from kinematics.parts import Kart, Setting


@dataclass(frozen=True)
class Difference:
    """A figure (...) or a column (..., N) in the base and now; change is now less base.

    Where known is False one of the two has no value, and nothing may be shown.
    """

    name: str
    unit: str
    meaning: str
    base: Array
    now: Array
    known: Mask

    @property
    def change(self) -> Array:
        """Now less base; 0 where unknown."""
        return np.where(self.known, self.now - self.base, 0.0)


Differences = Mapping[str, Difference]


@dataclass(frozen=True)
class Variant:
    """The changed kart with its rods and spacers left one way, and how it differs from the base."""

    setting: Setting
    sweep: Sweep
    ahead: Sweep
    figures: Differences
    """Headline figures, and wheelbase, half track and height of each front wheel."""
    curves: Differences
    """Every column through lock."""
    cases: Mapping[str, Differences]
    """Per load case, the four-wheel figures through lock."""


@dataclass(frozen=True)
class BothRods:
    """What is done at the left and the right tie rod."""

    left: RodTurns
    right: RodTurns


@dataclass(frozen=True)
class Change:
    """A setting against a base: `kept` tie rods left alone, `reset` re-set, `right` with spacers as well."""

    base: Setting
    kept: Variant
    reset: Variant
    right: Variant
    rods: BothRods
    """Turns that put toe back, from the rods as they were, with the spacers where they are."""
    rods_after_spacers: BothRods
    """Turns that put toe back once the spacers have been moved."""
    spacers: SpacerMoves
    """Moves that put the height of the front back."""


def _places(ahead: Sweep) -> Iterator[Figure]:
    heights = standing(ahead)
    roads = (ahead.road, mirrored_road(ahead.road))
    corners: tuple[CornerSweep, CornerSweep] = (ahead.left, ahead.right)
    for side, corner, road, height in zip(("left", "right"), corners, roads, heights, strict=True):
        known, centre = corner.reach[..., 0], corner.wheel_centre[..., 0, :]
        rear = ahead.kart.rear_tyre.radius + np.asarray(ahead.setting.rear_axle_shift, float)
        along = dot(centre, road.heading) - rear * road.heading[..., 2]
        across = dot(centre, road.left)
        meaning = f"rear axle to {side} front wheel centre, along the road"
        yield Figure(f"wheelbase_{side}_mm", "mm", meaning, along, known)
        meaning = f"mid-plane to {side} front wheel centre"
        yield Figure(f"half_track_{side}_mm", "mm", meaning, across, known)
        meaning = f"{side} front support point above the frame's floor, + the frame stands lower there"
        yield Figure(f"wheel_height_{side}_mm", "mm", meaning, height, known)


def figures_ahead(full: Sweep, ahead: Sweep, toe_diameter: float) -> dict[str, Figure]:
    """Headline figures of a sweep, and where each front wheel stands; ahead is its sweep at angle 0."""
    return headline(full, ahead, toe_diameter) | {figure.name: figure for figure in _places(ahead)}


def _difference(before: Figure | Column, now: Figure | Column) -> Difference:
    was, value = (f.value if isinstance(f, Figure) else f.values for f in (before, now))
    was, value, known = np.broadcast_arrays(was, value, before.known & now.known)
    return Difference(now.name, now.unit, now.meaning, was, value, known)


def _differences(before: Mapping[str, Figure | Column], now: Mapping[str, Figure | Column]) -> Differences:
    return {name: _difference(before[name], now[name]) for name in now}


@dataclass(frozen=True)
class _Readings:
    """All that is read of one setting."""

    sweep: Sweep
    ahead: Sweep
    figures: Mapping[str, Figure]
    curves: Mapping[str, Column]
    cases: Mapping[str, Mapping[str, Column]]


def _read(
    kart: Kart, setting: Setting, handwheel: Array, toe_diameter: float, wheels: FourWheels | None
) -> _Readings:
    full, ahead = sweep(kart, setting, handwheel), straight_ahead(kart, setting)
    cases = {} if wheels is None else {case: wheels.of(case, full) for case in wheels.cases}
    figures = figures_ahead(full, ahead, toe_diameter)
    return _Readings(full, ahead, figures, columns(full, toe_diameter), cases)


def _against(before: _Readings, now: _Readings) -> Variant:
    return Variant(
        now.sweep.setting,
        now.sweep,
        now.ahead,
        _differences(before.figures, now.figures),
        _differences(before.curves, now.curves),
        {case: _differences(before.cases[case], found) for case, found in now.cases.items()},
    )


def _rods(kart: Kart, kept: Setting, reset: Setting, pitch: float) -> BothRods:
    was, now = straight_ahead(kart, kept), straight_ahead(kart, reset)
    return BothRods(rod_turns(was.left, now.left, pitch), rod_turns(was.right, now.right, pitch))


def change(
    kart: Kart,
    base: Setting,
    setting: Setting,
    handwheel: npt.ArrayLike,
    toe_diameter: float,
    pitch: float,
    wheels: FourWheels | None = None,
) -> Change:
    """What fitting a setting (of any batch shape) instead of the base (one setting) does to the kart.

    handwheel (N,) in rad, + left, are the lock positions of the curves; toe_diameter in mm is where toe in
    mm is read; pitch in mm is that of the tie rods' threads. The tie rods of the base are the start of all
    turns; a toe that the setting names is the one they are re-set to, otherwise the base's own toe is. For
    corner weights straight ahead let handwheel hold 0.
    """
    theta = np.atleast_1d(np.asarray(handwheel, float))
    kept = with_rods_kept(kart, base, setting)
    reset = with_rods_reset(kart, base, setting)
    spacers = spacer_moves(kart, base, reset)
    moved_kept, moved_reset = (with_spacers_moved(s, spacers.left, spacers.right) for s in (kept, reset))
    before = _read(kart, base, theta, toe_diameter, wheels)

    def variant(fitted: Setting) -> Variant:
        return _against(before, _read(kart, fitted, theta, toe_diameter, wheels))

    return Change(
        base,
        variant(kept),
        variant(reset),
        variant(moved_reset),
        _rods(kart, kept, reset, pitch),
        _rods(kart, moved_kept, moved_reset, pitch),
        spacers,
    )
