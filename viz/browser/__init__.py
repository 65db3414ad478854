"""The page in the browser: a small local server, one private state for each visitor, drawn by the browser.

`serve` is the one thing to call; importing this package loads neither trame nor a mesh.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from viz.browser.serving import BrowserError, serve

__all__ = ["BrowserError", "serve"]


def __getattr__(name: str) -> Any:
    """Fetch serve or BrowserError from its module on first use (PEP 562)."""
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module("viz.browser.serving"), name)
