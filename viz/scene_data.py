"""The scene as plain data: meshes, one matrix per body and lock position, labels, captions, cameras.

Any canvas (window, file, browser, notebook) can draw it; nothing here knows one.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from kinematics.frames import Array
from viz.meshes import Mesh


@dataclass(frozen=True, eq=False)
class Body:
    """One rigid body: its mesh in neutral frame axes, mm, and its rigid matrices (N, 4, 4) to frame axes."""

    name: str
    mesh: Mesh
    matrices: Array
    moves_with: str
    """Group: frame, road, column, stub_left, rod_left, mark, ... What carries a group carries its bodies."""
    opacity: float = 1.0


@dataclass(frozen=True, eq=False)
class Label:
    """A word at a point (N, 3) in frame axes, in the colour of a role, shifted on screen by pixels."""

    text: str
    points: Array
    role: str
    shift: tuple[int, int] = (0, 0)


@dataclass(frozen=True)
class Camera:
    """Where the eye stands, what it looks at and which way is up; parallel is half the height seen, mm.

    parallel = 0 means a perspective view.
    """

    position: tuple[float, float, float]
    focus: tuple[float, float, float]
    up: tuple[float, float, float] = (0.0, 0.0, 1.0)
    parallel: float = 0.0


@dataclass(frozen=True, eq=False)
class SceneData:
    """Everything drawn for one sweep; every array's first axis is the lock position (N)."""

    name: str
    handwheel_deg: Array
    bodies: tuple[Body, ...]
    labels: tuple[Label, ...]
    captions: tuple[str, ...]
    legend: str
    cameras: Mapping[str, Camera]

    @property
    def count(self) -> int:
        """Number of lock positions."""
        return len(self.handwheel_deg)

    @property
    def straight(self) -> int:
        """Index of the position nearest to straight ahead."""
        return int(np.argmin(np.abs(self.handwheel_deg)))

    def body(self, name: str) -> Body:
        """The body of that name; a KeyError when there is none."""
        return {b.name: b for b in self.bodies}[name]

    def nearest(self, handwheel_deg: float) -> int:
        """Index of the position nearest to a handwheel angle in degrees."""
        return int(np.argmin(np.abs(self.handwheel_deg - handwheel_deg)))
