"""One reading of a kart: what was read, where, how the kart stood for it, and what was found."""

from __future__ import annotations

from dataclasses import dataclass

from kinematics.parts import GRAVITY, LoadCase, Masses
from kinematics.standing.arranged import STANDING, Arrangement
from scenarios.gauged.kinds import KINDS, OF_NUMBER, WHEELS, ReadingKind


@dataclass(frozen=True)
class Hung:
    """A known weight at a known place."""

    kg: float
    at_mm: tuple[float, float, float]


@dataclass(frozen=True)
class Reading:
    """One reading; a value of None is one not taken yet."""

    what: str
    """A kind's name, or 'number' for one of the scenario's own numbers read directly."""
    where: str
    """A side, a wheel, or the number's name."""
    setting: str
    value: float | None = None
    uncertainty: float | None = None
    """Standard uncertainty in the kind's unit; None is the kind's own."""
    handwheel_deg: float = 0.0
    plate: tuple[str, float] | None = None
    """A front wheel's side and the angle its turn plate is turned to, deg, + left, instead of a handwheel
    angle."""
    under_mm: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)
    hung: Hung | None = None
    lateral_g: float = 0.0
    """Into the turn that the handwheel makes, as a load case says it; 0 is a kart that stands."""
    longitudinal_g: float = 0.0
    held: bool = False
    note: str = ""
    line: str = ""
    """Where it stands in its file."""

    @property
    def kind(self) -> ReadingKind:
        """Its kind; a number has none."""
        return KINDS[self.what]

    @property
    def of_number(self) -> bool:
        """Whether a number of the scenario was read directly."""
        return self.what == OF_NUMBER

    @property
    def arrangement(self) -> Arrangement:
        """How the kart stands for it."""
        hung = Masses()
        if self.hung is not None:
            weight = self.hung.kg * GRAVITY
            hung = Masses(weight, *(weight * one for one in self.hung.at_mm))
        case = LoadCase("reading", self.lateral_g, self.longitudinal_g) if self.driven else STANDING
        return Arrangement(self.under_mm, hung, case, self.held)

    @property
    def driven(self) -> bool:
        """Whether it is of a kart that corners or brakes."""
        return bool(self.lateral_g or self.longitudinal_g)

    @property
    def setup(self) -> tuple[object, ...]:
        """What has to be changed on the kart or under it before another one can be read."""
        return self.setting, self.under_mm, self.hung, self.lateral_g, self.longitudinal_g, self.held

    @property
    def words(self) -> str:
        """What it is, in a few words: 'scale front left at 30 deg, 10 mm under front right'."""
        if self.of_number:
            return f"{self.where} itself"
        name = self.kind.name.rpartition("_")[0]
        at = f"{self.plate[0]} plate {self.plate[1]:+g} deg" if self.plate else _at(self.handwheel_deg)
        under = [
            f"{high:g} mm under {wheel.replace('_', ' ')}"
            for wheel, high in zip(WHEELS, self.under_mm, strict=True)
            if high
        ]
        hung = [f"{self.hung.kg:g} kg hung on"] if self.hung else []
        driven = [f"{self.lateral_g:g} g"] if self.lateral_g else []
        driven += [f"{self.longitudinal_g:+g} g ahead"] if self.longitudinal_g else []
        held = ["frame held"] if self.held else []
        more = ", ".join([at, *under, *hung, *driven, *held])
        return f"{name} {self.where.replace('_', ' ')}, {more}"


def _at(handwheel_deg: float) -> str:
    return f"handwheel {handwheel_deg:+g} deg" if handwheel_deg else "straight ahead"
