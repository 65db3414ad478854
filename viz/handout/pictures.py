"""The pictures that the slider leafs through: each setting at every stop, light and dark, as WebP."""

from __future__ import annotations

import base64
import io
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

import numpy as np

from viz.handout.content import Content
from viz.look.palette import THEMES, Theme
from viz.scene.data import Camera, SceneData

SIZE = (960, 544)
QUALITY = 56
SAMPLES = 4
NEARER = 0.84
"""The eye stands this much nearer than in the film: the page has its words beside the picture, not in it."""

Progress = Callable[[int, int], None]
Strip = list[str | None]
"""A picture for every stop, None where the linkage cannot stand."""


def strips(
    content: Content,
    size: tuple[int, int] = SIZE,
    view: str = "overview",
    progress: Progress | None = None,
    themes: Sequence[Theme] = tuple(THEMES.values()),
    standing: bool = False,
) -> dict[str, dict[str, Strip]]:
    """Pictures by name of the theme and slot. progress is called with pictures done and pictures in all.

    standing draws the whole kart as it stands in the scenario's first load case, with the load beside each
    wheel; otherwise the front end is drawn with the frame held still.

    Raises gl.NoGraphics where nothing can draw, ValueError for an unknown view or a setting whose tie rods
    reach no lock position.
    """
    from viz.canvas import gl
    from viz.scene import scene

    gl.require()
    scenes = {
        slot: stood(content, slot) if standing else scene.build(run.sweep, content.names[slot])
        for slot, run in content.stops.items()
    }
    for data in scenes.values():
        if view not in data.cameras:
            raise ValueError(f"no view {view!r}; there are {', '.join(data.cameras)}")
    total = len(themes) * sum(data.count for data in scenes.values())
    tell = _counter(total, progress)
    made: dict[str, dict[str, Strip]] = {theme.name: {} for theme in themes}
    for slot, data in scenes.items():
        reach = content.stops[slot].sweep.reach
        for name, pictures in _in_every_theme(data, size, view, tell, themes).items():
            strip = np.full(len(reach), None, dtype=object)
            strip[reach] = pictures
            made[name][slot] = strip.tolist()
    return made


def stood(content: Content, slot: str) -> SceneData:
    """The standing kart of a slot in the first load case; what the page says in its own words is left out."""
    from kinematics.stance.standing import stand
    from viz.scene import scene

    sweep, case = content.stops[slot].sweep, content.scenario.load_cases[0]
    data = scene.build(sweep, content.names[slot], stance=stand(sweep, case), case_name=case.name)
    return replace(data, captions=("",) * data.count, legend="", stated="")


def _counter(total: int, progress: Progress | None) -> Callable[[], None]:
    done = 0

    def tell() -> None:
        nonlocal done
        done += 1
        if progress is not None:
            progress(done, total)

    return tell


def _in_every_theme(
    data: SceneData,
    size: tuple[int, int],
    view: str,
    tell: Callable[[], None],
    themes: Sequence[Theme],
) -> Mapping[str, list[str]]:
    """Every lock position of a scene drawn in every theme, on one plotter."""
    import pyvista as pv

    from viz.canvas import draw as scene_draw

    plotter = pv.Plotter(off_screen=True, window_size=list(size), lighting="light kit")
    try:
        plotter.render_window.SetMultiSamples(SAMPLES)
        handle = scene_draw.add_to(plotter, data)
        handle.set_words(bool(data.notes))  # loads beside the wheels of a standing kart
        scene_draw.look(plotter, _nearer(data.cameras[view]))
        made = {}
        for theme in themes:
            handle.set_theme(theme)
            made[theme.name] = list(_drawn(plotter, handle, tell))
        return made
    finally:
        plotter.close()


def _nearer(camera: Camera) -> Camera:
    focus, position = np.array(camera.focus), np.array(camera.position)
    x, y, z = (focus + NEARER * (position - focus)).tolist()
    return replace(camera, position=(x, y, z), parallel=NEARER * camera.parallel)


def _drawn(plotter: Any, handle: Any, tell: Callable[[], None]) -> Iterator[str]:
    for index in range(handle.data.count):
        handle.set_position(index)
        plotter.renderer.ResetCameraClippingRange()
        plotter.render()
        yield data_uri(plotter.screenshot(return_img=True))
        tell()


def data_uri(pixels: Any) -> str:
    """Pixels (height, width, 3) as a WebP picture in a data URI."""
    from PIL import Image

    content = io.BytesIO()
    Image.fromarray(pixels).save(content, format="WEBP", quality=QUALITY, method=2)
    return "data:image/webp;base64," + base64.b64encode(content.getvalue()).decode()
