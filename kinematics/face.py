"""The face of a package: public names fetched from their modules when they are first used (PEP 562)."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from importlib import import_module
from typing import Any


def face(package: str, homes: Mapping[str, tuple[str, ...]]) -> Callable[[str], Any]:
    """The `__getattr__` of a package whose public names have these modules as homes."""
    home_of = {name: home for home, names in homes.items() for name in names}

    def fetched(name: str) -> Any:
        if name not in home_of:
            raise AttributeError(f"module {package!r} has no attribute {name!r}")
        return getattr(import_module(f"{package}.{home_of[name]}"), name)

    return fetched
