"""The pictures of a hand-out: each setting as it stands at every stop of the slider, light and dark."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from kinematics.standing.stand import stand
from viz.canvas.strips import SIZE, Film, Progress, Strip, strips
from viz.handout.content import Content
from viz.look.palette import THEMES, Theme
from viz.scene import scene
from viz.scene.data import SceneData


def pictures(
    content: Content,
    size: tuple[int, int] = SIZE,
    view: str = "overview",
    progress: Progress | None = None,
    themes: Sequence[Theme] = tuple(THEMES.values()),
) -> dict[str, dict[str, Strip]]:
    """Pictures by name of the theme and slot; strips says what is raised, as does a setting without reach."""
    films = {slot: Film(stood(content, slot), run.sweep.reach) for slot, run in content.stops.items()}
    return strips(films, size, view, progress, themes)


def stood(content: Content, slot: str) -> SceneData:
    """The standing kart of a slot in the first load case; what the page says in its own words is left out."""
    sweep, case = content.stops[slot].sweep, content.scenario.load_cases[0]
    data = scene.build(sweep, content.names[slot], stance=stand(sweep, case), case_name=case.name)
    return replace(data, captions=("",) * data.count, legend="", stated="")
