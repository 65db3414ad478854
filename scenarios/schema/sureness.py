"""[sure]: what a file says of how sure its numbers are, key by key as in the tables of the numbers.

Behind a key stands a standard uncertainty in the number's own unit, or a word: how the number was measured,
'measured' for its usual way, or 'assumed'. `others` speaks for the keys that a table does not name.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from scenarios.errors import nearest, unit_of
from scenarios.ranges import RANGES, Allowed
from scenarios.schema.kinds import Fault, Items, Key, KeyTable, Measure, Place, Schema
from scenarios.sure.usual import USUAL
from scenarios.sure.ways import ASSUMED, MEASURED, OTHERS, TOGETHER, ways_for

TOLD = "[sure]: how sure the numbers are; left out: each is measured in its usual way."


class Sureness:
    """How sure a number, or a point of three, is."""

    def __init__(self, unit: str, most: float, of_point: bool) -> None:
        self.number = Measure(Allowed(0.0, most, "as far as the number itself can go"), unit)
        self.of_point, self.words = of_point, ways_for(unit)

    def read(self, value: Any, place: Place, faults: list[Fault]) -> Any:
        """A word or a number; for a point also a list of three."""
        if self.of_point and isinstance(value, list | tuple) and len(value) == 3:
            return [self.read(one, (*place, n), faults) for n, one in enumerate(value)]
        unit = self.number.unit
        if isinstance(value, str):
            return one_of(value, self.words, place, faults, f"a number{unit and ' in '}{unit}, ")
        before = len(faults)
        found = self.number.read(value, place, faults)
        more = f", or a word like {self.words[2]!r}"
        faults[before:] = [fault._replace(wrong=fault.wrong + more) for fault in faults[before:]]
        return found

    def schema(self) -> Schema:
        """The kind for an editor."""
        one = [self.number.schema(), {"enum": list(self.words)}]
        point = {"type": "array", "items": {"anyOf": one}, "minItems": 3, "maxItems": 3}
        return {"anyOf": [*one, *([point] if self.of_point else [])]}


class Pairs:
    """Numbers that go together: two names and their correlation, over and over."""

    number = Measure(Allowed(-0.9999, 0.9999, "as one rises the other does so, or falls"), "")
    most = 2000

    def read(self, value: Any, place: Place, faults: list[Fault]) -> Any:
        """The list of [name, name, correlation]."""
        if not isinstance(value, list | tuple) or len(value) > self.most:
            faults.append(Fault(place, f"must be a list of at most {self.most} [name, name, number]", value))
            return None
        return [self._pair(one, (*place, n), faults) for n, one in enumerate(value)]

    def _pair(self, value: Any, place: Place, faults: list[Fault]) -> Any:
        if not isinstance(value, list | tuple) or [isinstance(one, str) for one in value] != [
            True,
            True,
            False,
        ]:
            faults.append(Fault(place, "must be two names and a number in [ ]", value))
            return None
        return [*value[:2], self.number.read(value[2], (*place, 2), faults)]

    def schema(self) -> Schema:
        """The kind for an editor."""
        entry = {"prefixItems": [{"type": "string"}] * 2 + [self.number.schema()], "type": "array"}
        return {"items": entry, "maxItems": self.most, "type": "array"}


class Word:
    """One of a few words."""

    def __init__(self, *words: str) -> None:
        self.words = words

    def read(self, value: Any, place: Place, faults: list[Fault]) -> Any:
        """The word."""
        return one_of(value, self.words, place, faults)

    def schema(self) -> Schema:
        """The kind for an editor."""
        return {"enum": list(self.words)}


def one_of(
    value: Any, words: tuple[str, ...], place: Place, faults: list[Fault], other: str = ""
) -> str | None:
    """The value where it is one of the words; else a fault that says what other would do, and all of them."""
    if isinstance(value, str) and value in words:
        return value
    close = nearest(value, words) if isinstance(value, str) else ""
    *first, last = map(repr, words)
    faults.append(Fault(place, f"must be {other}{', '.join(first)} or {last}{close}", value))
    return None


_OTHERS = Key(OTHERS, Word(MEASURED, ASSUMED), "What holds for every key not named here", None)


class SureTable(KeyTable):
    """A table of [sure]; a word in its place speaks for all of its keys."""

    def read(self, value: Any, place: Place, faults: list[Fault]) -> Any:
        """The table in the order of its keys here."""
        if isinstance(value, str):
            word = one_of(value, (MEASURED, ASSUMED), place, faults)
            return word and {OTHERS: word}
        return super().read(value, place, faults)

    def schema(self) -> Schema:
        """Where an editor finds the table, or the words that stand for it."""
        return {"anyOf": [super().schema(), _OTHERS.kind.schema()]}


def _key(place: str, key: Key) -> Key:
    allowed = RANGES[place]
    kind = Sureness(unit_of(key.name), allowed.high - allowed.low, isinstance(key.kind, Items))
    return Key(key.name, kind, "Standard uncertainty, or how it was measured", None)


def _inner(name: str, numbers: KeyTable) -> Key:
    """What may be said of the numbers of a table; front stands for both axles where ranges are told."""
    row = "front" if name == "rear" else name
    keys = [_key(f"{row}.{key}", numbers.keys[key]) for key in numbers.keys if f"{row}.{key}" in USUAL]
    title = f"{name.replace('_', ' ').title().replace(' ', '')}Sureness"
    return Key(name, SureTable(title, f"[sure.{name}]: how sure its numbers are.", *keys, _OTHERS), "", None)


def sure_table(tables: Mapping[str, KeyTable], corner: Mapping[str, KeyTable], *loose: Key) -> KeyTable:
    """The table [sure] for tables of numbers by name, those of a corner apart, and for keys in no table."""
    of_corner = [_inner(name, table) for name, table in corner.items()]
    right = SureTable("RightSureness", "[sure.right]: where the right corner differs.", *of_corner, _OTHERS)
    inner = (_inner(name, table) for name, table in tables.items())
    keys = (*(_key(key.name, key) for key in loose), *inner, *of_corner)
    together = Key(
        TOGETHER, Pairs(), "Numbers that readings have tied together: [name, name, correlation]", None
    )
    return SureTable("Sureness", TOLD, _OTHERS, *keys, Key("right", right, "", None), together)
