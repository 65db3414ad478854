"""What the scene says in words: labels at points, a caption for each lock position, a legend."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from kinematics.corner.pose import CornerSweep
from kinematics.figures.kart import HANDWHEEL
from kinematics.figures.wheel import CAMBER, STEER
from kinematics.frames import Array, mirror
from kinematics.lock import Sweep
from viz.scene.data import Label
from viz.words.numbers import told

_ABOVE = np.array([0.0, 0.0, 165.0])
_RIGHT_100 = np.array([0.0, -100.0, 0.0])


def lock(angle_deg: float) -> str:
    """A handwheel angle in words."""
    if abs(angle_deg) < 0.05:
        return "straight ahead"
    way = "left" if angle_deg > 0.0 else "right"
    return f"handwheel {told(HANDWHEEL, abs(angle_deg), sign=False)} to the {way}"


def captions(sweep: Sweep, name: str) -> tuple[str, ...]:
    """Setting, handwheel angle, steer and camber of both wheels, one text per lock position (N)."""
    left, right = sweep.left, sweep.right
    columns = (sweep.handwheel, left.steer, left.camber, -right.steer, right.camber)
    rows = np.degrees(np.stack(columns, axis=-1))
    return tuple(f"{heading(name, row[0])}\n{wheels(*row[1:])}" for row in rows)


def heading(name: str, handwheel: float) -> str:
    """Name of the setting and handwheel angle in degrees, + left."""
    way = "left lock" if handwheel > 0.05 else "right lock" if handwheel < -0.05 else "straight ahead"
    title = f"{name}   " if name else ""
    return f"{title}handwheel {told(HANDWHEEL, handwheel)} ({way})"


def wheels(sl: float, cl: float, sr: float, cr: float) -> str:
    """Steer and camber of the left and the right wheel, deg."""
    pairs = (("left", sl, cl), ("right", sr, cr))
    return "   ".join(
        f"{side} wheel: steer {told(STEER, steer)}, camber {told(CAMBER, camber)}"
        for side, steer, camber in pairs
    )


def legend() -> str:
    """What the marks mean."""
    return (
        "C ball: contact centre     A diamond: kingpin axis meets the road     dashed: kingpin axis\n"
        "+ steer to the left, + camber top outward     road grid 100 mm     bar on a bush: its clock     "
        "frame held still"
    )


def labels(sweep: Sweep, road: Array, scale_start: Array, high: tuple[float, float]) -> tuple[Label, ...]:
    """The words that stand at points of the scene."""
    sides = (("left", sweep.left, _as_is), ("right", sweep.right, mirror))
    words = [label for side, corner, place in sides for label in _corner_labels(side, corner, place)]
    return (
        *words,
        Label("200 mm", _on_road(road, scale_start + _RIGHT_100), "scale", (0, -22)),
        Label("FRONT", _on_road(road, np.array([high[0] - 130.0, 110.0, 0.0])), "scale"),
    )


def _corner_labels(side: str, corner: CornerSweep, place: Callable[[Array], Array]) -> list[Label]:
    top = corner.wheel_centre + _ABOVE
    return [
        Label(side.upper(), place(top), side),
        Label("C", place(corner.contact_centre), "contact", (0, -24)),
        Label("A", place(corner.axis_road_point), "axis_point", (0, -26)),
    ]


def _as_is(points: Array) -> Array:
    return points


def _on_road(road: Array, point: Array) -> Array:
    """A point (3,) of the road tile at every lock position (N, 3)."""
    return road[:, :3, :3] @ point + road[:, :3, 3]
