"""Which clocks of two given bushes give a wanted caster at one corner, and what each pair of clocks does."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from math import degrees

from kinematics.change.rods import with_rods_kept
from kinematics.choose.box import row_of, with_row
from kinematics.corner.inverse import Range
from kinematics.frames import Array, Road, mirrored_road
from kinematics.lock import Sweep, sweep, with_rod
from kinematics.parts import Setting
from kinematics.rest import rest
from scenarios import Scenario
from scenarios.ask.pair import Angles, Pair, Reach
from scenarios.ask.run import check_stands
from scenarios.errors import Refusal, ScenarioError
from scenarios.kit import PLACES, SIDES, Bush, Kit, Size, called, can_stand, holds, pair, size_in, stock, work
from scenarios.ranges import RANGES
from scenarios.units import bush_offset

NEAR_DEG = 0.1
"""A caster missed by no more is not worth another inclination."""
"""Angles asked for stay within this; no kingpin leans further."""


@dataclass(frozen=True)
class Answer:
    """Two bushes at their clocks, and what the corner shows with them straight ahead, deg."""

    setting: Setting
    """The tie rods re-set to the toe of now."""
    bushes: tuple[Bush, Bush]
    """Top and bottom."""
    caster: float
    inclination: float
    camber: float | None
    """None where no length of the rod gives the toe of now."""
    toe_alone: float | None
    """Toe of the wheel before the rod is turned, + toe-in; None where the rod does not reach."""


@dataclass(frozen=True)
class Clocks:
    """A question about clocks, answered."""

    scenario: Scenario
    present: str
    side: str
    asked: Angles
    """The inclination asked for, or that of now."""
    kept: bool
    """Whether the inclination is that of now."""
    sizes: tuple[Size, Size]
    exact: bool
    """Whether both angles are had."""
    together: bool
    """Whether any clock does, as long as both bushes stand at it."""
    now: Answer
    answers: Sequence[Answer]
    """Exact; or the nearest: with the caster asked for, where the inclination of now was only to be kept."""
    on_step: Sequence[Answer]
    """The nearest on the kit's clock step; none where the answers stand on it, or clocks turn freely."""
    reach: Reach | None
    """What can be had instead; None where both angles are had."""

    @property
    def fitting(self) -> dict[int, Answer]:
        """Those that the kit's clock step allows, by number: answers come first, from 1."""
        every = enumerate((*self.answers, *self.on_step), 1)
        return {number: answer for number, answer in every if _fits(self.scenario.kit, answer)}

    @property
    def lacking(self) -> list[str]:
        """A line for each of the two bushes that the kit lacks."""
        places = zip(PLACES, self.sizes, strict=True)
        lacks = ((place, size) for place, size in places if stock(self.scenario.kit, size) == 0)
        return [f"{self.side} {place} bush of {size} is not in the kit" for place, size in lacks]


def _fits(kit: Kit, answer: Answer) -> bool:
    return all(can_stand(kit, bush) for bush in answer.bushes)


def clocks(
    scenario: Scenario,
    present: str,
    side: str,
    bushes: Sequence[Mapping[str, float]],
    caster: float,
    inclination: float | None = None,
) -> Clocks:
    """Find the clocks of two bushes, top and bottom, at one side of the present setting.

    A bush is a size under the key of a kit's bush; angles are in deg to the road straight ahead. Without an
    inclination that of now is kept where it can be.
    """
    check_stands(scenario, present)
    yoke, base = getattr(scenario.kart, side).yoke, scenario.settings[present]
    own = [_size(scenario, side, *bush) for bush in zip(PLACES, bushes, strict=True)]
    words = tuple(size for size in own if holds(size, scenario.kart.left.yoke.span))
    scenario = replace(scenario, kit=replace(scenario.kit, others=(*scenario.kit.others, *words)))
    top, bottom = (called(scenario.kit, size.offset) for size in own)
    ahead = sweep(scenario.kart, base, 0.0)
    [now] = _answers(scenario.kit, ahead, side, row_of(getattr(base, side))[None])
    asked = (caster, now.inclination if inclination is None else inclination)
    _check((top, bottom), asked)
    two = Pair(yoke, _facing(ahead.road, side), _standing(ahead, side), top.offset, bottom.offset)
    found = two.found(asked)
    kept, exact, together = inclination is None, bool(found.reach.all()), bool(found.together.all())
    reach = None if exact else two.reach(asked)
    others = reach.inclination if kept and reach is not None else []
    answers, stepped = _solved(scenario.kit, ahead, side, two, asked, others)
    question = (scenario, present, side, asked, kept, (top, bottom))
    return Clocks(*question, exact, together, now, answers, stepped, reach)


