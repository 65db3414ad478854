"""Text of others on a plot: it is text, whatever is in it."""

from __future__ import annotations

from viz.look.lettering import drawable
from viz.tables.grid import shorten


def plain(text: object, width: int) -> str:
    """A title or name for Matplotlib, cut to width; no dollar in it begins mathematics."""
    return shorten(drawable(str(text)), width).replace("$", r"\$")
