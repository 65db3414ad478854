"""The clocks of two bushes for a wanted caster, as plain text."""

from __future__ import annotations

from collections.abc import Sequence

from kinematics.corner.inverse import Range
from kinematics.figures.wheel import CASTER
from scenarios.ask.clocks import NEAR_DEG, Answer, Clocks
from scenarios.ask.pair import Reach
from viz.tables.grid import Grid, GridColumn, layout
from viz.words.numbers import number
from viz.words.width import filled

HEAD = ("#", "top", "bottom", "caster", "inclin.", "camber", "toe")
LEGEND = (
    "Straight ahead, deg; caster and inclination to the road. camber: with toe set "
    "again to that of now. toe: before that, + toe-in. Clocks: 0 forward, 90 "
    "outboard, 180 rearward, 270 inboard."
)


def report(found: Clocks) -> list[str]:
    """The answer with what each pair of clocks does, how far the bushes reach, and how the table reads."""
    top, bottom = found.sizes
    kept = " as now" if found.kept else ""
    inclination = number(found.asked[1], CASTER.digits)
    asked = (
        f"{found.asked[0]:g} deg of caster and {inclination} deg of inclination{kept}, "
        f"{found.side} corner, top bush {top}, bottom bush {bottom}: {verdict(found)}"
    )
    reach = [] if found.reach is None else [*reach_lines(found.reach), ""]
    return [*filled(asked), "", *_table(found), "", *reach, *filled(LEGEND)]


def verdict(found: Clocks) -> str:
    """In words, whether the clocks give what was asked for."""
    if found.together:
        return "any clock gives it, both bushes at the same, to a few hundredths."
    several, missed = len(found.answers) > 1, abs(found.answers[0].caster - found.asked[0])
    if found.exact:
        return "two pairs of clocks give it." if several else "one pair of clocks gives it."
    if found.kept and missed < 0.005:
        return f"they give that caster, but not that inclination; nearest {'are' if several else 'is'}"
    return f"{'just ' if missed <= NEAR_DEG else ''}out of their reach; nearest is"


def _table(found: Clocks) -> list[str]:
    """The setting of now, the answers, and under a line of their own those on the kit's clock step."""
    every = enumerate((*found.answers, *found.on_step), 1)
    rows = [_cells("now", found.now), *(_cells(str(n), answer) for n, answer in every)]
    lines = layout(Grid([GridColumn((head,)) for head in HEAD], rows))
    if found.on_step:
        step = f"nearest on the kit's clock step of {found.scenario.kit.clock_step_deg:g} deg:"
        lines.insert(len(lines) - len(found.on_step), step)
    return lines


def _cells(name: str, answer: Answer) -> tuple[str, ...]:
    angles = (answer.caster, answer.inclination, answer.camber, answer.toe_alone)
    return (name, *map(str, answer.bushes), *(number(angle, CASTER.digits) for angle in angles))


def reach_lines(reach: Reach) -> list[str]:
    """How far the two bushes reach."""
    said = (
        f"They reach, at that inclination, {_ranges('caster', reach.caster)}; at that caster,"
        f" {_ranges('inclination', reach.inclination)}; in all, {_ranges('caster', [reach.any_caster])} and"
        f" {_ranges('inclination', [reach.any_inclination])} deg. Asked for is an axis"
        f" {number(reach.tilt, CASTER.digits)} deg away from the yoke's own; these bushes lean it by"
        f" {_range(*reach.tilts)} deg."
    )
    return filled(said)


def _ranges(angle: str, ranges: Sequence[Range]) -> str:
    return f"{angle} {' or '.join(_range(*ends) for ends in ranges)}" if ranges else f"no {angle}"


def _range(low: float, high: float) -> str:
    first, last = number(low, CASTER.digits), number(high, CASTER.digits)
    return first if first == last else f"{first} to {last}"