def _solved(
    kit: Kit, ahead: Sweep, side: str, two: Pair, asked: Angles, others: Sequence[Range]
) -> tuple[list[Answer], list[Answer]]:
    """The answers, and the nearest on the kit's step; others are inclinations that may be had instead."""
    axes = [asked]
    answers = _answers(kit, ahead, side, two.rows(axes))
    if others and abs(answers[0].caster - asked[0]) > NEAR_DEG:
        axes = [(asked[0], min(ends, key=lambda end: abs(end - asked[1]))) for ends in others]
        answers = _answers(kit, ahead, side, two.rows(axes))
    if all(_fits(kit, answer) for answer in answers) or not kit.clock_step_deg:
        return answers, []
    rows = two.stepped(axes, kit.clock_step_deg, len(answers))
    found = (one for one in _answers(kit, ahead, side, rows) if _fits(kit, one))
    return answers, [one for one in found if not _among(one, answers)]


def _size(scenario: Scenario, side: str, place: str, keys: Mapping[str, float]) -> Size:
    """A size as typed; refused where the yoke does not take it."""
    yoke = getattr(scenario.kart, side).yoke
    try:
        bush_offset(yoke, keys.get("rated_deg"), keys.get("offset_mm"), f"{side}.{place}")
    except ScenarioError as error:
        raise Refusal(f"{scenario.source}: {error}") from None
    return size_in(keys, yoke.span)


def _check(sizes: Sequence[Size], asked: Angles) -> None:
    for name, angle in zip(("caster", "inclination"), asked, strict=True):
        RANGES[f"--{name}"].checked(angle, f"--{name}", "deg")
    if all(size.centred for size in sizes):
        raise Refusal("two concentric bushes have no clocks: the axis stays the yoke's own")


def _among(one: Answer, answers: Sequence[Answer]) -> bool:
    pairs = (zip(one.bushes, other.bushes, strict=True) for other in answers)
    return any(all(work(was, now) == "leave" for was, now in bushes) for bushes in pairs)


def _answers(kit: Kit, ahead: Sweep, side: str, rows: Array) -> list[Answer]:
    """The corner with each of the bush pairs (n, 4) in place of its own; ahead is the setting of now at 0."""
    fitted, reset = _with_row(ahead.setting, side, rows), _reset(ahead, side, rows)
    alone, done = (getattr(sweep(ahead.kart, s, 0.0), side) for s in (with_rods_kept(ahead, fitted), reset))
    return [
        Answer(
            _with_row(reset, side, row),
            pair(kit, row),
            degrees(done.caster[i]),
            degrees(done.kingpin_inclination[i]),
            degrees(done.ahead[i, 1]) if done.reach[i, 0] else None,
            degrees(alone.ahead[i, 2]) if alone.reach[i, 0] else None,
        )
        for i, row in enumerate(rows)
    ]


def _reset(ahead: Sweep, side: str, rows: Array) -> Setting:
    """The setting of now with bush pairs (n, 4) at one side and its tie rods re-set to the toe of now."""
    toes = (float(getattr(ahead, one).ahead[..., 2]) for one in SIDES)
    return with_rod(_with_row(ahead.setting, side, rows), *toes)


def _standing(ahead: Sweep, side: str) -> Callable[[Array], Road]:
    """The roads (n, 3) on which the kart stands with each of the bush pairs (n, 4) at one side."""
    return lambda rows: _facing(rest(ahead.kart, _reset(ahead, side, rows)).road, side)


def _facing(road: Road, side: str) -> Road:
    return road if side == "left" else mirrored_road(road)


def _with_row(setting: Setting, side: str, rows: Array) -> Setting:
    corner = with_row(getattr(setting, side), rows)
    return replace(setting, left=corner) if side == "left" else replace(setting, right=corner)
