"""What the page is told for a visitor's choices: meshes and matrices, charts, numbers and words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, replace
from typing import Any

import numpy as np
import numpy.typing as npt

from kinematics.equilibrium import Stance
from scenarios import Scenario
from viz import scene
from viz.browser import charts, choices, figures, packing, placing, solving
from viz.browser.choices import Choices, Slot
from viz.browser.solving import Solved
from viz.scene_data import Body, SceneData
from viz.scene_theme import THEMES

Reply = dict[str, Any]
MOST_SENT = 300
"""Meshes a page keeps; then it is told to drop them and gets afresh what it needs."""


def page(scenario: Scenario) -> Reply:
    """What does not change while the page is open: the kart, what may be chosen, colours."""
    return {
        "title": scenario.title,
        "settings": [{"name": n, "note": scenario.notes[n]} for n in scenario.settings],
        "cases": [case.name for case in scenario.load_cases],
        "sizes_deg": list(scenario.kit.sizes_deg),
        "clock_step_deg": scenario.kit.clock_step_deg,
        "lock_deg": solving.lock_deg(scenario).tolist(),
        "twists": list(choices.TWISTS),
        "headline": [vars(shown) for shown in figures.HEADLINE],
        "through": [vars(through.shown) for through in figures.THROUGH],
        "charts": [
            {"key": c.key, "title": c.title, "unit": c.unit, "names": [name for name, _, _ in c.curves]}
            for c in charts.CHARTS
        ],
        "themes": {name: _theme(name) for name in THEMES},
    }


def _theme(name: str) -> Reply:
    theme = THEMES[name]
    return {"paper": theme.paper, "palette": theme.palette().tobytes()}


class Memory:
    """What one page has been sent already, and the scenes that still hold."""

    def __init__(self) -> None:
        self.sent: set[str] = set()
        self._scenes: dict[str, tuple[Slot, SceneData]] = {}

    def forget(self) -> None:
        """The page was loaded again and has nothing."""
        self.sent.clear()

    def scene(self, name: str, slot: Slot, solved: Solved) -> SceneData:
        """The scene of a slot, built again only when the slot has changed."""
        kept = self._scenes.get(name)
        if kept is None or kept[0] != slot:
            kept = (slot, scene.build(solved.sweep, slot.title, whole=True))
            self._scenes[name] = kept
        return kept[1]


def solve_both(chosen: Choices) -> tuple[Scenario, dict[str, Solved]]:
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
    lock = solving.lock_deg(chosen.scenario).tolist()
    through = {name: figures.through_values(s) for name, s in solved.items()}
    meshes: dict[str, Reply] = {}
    if is_fresh := len(memory.sent) > MOST_SENT:
        memory.forget()
    karts = {name: _kart(name, chosen, s, memory, meshes) for name, s in solved.items()}
    return {
        "slots": {name: _slot(chosen.slot(name)) for name in choices.SLOTS},
        "case": chosen.scenario.load_cases[chosen.case].name,
        "twist": chosen.twist,
        "headline": {name: figures.headline_values(s) for name, s in solved.items()},
        "through": through,
        "charts": {c.key: charts.draw(c, lock, through) for c in charts.CHARTS},
        "karts": karts,
        "meshes": meshes,
        "fresh": is_fresh,
        "notices": [*compared.warnings, *_notices(solved)],
    }


def _slot(slot: Slot) -> Reply:
    """A slot's bushes and rods as its dials show them; a size given in mm has no rated size here."""
    return {
        "name": slot.name,
        "title": slot.title,
        "edited": slot.edited,
        **{side: _corner(slot.table[side]) for side in choices.SIDES},
    }


def _corner(table: Mapping[str, Any]) -> Reply:
    bushes = {
        seat: {
            "size_deg": table.get(f"{seat}_rated_deg", 0.0),
            "offset_mm": table.get(f"{seat}_offset_mm"),
            "clock_deg": table.get(f"{seat}_clock_deg", 0.0),
        }
        for seat in choices.SEATS
    }
    return {
        **bushes,
        "toe_deg": table.get("tie_rod_toe_deg"),
        "rod_length_mm": table.get("tie_rod_length_mm"),
    }


def _kart(name: str, chosen: Choices, solved: Solved, memory: Memory, meshes: dict[str, Reply]) -> Reply:
    """One kart as bodies with matrices; `at` leads from a lock position to its matrix, -1 for none."""
    shown = np.flatnonzero(solved.sweep.reach)
    at = np.full(len(solved.sweep.handwheel), -1)
    if not shown.size:
        return {"at": at.tolist(), "bodies": [], "labels": [], "cameras": {}}
    at[shown] = np.arange(shown.size)
    at[solved.standing.tips] = -1
    data = memory.scene(name, chosen.slot(name), solved)
    bodies, labels = placing.placed(data, _where(solved, shown), chosen.twist)
    told = [_told(body, name == "B", memory, meshes) for body in bodies]
    return {
        "at": at.tolist(),
        "bodies": told,
        "labels": [
            {"text": w.text, "role": w.role, "points": w.points.astype("<f4").tobytes(), "shift": w.shift}
            for w in labels
            if w.role in choices.SIDES
        ],
        "cameras": {view: vars(camera) for view, camera in data.cameras.items()},
    }


def _told(body: Body, with_edges: bool, memory: Memory, meshes: dict[str, Reply]) -> Reply:
    """A body with the names of its meshes; the meshes themselves are added when the page lacks them."""
    digest, makers = packing.digest(body.mesh), {"mesh": packing.surface}
    if with_edges:
        makers["edges"] = packing.outline
    names = {what: f"{what}-{digest}" for what in makers}
    for what, name in names.items():
        if name not in memory.sent:
            meshes[name] = makers[what](body.mesh)
            memory.sent.add(name)
    return {"name": body.name, "moves": packing.moves(body.matrices), **names}


def _where(solved: Solved, shown: npt.NDArray[np.intp]) -> Stance:
    """The stance at the lock positions that the linkage reaches."""
    standing = solved.standing
    arrays = {f.name: getattr(standing, f.name)[shown] for f in fields(standing) if f.name != "kart"}
    return replace(standing, **arrays)


def _notices(solved: Mapping[str, Solved]) -> list[str]:
    lines = []
    for name, one in solved.items():
        if not one.sweep.reach.all():
            lines.append(
                f"{name}: the tie rods bind before the end of the sweep; beyond that nothing is shown."
            )
        if one.standing.tips[one.sweep.reach].any():
            lines.append(
                f"{name}: in this load case the kart falls over at some lock positions; not shown there."
            )
    return lines
