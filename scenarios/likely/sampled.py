"""A scenario as many karts at once: what it may be, as sure as its numbers are."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from copy import deepcopy
from dataclasses import dataclass, replace
from math import inf, radians
from typing import Any

import numpy as np

from kinematics.drive.rear_axle import AxleGrip
from kinematics.figures.figure import Given
from kinematics.frames import Array, Number
from kinematics.parts import FLATTEST_CROWN, CornerSetting, Kart, Setting
from kinematics.tolerance.points import points, strewn
from kinematics.tolerance.uncertain import drawn, scores
from scenarios import build
from scenarios.errors import refusing
from scenarios.kit import SIDES, Kit, bushes
from scenarios.likely.together import tied
from scenarios.records import Scenario
from scenarios.sure.lean import lean
from scenarios.sure.places import Where, other_side, value_at
from scenarios.sure.stated import Input, inputs
from scenarios.sure.usual import BUSH_CLOCK_DEG, BUSH_SIZE
from scenarios.sure.ways import TOGETHER

Tables = dict[str, Any]
SAMPLES = 512
CROWN, WIDTH = "crown_radius_mm", "tread_width_mm"
WITHIN = 0.01
"""A centre of gravity that is drawn keeps this share of wheelbase and track away from the wheels."""


@dataclass(frozen=True)
class Sampled:
    """So many karts, each as likely as any other, with what their figures take for granted."""

    scenario: Scenario
    kart: Kart
    """Its uncertain numbers are (n,), its uncertain points (n, 3)."""
    given: Given
    inputs: tuple[Input, ...]
    values: Array
    """(n, d) of the inputs, each in its own unit."""
    turned: bool
    """Whether the sides are changed over in the draw."""
    shared: tuple[Input | None, ...]
    """Of each input that of the kart beside which it is drawn, where they are one number."""

    @property
    def count(self) -> int:
        """How many karts."""
        return len(self.values)


def leaning(scenario: Scenario, settings: Iterable[Setting] = ()) -> int:
    """To which side a scenario leans (`lean`) with settings on it, that of the measuring before all."""
    measured = scenario.resolved.get(build.MEASURED)
    return lean(scenario.resolved, [*([scenario.settings[measured]] if measured else []), *settings])


def sampled(
    scenario: Scenario, count: int = SAMPLES, turned: bool = False, beside: Sampled | None = None
) -> Sampled:
    """A scenario drawn so many times (best a power of two), the same every time.

    Number n of the draw is the same kart whatever other numbers are uncertain; turned is whether the sides
    are changed over in it, as is done where kart and settings lean to the right. Beside another kart a number
    of the same value, of which the same is said, is that kart's number; any other is drawn independently.
    """
    tables, uncertain, even = deepcopy(scenario.resolved), inputs(scenario.resolved, turned), points(count)
    shared = _shared(uncertain, () if beside is None else beside.inputs)
    values, shares = np.empty((2, count, len(uncertain)))
    for at, (one, same) in enumerate(zip(uncertain, shared, strict=True)):
        shares[:, at] = _shares(even, one, same, beside is not None)
    if pairs := scenario.resolved.get("sure", {}).get(TOGETHER):
        shares = tied(shares, uncertain, pairs)
    for at, one in enumerate(uncertain):
        values[:, at] = drawn(one.uncertain, shares[:, at], *_bounds(tables, one.places[0]))
        for place in one.places:
            put(tables, place, values[:, at])
    with refusing(f"{scenario.source}: [sure] allows a kart that there cannot be"):
        kart = build.kart(tables)
        if name := tables.get(build.MEASURED):
            kart = build.reckoned(kart, fitted(scenario.settings[name], scenario.kit, count, turned).setting)
    return Sampled(scenario, kart, given_of(scenario, tables), uncertain, values, turned, shared)


def _shares(even: Array, one: Input, same: Input | None, apart: bool) -> Array:
    """The shares (n,) of a number out of even points (n, d), or, of its own, of another kart's number."""
    share = even[:, (same or one).column]
    if apart and same is None:
        share = strewn(len(even), f"number {one.column} of another kart")
    return 1.0 - share if one.reflected else share


def _shared(uncertain: Sequence[Input], others: Sequence[Input]) -> tuple[Input | None, ...]:
    """Of each input the one among others that is the same number: at its place, alike in value and statement.

    None where that would be the same number as another input's too.
    """
    found = [[other for other in others if _one_number(one, other)] for one in uncertain]
    taken = Counter(id(other) for same in found for other in same)
    return tuple(same[0] if len(same) == 1 and taken[id(same[0])] == 1 else None for same in found)


