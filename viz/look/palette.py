"""The one palette, light, dark and print: pages, plots, pictures and the window take their colours here."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace

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
    "second",
    "pushed",
    "diagonal",
    "shadow",
    "driver",
)
"""What a surface of a scene stands for; a theme gives each role its colour."""


@dataclass(frozen=True)
class Theme:
    """Colours as #rrggbb, each by what it is for."""

    name: str
    paper: str
    """The ground of everything."""
    plate: str
    """Ground of charts and tables, and behind labels."""
    ink: str
    soft: str
    """Ink of lesser words."""
    rule: str
    """Edges of controls and boxes."""
    fine: str
    """Hairlines: grids of charts, lines of tables."""
    left: str
    right: str
    second: str
    """The second setting, where it is drawn over the first in the same scene."""
    air: str
    """A wheel off the road: told from tyres and from both sides by every eye."""
    on_air: str
    strong: str
    """What is pressed, pointed at or turned: cursors, focus, buttons that are down."""
    on_strong: str
    warn: str
    warn_plate: str
    metal: str
    ghost: str
    """What was there before."""
    surfaces: Mapping[str, str]
    """What else a scene paints, by role."""

    @property
    def named(self) -> dict[str, str]:
        """Every colour but those of a scene's surfaces, by its name."""
        return {f.name: getattr(self, f.name) for f in fields(self) if f.name not in ("name", "surfaces")}

    @property
    def roles(self) -> dict[str, str]:
        """A colour for each of ROLES."""
        known = {**self.named, "scale": self.ink, **self.surfaces}
        return {role: known[role] for role in ROLES}

    def palette(self) -> npt.NDArray[np.uint8]:
        """Colour of each role (len(ROLES), 3), 0..255."""
        return np.array([rgb(colour) for colour in self.roles.values()], dtype=np.uint8)


def rgb(colour: str) -> tuple[int, int, int]:
    """A colour #rrggbb as red, green and blue, 0..255."""
    red, green, blue = (int(colour[i : i + 2], 16) for i in (1, 3, 5))
    return red, green, blue


LIGHT = Theme(
    name="light",
    paper="#f3efe6",
    plate="#fffdf7",
    ink="#1c2126",
    soft="#4d545b",
    rule="#8a857a",
    fine="#d8d1c2",
    left="#166d63",
    right="#a84a12",
    second="#5d43a8",
    air="#f2c200",
    on_air="#1c2126",
    strong="#0b4f7a",
    on_strong="#ffffff",
    warn="#7a1020",
    warn_plate="#fbe3df",
    metal="#d9d8d2",
    ghost="#6b7076",
    surfaces={
        "tyre": "#3a3d42",
        "rim": "#c9cdd1",
        "steel": "#9aa3ab",
        "yoke": "#66788a",
        "frame": "#a9b3b8",
        "bush": "#e2a72e",
        "mark": "#14213d",
        "kingpin": "#2a3036",
        "column": "#7d8790",
        "handwheel": "#2f353b",
        "road": "#f0e9da",
        "grid": "#bfb6a3",
        "axis": "#b10d5b",
        "axis_point": "#b10d5b",
        "contact": "#125fca",
        "load": "#733ca7",
        "pushed": "#904b00",
        "diagonal": "#087666",
        "shadow": "#1c2126",
        "driver": "#b9b2a4",
    },
)

DARK = Theme(
    name="dark",
    paper="#14191e",
    plate="#1d242b",
    ink="#eef1f3",
    soft="#b9c1c8",
    rule="#7c8791",
    fine="#36414b",
    left="#58dbc5",
    right="#e1854b",
    second="#a09df7",
    air="#fffc5d",
    on_air="#14191e",
    strong="#7cc4f2",
    on_strong="#0c151c",
    warn="#ffb4ab",
    warn_plate="#47191a",
    metal="#3b4146",
    ghost="#a3a8ad",
    surfaces={
        "tyre": "#5a616a",
        "rim": "#d3d8dc",
        "steel": "#b3bcc4",
        "yoke": "#7f95ab",
        "frame": "#7e8a92",
        "bush": "#f0b73f",
        "mark": "#3f63cf",
        "kingpin": "#1b2026",
        "column": "#98a3ad",
        "handwheel": "#474f58",
        "road": "#262e36",
        "grid": "#46525e",
        "axis": "#ff6b95",
        "axis_point": "#ff6b95",
        "contact": "#6ca7ff",
        "load": "#c3a8ff",
        "pushed": "#c39722",
        "diagonal": "#57cda2",
        "shadow": "#000000",
        "driver": "#8d949b",
    },
)

PRINT = replace(
    LIGHT,
    name="print",
    paper="#eeeeee",
    plate="#ffffff",
    ink="#000000",
    soft="#333333",
    rule="#888888",
    fine="#bbbbbb",
    strong="#000000",
    on_strong="#ffffff",
    warn="#000000",
    warn_plate="#ffffff",
    metal="#dddddd",
    ghost="#444444",
)
"""Black on white; the sides keep their colours, and no meaning rests on them."""

THEMES = {theme.name: theme for theme in (LIGHT, DARK)}
