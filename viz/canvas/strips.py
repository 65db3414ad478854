"""Pictures that a slider leafs through: scenes at every lock position and in every theme, as WebP in text."""

from __future__ import annotations

import base64
import io
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from kinematics.frames import Mask
from viz.canvas import draw, gl
from viz.canvas.labels import Labels
from viz.canvas.pane import Pane
from viz.look.palette import THEMES, Theme
from viz.scene.data import Camera, SceneData

SIZE = (960, 544)
QUALITY = 56
NEARER = 0.84
"""The eye stands this much nearer than in the film: a page has its words beside the picture, not in it."""

Progress = Callable[[int, int], None]
Strip = list[str | None]
"""A picture for every stop, None where the linkage cannot stand."""


@dataclass(frozen=True, eq=False)
class Film:
    """A scene and the stops that it was made for (N): its lock positions are those that are reached."""

    data: SceneData
    reach: Mask
    worded: bool = False
    """Whether its labels are shown; those of a standing kart always are."""


def strips(
    films: Mapping[str, Film],
    size: tuple[int, int] = SIZE,
    view: str = "overview",
    progress: Progress | None = None,
    themes: Sequence[Theme] = tuple(THEMES.values()),
) -> dict[str, dict[str, Strip]]:
    """Pictures by name of the theme and of the film; progress is called with those done and all there are.

    Raises gl.NoGraphics where nothing can draw, ValueError for an unknown view.
    """
    gl.require()
    for film in films.values():
        if view not in film.data.cameras:
            raise ValueError(f"no view {view!r}; there are {', '.join(film.data.cameras)}")
    tell = _counter(len(themes) * sum(film.data.count for film in films.values()), progress)
    made: dict[str, dict[str, Strip]] = {theme.name: {} for theme in themes}
    for name, film in films.items():
        for theme, pictures in _in_every_theme(film, size, view, tell, themes).items():
            strip = np.full(len(film.reach), None, dtype=object)
            strip[film.reach] = pictures
            made[theme][name] = strip.tolist()
    return made


def _counter(total: int, progress: Progress | None) -> Callable[[], None]:
    done = 0

    def tell() -> None:
        nonlocal done
        done += 1
        if progress is not None:
            progress(done, total)

    return tell


def _in_every_theme(
    film: Film,
    size: tuple[int, int],
    view: str,
    tell: Callable[[], None],
    themes: Sequence[Theme],
) -> Mapping[str, list[str]]:
    """Every lock position of a scene drawn in every theme, on one plotter."""
    import pyvista as pv

    plotter = pv.Plotter(off_screen=True, window_size=list(size), lighting="light kit")
    try:
        plotter.render_window.SetMultiSamples(0)
        plotter.renderer.SetUseFXAA(True)  # edges smoothed in the finished picture: half the time of samples
        data = film.data
        handle = draw.add_to(plotter, data, themes[0], quick=True)
        plotter.renderer.SetUseOIT(False)
        handle.set_words(film.worded or bool(data.notes))
        draw.look(plotter, _nearer(data.cameras[view]))
        labels = Labels(handle)
        labels.set_room(Pane(0, 0, *size), draw.LETTERS)
        made = {}
        with ThreadPoolExecutor(1) as writer:  # a picture is packed while the next one is drawn
            for theme in themes:
                if theme is not handle.theme:
                    handle.set_theme(theme)
                made[theme.name] = list(writer.map(data_uri, _drawn(plotter, labels, tell)))
        return made
    finally:
        plotter.close()


def _nearer(camera: Camera) -> Camera:
    focus, position = np.array(camera.focus), np.array(camera.position)
    x, y, z = (focus + NEARER * (position - focus)).tolist()
    return replace(camera, position=(x, y, z), parallel=NEARER * camera.parallel)


def _drawn(plotter: Any, labels: Labels, tell: Callable[[], None]) -> Iterator[Any]:
    """The pixels at every lock position."""
    for index in range(labels.handle.data.count):
        labels.handle.set_position(index)
        plotter.renderer.ResetCameraClippingRange()
        labels.place(plotter.renderer)
        plotter.render()
        yield plotter.screenshot(return_img=True)
        tell()


def data_uri(pixels: Any) -> str:
    """Pixels (height, width, 3) as a WebP picture in a data URI."""
    from PIL import Image

    content = io.BytesIO()
    Image.fromarray(pixels).save(content, format="WEBP", quality=QUALITY, method=2)
    return "data:image/webp;base64," + base64.b64encode(content.getvalue()).decode()
