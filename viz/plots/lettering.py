"""Text of others on a plot: it is text, whatever is in it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from viz.look.lettering import drawable
from viz.tables.grid import shorten

if TYPE_CHECKING:
    from matplotlib.figure import Figure


def plain(text: object, width: int) -> str:
    """A title or name for Matplotlib, cut to width; no dollar in it begins mathematics."""
    return shorten(drawable(str(text)), width).replace("$", r"\$")


def titled(figure: Figure) -> str:
    """The title that stands over a figure, or over its first panel, as it is read."""
    panels = [axes.get_title() for axes in figure.axes]
    return next((one for one in (figure.get_suptitle(), *panels) if one), "").replace(r"\$", "$")
