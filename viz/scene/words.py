"""What the scene says in words: labels at points, a caption for each lock position, a legend."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from kinematics.frames import Array, mirror
from kinematics.lock import CornerSweep, Sweep
from viz.scene.data import Label

_ABOVE = np.array([0.0, 0.0, 165.0])
_RIGHT_100 = np.array([0.0, -100.0, 0.0])


def signed(value: float, unit: str = "°") -> str:
    """A number with its sign and one decimal, as print and screen show it; no minus zero."""
    rounded = round(float(value), 1) + 0.0
    return f"{rounded:+.1f}{unit}".replace("-", "\u2212") if rounded else f"0.0{unit}"


def lock(angle_deg: float) -> str:
    """A handwheel angle in words."""
    if abs(angle_deg) < 0.05:
        return "straight ahead"
    way = "left" if angle_deg > 0.0 else "right"
    return f"handwheel {signed(abs(angle_deg)).lstrip('+')} to the {way}"


def captions(sweep: Sweep, name: str) -> tuple[str, ...]:
    """Setting, handwheel angle, steer and camber of both wheels, one text per lock position (N)."""
    left, right = sweep.left, sweep.right
    columns = (sweep.handwheel, left.steer, left.camber, -right.steer, right.camber)
    return tuple(_caption(name, *row) for row in np.degrees(np.stack(columns, axis=-1)))


def heading(name: str, handwheel: float) -> str:
    """Name of the setting and handwheel angle in degrees, + left."""
    way = "left turn" if handwheel > 0.05 else "right turn" if handwheel < -0.05 else "straight ahead"
    title = f"{name}   " if name else ""
    return f"{title}handwheel {signed(handwheel)} ({way})"


def _caption(name: str, handwheel: float, sl: float, cl: float, sr: float, cr: float) -> str:
    return (
        f"{heading(name, handwheel)}\n"
        f"left wheel: steer {signed(sl)}, camber {signed(cl)}   "
        f"right wheel: steer {signed(sr)}, camber {signed(cr)}"
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
