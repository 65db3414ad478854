"""What is wanted of a setting, as typed: `caster_left_deg=now+1`, `camber_left_deg@30=-2..-1.5*2`."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, isfinite, radians
from typing import TYPE_CHECKING

from scenarios.errors import Refusal

if TYPE_CHECKING:
    from kinematics.choose.targets import Figure, Target
    from scenarios import Scenario

HELP = """\
A figure that is wanted is typed as  NAME=RANGE,  NAME@LOCK=RANGE,  NAME@LOCK@CASE=RANGE  or
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
  --want 'jacking_rate_left_n_per_deg@standing=..now-10%' --want 'camber_left_deg=now'
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
    name, lock, case = figure_parts(place)
    asked, star, weight = asked.partition("*")
    asked, none, rest = asked.partition("or none")
    if rest.strip():
        raise Refusal(f"'{rest.strip()}' in '{text}' stands behind 'or none'")
    low, high = _range(asked.replace(" ", ""), text)
    return Want(text, name, lock, case, low, high, _finite(weight, text) if star else 1.0, bool(none))


def figure_parts(text: str) -> tuple[str, float | None, str | None]:
    """NAME, NAME@LOCK, NAME@LOCK@CASE or NAME@CASE as name, handwheel angle in deg and load case."""
    name, *more = (part.strip() for part in text.split("@", 2))
    if more and _takes_no_lock(name):
        first, _, rest = (part.strip() for part in text.partition("@")[2].partition("@"))
        return (name, float(first), rest) if rest and _is_number(first) else (name, None, "@".join(more))
    if len(more) == 1 and not _is_number(more[0]) and (meant := _meant_of_turn(name)):
        raise Refusal(f"unknown figure '{name}' in '{text}'{meant}")
    lock = _finite(more[0], text) if more else None
    return name, lock, more[1] if len(more) > 1 else None


def _takes_no_lock(name: str) -> bool:
    from kinematics.figures.turn import JACKING, WHOLE_TURN

    return name in WHOLE_TURN or name in JACKING


def _meant_of_turn(name: str) -> str:
    """Which figure of a whole turn a mistaken name is like, as the end of a message; '' when none."""
    from difflib import get_close_matches

    from kinematics.figures.turn import WHOLE_TURN

    close = get_close_matches(name, WHOLE_TURN, n=1, cutoff=0.8)
    return f"; did you mean '{close[0]}'?" if close else ""


def _is_number(text: str) -> bool:
    try:
        return isfinite(float(text))
    except ValueError:
        return False


def _finite(number: str, text: str) -> float:
    try:
        value = float(number)
    except ValueError:
        raise Refusal(f"'{number}' in '{text}' is not a number") from None
    if not isfinite(value):
        raise Refusal(f"{number} in '{text}' is not a finite number")
    return value


def _range(asked: str, text: str) -> tuple[End, End]:
    low, dots, high = asked.partition("..")
    if not dots:
        end = _end(low, text)
        return end, end
    if not low and not high:
        raise Refusal(f"'{text}' asks for nothing: give the range an end")
    return (
        _end(low, text) if low else End(-inf),
        _end(high, text) if high else End(inf),
    )


def _end(asked: str, text: str) -> End:
    match = _END.fullmatch(asked)
    if match is None:
        raise Refusal(f"'{asked}' in '{text}' is not a number, now, now+1 or now-10%")
    if match["now"] is None:
        return End(_finite(asked, text))
    return End(_finite(match["by"] or "0", text), True, match["percent"] is not None)


def figure_of(name: str, lock_deg: float | None, case: str | None) -> Figure:
    """The figure in the solver's own units."""
    from kinematics.choose.targets import Figure

    return Figure(name, None if lock_deg is None else radians(lock_deg), case)


def check_known(figure: Figure, scenario: Scenario, what: str) -> None:
    """Refuse, after what was asked for, a figure that does not exist, or not at that lock or case."""
    from kinematics.choose.targets import catalog, check_figure
    from scenarios.ask.plug import plug
    from scenarios.errors import refusing

    known = catalog(scenario.kart, scenario.toe_diameter_mm, plug(scenario, []))
    with refusing(what):
        check_figure(figure, known, scenario.kart.column.stop)


def targets_of(wants: Sequence[Want], scenario: Scenario, present: str) -> tuple[Target, ...]:
    """What is wanted as targets, 'now' resolved against the present setting; refused in one line."""
    from kinematics.choose.targets import Target, catalog, check_targets
    from scenarios.ask.plug import plug
    from scenarios.errors import refusing

    figures = [figure_of(want.name, want.lock_deg, want.case) for want in wants]
    for want, figure in zip(wants, figures, strict=True):
        check_known(figure, scenario, f"--want '{want.text}'")
    targets = []
    for want, figure, value in zip(wants, figures, values_now(scenario, present, figures), strict=True):
        low, high = _ends(want, value, present)
        with refusing(f"--want '{want.text}'"):
            targets.append(Target(figure, low, high, want.weight, or_none=want.or_none))
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
    from kinematics.choose.box import row_of
    from kinematics.choose.figures import Plan, figures_of
    from scenarios.ask.plug import plug

    setting, wheels = scenario.settings[present], plug(scenario, figures)
    plan = Plan(scenario.kart, setting, tuple(figures), scenario.toe_diameter_mm, wheels)
    values, known = figures_of(plan, row_of(setting.left)[None], row_of(setting.right)[None])
    return [float(v) if k else None for v, k in zip(values[0], known[0], strict=True)]
