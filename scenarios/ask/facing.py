"""Settings of two karts against each other: what they are called, and the corners that both have."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product

from kinematics.figures.turning import Pulse, silent
from kinematics.parts import Setting
from scenarios import Scenario
from scenarios.ask.answer import FEW, FirstAnswer, OnOther, answer
from scenarios.ask.run import check_stands
from scenarios.errors import Refusal, suggestion


@dataclass(frozen=True)
class Side:
    """A kart and those of its settings that are compared."""

    scenario: Scenario
    names: Sequence[str]

    @property
    def cases(self) -> list[str]:
        """Names of its load cases."""
        return [case.name for case in self.scenario.load_cases]


@dataclass(frozen=True)
class Facing:
    """A setting of one kart, settings of another, and the load cases, by name, in which they are compared."""

    one: Side
    other: Side
    cases: Sequence[str]
    every: bool = True
    """Whether these are all that both have, and not a choice of them."""

    def answer(self, at_deg: float | None = None, count: int = FEW, pulse: Pulse = silent) -> FirstAnswer:
        """What the other kart does against the one, each left as its file has it."""
        first, second = (self._called(side) for side in (self.one, self.other))
        other = OnOther(self.other.scenario, second)
        return answer(self.one.scenario, first, self.cases, at_deg, count, other=other, pulse=pulse)

    @property
    def karts(self) -> tuple[str, str]:
        """What the two are called: by their names, or where those are the same by their files."""
        one, other = self.one.scenario, self.other.scenario
        return (one.name, other.name) if one.name != other.name else (one.source, other.source)

    def _called(self, side: Side) -> Mapping[str, Setting]:
        kart = self.karts[side is self.other]
        return {f"{kart} {name}": side.scenario.settings[name] for name in side.names}

    @property
    def warnings(self) -> Iterator[str]:
        """What is not compared, or not quite of the same."""
        one, other = self.one.scenario, self.other.scenario
        for this, that in ((self.one, self.other), (self.other, self.one)):
            alone = [name for name in this.cases if name not in that.cases]
            if alone and self.every:
                named = ", ".join(f"'{name}'" for name in alone)
                yield f"not compared, as only {this.scenario.source} has it as a load case: {named}"
        unlike = [name for name in self.cases if one.cases([name]) != other.cases([name])]
        if unlike:
            named = ", ".join(f"'{name}'" for name in unlike)
            yield (
                f"{named}: not the same load case in {one.source} and {other.source}: each kart is in its "
                f"own, turned as far as in {one.source}"
            )


def facing(one: Side, other: Side, cases: Sequence[str] = ()) -> Facing:
    """Two karts to compare in load cases by name, in those of the same name where none is named.

    Refused, one line, where a load case is not in both, and where both are the same setting of one file.
    """
    for side, name in product((one, other), cases):
        if name not in side.cases:
            known = f"load case '{name}' is unknown, and must be in both files"
            raise Refusal(f"{side.scenario.source}: {known}{suggestion(name, side.cases)}")
    if one.scenario.source == other.scenario.source and set(one.names) & set(other.names):
        name = one.names[0]
        raise Refusal(f"{one.scenario.source}: '{name}' against itself: name another setting or another file")
    for side in (one, other):
        for name in side.names:
            check_stands(side.scenario, name)
    common = [name for name in one.cases if name in other.cases]
    return Facing(one, other, cases or common, not cases)
