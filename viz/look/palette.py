"""Light and dark: what colour each role has, and the colours of paper and ink."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

ROLES = (
    "tyre",
    "rim",
    "steel",
    "yoke",
    "frame",
    "bush",
    "mark",
    "kingpin",
    "left",
    "right",
    "column",
    "handwheel",
    "road",
    "grid",
    "axis",
    "contact",
    "axis_point",
    "scale",
    "load",
    "air",
    "pale",
)
"""What a surface stands for; a theme gives each role its colour."""


@dataclass(frozen=True)
class Theme:
    """Colours as #rrggbb; roles gives one for every name in meshes.ROLES."""

    name: str
    paper: str
    ink: str
    plate: str
    """Ground behind labels."""
    roles: Mapping[str, str]

    def palette(self) -> npt.NDArray[np.uint8]:
        """Colour of each role (len(ROLES), 3), 0..255."""
        return np.array([_rgb(self.roles[role]) for role in ROLES], dtype=np.uint8)


def _rgb(colour: str) -> tuple[int, int, int]:
    red, green, blue = (int(colour[i : i + 2], 16) for i in (1, 3, 5))
    return red, green, blue


LIGHT = Theme(
    name="light",
    paper="#f3efe6",
    ink="#1c2126",
    plate="#fffdf7",
    roles={
        "tyre": "#3a3d42",
        "rim": "#c9cdd1",
        "steel": "#9aa3ab",
        "yoke": "#66788a",
        "frame": "#a9b3b8",
        "bush": "#e2a72e",
        "mark": "#8f1230",
        "kingpin": "#2a3036",
        "left": "#0a6e67",
        "right": "#a84a12",
        "column": "#7d8790",
        "handwheel": "#2f353b",
        "road": "#f0e9da",
        "grid": "#bfb6a3",
        "axis": "#b3135f",
        "contact": "#1d5fc4",
        "axis_point": "#b3135f",
        "scale": "#1c2126",
        "load": "#5b3a9e",
        "air": "#c02a1f",
        "pale": "#3f5fd0",
    },
)

DARK = Theme(
    name="dark",
    paper="#14191e",
    ink="#eef1f3",
    plate="#20272e",
    roles={
        "tyre": "#5a616a",
        "rim": "#d3d8dc",
        "steel": "#b3bcc4",
        "yoke": "#7f95ab",
        "frame": "#7e8a92",
        "bush": "#f0b73f",
        "mark": "#a3123a",
        "kingpin": "#1b2026",
        "left": "#2bb3a6",
        "right": "#e8823c",
        "column": "#98a3ad",
        "handwheel": "#474f58",
        "road": "#262e36",
        "grid": "#46525e",
        "axis": "#ff6fb0",
        "contact": "#6ea8ff",
        "axis_point": "#ff6fb0",
        "scale": "#eef1f3",
        "load": "#c3a8ff",
        "air": "#ff8a7d",
        "pale": "#8fb2ff",
    },
)

THEMES = {theme.name: theme for theme in (LIGHT, DARK)}
