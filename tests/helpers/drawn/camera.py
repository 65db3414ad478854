"""A canvas's camera and its pixels: where a point of the solver should fall, and where a body does."""

import numpy as np

from viz.scene.data import Camera

SIZE = (1280, 720)
WITHIN = 2.5
"""Pixels."""

BEHIND = Camera((-4000.0, 0.0, 880.0), (0.0, 0.0, 240.0), parallel=640.0)
"""Behind a standing kart, a little above, without perspective."""


def projected(plotter, point):
    """Pixel (column, row from the top) of a point (3,), from the camera's own numbers alone."""
    eye = plotter.camera
    back = np.subtract(eye.position, eye.focal_point)
    back = back / np.linalg.norm(back)
    right = np.cross(eye.up, back)
    right = right / np.linalg.norm(right)
    up = np.cross(back, right)
    x, y, depth = (np.subtract(point, eye.position) @ axis for axis in (right, up, -back))
    cone = depth * np.tan(np.radians(0.5 * eye.view_angle))
    half = eye.parallel_scale if eye.parallel_projection else cone
    width, height = SIZE
    return np.array(
        [0.5 * width + 0.5 * height * x / half - 0.5, 0.5 * height - 0.5 * height * y / half - 0.5]
    )


def picture(plotter):
    """The picture as it is now (height, width, 3)."""
    plotter.render()
    return np.asarray(plotter.screenshot(return_img=True)).astype(int)


def pixels(plotter, handle, name):
    """Pixels (P, 2) as (column, row) on which one body is drawn when it is alone."""
    for body in handle.data.bodies:
        handle.actor(body.name).SetVisibility(body.name == name)
    handle.set_words(False)
    handle._texts["stated"].SetVisibility(False)
    shot = picture(plotter)
    rows, columns = np.nonzero(np.abs(shot - shot[0, 0]).sum(axis=-1) > 12)
    return np.stack([columns, rows], axis=-1)
