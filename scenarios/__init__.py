"""The kart on disk: scenario files, their validation, and the built-in scenarios.

Importing this package is light: what reads files, and pydantic with it, is imported when it is first used.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from scenarios.bundled import builtin_names, builtin_text, copy_builtin
    from scenarios.errors import ScenarioError
    from scenarios.loading import from_mapping, json_schema, load
    from scenarios.records import Kit, Limits, RearAxle, Scenario
    from scenarios.units import corner_setting

__all__ = [
    "Kit",
    "Limits",
    "RearAxle",
    "Scenario",
    "ScenarioError",
    "builtin_names",
    "builtin_text",
    "copy_builtin",
    "corner_setting",
    "from_mapping",
    "json_schema",
    "load",
]

_HOMES = {
    "bundled": ("builtin_names", "builtin_text", "copy_builtin"),
    "errors": ("ScenarioError",),
    "loading": ("from_mapping", "json_schema", "load"),
    "records": ("Kit", "Limits", "RearAxle", "Scenario"),
    "units": ("corner_setting",),
}
_HOME_OF = {name: home for home, names in _HOMES.items() for name in names}


def __getattr__(name: str) -> Any:
    """Fetch a public name from its module on first use (PEP 562)."""
    if name not in _HOME_OF:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOME_OF[name]}"), name)
