"""The one rule of every picture: a side has a colour, a setting a stroke. Nothing rests on colour alone."""

from __future__ import annotations

from dataclasses import dataclass

from viz.look.palette import Theme

SIDES = ("left", "right", "")
"""The two sides, and what belongs to the whole kart."""


def side_colour(theme: Theme, side: str) -> str:
    """The colour of what belongs to a side; what belongs to the whole kart is drawn in ink."""
    return {"left": theme.left, "right": theme.right, "": theme.ink}[side]


def label_colours(theme: Theme, role: str) -> tuple[str, str]:
    """Ink and ground of a word in a scene: in its role's colour, or on it where that is bright."""
    if role == "air":
        return theme.on_air, theme.air
    return theme.roles[role] if role else theme.ink, theme.plate


@dataclass(frozen=True)
class Stroke:
    """How a setting's lines are drawn: dashes and gaps in widths of the line (none: solid), and a marker."""

    name: str
    """What plotting libraries call the kind of line."""
    dashes: tuple[float, ...]
    marker: str

    def in_pixels(self, width: float) -> str:
        """The dashes of a line so many pixels wide, as SVG and CSS take them."""
        return " ".join(f"{width * dash:.3g}" for dash in self.dashes) or "none"


_LINES = (
    ("-", ()),
    ("--", (3.2, 1.8)),
    (":", (1.0, 1.6)),
    ("-.", (5.0, 1.4, 1.0, 1.4)),
    ("--", (7.0, 2.0)),
    ("-.", (5.0, 1.4, 1.0, 1.4, 1.0, 1.4)),
)
_MARKERS = ("o", "s", "^", "D", "v", "P", "X", "*")


def stroke(place: int) -> Stroke:
    """The stroke of the setting at a place (0, 1, ...): the first solid, the second dashed, and so on."""
    name, dashes = _LINES[place % len(_LINES)]
    return Stroke(name, dashes, _MARKERS[place % len(_MARKERS)])
