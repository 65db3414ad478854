"""Write a scene to a file: PNG of one lock position, GIF, WebP or MP4 of the whole sweep, by suffix.

A file appears whole or not at all: it is written beside its place and renamed when it is complete.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import numpy as np

from scenarios.files import put, replacing
from viz.canvas.encoder import Image, encode
from viz.look.palette import LIGHT, Theme
from viz.scene.data import SceneData

SUFFIXES = ("gif", "mp4", "webp", "png")
SIZE = (1280, 720)
FPS = 20
ONE_WAY = 31
"""Most lock positions shown on the way from one lock to the other; the film then runs back."""

Progress = Callable[[int, int], None]


def write(
    path: str | Path,
    data: SceneData,
    *,
    theme: Theme = LIGHT,
    size: tuple[int, int] = SIZE,
    view: str = "overview",
    still_deg: float | None = None,
    frames: Sequence[int] | None = None,
    fps: int = FPS,
    insets: bool = True,
    progress: Progress | None = None,
) -> int:
    """Write the scene to path and return the number of frames; the suffix picks the kind of file.

    still_deg is the handwheel angle in degrees (+ left) of a PNG, straight ahead by default; frames are
    the lock positions of a film in order, there and back by default. insets adds close-ups of the top
    bushes to the overview. progress is called with frames done
    and frames in all. Raises ValueError for an unknown suffix, view or a frame size not in multiples of
    16, gl.NoGraphics where nothing can draw, OSError where the file cannot be written. Whatever ends the
    export early, no file is left behind, and an older file of that name stays as it was.
    """
    kind = Path(path).suffix.lower().lstrip(".")
    _check(kind, data, size, view)
    with canvas(data, theme, size, view, insets, still=kind == "png") as picture:
        if kind == "png":
            order = [data.straight if still_deg is None else data.nearest(still_deg)]
        else:
            order = list(there_and_back(data.count) if frames is None else frames)
        shots = _shots(picture, order, progress)
        if kind == "mp4":
            with replacing(path) as aside:
                encode(aside, shots, len(order), size, fps)
        else:
            put(path, _MAKERS[kind](shots, fps))
    return len(order)


def there_and_back(count: int, one_way: int = ONE_WAY) -> list[int]:
    """Lock positions from one end of the sweep to the other and back, each stop once a way."""
    stops = np.unique(np.linspace(0, count - 1, min(one_way, count)).round().astype(int)).tolist()
    return [*stops, *stops[-2:0:-1]]


def _check(kind: str, data: SceneData, size: tuple[int, int], view: str) -> None:
    if kind not in SUFFIXES:
        raise ValueError(f"the file name must end in one of {', '.join('.' + s for s in SUFFIXES)}")
    if view not in data.cameras:
        raise ValueError(f"no view {view!r}; there are {', '.join(data.cameras)}")
    if any(s % 16 or s < 16 for s in size):
        raise ValueError(f"a frame of {size[0]} x {size[1]} pixels: both must be multiples of 16")


@contextmanager
def canvas(
    data: SceneData, theme: Theme, size: tuple[int, int], view: str, insets: bool, still: bool
) -> Iterator[Callable[[int], Image]]:
    """An off-screen plotter as a function from lock position to pixels (height, width, 3)."""
    from viz.canvas import draw as scene_draw
    from viz.canvas import gl
    from viz.canvas.inset import add_insets, boxes
    from viz.canvas.labels import Labels
    from viz.canvas.pane import Pane

    gl.require()
    import pyvista as pv

    plotter = pv.Plotter(off_screen=True, window_size=list(size))
    try:
        plotter.render_window.SetMultiSamples(8 if still else 0)
        handle = scene_draw.add_to(plotter, data, theme, quick=not still)
        plotter.renderer.SetUseOIT(still)
        scene_draw.look(plotter, data.cameras[view])
        labels = Labels(handle)
        labels.set_room(Pane(0, 0, *size), scene_draw.LETTERS)
        if insets and view == "overview":
            add_insets(handle)
            labels.taken = boxes(size)

        def picture(index: int) -> Image:
            handle.set_position(index)
            if data.cameras[view].rides:
                scene_draw.look(plotter, data.camera(view, index))
            plotter.renderer.ResetCameraClippingRange()
            labels.place(plotter.renderer)
            plotter.render()
            shot: Image = plotter.screenshot(return_img=True)
            return shot

        yield picture
    finally:
        plotter.close()


def _shots(
    picture: Callable[[int], Image], order: Sequence[int], progress: Progress | None
) -> Iterator[Image]:
    for done, index in enumerate(order):
        yield picture(index)
        if progress is not None:
            progress(done + 1, len(order))


def _png(shots: Iterator[Image], fps: int) -> bytes:
    from PIL import Image as Picture

    [shot] = shots
    return _saved(Picture.fromarray(shot), format="PNG", optimize=True)


def _gif(shots: Iterator[Image], fps: int) -> bytes:
    """One palette for all frames, made from the first: quick to write, and nothing flickers."""
    from PIL import Image as Picture

    palette: Any = None
    pages = []
    for shot in shots:
        page = Picture.fromarray(shot)
        if palette is None:
            palette = page.quantize(colors=256, method=Picture.Quantize.MEDIANCUT)
        pages.append(page.quantize(palette=palette, dither=Picture.Dither.NONE))
    duration = round(1000 / fps)
    return _saved(
        pages[0], format="GIF", save_all=True, append_images=pages[1:], duration=duration, loop=0, disposal=1
    )


def _webp(shots: Iterator[Image], fps: int) -> bytes:
    from PIL import Image as Picture

    pages = [Picture.fromarray(shot) for shot in shots]
    return _saved(
        pages[0],
        format="WEBP",
        save_all=True,
        append_images=pages[1:],
        duration=round(1000 / fps),
        loop=0,
        method=0,
        quality=60,
    )


def _saved(picture: Any, **options: Any) -> bytes:
    """A picture's file, made in memory: whoever writes it then sees what does not reach the disk."""
    content = io.BytesIO()
    picture.save(content, **options)
    return content.getvalue()


_MAKERS: dict[str, Callable[[Iterator[Image], int], bytes]] = {"png": _png, "gif": _gif, "webp": _webp}
