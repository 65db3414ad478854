"""Command line, tables, plots, 3D and pages: it draws what the solver computed, and only that.

In a notebook `draw(scenario, "more-caster")` shows a setting through lock, `straight` its bushes, `curves`
and `table` what is read of it, `framed` a hand-out's page; each is content that stays in the cell.
"""

from __future__ import annotations

TYPE_CHECKING = False  # typing's own is not worth its import: the program starts here
if TYPE_CHECKING:
    from typing import Any

    from viz.notebook import curves, framed, table
    from viz.notebook import show as draw
    from viz.notebook import show_straight as straight

__all__ = ["curves", "draw", "framed", "straight", "table"]

_NAMES = {
    "curves": "curves",
    "draw": "show",
    "framed": "framed",
    "straight": "show_straight",
    "table": "table",
}


def __getattr__(name: str) -> Any:
    """Fetch a public name from the notebook module on first use (PEP 562)."""
    if name not in _NAMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from importlib import import_module

    return getattr(import_module("viz.notebook"), _NAMES[name])
