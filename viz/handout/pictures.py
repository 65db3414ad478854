"""The pictures of a hand-out: each setting as it stands at every stop of the slider, light and dark."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from kinematics.batches import once
from kinematics.lock import sweep
from kinematics.standing.stand import stand
from viz.canvas.strips import SIZE, Film, Progress, Strip, strips
from viz.handout.content import Content
from viz.look.palette import THEMES, Theme
from viz.scene import scene
from viz.scene.data import SceneData

CLOCK = "clock"
VIEW = "rock"
"""From where a hand-out shows the kart: what it is about is the inside rear."""


def pictures(
    content: Content,
    size: tuple[int, int] = SIZE,
    view: str = VIEW,
    progress: Progress | None = None,
    themes: Sequence[Theme] = tuple(THEMES.values()),
) -> dict[str, dict[str, Strip]]:
    """Pictures by name of the theme and slot; strips says what is raised, as does a setting without reach."""
    films = {slot: Film(stood(content, slot, view), run.sweep.reach) for slot, run in content.stops.items()}
    return strips(films, size, view, progress, themes)


def clocks(
    content: Content, size: tuple[int, int] = SIZE, themes: Sequence[Theme] = tuple(THEMES.values())
) -> dict[str, dict[str, Strip]]:
    """A picture by name of the theme and slot: the left stub axle as the hand of a tilted clock."""
    films = {}
    for slot, run in content.stops.items():
        ahead = sweep(run.sweep.kart, run.sweep.setting, np.zeros(1))
        films[slot] = Film(_bare(scene.build(ahead, content.names[slot]).seen_from(CLOCK)), ahead.reach, True)
    return strips(films, size, CLOCK, None, themes)


def has_arrows(content: Content, view: str = VIEW) -> bool:
    """Whether loads are drawn at the wheels in a view."""
    return any(body.role == "load" for body in stood(content, "A", view).bodies)


def drawable(content: Content) -> Content:
    """The content to scale where drawn larger a tyre would lie flat."""
    try:
        _scenes(content)
    except ValueError:
        return replace(content, moment=replace(content.moment, times=1.0))
    return content


def stood(content: Content, slot: str, view: str = VIEW) -> SceneData:
    """The standing kart of a slot as a view shows it; what the page says in its own words is left out."""
    return _bare(_scenes(content)[slot].seen_from(view))


@once
def _scenes(content: Content) -> Mapping[str, SceneData]:
    """The standing kart of every slot at all stops, built once however often it is asked for."""
    case, times, built = content.case, content.moment.times, {}
    for slot, run in content.stops.items():
        standing = stand(run.sweep, case)
        built[slot] = scene.build(run.sweep, content.names[slot], False, standing, case.name, times)
    return built


def _bare(data: SceneData) -> SceneData:
    return replace(data, captions=("",) * data.count, legend="", stated="")
