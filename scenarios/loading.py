"""A scenario from a file, a built-in name or a mapping."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Any

from kinematics.fitted import fitted
from kinematics.parts import Kart, Setting
from scenarios import build, kart_checks, rules
from scenarios.bundled import DEFAULT, NAMES, builtin_text
from scenarios.checks import check_tables
from scenarios.errors import ScenarioError, nearest
from scenarios.kit import Kit, kit_warnings
from scenarios.reading import is_json, parsed, tables_at
from scenarios.records import Limits, RearAxle, Scenario
from scenarios.resolve import Tables, resolve
from scenarios.schema.kinds import Fault
from scenarios.schema.tables import FILE
from scenarios.sure.stated import check_tied


def load(source: str | Path | None = None) -> Scenario:
    """The scenario of a built-in name or a file; None is the default.

    A file is TOML, or JSON (by its suffix): the same keys, or a run's output with them under "inputs".

    Raises ScenarioError, one line, when there is none or it cannot be used.
    """
    name = DEFAULT if source is None else source
    if isinstance(name, str) and name in NAMES:
        return from_mapping(parsed(builtin_text(name), name), name)
    path = Path(name)
    tables = document(path)
    return from_mapping(tables.get("inputs", tables) if is_json(path) else tables, str(path), path.stem)


def document(path: Path) -> dict[str, Any]:
    """All that a file holds, not yet looked at; a name without a file is told the nearest built-in."""
    try:
        return tables_at(path)
    except FileNotFoundError:
        hint = nearest(path.name.removesuffix(".toml"), NAMES)
        there_are = f"; built in are {', '.join(NAMES)}"
        raise ScenarioError(f"{path}: no such file or built-in scenario{hint or there_are}") from None


def from_mapping(mapping: Mapping[str, Any], source: str, name: str | None = None) -> Scenario:
    """The scenario of a mapping laid out like a file (a scenario's `resolved` is one).

    source stands in front of every message; name defaults to it. Raises ScenarioError, one line.
    """
    faults: list[Fault] = []
    if not isinstance(mapping, Mapping):
        raise ScenarioError(f"{source}: must be a table of keys")
    tables = FILE.read(mapping, (), faults)
    if faults:
        from scenarios.schema.refusal import one_line  # only a refusal needs it

        raise ScenarioError(f"{source}: {one_line(faults, FILE)}")
    try:
        check_tables(tables)
        return _scenario(resolve(tables), source, name or source)
    except ValueError as error:
        raise ScenarioError(f"{source}: {error}") from None


def _scenario(resolved: Tables, source: str, name: str) -> Scenario:
    check_tied(resolved)
    kart = build.neutral_kart(resolved)
    kart_checks.check_kart(kart)
    kart_checks.check_sweep(resolved["sweep"], kart.column.stop)
    cases = tuple(build.load_case(case, kart) for case in resolved["load_case"])
    for n, case in enumerate(cases, 1):
        kart_checks.check_lock(kart, case, f"load_case[{n}]")
        kart_checks.check_tipping(kart, case, f"load_case[{n}]")
    settings = {n: build.setting(t, kart, resolved, f"setting.{n}") for n, t in resolved["setting"].items()}
    for n, setting in settings.items():
        kart_checks.check_holes(kart, setting, f"setting.{n}")
    kit, limits = build.kit(resolved, kart), Limits(**resolved["limits"])
    sweep = resolved["sweep"]
    return Scenario(
        name=name,
        source=source,
        title=resolved["title"],
        kart=kart,
        kit=kit,
        settings=MappingProxyType(settings),
        notes=MappingProxyType({n: t["note"] for n, t in resolved["setting"].items()}),
        default_setting=resolved["default_setting"],
        load_cases=cases,
        handwheel_deg=(sweep["handwheel_from_deg"], sweep["handwheel_to_deg"], sweep["positions"]),
        toe_diameter_mm=resolved["toe_diameter_mm"],
        thread_pitch_mm=resolved["thread_pitch_mm"],
        pneumatic_trail_mm=resolved["pneumatic_trail_mm"],
        workshop=MappingProxyType(dict(resolved["workshop"])),
        limits=limits,
        rear_axle=RearAxle(**resolved["rear_axle"]),
        resolved=resolved,
        warnings=(*_warnings(resolved, kart, settings, kit, limits), *kart_checks.grip_warnings(kart, cases)),
    )


def _warnings(
    resolved: Tables, kart: Kart, settings: Mapping[str, Setting], kit: Kit, limits: Limits
) -> list[str]:
    kits = [line for name, setting in settings.items() for line in kit_warnings(name, setting, kit)]
    said = rules.rule_warnings(kart, limits)
    more = [
        f"setting.{name}: {line}"
        for name, setting in settings.items()
        for line in rules.rule_warnings(fitted(kart, setting.chassis), limits)
        if line not in said
    ]
    return [*_assumed(resolved, kart), *said, *more, *kits]


def _assumed(resolved: Tables, kart: Kart) -> Iterator[str]:
    """What a file leaves out and the program takes for granted, though it matters."""
    for axle, tyre in (("front", kart.front_tyre), ("rear", kart.rear_tyre)):
        if "crown_radius_mm" not in resolved[axle]:
            said = f"{tyre.crown_radius:.4g} mm is assumed, that of an elastic tread"
            yield f"{axle}.crown_radius_mm is left out: {said}; a straight edge and a gap tell it"
