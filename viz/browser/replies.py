"""What the page is told for a visitor's choices: meshes and matrices, charts, numbers and words."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from kinematics.figures.verdict import ON_TWO, TIPS, words
from scenarios import Scenario
from scenarios.kit import in_deg
from scenarios.lessons.lesson import titles
from scenarios.schema.changes import AT_A_CORNER, CHANGES, NOT_MODELLED
from viz.browser import figures, karts, slots, solving
from viz.browser.asked import gauged
from viz.browser.chosen import choices
from viz.browser.chosen.choices import Choices
from viz.browser.chosen.wording import folded, plain
from viz.browser.memory import Memory, toes
from viz.browser.solving import Stood
from viz.look import shade
from viz.look.palette import ROLES, THEMES
from viz.look.rule import label_colours
from viz.scene import loads as stance_scene_words
from viz.scene.data import SceneData
from viz.scene.scene import OF_A_CORNER, OF_THE_WHOLE, STILL
from viz.words.cautions import BESIDE_FIGURES

Reply = dict[str, Any]


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
        **gauged.page(scenario),
        "charts_first": list(figures.CHARTS_FIRST),
        "themes": {name: _theme(name) for name in THEMES},
        "cautions": list(BESIDE_FIGURES),
        "of_a_corner": list(OF_A_CORNER),
        "telling": [*OF_THE_WHOLE, *OF_A_CORNER],
        "held_still": STILL,
    }


def _theme(name: str) -> Reply:
    theme = THEMES[name]
    return {
        "paper": theme.paper,
        "second": theme.second,
        "palette": theme.palette().tobytes(),
        "words": {role: label_colours(theme, role) for role in (*ROLES, "")},
    }


def reply(chosen: Choices, memory: Memory) -> Reply:
    """Everything that follows from the choices; meshes only when the page does not have them yet."""
    compared = choices.compared(chosen)
    solved = memory.stood(compared, chosen)
    through = {name: figures.through_values(s) for name, s in solved.items()}
    meshes: dict[str, Reply] = {}
    is_fresh = memory.outgrown()
    times, scenes = _scenes(chosen, solved, memory)
    drawn = {name: karts.kart(name, solved[name], data, memory, meshes) for name, data in scenes.items()}
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
        "readings": gauged.listed(chosen.readings),
        "karts": drawn,
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
    drawn = {name: s for name, s in solved.items() if s.sweep.reach.any()}
    scenes: dict[str, SceneData | None] = dict.fromkeys(solved)
    for times in sorted((t for t in choices.TWISTS if t <= chosen.twist), reverse=True):
        try:
            made = {n: memory.scene(n, s, times) for n, s in drawn.items()}
        except ValueError:
            continue
        return times, {**scenes, **made}
    return 1, scenes


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


def corners(chosen: Choices, memory: Memory) -> Reply:
    """What is told of the front ends of A and B held still, from views that are asked for alone."""
    return karts.corners(memory.stood(choices.compared(chosen), chosen), memory)
