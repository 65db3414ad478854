"""What the page is told for a visitor's choices: meshes and matrices, charts, numbers and words."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from kinematics.figures import wheel
from kinematics.figures.verdict import ON_TWO, TIPS, words
from kinematics.parts import Setting
from scenarios import Scenario
from scenarios.kit import SIDES, in_deg
from scenarios.lessons.lesson import titles
from scenarios.schema.changes import AT_A_CORNER, CHANGES, NOT_MODELLED
from viz.browser import bundling, figures, packing, slots, solving
from viz.browser.bundling import Bundle
from viz.browser.chosen import choices
from viz.browser.chosen.choices import Choices, Slot
from viz.browser.chosen.wording import folded, plain
from viz.browser.solving import Stood
from viz.look import shade
from viz.look.palette import THEMES
from viz.scene import loads as stance_scene_words
from viz.scene import scene
from viz.scene.data import Label, SceneData, Seen
from viz.words.cautions import BESIDE_FIGURES

Reply = dict[str, Any]
MOST_SENT = 300
"""Meshes a page keeps; then it is told to drop them and gets afresh what it needs."""


def page(scenario: Scenario) -> Reply:
    """What does not change while the page is open: the kart, what may be chosen, colours."""
    return {
        "title": scenario.title,
        "settings": [{"name": n, "note": scenario.notes[n]} for n in scenario.settings],
        "cases": [case.name for case in scenario.load_cases],
        "sizes_deg": [in_deg(size, scenario.kart.left.yoke.span) for size in scenario.kit.sizes],
        "clock_step_deg": scenario.kit.clock_step_deg,
        "at_a_corner": [change._asdict() for change in AT_A_CORNER],
        "on_the_kart": [change._asdict() for change in CHANGES],
        "not_modelled": list(NOT_MODELLED),
        "lock_deg": solving.lock_deg(scenario).tolist(),
        "twists": list(choices.TWISTS),
        "legend": stance_scene_words.legend().split("\n"),
        "headline": [vars(shown) for shown in figures.HEADLINE],
        "through": [vars(shown) for shown in figures.THROUGH],
        "charts": [
            {"key": c.key, "title": c.title, "unit": c.unit, "names": [name for name, _, _ in c.curves]}
            for c in figures.CHARTS
        ],
        "lessons": [{"name": name, "title": title} for name, title in titles().items()],
        "shade": shade.TOLD,
        "charts_first": list(figures.CHARTS_FIRST),
        "themes": {name: _theme(name) for name in THEMES},
        "cautions": list(BESIDE_FIGURES),
    }


def _theme(name: str) -> Reply:
    theme = THEMES[name]
    return {"paper": theme.paper, "second": theme.second, "palette": theme.palette().tobytes()}


class Memory:
    """What one page has been sent already, and the scenes that still hold."""

    def __init__(self) -> None:
        self.sent: set[str] = set()
        self._measured: slots.Toes | None = None
        self._scenes: dict[tuple[str, int], tuple[Slot, str, SceneData]] = {}

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

    def scene(self, name: str, slot: Slot, solved: Stood, case: str, times: int) -> SceneData:
        """The scene of a slot in a load case, built again only when either has changed."""
        kept = self._scenes.get((name, times))
        if kept is None or kept[:2] != (slot, case):
            built = scene.build(
                solved.sweep, slot.title, stance=solved.standing, case_name=case, exaggeration=times
            )
            self._scenes = {k: v for k, v in self._scenes.items() if k[0] != name}
            kept = self._scenes[name, times] = (slot, case, built)
        return kept[2]


def toes(headline: Mapping[str, float | None]) -> slots.Toes:
    """Toe of each wheel among the headline figures, by side."""
    return {side: headline[wheel.TOE.name(side)] for side in SIDES}


def solve_both(chosen: Choices) -> tuple[Scenario, dict[str, Stood]]:
    """The scenario with settings A and B as chosen, and both solved."""
    compared, case = choices.compared(chosen), chosen.scenario.load_cases[chosen.case]
    solved = {
        name: solving.solve(compared, chosen.slot(name).title, compared.settings[name], case)
        for name in choices.SLOTS
    }
    return compared, solved


def reply(chosen: Choices, memory: Memory) -> Reply:
    """Everything that follows from the choices; meshes only when the page does not have them yet."""
    compared, solved = solve_both(chosen)
    through = {name: figures.through_values(s) for name, s in solved.items()}
    meshes: dict[str, Reply] = {}
    is_fresh = memory.outgrown()
    times, scenes = _scenes(chosen, solved, memory)
    karts = {name: _kart(name, solved[name], data, memory, meshes) for name, data in scenes.items()}
    headline = {name: figures.headline_values(s) for name, s in solved.items()}
    measured = memory.measured(compared, chosen)
    return {
        "slots": {
            name: slots.told(compared, chosen.slot(name), toes(headline[name]), measured)
            for name in choices.SLOTS
        },
        "case": chosen.scenario.load_cases[chosen.case].name,
        "twist": times,
        "stated": stance_scene_words.stated(times),
        "headline": headline,
        "through": through,
        "charts": figures.drawn(chosen.scenario, through),
        "karts": karts,
        "meshes": meshes,
        "fresh": is_fresh,
        "notices": [
            *folded([plain(line) for line in compared.warnings]),
            *_notices(solved, scenes, chosen.twist, times),
        ],
    }


def _scenes(
    chosen: Choices, solved: Mapping[str, Stood], memory: Memory
) -> tuple[int, dict[str, SceneData | None]]:
    """How large twist and air are drawn, and the scenes of A and B, None for one that reaches no lock.

    A scene refuses an exaggeration that would draw a tyre flat; then both are drawn with the next smaller
    one, and where even true to scale will not do, not at all.
    """
    case = chosen.scenario.load_cases[chosen.case].name
    drawn = {name: s for name, s in solved.items() if s.sweep.reach.any()}
    scenes: dict[str, SceneData | None] = dict.fromkeys(solved)
    for times in sorted((t for t in choices.TWISTS if t <= chosen.twist), reverse=True):
        try:
            made = {n: memory.scene(n, chosen.slot(n), s, case, times) for n, s in drawn.items()}
        except ValueError:
            continue
        return times, {**scenes, **made}
    return 1, scenes


def _kart(
    name: str, solved: Stood, data: SceneData | None, memory: Memory, meshes: dict[str, Reply]
) -> Reply:
    """One kart as bodies with matrices; `at` leads from a lock position to its matrix, -1 for none."""
    at = np.full(len(solved.sweep.handwheel), -1)
    if data is None:
        return {"at": at.tolist(), "solid": [], "outline": [], "labels": [], "notes": [], "cameras": {}}
    at[solved.sweep.reach] = np.arange(data.count)
    over = bundling.telling(data) if name == "B" else []
    return {
        **drawn(data, memory, meshes),
        "at": at.tolist(),
        "outline": [_told(b, "edges", memory, meshes) for b in over],
        "notes": list(data.notes),
        "tips": solved.standing.tips.tolist(),
    }


def drawn(data: SceneData, memory: Memory, meshes: dict[str, Reply]) -> Reply:
    """A scene's bodies, labels and cameras, with a matrix for each of its own lock positions."""
    return {
        "at": list(range(data.count)),
        "solid": [_told(b, "mesh", memory, meshes) for b in bundling.solid(data)],
        "labels": [_label(*told, data.count) for told in data.told_labels()],
        "cameras": {view: vars(data.camera(view, data.straight)) for view in data.views},
    }


