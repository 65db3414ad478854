"""What is wanted of a setting, as typed: `caster_left_deg=now+1`, `camber_left_deg@30=-2..-1.5*2`."""

from __future__ import annotations

import argparse
import re
from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, isfinite, radians
from typing import TYPE_CHECKING

from viz.terminal import Refusal

if TYPE_CHECKING:
    from kinematics.targets import Figure, Target
    from scenarios import Scenario

HELP = """\
A figure that is wanted is typed as  NAME=RANGE,  NAME@LOCK=RANGE  or  NAME@LOCK@CASE=RANGE
  NAME    a headline figure, a column, or a column of a load case: 'lockarc columns' lists them
  LOCK    for a column: the handwheel angle, deg, + left
  CASE    for a column of a load case: the name of the case
  RANGE   a value, or LOW..HIGH, LOW.. (at least) or ..HIGH (at most). Instead of a number each
          may be 'now' (as in the present setting), now+1, now-0.5, now+10% or now-10%: a
          percentage is of the figure's size, so now-10% is nearer to zero whatever its sign
A weight may follow after '*': a miss then counts so much more. Put quotes around it all:
  --want 'caster_left_deg=now+1'
  --want 'camber_left_deg@-30=-2.5..-1.5*2'
  --want 'inside_rear_load_n@30@slow corner=..now-10%'
  --want 'handwheel_torque_nm@30@slow corner=now-10%'
  --want 'rigid_inside_rear_lift_mm@20=now-10%' --want 'camber_left_deg=now'"""

_NUMBER = r"(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?"
_END = re.compile(rf"(?P<now>now)(?:(?P<by>[-+]{_NUMBER})(?P<percent>%)?)?|(?P<number>[-+]?{_NUMBER})")


@dataclass(frozen=True)
class End:
    """One end of a range: a number, or so much more or less than now."""

    number: float
    from_now: bool = False
    percent: bool = False

    def value(self, now: float) -> float:
        """The number it comes to where the present setting has this value."""
        if not self.from_now:
            return self.number
        return now * (1.0 + 0.01 * self.number) if self.percent else now + self.number


@dataclass(frozen=True)
class Want:
    """One figure wanted, as typed and not yet looked up."""

    text: str
    name: str
    lock_deg: float | None
    case: str | None
    low: End
    high: End
    weight: float = 1.0

    @property
    def from_now(self) -> bool:
        """Whether the present setting's value is needed to say what is wanted."""
        return self.low.from_now or self.high.from_now


def want_text(text: str) -> Want:
    """A figure wanted, read from the command line; argparse turns the complaint into its one line."""
    place, equals, asked = text.rpartition("=")
    if not equals or not place.strip() or not asked.strip():
        raise argparse.ArgumentTypeError(f"'{text}' is not NAME=RANGE, for example 'caster_left_deg=now+1'")
    name, lock, case = figure_parts(place)
    asked, star, weight = asked.partition("*")
    low, high = _range(asked.replace(" ", ""), text)
    return Want(text, name, lock, case, low, high, _finite(weight, text) if star else 1.0)


def figure_parts(text: str) -> tuple[str, float | None, str | None]:
    """NAME, NAME@LOCK or NAME@LOCK@CASE as name, handwheel angle in deg and load case."""
    name, *more = (part.strip() for part in text.split("@", 2))
    lock = _finite(more[0], text) if more else None
    return name, lock, more[1] if len(more) > 1 else None


def _finite(number: str, text: str) -> float:
    try:
        value = float(number)
    except ValueError:
        raise argparse.ArgumentTypeError(f"'{number}' in '{text}' is not a number") from None
    if not isfinite(value):
        raise argparse.ArgumentTypeError(f"{number} in '{text}' is not a finite number")
    return value


def _range(asked: str, text: str) -> tuple[End, End]:
    low, dots, high = asked.partition("..")
    if not dots:
        end = _end(low, text)
        return end, end
    if not low and not high:
        raise argparse.ArgumentTypeError(f"'{text}' asks for nothing: give the range an end")
    return (
        _end(low, text) if low else End(-inf),
        _end(high, text) if high else End(inf),
    )


