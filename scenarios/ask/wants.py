"""What is wanted of a setting, as typed: `caster_left_deg=now+1`, `camber_left_deg@30=-2..-1.5*2`."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from math import inf
from typing import TYPE_CHECKING

from scenarios.ask.typed import finite
from scenarios.errors import Refusal, pointed, refusing, told
from scenarios.ranges import RANGES

if TYPE_CHECKING:
    from kinematics.choose.targets import Target
    from kinematics.figures.figure import Address
    from scenarios import Scenario

HELP = """\
A figure that is wanted is typed as NAME=RANGE, NAME@LOCK=RANGE, NAME@LOCK@CASE=RANGE or
NAME@CASE=RANGE
  NAME    a headline figure, a column, or either of a load case: 'lockarc columns' lists them
  LOCK    for a column: the handwheel angle, deg, + left; for a figure of a load case whose name
          says 'at_lock' the lock without a sign, since its name says which way it turns
  CASE    for a column or figure of a load case: the name of the case. A jacking rate in N, a
          least load or a lift-off is of a whole turn: it takes a case and no lock
  RANGE   a value, or LOW..HIGH, LOW.. (at least) or ..HIGH (at most). Instead of a number each
          may be 'now' (as in the present setting), now+1, now-0.5, now+10% or now-10%: a
          percentage is of the figure's size, so now-10% is nearer to zero whatever its sign
A wheel that stays down has no lift-off, and a pair without one is left out; 'or none' behind the
range counts it as met. A weight may follow after '*': a miss then counts so much more.

As now, but 10 % less jacking and the same camber (put quotes around each):
  --want 'jacking_rate_left_n_per_deg@standing=..now-10%'
  --want 'camber_left_deg=now'

More, each on its own:
  --want 'caster_left_deg=now+1'
  --want 'camber_left_deg@-30=-2.5..-1.5*2'
  --want 'inside_rear_load_n@30@slow corner=..now-10%'
  --want 'handwheel_torque_nm@30@slow corner=now-10%'
  --want 'jacking_rate_left_mm_per_deg=now+5%'
  --want 'lift_off_steer_left_deg@fast corner=20.. or none'
  --want 'inside_rear_clearance_at_lock_left_mm@40@slow corner=..3'"""

_NUMBER = r"(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?"
_END = re.compile(rf"(?P<now>now)(?:(?P<by>[-+]{_NUMBER})(?P<percent>%)?)?|(?P<number>[-+]?{_NUMBER})")

MOST_WANTS = 100
"""Each is worked out and kept for thousands of candidates."""


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
    address: Address
    low: End
    high: End
    weight: float = 1.0
    or_none: bool = False

    @property
    def from_now(self) -> bool:
        """Whether the present setting's value is needed to say what is wanted."""
        return self.low.from_now or self.high.from_now


def want_text(text: str) -> Want:
    """A figure wanted, read from the command line."""
    place, equals, asked = text.rpartition("=")
    if not equals or not place.strip() or not asked.strip():
        raise Refusal(f"'{text}' is not NAME=RANGE, for example 'caster_left_deg=now+1'")
    asked, star, weight = asked.partition("*")
    asked, none, rest = asked.partition("or none")
    if rest.strip():
        raise Refusal(f"'{rest.strip()}' in '{text}' stands behind 'or none'")
    address = address_text(place)
    low, high = _range(asked.replace(" ", ""), text, address.figure.unit.text)
    counts = RANGES["--want weight"].checked(finite(weight, text), f"{text}: weight") if star else 1.0
    return Want(text, address, low, high, counts, bool(none))


def address_text(text: str) -> Address:
    """The address of a typed NAME, NAME@LOCK, NAME@LOCK@CASE or NAME@CASE."""
    from kinematics.figures.catalog import address

    try:
        return address(text)
    except ValueError as error:
        raise Refusal(told(error)) from None


def _range(asked: str, text: str, unit: str) -> tuple[End, End]:
    low, dots, high = asked.partition("..")
    if not dots:
        end = _end(low, text, unit)
        return end, end
    if not low and not high:
        raise Refusal(f"'{text}' asks for nothing: give the range an end")
    return (
        _end(low, text, unit) if low else End(-inf),
        _end(high, text, unit) if high else End(inf),
    )


def _end(asked: str, text: str, unit: str) -> End:
    match = _END.fullmatch(asked)
    if match is None:
        raise Refusal(f"'{asked}' in '{text}' is not a number, now, now+1 or now-10%{pointed(asked)}")
    percent = match["percent"] is not None
    unit = "%" if percent else unit
    number = finite(match["number"] or match["by"] or "0", text)
    return End(RANGES[f"--want {unit}"].checked(number, f"{text}:", unit), match["now"] is not None, percent)


def check_known(address: Address, scenario: Scenario, what: str) -> None:
    """Refuse, after what was asked for, a figure that is not had at that lock or in that case."""
    from kinematics.figures.catalog import check

    with refusing(what):
        check(address, [case.name for case in scenario.load_cases], scenario.kart.column.stop)


def targets_of(wants: Sequence[Want], scenario: Scenario, present: str) -> tuple[Target, ...]:
    """What is wanted as targets, 'now' resolved against the present setting; refused in one line."""
    from kinematics.choose.targets import Target, check_targets

    if len(wants) > MOST_WANTS:
        raise Refusal(
            f"--want: {len(wants)} figures are too many to weigh at once; at most {MOST_WANTS} will do"
        )
    for want in wants:
        check_known(want.address, scenario, f"--want '{want.text}'")
    targets = []
    now = values_now(scenario, present, [want.address for want in wants])
    for want, value in zip(wants, now, strict=True):
        low, high = _ends(want, value, present)
        with refusing(f"--want '{want.text}'"):
            targets.append(Target(want.address, low, high, want.weight, or_none=want.or_none))
    with refusing("--want"):
        check_targets(targets, [case.name for case in scenario.load_cases], scenario.kart.column.stop)
    return tuple(targets)


def _ends(want: Want, now: float | None, present: str) -> tuple[float, float]:
    if want.from_now and now is None:
        raise Refusal(f"--want '{want.text}': {want.address.name} has no value in setting '{present}'")
    low, high = (end.value(now or 0.0) for end in (want.low, want.high))
    turned = (now or 0.0) < 0.0 and (want.low.percent or want.high.percent)
    return (high, low) if turned and low > high else (low, high)


def values_now(scenario: Scenario, present: str, addresses: Sequence[Address]) -> list[float | None]:
    """The figures in the present setting, None where there is none."""
    from kinematics.choose.box import row_of
    from kinematics.choose.plan import Plan, figures_of

    setting = scenario.settings[present]
    plan = Plan(scenario.kart, setting, tuple(addresses), scenario.given, scenario.load_cases)
    values, known = figures_of(plan, row_of(setting.left)[None], row_of(setting.right)[None])
    return [float(v) if k else None for v, k in zip(values[0], known[0], strict=True)]