_MAKERS = {"mesh": packing.surface, "edges": packing.outline}


def _told(bundle: Bundle, what: str, memory: Memory, meshes: dict[str, Reply]) -> Reply:
    """A body with the name of its mesh; the mesh itself is added when the page lacks it."""
    name = f"{what}-{packing.digest(bundle.mesh)}"
    if name not in memory.sent:
        meshes[name] = _MAKERS[what](bundle.mesh)
        memory.sent.add(name)
    return {
        "name": bundle.name,
        "moves": packing.moves(bundle.matrices),
        "seen": bundle.visible.astype(np.uint8).tobytes(),
        "views": vars(bundle.seen),
        "opacity": bundle.opacity,
        "mesh": name,
    }


def _label(label: Label, seen: Seen, count: int) -> Reply:
    """A label with what it says at each lock position; nothing where it is not shown."""
    return {
        "texts": list(label.texts or (label.text,) * count),
        "role": label.role,
        "points": label.points.astype("<f4").tobytes(),
        "shift": label.shift,
        "views": vars(seen),
    }


def _notices(
    solved: Mapping[str, Stood], scenes: Mapping[str, SceneData | None], wanted: int, times: int
) -> list[str]:
    lines = []
    if times != wanted:
        lines.append(f"Drawn ×{wanted} a tyre would lie flat: drawn ×{times} instead.")
    for name, one in solved.items():
        reach = one.sweep.reach
        if not reach.all():
            lines.append(
                f"{name}: the tie rods bind before the end of the sweep; beyond that nothing is shown."
            )
        if scenes[name] is None and reach.any():
            lines.append(f"{name}: in this load case a tyre would be squeezed flat; it is not drawn.")
        found = words(reach, one.standing)
        if ON_TWO in found:
            lines.append(
                f"{name}: in this load case the kart rests on two wheels at some lock positions, held up by "
                "wide treads alone. There it has no numbers."
            )
        if TIPS in found:
            lines.append(
                f"{name}: in this load case the kart falls over at some lock positions. There it is drawn "
                "lying over, which is not a stance, and has no numbers."
            )
    return lines
