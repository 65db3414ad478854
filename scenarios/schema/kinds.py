"""What may stand behind a key of a scenario file: numbers, text, points, lists and tables.

A kind reads a value as the file gives it: what it comes to is returned, and every fault is put on the list of
faults, with the place in the file where it stands. `schema` is the same kind as JSON Schema (2020-12).
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from math import isfinite
from typing import Any, NamedTuple, Protocol

from scenarios.errors import pointed, unit_of
from scenarios.ranges import Allowed

Place = tuple[str | int, ...]
Schema = dict[str, Any]
NEEDED: Any = object()
"""The default of a key that a file must give; None is that of a key that may be left out."""


class Fault(NamedTuple):
    """What is wrong at a place, with the value that stands there where there is one to show."""

    place: Place
    wrong: str
    value: object = NEEDED
    unknown: bool = False
    """Whether the place is a key that its table does not have."""


class Kind(Protocol):
    """A kind of value."""

    def read(self, value: Any, place: Place, faults: list[Fault]) -> Any:
        """What the value comes to; its faults are put on the list."""

    def schema(self) -> Schema:
        """The kind for an editor."""


class Measure:
    """A finite number in a range; a whole one is taken as well."""

    name, json = "a number", "number"

    def __init__(self, allowed: Allowed, unit: str) -> None:
        self.allowed, self.unit = allowed, unit

    def read(self, value: Any, place: Place, faults: list[Fault]) -> Any:
        """The number; text and true are none."""
        if self._is_one(value) and self.allowed.holds(value):
            return self._made(value)
        kind = self.name if not self._is_one(value) else "" if _finite(value) else "a finite number"
        within = self.allowed.told(self.unit) + (pointed(value) if isinstance(value, str) else "")
        instead = f"; {self.allowed.below}" if not kind and self.allowed.below and value < 0 else ""
        wrong = f"must be {kind}, {within}" if kind else f"must be {within}{instead}"
        faults.append(Fault(place, wrong, value))
        return None

    def schema(self) -> Schema:
        """The kind for an editor."""
        low, high = self._made(self.allowed.low), self._made(self.allowed.high)
        return {"type": self.json, "minimum": low, "maximum": high}

    def _is_one(self, value: object) -> bool:
        return isinstance(value, float | int) and not isinstance(value, bool)

    def _made(self, value: float) -> float:
        return float(value)


class Count(Measure):
    """A whole number in a range."""

    name, json = "a whole number", "integer"

    def _is_one(self, value: object) -> bool:
        return isinstance(value, int) and not isinstance(value, bool)

    def _made(self, value: float) -> float:
        return int(value)


class Switch:
    """Yes or no."""

    def read(self, value: Any, place: Place, faults: list[Fault]) -> Any:
        """True or false; a number is neither."""
        if not isinstance(value, bool):
            faults.append(Fault(place, "must be true or false, without quotes", value))
        return value

    def schema(self) -> Schema:
        """The kind for an editor."""
        return {"type": "boolean"}


class Words:
    """Text of so many characters, all of it after a pattern; a pattern says what it allows."""

    def __init__(self, least: int, most: int, pattern: str = "", said: str = "") -> None:
        self.least, self.most, self.pattern, self.said = least, most, pattern, said

    def read(self, value: Any, place: Place, faults: list[Fault]) -> Any:
        """The text."""
        wrong = self.wrong(value) if isinstance(value, str) else "must be text in quotes"
        if wrong:
            faults.append(Fault(place, wrong, value))
        return value

    def wrong(self, text: str) -> str:
        """What is wrong with a text, '' when nothing is."""
        if not self.least <= len(text) <= self.most:
            bound, limit = ("most", self.most) if len(text) > self.most else ("least", self.least)
            return f"must have at {bound} {limit} character{'s' if limit > 1 else ''}"
        if any("\ud800" <= c <= "\udfff" for c in text):
            return "must be text that can be written"
        return "" if not self.pattern or re.fullmatch(self.pattern, text) else self.said

    def schema(self) -> Schema:
        """The kind for an editor."""
        least = {"minLength": self.least} if self.least else {}
        pattern = {"pattern": f"^{self.pattern}$"} if self.pattern else {}
        return {"maxLength": self.most, **least, **pattern, "type": "string"}


class Items:
    """A list of so many entries of one kind."""

    def __init__(self, kind: Kind, least: int, most: int) -> None:
        self.kind, self.least, self.most = kind, least, most

    def read(self, value: Any, place: Place, faults: list[Fault]) -> Any:
        """The list; what lacks is missing, what is too much is not looked at."""
        if not isinstance(value, list | tuple):
            unit = unit_of(str(place[-1]))
            within = f", {self.kind.allowed.told(unit)}" if isinstance(self.kind, Measure) else ""
            faults.append(Fault(place, f"must be a list in [ ]{within}", value))
        elif len(value) > self.most:
            faults.append(Fault(place, f"must have at most {self.most} entries, not {len(value)}", value))
        else:
            faults += [_missing((*place, n)) for n in range(len(value), self.least)]
            return [self.kind.read(entry, (*place, n), faults) for n, entry in enumerate(value)]
        return None

    def schema(self) -> Schema:
        """The kind for an editor; a list of so many and no other is a point."""
        entry, most = self.kind.schema(), {"maxItems": self.most}
        if self.least == self.most:
            return {**most, "minItems": self.least, "prefixItems": [entry] * self.least, "type": "array"}
        return {"items": entry, **most, "type": "array"}


class Key(NamedTuple):
    """A key of a table: what stands behind it, what it means, and what holds where it is left out."""

    name: str
    kind: Kind
    told: str = ""
    default: Any = NEEDED

    def schema(self) -> Schema:
        """The key for an editor."""
        said = (self.told, unit_of(self.name))
        text = ", ".join(part for part in said if part) or self.name.replace("_", " ")
        plain = {"title": self.name.replace("_", " ").title(), "description": text}
        if self.default is None:
            return {"anyOf": [self.kind.schema(), {"type": "null"}], "default": None, **plain}
        default = (
            {} if self.default is NEEDED or isinstance(self.kind, KeyTable) else {"default": self.default}
        )
        return {**self.kind.schema(), **default, **plain}


class KeyTable:
    """A table that knows its keys. A key left out stands for its default, or is left out of what is read."""

    def __init__(self, name: str, told: str, *keys: Key) -> None:
        self.name, self.told, self.keys = name, told, {key.name: key for key in keys}

    def read(self, value: Any, place: Place, faults: list[Fault]) -> Any:
        """The table in the order of its keys here."""
        if not isinstance(value, Mapping):
            faults.append(Fault(place, "must be a table", value))
            return None
        found = {name: self._behind(key, value, place, faults) for name, key in self.keys.items()}
        faults += [Fault((*place, name), "", unknown=True) for name in value if name not in self.keys]
        return {name: entry for name, entry in found.items() if entry is not None}

    def _behind(self, key: Key, table: Mapping[str, Any], place: Place, faults: list[Fault]) -> Any:
        own = (*place, key.name)
        given = table.get(key.name, key.default)
        if given is NEEDED:
            faults.append(_missing(own))
        return None if given is NEEDED or given is key.default is None else key.kind.read(given, own, faults)

    def schema(self) -> Schema:
        """Where an editor finds the table; `definition` is what it finds there."""
        return {"$ref": f"#/$defs/{self.name}"}

    def definition(self) -> Schema:
        """The table for an editor."""
        needed = [name for name, key in self.keys.items() if key.default is NEEDED]
        return {
            "additionalProperties": False,
            "description": self.told,
            "properties": {name: key.schema() for name, key in self.keys.items()},
            **({"required": needed} if needed else {}),
            "title": self.name,
            "type": "object",
        }


class Named:
    """A table of tables, each under a name of the mechanic's own."""

    def __init__(self, name: Words, table: KeyTable, least: int, most: int) -> None:
        self.name, self.table, self.least, self.most = name, table, least, most

    def read(self, value: Any, place: Place, faults: list[Fault]) -> Any:
        """The tables by name, in the order of the file."""
        if not isinstance(value, Mapping):
            faults.append(Fault(place, "must be a table", value))
        elif not self.least <= len(value) <= self.most:
            bound, limit = ("most", self.most) if len(value) > self.most else ("least", self.least)
            entries = "entry" if limit == 1 else "entries"
            faults.append(Fault(place, f"must have at {bound} {limit} {entries}, not {len(value)}", value))
        else:
            faults += [self._misnamed(place, name) for name in value if self.name.wrong(str(name))]
            return {name: self.table.read(entry, (*place, name), faults) for name, entry in value.items()}
        return None

    def _misnamed(self, place: Place, name: object) -> Fault:
        return Fault((*place, str(name)), f"a name {self.name.said}, at most {self.name.most}")

    def schema(self) -> Schema:
        """The kind for an editor."""
        lengths = {"maxLength": self.name.most, "minLength": self.name.least}
        return {
            "minProperties": self.least,
            "maxProperties": self.most,
            "patternProperties": {f"^{self.name.pattern}$": self.table.schema()},
            "propertyNames": lengths,
            "type": "object",
        }


def _finite(number: float) -> bool:
    return isinstance(number, int) or isfinite(number)  # a whole number may be too long to be made a float


def _missing(place: Place) -> Fault:
    unit = next((unit_of(part) for part in reversed(place) if isinstance(part, str)), "")
    return Fault(place, f"missing, needed in {unit}" if unit else "missing")