def _one_number(one: Input, other: Input) -> bool:
    at_one_place = not set(one.places).isdisjoint(other.places)
    return at_one_place and (one.uncertain, one.how) == (other.uncertain, other.how)


def _bounds(tables: Tables, where: Where) -> tuple[Number, Number]:
    """What other numbers leave to one: a tread to its crown, axles and wheels to the centre of gravity."""
    key, kart = where[-1], tables["kart"]
    if key == CROWN:
        width = np.asarray(value_at(tables, (*where[:-1], WIDTH)))
        return 0.5 * width, np.where(width > 0.0, FLATTEST_CROWN * width, inf)
    if key == "cog_x_mm":
        return WITHIN * kart["wheelbase_mm"], (1.0 - WITHIN) * kart["wheelbase_mm"]
    if key == "cog_y_mm":
        half = (0.5 - WITHIN) * np.minimum(tables["front"]["track_mm"], tables["rear"]["track_mm"])
        return -half, half
    return -inf, inf


def put(tables: Tables, where: Where, numbers: Array) -> None:
    """Write numbers (n,) to a place of resolved tables."""
    *way, last = where
    table: Any = tables
    for part in way:
        table = table[part]
    table[last] = numbers


def given_of(scenario: Scenario, tables: Tables) -> Given:
    """What figures take for granted of karts with these resolved tables."""
    axle = tables["rear_axle"]
    grip = AxleGrip(axle["friction_ratio"], axle["longitudinal_stiffness_n_per_n"])
    return replace(scenario.given, pneumatic_trail=tables["pneumatic_trail_mm"], grip=grip)


@dataclass(frozen=True)
class Fitted:
    """A setting as it may come to be fitted: each bush a little off its size and its clock."""

    setting: Setting
    """Of the batch shape (n,) where a bush is off centre."""
    errors: dict[str, Array]
    """Standard scores (n,) of what is off, by name."""


def fitted(setting: Setting, kit: Kit, count: int, turned: bool = False) -> Fitted:
    """A setting of one number each, so many times over; its bushes are called as the kit does.

    turned is whether the sides' errors are changed over.

    A bush that two settings share is off alike in both, so that it cancels; one that is turned or swapped is
    set anew.
    """
    errors: dict[str, Array] = {}

    def score(name: str) -> Array:
        own = other_side(name) if turned else name
        return errors.setdefault(name, scores(strewn(count, own)))

    return Fitted(fitted_off(setting, kit, score), errors)


def fitted_off(setting: Setting, kit: Kit, score: Callable[[str], Array]) -> Setting:
    """A setting whose bushes are off their size and their clock by standard scores (n,), asked for by
    name."""
    corners: dict[str, CornerSetting] = {side: getattr(setting, side) for side in SIDES}
    for (side, place), bush in bushes(kit, setting).items():
        if not bush.size.centred:
            size = score(f"{side} {place} bush {bush.size}: size")
            turn = score(f"{side} {place} bush {bush}: clock")
            corners[side] = replace(corners[side], **_off(corners[side], place, size, turn))
    return replace(setting, left=corners["left"], right=corners["right"])


def _off(corner: CornerSetting, place: str, size: Array, turn: Array) -> dict[str, Array]:
    """A corner's bush off its size and its clock by these standard scores (n,)."""
    offset, clock = f"{place}_offset", f"{place}_clock"
    return {
        offset: getattr(corner, offset) * np.exp(BUSH_SIZE * size),
        clock: getattr(corner, clock) + radians(BUSH_CLOCK_DEG) * turn,
    }


def columns_of(karts: Sequence[Sampled], errors: Sequence[dict[str, Array]]) -> tuple[list[str], Array]:
    """Every uncertain number of karts and settings by name, and its samples (n, d).

    A number that two karts share stands once; one that each has of its own is told apart by its kart.
    """
    found: dict[str, Array] = {}
    for some in {id(kart): kart for kart in karts}.values():
        for one, same, values in zip(some.inputs, some.shared, some.values.T, strict=True):
            if same is None:
                found[f"{one.name} of {some.scenario.source}" if one.name in found else one.name] = values
    found |= {name: score for some in errors for name, score in some.items()}
    return list(found), np.column_stack(list(found.values()))
