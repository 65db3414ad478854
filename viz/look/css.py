"""The palette and the rule as CSS: variables that every page's styles are written with."""

from __future__ import annotations

from viz.look.palette import DARK, LIGHT, PRINT, Theme
from viz.look.rule import stroke
from viz.look.shade import SHADE

LINE = 2.2
"""Width of a curve, px."""


def variables(theme: Theme) -> str:
    """A theme's colours as declarations of variables."""
    scheme = "dark" if theme is DARK else "light"
    named = "".join(f"--{name.replace('_', '-')}:{colour};" for name, colour in theme.named.items())
    return f"color-scheme:{scheme};{named}"


def look() -> str:
    """Variables for light and dark, as the reader or data-theme has it, and for paper; strokes of A and B.

    It stands before all other styles of a page.
    """
    strokes = "".join(f"--stroke-{slot}:{stroke(i).in_pixels(LINE)};" for i, slot in enumerate("ab"))
    return (
        f":root{{{variables(LIGHT)}--curve:{LINE}px;--shade:{SHADE};{strokes}}}\n"
        f"@media (prefers-color-scheme:dark){{:root:not([data-theme=light]){{{variables(DARK)}}}}}\n"
        f":root[data-theme=dark]{{{variables(DARK)}}}\n"
        f"@media print{{:root:root{{{variables(PRINT)}}}}}\n"
    )