def _end(asked: str, text: str) -> End:
    match = _END.fullmatch(asked)
    if match is None:
        raise argparse.ArgumentTypeError(f"'{asked}' in '{text}' is not a number, now, now+1 or now-10%")
    if match["now"] is None:
        return End(_finite(asked, text))
    return End(_finite(match["by"] or "0", text), True, match["percent"] is not None)


def figure_of(name: str, lock_deg: float | None, case: str | None) -> Figure:
    """The figure in the solver's own units."""
    from kinematics.targets import Figure

    return Figure(name, None if lock_deg is None else radians(lock_deg), case)


INSTEAD = {
    "jacking_rate_": "rigid_inside_rear_lift_mm@LOCK",
    "lift_off_": "inside_rear_clearance_mm@LOCK@CASE",
    "least_inside_rear_load_": "inside_rear_load_n@LOCK@CASE",
    "inside_rear_load_at_lock_": "inside_rear_load_n@LOCK@CASE",
    "inside_rear_clearance_at_lock_": "inside_rear_clearance_mm@LOCK@CASE",
    "outside_front_camber_at_lock_": "standing_camber_right_deg@LOCK@CASE",
}
"""What to ask for instead of the figures that are read off a whole turn, by the start of their names."""


def check_known(figure: Figure, scenario: Scenario, what: str) -> None:
    """Refuse, after what was asked for, a figure that does not exist, or not at that lock or case."""
    from kinematics.targets import catalog, check_figure
    from viz.cli_choose_plug import plug
    from viz.cli_compare_ask import refusing

    for start, other in INSTEAD.items():
        if figure.name.startswith(start):
            raise Refusal(f"{what}: {figure.name} is read off a whole turn; ask for {other} instead")
    known = catalog(scenario.kart, scenario.toe_diameter_mm, plug(scenario, []))
    with refusing(what):
        check_figure(figure, known, scenario.kart.column.stop)


def targets_of(wants: Sequence[Want], scenario: Scenario, present: str) -> tuple[Target, ...]:
    """What is wanted as targets, 'now' resolved against the present setting; refused in one line."""
    from kinematics.targets import Target, catalog, check_targets
    from viz.cli_choose_plug import plug
    from viz.cli_compare_ask import refusing

    figures = [figure_of(want.name, want.lock_deg, want.case) for want in wants]
    for want, figure in zip(wants, figures, strict=True):
        check_known(figure, scenario, f"--want '{want.text}'")
    targets = []
    for want, figure, value in zip(wants, figures, values_now(scenario, present, figures), strict=True):
        low, high = _ends(want, value, present)
        with refusing(f"--want '{want.text}'"):
            targets.append(Target(figure, low, high, want.weight))
    known = catalog(scenario.kart, scenario.toe_diameter_mm, plug(scenario, []))
    with refusing("--want"):
        check_targets(targets, known, scenario.kart.column.stop)
    return tuple(targets)


def _ends(want: Want, now: float | None, present: str) -> tuple[float, float]:
    if want.from_now and now is None:
        raise Refusal(f"--want '{want.text}': {want.name} has no value in setting '{present}'")
    low, high = (end.value(now or 0.0) for end in (want.low, want.high))
    turned = (now or 0.0) < 0.0 and (want.low.percent or want.high.percent)
    return (high, low) if turned and low > high else (low, high)


def values_now(scenario: Scenario, present: str, figures: Sequence[Figure]) -> list[float | None]:
    """The figures in the present setting, None where there is none."""
    from kinematics.search_box import row_of
    from kinematics.search_figures import Plan, figures_of
    from viz.cli_choose_plug import plug

    setting, wheels = scenario.settings[present], plug(scenario, figures)
    plan = Plan(scenario.kart, setting, tuple(figures), scenario.toe_diameter_mm, wheels)
    values, known = figures_of(plan, row_of(setting.left)[None], row_of(setting.right)[None])
    return [float(v) if k else None for v, k in zip(values[0], known[0], strict=True)]
