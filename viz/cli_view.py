"""`lockarc view`: the kart in a window, or its sweep as a picture or film."""

from __future__ import annotations

from typing import Any


def add_to(commands: Any) -> None:
    """Add the command to the parser."""
