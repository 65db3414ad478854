"""Write a scene to a file: PNG of one lock position, GIF, WebP or MP4 of the whole sweep, by suffix.

A file appears whole or not at all: it is written beside its place and renamed when it is complete.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt

from scenarios.files import replacing
from viz.look.palette import LIGHT, Theme
from viz.scene.data import SceneData

SUFFIXES = ("gif", "mp4", "webp", "png")
SIZE = (1280, 720)
FPS = 20
ONE_WAY = 31
"""Most lock positions shown on the way from one lock to the other; the film then runs back."""

Progress = Callable[[int, int], None]
Image = npt.NDArray[np.uint8]


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
    with replacing(path) as aside, _canvas(data, theme, size, view, insets, still=kind == "png") as picture:
        if kind == "png":
            index = data.straight if still_deg is None else data.nearest(still_deg)
            _write_png(aside, picture(index), progress)
            return 1
        order = list(there_and_back(data.count) if frames is None else frames)
        shots = _shots(picture, order, progress)
        _WRITERS[kind](aside, shots, order, fps, size)
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
def _canvas(
    data: SceneData, theme: Theme, size: tuple[int, int], view: str, insets: bool, still: bool
) -> Iterator[Callable[[int], Image]]:
    """An off-screen plotter as a function from lock position to pixels (height, width, 3)."""
    from viz.canvas import draw as scene_draw
    from viz.canvas import gl
    from viz.canvas.inset import add_insets

    gl.require()
    import pyvista as pv

    plotter = pv.Plotter(off_screen=True, window_size=list(size))
    try:
        plotter.render_window.SetMultiSamples(8 if still else 0)
        handle = scene_draw.add_to(plotter, data, theme)
        scene_draw.look(plotter, data.cameras[view])
        if insets and view == "overview":
            add_insets(handle)

        def picture(index: int) -> Image:
            handle.set_position(index)
            if data.cameras[view].rides:
                scene_draw.look(plotter, data.camera(view, index))
            plotter.renderer.ResetCameraClippingRange()
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


def _write_png(aside: str, shot: Image, progress: Progress | None) -> None:
    from PIL import Image as Picture

    Picture.fromarray(shot).save(aside, format="PNG", optimize=True)
    if progress is not None:
        progress(1, 1)


def _write_gif(
    aside: str, shots: Iterator[Image], order: Sequence[int], fps: int, size: tuple[int, int]
) -> None:
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
    pages[0].save(
        aside, format="GIF", save_all=True, append_images=pages[1:], duration=duration, loop=0, disposal=1
    )


def _write_webp(
    aside: str, shots: Iterator[Image], order: Sequence[int], fps: int, size: tuple[int, int]
) -> None:
    from PIL import Image as Picture

    pages = [Picture.fromarray(shot) for shot in shots]
    pages[0].save(
        aside,
        format="WEBP",
        save_all=True,
        append_images=pages[1:],
        duration=round(1000 / fps),
        loop=0,
        method=0,
        quality=60,
    )


def _write_mp4(
    aside: str, shots: Iterator[Image], order: Sequence[int], fps: int, size: tuple[int, int]
) -> None:
    """H.264 in a form that phones and browsers play."""
    import imageio_ffmpeg

    stream = imageio_ffmpeg.write_frames(
        aside,
        size,
        fps=fps,
        codec="libx264",
        quality=7,
        macro_block_size=16,
        output_params=["-preset", "veryfast"],
    )
    stream.send(None)
    try:
        for shot in shots:
            stream.send(np.ascontiguousarray(shot))
    finally:
        stream.close()


_WRITERS: dict[str, Callable[[str, Iterator[Image], Sequence[int], int, tuple[int, int]], None]] = {
    "gif": _write_gif,
    "webp": _write_webp,
    "mp4": _write_mp4,
}
