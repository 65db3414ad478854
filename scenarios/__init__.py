"""The kart on disk, and what is asked of it: scenario files, runs, comparisons, choices, maps.

Ten lines are enough from a notebook or a script:

>>> import scenarios
>>> kart = scenarios.load()
>>> kart = scenarios.typed(kart, "mine", both="top=2@180", based_on="as-delivered")
>>> run = scenarios.run(kart, "mine")
>>> f"{run.read('caster_left_deg'):.2f} deg of caster"
'14.04 deg of caster'
>>> f"{run.read('inside_rear_load_n@30@slow corner'):.0f} N on the inside rear"
'8 N on the inside rear'
>>> compared = scenarios.compare(kart, "as-delivered", ["mine"])
>>> was, now, change = compared.read("inside_rear_load_n@30@slow corner")
>>> told = scenarios.choose(kart, ["caster_left_deg=now+1", "camber_left_deg=now"])
>>> told[1].reached
True

`viz.draw(kart, "mine")` shows it in a notebook. Importing this package is light: what reads files or solves
is imported when it is first used.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from kinematics.face import face

if TYPE_CHECKING:
    from scenarios.ask.asked import typed
    from scenarios.ask.choose import choose
    from scenarios.ask.compare import compare
    from scenarios.ask.run import run
    from scenarios.bundled import builtin_names, builtin_text, copy_builtin
    from scenarios.errors import Refusal, ScenarioError
    from scenarios.kit import Kit
    from scenarios.likely.bands import bands
    from scenarios.loading import from_mapping, load
    from scenarios.records import Limits, RearAxle, Scenario
    from scenarios.schema.tables import json_schema
    from scenarios.units import corner_setting

__all__ = [
    "Kit",
    "Limits",
    "RearAxle",
    "Refusal",
    "Scenario",
    "ScenarioError",
    "bands",
    "builtin_names",
    "builtin_text",
    "choose",
    "compare",
    "copy_builtin",
    "corner_setting",
    "from_mapping",
    "json_schema",
    "load",
    "run",
    "typed",
]

_HOMES = {
    "likely.bands": ("bands",),
    "ask.choose": ("choose",),
    "ask.compare": ("compare",),
    "ask.run": ("run",),
    "ask.asked": ("typed",),
    "bundled": ("builtin_names", "builtin_text", "copy_builtin"),
    "errors": ("Refusal", "ScenarioError"),
    "kit": ("Kit",),
    "loading": ("from_mapping", "load"),
    "records": ("Limits", "RearAxle", "Scenario"),
    "schema.tables": ("json_schema",),
    "units": ("corner_setting",),
}


def __dir__() -> list[str]:
    return __all__


__getattr__ = face(__name__, _HOMES)
