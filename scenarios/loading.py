"""A scenario from a file, a built-in name or a mapping."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator, Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Any

from pydantic import ValidationError

from kinematics.parts import Kart, Setting
from scenarios import build, kart_checks, rules
from scenarios.bundled import DEFAULT, NAMES, builtin_text
from scenarios.checks import check_tables
from scenarios.errors import ScenarioError, nearest, unit_of
from scenarios.kit import Kit, kit_warnings
from scenarios.records import Limits, RearAxle, Scenario
from scenarios.resolve import Tables, digest, resolve
from scenarios.schema import ScenarioFile

LARGEST_FILE = 1_000_000  # bytes


def load(source: str | Path | None = None) -> Scenario:
    """The scenario of a built-in name or a file; None is the default.

    A file is TOML, or JSON (by its suffix): the same keys, or a run's output with them under "inputs".

    Raises ScenarioError, one line, when there is none or it cannot be used.
    """
    name = DEFAULT if source is None else source
    if isinstance(name, str) and name in NAMES:
        return from_mapping(_parse(builtin_text(name), name, ".toml"), name)
    path = Path(name)
    return from_mapping(_parse(_read(path), str(path), path.suffix.lower()), str(path), path.stem)


def from_mapping(mapping: Mapping[str, Any], source: str, name: str | None = None) -> Scenario:
    """The scenario of a mapping laid out like a file (a scenario's `resolved` is one).

    source stands in front of every message; name defaults to it. Raises ScenarioError, one line.
    """
    try:
        tables = ScenarioFile.model_validate(dict(mapping)).model_dump(mode="json", exclude_none=True)
        check_tables(tables)
        return _scenario(resolve(tables), source, name or source)
    except ValidationError as error:
        from scenarios.refusal import one_line  # only a refusal needs it, and it takes a while

        raise ScenarioError(f"{source}: {one_line(error, ScenarioFile)}") from None
    except ValueError as error:
        raise ScenarioError(f"{source}: {error}") from None


def json_schema() -> dict[str, Any]:
    """The JSON Schema (2020-12) of a scenario file, for editors."""
    schema = ScenarioFile.model_json_schema()
    for table in (schema, *schema["$defs"].values()):
        for key, field in table["properties"].items():
            said = (field.get("description"), unit_of(key))
            field["description"] = ", ".join(text for text in said if text) or key.replace("_", " ")
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}


def _read(path: Path) -> str:
    try:
        if path.stat().st_size > LARGEST_FILE:
            raise ScenarioError(f"{path}: larger than {LARGEST_FILE} bytes; this is not a scenario file")
        return path.read_bytes().decode("utf-8")
    except FileNotFoundError:
        hint = nearest(path.name.removesuffix(".toml"), NAMES)
        raise ScenarioError(f"{path}: no such file or built-in scenario{hint or _there_are()}") from None
    except UnicodeDecodeError as error:
        raise ScenarioError(f"{path}: is not UTF-8 text (byte {error.start})") from None
    except OSError as error:
        raise ScenarioError(f"{path}: cannot be read ({error.strerror or error})") from None


def _there_are() -> str:
    return f"; built in are {', '.join(NAMES)}"


def _parse(text: str, source: str, suffix: str) -> dict[str, Any]:
    try:
        mapping = json.loads(text) if suffix == ".json" else tomllib.loads(text)
    except (tomllib.TOMLDecodeError, json.JSONDecodeError) as error:
        kind = "JSON" if suffix == ".json" else "TOML"
        raise ScenarioError(f"{source}: broken {kind}: {' '.join(str(error).split())}") from None
    except RecursionError:
        raise ScenarioError(f"{source}: nested too deeply for a scenario file") from None
    if suffix == ".json" and isinstance(mapping, dict):
        mapping = mapping.get("inputs", mapping)
    if not isinstance(mapping, dict):
        raise ScenarioError(f"{source}: must be a table of keys")
    return mapping


def _scenario(resolved: Tables, source: str, name: str) -> Scenario:
    kart = build.kart(resolved)
    kart_checks.check_kart(kart)
    kart_checks.check_sweep(resolved["sweep"], kart.column.stop)
    cases = tuple(build.load_case(case) for case in resolved["load_case"])
    for n, case in enumerate(cases, 1):
        kart_checks.check_tipping(kart, case, f"load_case[{n}]")
    settings = {n: build.setting(t, kart, f"setting.{n}") for n, t in resolved["setting"].items()}
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
        digest=digest(resolved),
        warnings=tuple(_warnings(resolved, kart, settings, kit, limits)),
    )


def _warnings(
    resolved: Tables, kart: Kart, settings: Mapping[str, Setting], kit: Kit, limits: Limits
) -> list[str]:
    kits = [line for name, setting in settings.items() for line in kit_warnings(name, setting, kit)]
    return [*_assumed(resolved, kart), *rules.rule_warnings(kart, limits), *kits]


def _assumed(resolved: Tables, kart: Kart) -> Iterator[str]:
    """What a file leaves out and the program takes for granted, though it matters."""
    for axle, tyre in (("front", kart.front_tyre), ("rear", kart.rear_tyre)):
        if "crown_radius_mm" not in resolved[axle]:
            said = f"{tyre.crown_radius:.4g} mm is assumed, that of an elastic tread"
            yield f"{axle}.crown_radius_mm is left out: {said}; a straight edge and a gap tell it"
