"""What a window shows: a setting, perhaps a second one, a load case, and how much is drawn larger."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from kinematics.lock import Sweep
from kinematics.parts import LoadCase, Setting
from kinematics.stance.equilibrium import Stance
from kinematics.standing.stand import stand
from scenarios.errors import Refusal, suggestion
from viz.scene import scene
from viz.scene import standing as stance_scene
from viz.scene.data import SceneData
from viz.scene.scene import OF_A_CORNER, OF_THE_WHOLE
from viz.scene.stories.against import against
from viz.window.chart import Curve, curve

FACTORS = (1.0, 3.0, 5.0, 10.0, 20.0)
"""Exaggerations to step through."""
USUAL = 5.0
"""Exaggeration with which the viewer starts."""


def unknown(view: str, data: SceneData) -> Refusal:
    """Says that there is no such view, of this scene or of a front end held still."""
    known = tuple(dict.fromkeys((*data.views, *OF_A_CORNER)))
    return Refusal(f"view '{view}' is unknown{suggestion(view, known)}")


@dataclass(frozen=True)
class OnScreen:
    """A setting as it is shown: its sweep and its title."""

    sweep: Sweep
    title: str


@dataclass(frozen=True)
class WindowState:
    """Everything that decides what is drawn; without load cases only the front end can be."""

    first: OnScreen
    second: OnScreen | None = None
    cases: Sequence[LoadCase] = ()
    case: int = 0
    exaggeration: float = USUAL
    front_only: bool = False
    view: str = "overview"

    @property
    def whole(self) -> bool:
        """Whether the kart is drawn whole in a load case."""
        return bool(self.cases) and not self.front_only and self.view not in OF_A_CORNER

    def seen_from(self, view: str) -> WindowState:
        """The same from another view, whole where that needs it."""
        return replace(self, view=view, front_only=self.front_only and view not in OF_THE_WHOLE)

    @property
    def case_name(self) -> str:
        """Name of the load case shown."""
        return self.cases[self.case].name if self.whole else ""

    def next_case(self, by: int = 1) -> WindowState:
        """The load case after this one, round and round; whole from then on."""
        if not self.cases:
            return self
        if not self.whole:
            return self.in_whole(True)
        return replace(self, case=(self.case + by) % len(self.cases))

    def in_whole(self, whole: bool) -> WindowState:
        """The whole kart, or its front end alone, from where that can be seen."""
        away = OF_A_CORNER if whole else OF_THE_WHOLE
        return replace(self, front_only=not whole, view="overview" if self.view in away else self.view)

    def exaggerated(self, by: int) -> WindowState:
        """The next exaggeration up or down, as far as there is one."""
        if by > 0:
            larger = [f for f in FACTORS if f > self.exaggeration]
            return replace(self, exaggeration=min(larger, default=self.exaggeration))
        smaller = [f for f in FACTORS if f < self.exaggeration]
        return replace(self, exaggeration=max(smaller, default=self.exaggeration))

    def data(self) -> SceneData:
        """The scene; ValueError where it cannot be drawn, or has no such view."""
        first = self._scene(self.first)
        if self.view not in first.views:
            raise unknown(self.view, first)
        if self.second is None or not (self.whole or self.view in OF_A_CORNER):
            return first
        over = stance_scene.against if self.whole else against
        return over(first, self._scene(self.second))

    def curves(self) -> dict[str, Curve]:
        """Inside rear load through lock of A, and of B; nothing when the front end is shown alone."""
        if not self.whole:
            return {}
        both = {"A": self.first, "B": self.second}
        return {name: curve(s.sweep, self._stance(s)) for name, s in both.items() if s is not None}

    def _stance(self, shown: OnScreen) -> Stance:
        return stand(shown.sweep, self.cases[self.case])

    def _scene(self, shown: OnScreen) -> SceneData:
        if not self.whole:
            return scene.build(shown.sweep, shown.title)
        return scene.build(
            shown.sweep,
            shown.title,
            stance=self._stance(shown),
            case_name=self.case_name,
            exaggeration=self.exaggeration,
        )


@dataclass(frozen=True)
class Options:
    """With what a window starts, and the load cases and settings there are; handwheel in deg."""

    cases: Sequence[LoadCase] = ()
    case: int = 0
    second: OnScreen | None = None
    exaggeration: float = USUAL
    front_only: bool = False
    view: str = "overview"
    at_deg: float = 0.0
    settings: Mapping[str, Setting] = field(default_factory=dict)

    def state(self, first: OnScreen) -> WindowState:
        """The state to start from."""
        front_only = self.front_only or not self.cases
        plain = WindowState(first, self.second, self.cases, self.case, self.exaggeration, front_only)
        return plain.seen_from(self.view)


PLAIN = Options()
