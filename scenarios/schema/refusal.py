"""What is wrong with a scenario's tables, said in one line of the workshop's language."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from scenarios.errors import complaint, middle_out, nearest
from scenarios.schema.kinds import NEEDED, Fault, Key, KeyTable, Named, Place
from scenarios.schema.tables import tables_of


def one_line(faults: Sequence[Fault], file: KeyTable) -> str:
    """The first thing to put right, misspelt keys before all else; says how many more there are."""
    first = min(faults, key=lambda fault: not fault.unknown)
    more = f" (and {len(faults) - 1} more)" if len(faults) > 1 else ""
    return _line(first, file) + more


def _line(fault: Fault, file: KeyTable) -> str:
    key = written(fault.place)
    if fault.unknown:
        return f"{key}: unknown key{_suggestion(fault.place, file)}"
    return f"{key}: {fault.wrong}" if fault.value is NEEDED else complaint(key, fault.value, fault.wrong)


def written(place: Place) -> str:
    """A place as the file writes it: ('load_case', 1, 'name') -> 'load_case[2].name', counted from one."""
    text = ""
    for part in place:
        text += f"[{part + 1}]" if isinstance(part, int) else f"{'.' if text else ''}{_word(part)}"
    return text


def _word(key: str) -> str:
    """A key on one line whatever it holds, and not for ever."""
    return middle_out(key if key and key.isprintable() else repr(key), 60)


def _suggestion(place: Place, file: KeyTable) -> str:
    """The nearest key of the same table, or the table where the key is known."""
    table, word = _table(place[:-1], file), str(place[-1])
    close = nearest(word, table.keys)
    if close:
        return close
    homes = list(_homes(word, file, ""))
    return f"; it belongs in [{homes[0]}]" if homes else "; known here: " + ", ".join(table.keys)


def _table(place: Place, table: KeyTable) -> KeyTable:
    """The table at a place of the file; names and counts in between are stepped over."""
    for part in place:
        if isinstance(part, str) and part in table.keys:
            table = next(tables_of(table.keys[part].kind), table)
    return table


def _homes(word: str, table: KeyTable, path: str) -> Iterator[str]:
    """The tables in which a key is known, as the file writes them."""
    for key in table.keys.values():
        for inner in tables_of(key.kind):
            place = f"{path}.{_heading(key)}".lstrip(".")
            if word in inner.keys:
                yield place
            yield from _homes(word, inner, place)


def _heading(key: Key) -> str:
    return f"{key.name}.NAME" if isinstance(key.kind, Named) else key.name
