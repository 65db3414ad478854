"""How the strokes of a drawing look, by role: once, for SVG on pages and for the PDF."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Look:
    """Width and dashes in mm of paper; stroke and fill are names of the palette, none is left out."""

    width: float = 0.3
    stroke: str | None = "ink"
    fill: str | None = None
    dash: tuple[float, float] | None = None
    opacity: float = 1.0
    """Of the fill."""


PLAIN = Look()
LOOKS = {
    "seat": Look(fill="paper"),
    "bush": Look(fill="metal"),
    "centre": Look(0.2, "soft"),
    "solid_hole": Look(0.6, fill="plate", opacity=0.75),
    "solid_mark": Look(fill="ink"),
    "dashed_hole": Look(0.45, "ghost", dash=(1.2, 0.8)),
    "dashed_mark": Look(0.35, "ghost", dash=(0.9, 0.5)),
    "turn": Look(0.7, "strong"),
    "turn_head": Look(stroke=None, fill="strong"),
    "compass_head": Look(stroke=None, fill="ink"),
    "tyre": Look(fill="paper"),
    "read": Look(0.8, fill="plate"),
    "part": Look(fill="metal"),
    "faint": Look(0.25, "soft"),
    "aim": Look(0.25, "soft", dash=(1.2, 0.8)),
    "floor": Look(0.5),
    "put": Look(fill="ink"),
    "gauge": Look(0.6, "strong", fill="plate"),
    "gauge_line": Look(0.6, "strong"),
    "gauge_head": Look(stroke=None, fill="strong"),
}
TEXT_SIZE = 2.7
"""mm of paper."""


def drawing_css() -> str:
    """The looks as styles of an SVG of class 'bushes', which every drawing is."""
    shapes = "".join(f"svg.bushes .{role}{{{_declared(look)}}}\n" for role, look in LOOKS.items())
    every = ",".join(f"svg.bushes {shape}" for shape in ("circle", "polyline", "polygon"))
    words = (
        f"svg.bushes text{{fill:var(--ink);stroke:none;font-size:{TEXT_SIZE}px}}\n"
        "svg.bushes .clock{fill:var(--soft)}\nsvg.bushes .state{font-weight:700}\n"
    )
    return f"{every}{{{_declared(PLAIN)}}}\n{shapes}{words}"


def _declared(look: Look) -> str:
    stroke, fill = (f"var(--{name})" if name else "none" for name in (look.stroke, look.fill))
    dash = f";stroke-dasharray:{look.dash[0]:g} {look.dash[1]:g}" if look.dash else ""
    clear = f";fill-opacity:{look.opacity:g}" if look.opacity < 1.0 else ""
    return f"fill:{fill};stroke:{stroke};stroke-width:{look.width:g}{dash}{clear}"
