"""What one page has been sent already, and what was solved and made for it and still holds."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from kinematics.figures import wheel
from kinematics.parts import LoadCase, Setting
from scenarios import Scenario
from scenarios.kit import SIDES
from viz.browser import figures, slots, solving
from viz.browser.chosen.choices import SLOTS, Choices, Slot
from viz.browser.solving import Stood
from viz.scene import scene
from viz.scene.data import SceneData

HELD_STILL = 0
"""In the place of how much larger a scene is drawn."""
MOST_SENT = 300
"""Meshes a page keeps; then it is told to drop them and gets afresh what it needs."""


class Memory:
    """What one page has been sent already, and the solutions and scenes that still hold."""

    def __init__(self) -> None:
        self.sent: set[str] = set()
        self._measured: slots.Toes | None = None
        self._stood: dict[str, tuple[Slot, LoadCase, Stood]] = {}
        self._scenes: dict[tuple[str, int], tuple[Stood, SceneData]] = {}

    def forget(self) -> None:
        """The page was loaded again and has nothing."""
        self.sent.clear()

    def outgrown(self) -> bool:
        """Whether the page keeps so much that it is to drop it all; then it has nothing any more."""
        if len(self.sent) <= MOST_SENT:
            return False
        self.forget()
        return True

    def measured(self, scenario: Scenario, chosen: Choices) -> slots.Toes:
        """Toe of the kart as it was measured; a visit has one kart, so it is solved once."""
        if self._measured is None:
            case = chosen.scenario.load_cases[chosen.case]
            as_was = solving.solve(scenario, "", Setting(), case)
            self._measured = toes(figures.headline_values(as_was))
        return self._measured

    def stood(self, scenario: Scenario, chosen: Choices) -> dict[str, Stood]:
        """A and B of the scenario made of the choices, each solved again only where something is new."""
        case = chosen.scenario.load_cases[chosen.case]
        for name in SLOTS:
            slot, kept = chosen.slot(name), self._stood.get(name)
            if kept is None or kept[:2] != (slot, case):
                solved = solving.solve(scenario, slot.title, scenario.settings[name], case)
                self._stood[name] = (slot, case, solved)
        return {name: self._stood[name][2] for name in SLOTS}

    def scene(self, name: str, solved: Stood, times: int) -> SceneData:
        """The scene of a slot as it stands, built again only when it is another one."""

        def build() -> SceneData:
            return scene.build(
                solved.sweep,
                solved.title,
                stance=solved.standing,
                case_name=solved.case.name,
                exaggeration=times,
            )

        return self._kept(name, times, solved, build)

    def corner(self, name: str, solved: Stood) -> SceneData | None:
        """The front end of a slot with its frame held still; None where no lock position is reached."""
        if not solved.sweep.reach.any():
            return None
        return self._kept(name, HELD_STILL, solved, lambda: scene.build(solved.sweep, solved.title))

    def _kept(self, name: str, times: int, solved: Stood, build: Callable[[], SceneData]) -> SceneData:
        kept = self._scenes.get((name, times))
        if kept is None or kept[0] is not solved:
            others = {k: v for k, v in self._scenes.items() if k[0] != name or v[0] is solved}
            kept = solved, build()
            self._scenes = {**others, (name, times): kept}
        return kept[1]


def toes(headline: Mapping[str, float | None]) -> slots.Toes:
    """Toe of each wheel among the headline figures, by side."""
    return {side: headline[wheel.TOE.name(side)] for side in SIDES}
